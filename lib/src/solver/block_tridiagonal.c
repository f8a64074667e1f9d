/* SPDX-License-Identifier: BSD-3-Clause */
#include "block_tridiagonal.h"

#include "sundials_names.h"
#include "block.h"
#include "vector_clones.h"

#include <nvector/nvector_serial.h>
#include <sundials/sundials_types.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ROW = 3 * BLOCK, LOWER = 0, DIAGONAL = BLOCK, UPPER = 2 * BLOCK };

typedef struct block_matrix {
    size_t cells;
    double *values;
} block_matrix;

static block_matrix *matrix_of(SUNMatrix matrix)
{
    return matrix->content;
}

double *sw_block_tridiagonal_values(SUNMatrix matrix)
{
    return matrix_of(matrix)->values;
}

size_t sw_block_tridiagonal_offset(size_t row, size_t column)
{
    size_t cell = row / 2, neighbour = column / 2;
    return cell * ROW + (neighbour + 1 - cell) * BLOCK + 2 * (row % 2) + column % 2;
}

static SUNMatrix_ID matrix_id(SUNMatrix matrix)
{
    (void)matrix;
    return SUNMATRIX_CUSTOM;
}

static SUNMatrix matrix_clone(SUNMatrix matrix)
{
    return sw_block_tridiagonal_matrix(matrix_of(matrix)->cells, matrix->sunctx);
}

static void matrix_destroy(SUNMatrix matrix)
{
    if (matrix->content) {
        free(matrix_of(matrix)->values);
        free(matrix->content);
    }
    matrix->content = NULL;
    SUNMatFreeEmpty(matrix);
}

static int matrix_zero(SUNMatrix matrix)
{
    memset(matrix_of(matrix)->values, 0, matrix_of(matrix)->cells * ROW * sizeof(double));
    return SUNMAT_SUCCESS;
}

static int matrix_copy(SUNMatrix from, SUNMatrix to)
{
    memcpy(matrix_of(to)->values, matrix_of(from)->values, matrix_of(from)->cells * ROW * sizeof(double));
    return SUNMAT_SUCCESS;
}

/* matrix = factor * matrix + identity */
static int matrix_scale_add_identity(sunrealtype factor, SUNMatrix matrix)
{
    double *values = matrix_of(matrix)->values;
    const size_t cells = matrix_of(matrix)->cells;
    for (size_t i = 0; i < cells * ROW; i++)
        values[i] *= factor;
    for (size_t i = 0; i < cells; i++) {
        values[i * ROW + DIAGONAL] += 1.0;
        values[i * ROW + DIAGONAL + 3] += 1.0;
    }
    return SUNMAT_SUCCESS;
}

SUNMatrix sw_block_tridiagonal_matrix(size_t cells, SUNContext context)
{
    SUNMatrix matrix = SUNMatNewEmpty(context);
    if (!matrix)
        return NULL;
    matrix->ops->getid = matrix_id;
    matrix->ops->clone = matrix_clone;
    matrix->ops->destroy = matrix_destroy;
    matrix->ops->zero = matrix_zero;
    matrix->ops->copy = matrix_copy;
    matrix->ops->scaleaddi = matrix_scale_add_identity;
    block_matrix *content = calloc(1, sizeof *content);
    matrix->content = content;
    if (content) {
        content->cells = cells;
        content->values = calloc(cells * ROW, sizeof *content->values);
    }
    if (!content || !content->values) {
        matrix_destroy(matrix);
        return NULL;
    }
    return matrix;
}

/* Factors of each block row: lower times the inverse before it, and the inverse of the reduced diagonal. */
typedef struct block_factors {
    size_t cells;
    double *ratio;   /* BLOCK a cell */
    double *inverse; /* BLOCK a cell */
    const double *values;
} block_factors;

static block_factors *factors_of(SUNLinearSolver solver)
{
    return solver->content;
}

static SUNLinearSolver_Type solver_type(SUNLinearSolver solver)
{
    (void)solver;
    return SUNLINEARSOLVER_DIRECT;
}

static SUNLinearSolver_ID solver_id(SUNLinearSolver solver)
{
    (void)solver;
    return SUNLINEARSOLVER_CUSTOM;
}

/* Returns nonzero if a reduced block is singular: the integrator then tries a smaller step. */
SW_VECTOR_CLONES
static int solver_setup(SUNLinearSolver solver, SUNMatrix matrix)
{
    block_factors *f = factors_of(solver);
    const double *values = matrix_of(matrix)->values;
    f->values = values;
    block above = {0.0, 0.0, 0.0, 0.0}; /* the inverse of the row before */
    for (size_t i = 0; i < f->cells; i++) {
        const double *row = values + i * ROW;
        block d = read_block(row + DIAGONAL);
        if (i > 0) {
            const block ratio = times_block(read_block(row + LOWER), above);
            const block fill = times_block(ratio, read_block(row - ROW + UPPER));
            write_block(ratio, f->ratio + i * BLOCK);
            d = minus_block(d, fill);
        }
        if (!invert_block(d, &above))
            return SUNLS_LUFACT_FAIL;
        write_block(above, f->inverse + i * BLOCK);
    }
    return SUNLS_SUCCESS;
}

SW_VECTOR_CLONES
static int solver_solve(SUNLinearSolver solver, SUNMatrix matrix, N_Vector solution, N_Vector right, sunrealtype tolerance)
{
    (void)matrix;
    (void)tolerance;
    const block_factors *f = factors_of(solver);
    double *x = N_VGetArrayPointer(solution);
    const double *b = N_VGetArrayPointer(right);
    double y0 = b[0], y1 = b[1];
    x[0] = y0;
    x[1] = y1;
    for (size_t i = 1; i < f->cells; i++) {
        const double *w = f->ratio + i * BLOCK;
        double z0 = b[2 * i] - w[0] * y0 - w[1] * y1;
        double z1 = b[2 * i + 1] - w[2] * y0 - w[3] * y1;
        x[2 * i] = y0 = z0;
        x[2 * i + 1] = y1 = z1;
    }
    double x0 = 0.0, x1 = 0.0;
    for (size_t i = f->cells; i-- > 0;) {
        const double *u = f->values + i * ROW + UPPER, *inverse = f->inverse + i * BLOCK;
        double r0 = x[2 * i] - u[0] * x0 - u[1] * x1;
        double r1 = x[2 * i + 1] - u[2] * x0 - u[3] * x1;
        x[2 * i] = x0 = inverse[0] * r0 + inverse[1] * r1;
        x[2 * i + 1] = x1 = inverse[2] * r0 + inverse[3] * r1;
    }
    return SUNLS_SUCCESS;
}

static int solver_free(SUNLinearSolver solver)
{
    if (solver->content) {
        free(factors_of(solver)->ratio);
        free(factors_of(solver)->inverse);
        free(solver->content);
    }
    solver->content = NULL;
    SUNLinSolFreeEmpty(solver);
    return SUNLS_SUCCESS;
}

SUNLinearSolver sw_block_tridiagonal_solver(size_t cells, SUNContext context)
{
    SUNLinearSolver solver = SUNLinSolNewEmpty(context);
    if (!solver)
        return NULL;
    solver->ops->gettype = solver_type;
    solver->ops->getid = solver_id;
    solver->ops->setup = solver_setup;
    solver->ops->solve = solver_solve;
    solver->ops->free = solver_free;
    block_factors *content = calloc(1, sizeof *content);
    solver->content = content;
    if (content) {
        content->cells = cells;
        content->ratio = calloc(cells * BLOCK, sizeof *content->ratio);
        content->inverse = calloc(cells * BLOCK, sizeof *content->inverse);
    }
    if (!content || !content->ratio || !content->inverse) {
        solver_free(solver);
        return NULL;
    }
    return solver;
}
