/* Sparse matrix and direct solver (KLU) for a mesh of any shape: its pattern, made once from the faces. */
#ifndef SW_SPARSE_JACOBIAN_H
#define SW_SPARSE_JACOBIAN_H

#include "mesh.h"

#include <sundials/sundials_linearsolver.h>
#include <sundials/sundials_matrix.h>
#include <sundials/sundials_nvector.h>

typedef struct sw_sparse_pattern {
    size_t cell_count;
    size_t *first;           /* cell_count + 1: where a cell's neighbours begin */
    size_t *neighbours;      /* itself included, rising */
    sunindextype *columns;   /* compressed sparse columns */
    sunindextype *rows;
} sw_sparse_pattern;

/* Returns 0 or -1 if memory is short. */
int sw_sparse_pattern_init(sw_sparse_pattern *pattern, const sw_mesh *mesh);
void sw_sparse_pattern_free(sw_sparse_pattern *pattern);

/* Where an entry lies in the matrix's values. */
size_t sw_sparse_offset(const sw_sparse_pattern *pattern, size_t row, size_t column);

/* NULL if memory is short. */
SUNMatrix sw_sparse_matrix(const sw_sparse_pattern *pattern, SUNContext context);
SUNLinearSolver sw_sparse_solver(N_Vector state, SUNMatrix matrix, SUNContext context);

/* Writes the pattern (zeroing a matrix wipes it), zeroes the values and returns them. */
double *sw_sparse_matrix_reset(const sw_sparse_pattern *pattern, SUNMatrix matrix);

#endif
