/* SPDX-License-Identifier: BSD-3-Clause */
/* The solver of a bordered matrix against dense elimination with pivoting, also where some unknowns are not in use. */
#include "close.h"

#include "block_tridiagonal.h"
#include "bordered.h"
#include "cuts.h"
#include "dense_elimination.h"

#include <nvector/nvector_serial.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { CELLS = 5, INNER = 2 * CELLS, BORDER = 4, N = INNER + BORDER };

static double dense[N][N + 1];

static double any(unsigned long long *seed)
{
    return 2.0 * random_share(seed) - 1.0;
}

/* A random Jacobian, in both forms; of unknowns that are not in use the bordered one holds what must never be read. */
static void fill(SUNMatrix matrix, const bool *in_use, unsigned long long *seed)
{
    const sw_border border = sw_bordered_border(matrix);
    double *values = sw_block_tridiagonal_values(sw_bordered_inner(matrix));
    memset(dense, 0, sizeof dense);
    for (size_t r = 0; r < INNER; r++)
        for (size_t c = 0; c < INNER; c++)
            if (r / 2 + 1 >= c / 2 && c / 2 + 1 >= r / 2)
                values[sw_block_tridiagonal_offset(r, c)] = dense[r][c] = any(seed) - (r == c ? 8.0 : 0.0);
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

static void check(const bool *in_use, unsigned long long seed)
{
    SUNContext context;
    assert_int_equal(SUNContext_Create(NULL, &context), 0);
    SUNMatrix saved = sw_bordered_matrix(sw_block_tridiagonal_matrix(CELLS, context), INNER, BORDER, in_use, context);
    SUNMatrix matrix = SUNMatClone(saved);
    SUNLinearSolver solver = sw_bordered_solver(sw_block_tridiagonal_solver(CELLS, context), INNER, BORDER, context);
    N_Vector right = N_VNew_Serial(N, context), solution = N_VClone(right);
    fill(saved, in_use, &seed);
    assert_int_equal(SUNMatCopy(saved, matrix), 0);
    assert_int_equal(SUNMatScaleAddI(-0.7, matrix), 0);
    double expected[N];
    for (size_t r = 0; r < N; r++) {
        for (size_t c = 0; c < N; c++)
            dense[r][c] = (r == c) - 0.7 * dense[r][c];
        dense[r][N] = NV_Ith_S(right, r) = any(&seed);
    }
    solve_dense(N, N + 1, dense[0], expected);
    assert_int_equal(SUNLinSolSetup(solver, matrix), 0);
    assert_int_equal(SUNLinSolSolve(solver, matrix, solution, right, 0.0), 0);
    for (size_t i = 0; i < N; i++)
        assert_close_abs(NV_Ith_S(solution, i), expected[i], 1e-12);
    N_VDestroy(right);
    N_VDestroy(solution);
    SUNLinSolFree(solver);
    SUNMatDestroy(saved);
    SUNMatDestroy(matrix);
    SUNContext_Free(&context);
}

static void test_border(void **state)
{
    (void)state;
    for (unsigned use = 0; use < 1u << BORDER; use++) {
        bool in_use[BORDER];
        for (unsigned j = 0; j < BORDER; j++)
            in_use[j] = (use >> j & 1u) != 0;
        for (unsigned long long seed = 1; seed < 20; seed++)
            check(in_use, 100 * use + seed);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_border),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
