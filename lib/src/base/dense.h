/* SPDX-License-Identifier: BSD-3-Clause */
/* Small symmetric systems: a lower Cholesky root and what is solved with it. Matrices are stored row by row. */
#ifndef SW_DENSE_H
#define SW_DENSE_H

#include <stdbool.h>
#include <stddef.h>

/* Puts the root in the place of a positive definite matrix's lower half; false if it is none. */
bool sw_cholesky(size_t n, double *matrix);

/* x := L^-1 x. */
void sw_forward_solve(size_t n, const double *root, double *x);

/* x := L^-T x. */
void sw_backward_solve(size_t n, const double *root, double *x);

/* Sum of the logarithms of the root's diagonal: half the logarithm of the determinant. */
double sw_log_root(size_t n, const double *root);

/* In place: the inverse of a symmetric matrix, of which the lower triangle is read and all is written; n at most SW_INVERSE_MAX. False if
 * it is not positive definite. */
enum { SW_INVERSE_MAX = 16 };
bool sw_invert(size_t n, double *matrix);

#endif
