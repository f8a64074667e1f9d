/* SPDX-License-Identifier: BSD-3-Clause */
/* The block tridiagonal solver against dense elimination with pivoting. */
#include "close.h"

#include "block_tridiagonal.h"
#include "cuts.h"
#include "dense_elimination.h"

#include <nvector/nvector_serial.h>

#include <math.h>
#include <string.h>

enum { CELLS_MAX = 40, N_MAX = 2 * CELLS_MAX };

static double dense[N_MAX][N_MAX + 1];

/* Fills matrix and dense alike: random blocks, the diagonal dominant. */
static void fill(size_t cells, double *values, unsigned long long *seed)
{
    size_t n = 2 * cells;
    memset(dense, 0, sizeof dense);
    for (size_t row = 0; row < n; row++) {
        double sum = 0.0;
        size_t first = row / 2 > 0 ? row - row % 2 - 2 : 0, end = row / 2 + 1 < cells ? row - row % 2 + 4 : n;
        for (size_t column = first; column < end; column++) {
            double value = 2.0 * random_share(seed) - 1.0;
            sum += fabs(value);
            dense[row][column] = value;
        }
        dense[row][row] = sum * (1.0 + random_share(seed));
        for (size_t column = first; column < end; column++)
            values[sw_block_tridiagonal_offset(row, column)] = dense[row][column];
        dense[row][n] = 10.0 * random_share(seed) - 5.0;
    }
}

static void test_random_systems(void **state)
{
    (void)state;
    unsigned long long seed = 4;
    SUNContext context;
    assert_int_equal(SUNContext_Create(NULL, &context), 0);
    static const size_t sizes[] = {1, 2, 3, 7, CELLS_MAX};
    for (size_t k = 0; k < 5; k++) {
        size_t cells = sizes[k], n = 2 * cells;
        SUNMatrix matrix = sw_block_tridiagonal_matrix(cells, context);
        SUNLinearSolver solver = sw_block_tridiagonal_solver(cells, context);
        N_Vector right = N_VNew_Serial((sunindextype)n, context), solution = N_VClone(right);
        for (int i = 0; i < 20; i++) {
            double expected[N_MAX];
            fill(cells, sw_block_tridiagonal_values(matrix), &seed);
            for (size_t j = 0; j < n; j++)
                N_VGetArrayPointer(right)[j] = dense[j][n];
            solve_dense(n, N_MAX + 1, dense[0], expected);
            assert_int_equal(SUNLinSolSetup(solver, matrix), 0);
            assert_int_equal(SUNLinSolSolve(solver, matrix, solution, right, 0.0), 0);
            for (size_t j = 0; j < n; j++)
                assert_close_abs(N_VGetArrayPointer(solution)[j], expected[j], 1e-12);
        }
        N_VDestroy(right);
        N_VDestroy(solution);
        SUNLinSolFree(solver);
        SUNMatDestroy(matrix);
    }
    SUNContext_Free(&context);
}

/* The operations the integrator uses: zero, copy, clone, factor times matrix plus identity. */
static void test_matrix_operations(void **state)
{
    (void)state;
    unsigned long long seed = 5;
    SUNContext context;
    assert_int_equal(SUNContext_Create(NULL, &context), 0);
    SUNMatrix a = sw_block_tridiagonal_matrix(3, context), b = SUNMatClone(a);
    fill(3, sw_block_tridiagonal_values(a), &seed);
    assert_int_equal(SUNMatCopy(a, b), 0);
    assert_int_equal(SUNMatScaleAddI(-0.25, b), 0);
    for (size_t row = 0; row < 6; row++)
        for (size_t column = row / 2 > 0 ? row - row % 2 - 2 : 0; column < 6 && column / 2 <= row / 2 + 1; column++) {
            size_t at = sw_block_tridiagonal_offset(row, column);
            assert_close_abs(sw_block_tridiagonal_values(b)[at],
                             -0.25 * sw_block_tridiagonal_values(a)[at] + (row == column ? 1.0 : 0.0), 1e-15);
        }
    assert_int_equal(SUNMatZero(b), 0);
    assert_close_abs(sw_block_tridiagonal_values(b)[sw_block_tridiagonal_offset(3, 3)], 0.0, 0.0);
    SUNMatDestroy(a);
    SUNMatDestroy(b);
    SUNContext_Free(&context);
}

/* Wherever a row has nothing to be solved by. */
static void test_singular_matrix_is_refused(void **state)
{
    (void)state;
    enum { CELLS = 6 };
    SUNContext context;
    assert_int_equal(SUNContext_Create(NULL, &context), 0);
    for (size_t cells = 1; cells <= CELLS; cells++) {
        SUNMatrix matrix = sw_block_tridiagonal_matrix(cells, context);
        SUNLinearSolver solver = sw_block_tridiagonal_solver(cells, context);
        double *values = sw_block_tridiagonal_values(matrix);
        for (size_t bad = 0; bad < 2 * cells; bad++) {
            SUNMatZero(matrix);
            for (size_t i = 0; i < 2 * cells; i++)
                values[sw_block_tridiagonal_offset(i, i)] = 1.0;
            assert_int_equal(SUNLinSolSetup(solver, matrix), 0);
            values[sw_block_tridiagonal_offset(bad, bad)] = 0.0;
            assert_int_not_equal(SUNLinSolSetup(solver, matrix), 0);
            values[sw_block_tridiagonal_offset(bad, bad)] = 1e-290; /* or next to nothing */
            assert_int_not_equal(SUNLinSolSetup(solver, matrix), 0);
        }
        SUNLinSolFree(solver);
        SUNMatDestroy(matrix);
    }
    SUNContext_Free(&context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_systems),
        cmocka_unit_test(test_matrix_operations),
        cmocka_unit_test(test_singular_matrix_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
