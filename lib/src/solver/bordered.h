/* SPDX-License-Identifier: BSD-3-Clause */
/* A matrix and solver with a border: an inner matrix of the cells' unknowns, and a few rows and columns of bordered unknowns
 * that couple to all of them. The border is eliminated (Schur complement); the inner solver is a direct one or that of block_sparse.h.
 * With integrator and the inner solvers the only place that sees SUNDIALS. */
#ifndef SW_BORDERED_H
#define SW_BORDERED_H

#include "jacobian_layout.h"

#include <stdbool.h>
#include <sundials/sundials_linearsolver.h>
#include <sundials/sundials_matrix.h>

/* Takes the inner matrix over, also on failure. cells: number of inner unknowns; count: of bordered ones, 1 or more;
 * in_use, borrowed: which of these count now. The others' rows and columns are left alone, and their corner is the identity's.
 * Returns NULL if memory is short. */
SUNMatrix sw_bordered_matrix(SUNMatrix inner, size_t cells, size_t count, const bool *in_use, SUNContext context);

SUNMatrix sw_bordered_inner(SUNMatrix matrix);
sw_border sw_bordered_border(SUNMatrix matrix);

/* Takes the inner solver over, also on failure. Returns NULL if memory is short. */
SUNLinearSolver sw_bordered_solver(SUNLinearSolver inner, size_t cells, size_t count, SUNContext context);

#endif
