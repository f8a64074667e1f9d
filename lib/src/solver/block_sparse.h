/* SPDX-License-Identifier: BSD-3-Clause */
/* Matrix and iterative solver for a mesh of any shape, two unknowns a cell: 2 x 2 blocks, one for each cell and each pair
 * of neighbours. The solver is GMRES on the matrix between the two halves of an incomplete factorisation without fill,
 * whose diagonal blocks alone are new; in a row of cells that factorisation is exact. Theory: docs/theory/numerics.md. */
#ifndef SW_BLOCK_SPARSE_H
#define SW_BLOCK_SPARSE_H

#include "complement.h"
#include "mesh.h"

#include <sundials/sundials_linearsolver.h>
#include <sundials/sundials_matrix.h>

/* Which cells are neighbours, made once from the faces. */
typedef struct sw_block_pattern {
    size_t cell_count;
    size_t *place;      /* of each cell: its number here, so that those next to each other can be worked on at once */
    size_t *first;      /* cell_count + 1: where a place's blocks begin */
    size_t *column;     /* of each block: the place of a neighbour or its own, rising within a place */
    size_t *transposed; /* of each block: the block of the same two cells the other way round */
    size_t *diagonal;   /* of each place: its own block */
} sw_block_pattern;

/* Returns 0 or -1 if memory is short. */
int sw_block_pattern_init(sw_block_pattern *pattern, const sw_mesh *mesh);
void sw_block_pattern_free(sw_block_pattern *pattern);

/* Where an entry lies in the matrix's values; row and column must belong to one cell or to neighbours. */
size_t sw_block_sparse_offset(const sw_block_pattern *pattern, size_t row, size_t column);

/* A matrix; the pattern is borrowed. NULL if memory is short. */
SUNMatrix sw_block_sparse_matrix(const sw_block_pattern *pattern, SUNContext context);

/* All entries, rows first within a block. */
double *sw_block_sparse_values(SUNMatrix matrix);

/* The solver for such matrices; the pattern is borrowed. NULL if memory is short. */
SUNLinearSolver sw_block_sparse_solver(const sw_block_pattern *pattern, SUNContext context);

/* Room for a border of so many unknowns at most. Returns 0 or -1 if memory is short. */
int sw_block_sparse_make_border_room(SUNLinearSolver solver, size_t count);

/* Borders the matrix that was set up last, until the next call: rows and columns of each bordered unknown, NULL where all are 0. The
 * complement, which stays, comes with the corner as its entries; it becomes what the preconditioner leaves of it, factored.
 * Returns false if that is singular. */
bool sw_block_sparse_set_border(SUNLinearSolver solver, const double *const *rows, const double *const *columns,
                                sw_complement *complement);

/* Solves with the border: right and solution are of the cells' unknowns, border is the right-hand side of the bordered ones and
 * becomes their solution. The weighted residual of the cells falls to the tolerance, that of the border to round-off. */
int sw_block_sparse_solve(SUNLinearSolver solver, const double *right, double *border, double *solution, double tolerance);

#endif
