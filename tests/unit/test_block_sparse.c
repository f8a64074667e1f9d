/* SPDX-License-Identifier: BSD-3-Clause */
/* The iterative solver of sections against dense elimination with pivoting. */
#include "close.h"

#include "block_sparse.h"
#include "cuts.h"
#include "dense_elimination.h"

#include <nvector/nvector_serial.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { CELLS_MAX = 42, FACES_MAX = 4 * CELLS_MAX, N_MAX = 2 * CELLS_MAX };

static double dense[N_MAX][N_MAX + 1];

/* A grid of columns upwards, as sections number their cells; with odd_faces also a face across a corner and a second one
 * between the first two cells, as cut cells may have. */
static sw_mesh grid(size_t nx, size_t ny, bool odd_faces, sw_face *faces)
{
    sw_mesh mesh = {.cell_count = nx * ny, .faces = faces};
    for (size_t i = 0; i < nx; i++)
        for (size_t j = 0; j < ny; j++) {
            if (j + 1 < ny)
                faces[mesh.face_count++] = (sw_face){.a = i * ny + j, .b = i * ny + j + 1};
            if (i + 1 < nx)
                faces[mesh.face_count++] = (sw_face){.a = i * ny + j, .b = (i + 1) * ny + j};
        }
    if (odd_faces) {
        faces[mesh.face_count++] = (sw_face){.a = 1, .b = 0};
        faces[mesh.face_count++] = (sw_face){.a = 0, .b = ny + 1};
    }
    return mesh;
}

/* One entry, in both matrices. */
static void set_entry(const sw_block_pattern *p, double *values, size_t row, size_t column, double value)
{
    values[sw_block_sparse_offset(p, row, column)] = value;
    dense[row][column] = value;
}

/* Random blocks; each row is diagonally dominant, by little when the share is near 1. */
static void fill(const sw_block_pattern *p, double *values, double share, unsigned long long *seed)
{
    size_t n = 2 * p->cell_count, cell_at[CELLS_MAX];
    memset(dense, 0, sizeof dense);
    for (size_t i = 0; i < p->cell_count; i++)
        cell_at[p->place[i]] = i;
    for (size_t row = 0; row < n; row++) {
        const size_t place = p->place[row / 2];
        double sum = 0.0;
        for (size_t k = p->first[place]; k < p->first[place + 1]; k++)
            for (size_t c = 0; c < 2; c++) {
                double value = 2.0 * random_share(seed) - 1.0;
                sum += fabs(value);
                set_entry(p, values, row, 2 * cell_at[p->column[k]] + c, value);
            }
        set_entry(p, values, row, row, sum / share);
        dense[row][n] = 10.0 * random_share(seed) - 5.0;
    }
}

static void check_grid(size_t nx, size_t ny, bool odd_faces)
{
    unsigned long long seed = 9;
    sw_face faces[FACES_MAX];
    sw_mesh mesh = grid(nx, ny, odd_faces, faces);
    size_t n = 2 * mesh.cell_count;
    SUNContext context;
    sw_block_pattern pattern;
    assert_int_equal(SUNContext_Create(NULL, &context), 0);
    assert_int_equal(sw_block_pattern_init(&pattern, &mesh), 0);
    SUNMatrix matrix = sw_block_sparse_matrix(&pattern, context);
    SUNLinearSolver solver = sw_block_sparse_solver(&pattern, context);
    N_Vector right = N_VNew_Serial((sunindextype)n, context), solution = N_VClone(right), weight = N_VClone(right);
    N_VConst(1.0, weight);
    assert_int_equal(SUNLinSolSetScalingVectors(solver, weight, weight), 0);
    for (int i = 0; i < 20; i++) {
        double expected[N_MAX];
        fill(&pattern, sw_block_sparse_values(matrix), 0.99, &seed);
        for (size_t j = 0; j < n; j++)
            N_VGetArrayPointer(right)[j] = dense[j][n];
        solve_dense(n, N_MAX + 1, dense[0], expected);
        assert_int_equal(SUNLinSolSetup(solver, matrix), 0);
        assert_int_equal(SUNLinSolSolve(solver, matrix, solution, right, 1e-11), 0);
        for (size_t j = 0; j < n; j++)
            assert_close_abs(N_VGetArrayPointer(solution)[j], expected[j], 1e-9);
        if (nx == 1) /* a row: the factorisation is exact */
            assert_true(SUNLinSolNumIters(solver) <= 2);
    }
    N_VDestroy(right);
    N_VDestroy(solution);
    N_VDestroy(weight);
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
    sw_block_pattern_free(&pattern);
    SUNContext_Free(&context);
}

static void test_grids(void **state)
{
    (void)state;
    check_grid(1, 1, false);
    check_grid(1, 13, false);
    check_grid(2, 2, false);
    check_grid(6, 7, false);
    check_grid(5, 4, true);
}

static void test_matrix_operations(void **state)
{
    (void)state;
    unsigned long long seed = 3;
    sw_face faces[FACES_MAX];
    sw_mesh mesh = grid(3, 3, true, faces);
    SUNContext context;
    sw_block_pattern pattern;
    assert_int_equal(SUNContext_Create(NULL, &context), 0);
    assert_int_equal(sw_block_pattern_init(&pattern, &mesh), 0);
    SUNMatrix matrix = sw_block_sparse_matrix(&pattern, context), copy = SUNMatClone(matrix);
    fill(&pattern, sw_block_sparse_values(matrix), 0.9, &seed);
    assert_int_equal(SUNMatCopy(matrix, copy), 0);
    assert_int_equal(SUNMatScaleAddI(-0.25, copy), 0);
    for (size_t row = 0; row < 18; row++)
        for (size_t column = 0; column < 18; column++)
            if (dense[row][column] != 0.0)
                assert_close_abs(sw_block_sparse_values(copy)[sw_block_sparse_offset(&pattern, row, column)],
                                 (row == column) - 0.25 * dense[row][column], 0.0);
    assert_int_equal(SUNMatZero(copy), 0);
    assert_close_abs(sw_block_sparse_values(copy)[sw_block_sparse_offset(&pattern, 3, 2)], 0.0, 0.0);
    SUNMatDestroy(matrix);
    SUNMatDestroy(copy);
    sw_block_pattern_free(&pattern);
    SUNContext_Free(&context);
}

/* Each cell has a place of its own, and of two neighbours the one with the smaller number still comes first: so the incomplete
 * factorisation is that of the cells in their order. Cells that wait for as many come next to each other. */
static void test_places(void **state)
{
    (void)state;
    enum { NX = 6, NY = 7 };
    sw_face faces[FACES_MAX];
    sw_mesh mesh = grid(NX, NY, true, faces);
    sw_block_pattern pattern;
    bool taken[CELLS_MAX] = {false};
    assert_int_equal(sw_block_pattern_init(&pattern, &mesh), 0);
    for (size_t i = 0; i < mesh.cell_count; i++) {
        assert_true(pattern.place[i] < mesh.cell_count && !taken[pattern.place[i]]);
        taken[pattern.place[i]] = true;
    }
    for (size_t i = 0; i < mesh.face_count; i++) {
        const size_t a = mesh.faces[i].a, b = mesh.faces[i].b;
        assert_int_equal(a < b, pattern.place[a] < pattern.place[b]);
    }
    size_t waits = 0; /* of a place for the one before */
    for (size_t i = 1; i < mesh.cell_count; i++)
        for (size_t k = pattern.first[i]; k < pattern.first[i + 1]; k++)
            waits += pattern.column[k] == i - 1;
    assert_true(waits <= 3); /* at the corners only; in the cells' own order nearly all would wait */
    sw_block_pattern_free(&pattern);
}

static void test_singular_matrix(void **state)
{
    (void)state;
    sw_face faces[FACES_MAX];
    sw_mesh mesh = grid(2, 2, false, faces);
    SUNContext context;
    sw_block_pattern pattern;
    assert_int_equal(SUNContext_Create(NULL, &context), 0);
    assert_int_equal(sw_block_pattern_init(&pattern, &mesh), 0);
    SUNMatrix matrix = sw_block_sparse_matrix(&pattern, context);
    SUNLinearSolver solver = sw_block_sparse_solver(&pattern, context);
    assert_int_not_equal(SUNLinSolSetup(solver, matrix), 0);
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
    sw_block_pattern_free(&pattern);
    SUNContext_Free(&context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_grids),
        cmocka_unit_test(test_matrix_operations),
        cmocka_unit_test(test_places),
        cmocka_unit_test(test_singular_matrix),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
