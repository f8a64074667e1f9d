/* SPDX-License-Identifier: BSD-3-Clause */
/* Dense elimination with partial pivoting: what solvers of special matrices are held against. */
#ifndef SW_TESTS_DENSE_ELIMINATION_H
#define SW_TESTS_DENSE_ELIMINATION_H

#include <stddef.h>

/* Solves n equations; row i of the matrix begins at matrix[i * width], its right-hand side stands in column n (width is
 * more than n). The matrix is overwritten. */
void solve_dense(size_t n, size_t width, double *matrix, double *x);

#endif
