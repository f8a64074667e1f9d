/* SPDX-License-Identifier: BSD-3-Clause */
/* Matrix and direct solver for cells in a row, two unknowns each: block tridiagonal with 2 x 2 blocks.
 * It does the work of a banded matrix of half-bandwidth 3 in a third of the time, as blocks need no pivoting: the
 * matrix is the identity less a small multiple of a Jacobian whose diagonal dominates. */
#ifndef SW_BLOCK_TRIDIAGONAL_H
#define SW_BLOCK_TRIDIAGONAL_H

#include <sundials/sundials_linearsolver.h>
#include <sundials/sundials_matrix.h>

#include <stddef.h>

/* A matrix of cells block rows; NULL if memory is short. */
SUNMatrix sw_block_tridiagonal_matrix(size_t cells, SUNContext context);

/* All entries: three 2 x 2 blocks a block row (lower, diagonal, upper), rows first within a block. */
double *sw_block_tridiagonal_values(SUNMatrix matrix);

/* Where an entry lies in the values; row and column must belong to the same or to neighbouring cells. */
size_t sw_block_tridiagonal_offset(size_t row, size_t column);

/* The solver for such a matrix; NULL if memory is short. */
SUNLinearSolver sw_block_tridiagonal_solver(size_t cells, SUNContext context);

#endif
