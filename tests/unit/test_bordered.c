/* SPDX-License-Identifier: BSD-3-Clause */
/* The solver of a bordered matrix against dense elimination with pivoting, also where some unknowns are not in use. */
#include "close.h"

#include "block_sparse.h"
#include "block_tridiagonal.h"
#include "bordered.h"
#include "cuts.h"
#include "dense_elimination.h"

#include <nvector/nvector_serial.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { CELLS = 9, INNER = 2 * CELLS, BORDER = 4, N = INNER + BORDER };

static double dense[N][N + 1];

/* A row of cells, for the direct solver; or a square of them, for the iterative one, whose factorisation lacks what fills in. */
typedef struct cells {
    bool is_row;
    sw_block_pattern pattern; /* of the square */
} cells;

static void create_cells(bool is_row, cells *c)
{
    enum { SIDE = 3 };
    sw_face faces[2 * CELLS];
    sw_mesh mesh = {.cell_count = CELLS, .faces = faces};
    for (size_t i = 0; i < CELLS; i++) {
        if (i % SIDE + 1 < SIDE)
            faces[mesh.face_count++] = (sw_face){.a = i, .b = i + 1};
        if (i + SIDE < CELLS)
            faces[mesh.face_count++] = (sw_face){.a = i, .b = i + SIDE};
    }
    *c = (cells){.is_row = is_row};
    if (!is_row)
        assert_int_equal(sw_block_pattern_init(&c->pattern, &mesh), 0);
}

static bool are_neighbours(const cells *c, size_t a, size_t b)
{
    if (c->is_row)
        return a + 1 >= b && b + 1 >= a;
    const size_t across = a / 3 > b / 3 ? a / 3 - b / 3 : b / 3 - a / 3, up = a % 3 > b % 3 ? a % 3 - b % 3 : b % 3 - a % 3;
    return across + up <= 1;
}

static size_t offset_of(const cells *c, size_t row, size_t column)
{
    return c->is_row ? sw_block_tridiagonal_offset(row, column) : sw_block_sparse_offset(&c->pattern, row, column);
}

static double any(unsigned long long *seed)
{
    return 2.0 * random_share(seed) - 1.0;
}

/* A random Jacobian, in both forms; of unknowns that are not in use the bordered one holds what must never be read. */
static void fill(const cells *of, SUNMatrix matrix, const bool *in_use, unsigned long long *seed)
{
    const sw_border border = sw_bordered_border(matrix);
    SUNMatrix inner = sw_bordered_inner(matrix);
    double *values = of->is_row ? sw_block_tridiagonal_values(inner) : sw_block_sparse_values(inner);
    memset(dense, 0, sizeof dense);
    for (size_t r = 0; r < INNER; r++)
        for (size_t c = 0; c < INNER; c++)
            if (are_neighbours(of, r / 2, c / 2))
                values[offset_of(of, r, c)] = dense[r][c] = any(seed) - (r == c ? 8.0 : 0.0);
    for (size_t j = 0; j < BORDER; j++) {
        for (size_t i = 0; i < INNER; i++) {
            border.columns[j * INNER + i] = in_use[j] ? dense[i][INNER + j] = any(seed) : NAN;
            border.rows[j * INNER + i] = in_use[j] ? dense[INNER + j][i] = any(seed) : NAN;
        }
        /* A small diagonal, so that the complement has to be pivoted. */
        for (size_t i = 0; i < BORDER; i++)
            border.corner[j * BORDER + i] = in_use[j] && in_use[i] ? dense[INNER + j][INNER + i] = any(seed) : 0.0;
    }
}

static void check(const cells *c, const bool *in_use, unsigned long long seed)
{
    SUNContext context;
    assert_int_equal(SUNContext_Create(NULL, &context), 0);
    SUNMatrix inner = c->is_row ? sw_block_tridiagonal_matrix(CELLS, context) : sw_block_sparse_matrix(&c->pattern, context);
    SUNLinearSolver inner_solver = c->is_row ? sw_block_tridiagonal_solver(CELLS, context) : sw_block_sparse_solver(&c->pattern, context);
    SUNMatrix saved = sw_bordered_matrix(inner, INNER, BORDER, in_use, context);
    SUNMatrix matrix = SUNMatClone(saved);
    SUNLinearSolver solver = sw_bordered_solver(inner_solver, INNER, BORDER, context);
    N_Vector right = N_VNew_Serial(N, context), solution = N_VClone(right), weight = N_VClone(right);
    N_VConst(1.0, weight);
    if (!c->is_row)
        assert_int_equal(SUNLinSolSetScalingVectors(solver, weight, weight), 0);
    fill(c, saved, in_use, &seed);
    assert_int_equal(SUNMatCopy(saved, matrix), 0);
    assert_int_equal(SUNMatScaleAddI(-0.7, matrix), 0);
    double expected[N], kept[N][N + 1];
    for (size_t r = 0; r < N; r++) {
        for (size_t k = 0; k < N; k++)
            dense[r][k] = (r == k) - 0.7 * dense[r][k];
        dense[r][N] = NV_Ith_S(right, r) = any(&seed);
    }
    memcpy(kept, dense, sizeof dense);
    solve_dense(N, N + 1, dense[0], expected);
    assert_int_equal(SUNLinSolSetup(solver, matrix), 0);
    assert_int_equal(SUNLinSolSolve(solver, matrix, solution, right, c->is_row ? 0.0 : 1e-14), 0);
    for (size_t r = 0; r < N; r++) {
        /* What the iteration leaves over is small; how far the solution is off then depends on the matrix. */
        double left = kept[r][N], size = 1.0;
        for (size_t k = 0; k < N; k++) {
            left -= kept[r][k] * NV_Ith_S(solution, k);
            size = fmax(size, fabs(NV_Ith_S(solution, k)));
        }
        assert_close_abs(left, 0.0, 1e-13 * size);
        if (c->is_row)
            assert_close_abs(NV_Ith_S(solution, r), expected[r], 1e-12);
    }
    N_VDestroy(right);
    N_VDestroy(solution);
    N_VDestroy(weight);
    SUNLinSolFree(solver);
    SUNMatDestroy(saved);
    SUNMatDestroy(matrix);
    SUNContext_Free(&context);
}

static void check_uses(bool is_row)
{
    cells c;
    create_cells(is_row, &c);
    for (unsigned use = 0; use < 1u << BORDER; use++) {
        bool in_use[BORDER];
        for (unsigned j = 0; j < BORDER; j++)
            in_use[j] = (use >> j & 1u) != 0;
        for (unsigned long long seed = 1; seed < 20; seed++)
            check(&c, in_use, 100 * use + seed);
    }
    sw_block_pattern_free(&c.pattern);
}

static void test_border_of_a_row(void **state)
{
    (void)state;
    check_uses(true);
}

static void test_border_of_a_square(void **state)
{
    (void)state;
    check_uses(false);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_border_of_a_row),
        cmocka_unit_test(test_border_of_a_square),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
