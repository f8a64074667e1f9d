/* SPDX-License-Identifier: BSD-3-Clause */
#include "block_tridiagonal.h"

#include "custom_kinds.h"
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
    matrix->ops->getid = sw_custom_matrix_id;
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

/* Factors of each block row. Rows are eliminated from both ends to the middle one: what waits for the row before is half as long, and
 * the two halves do not wait for each other. */
typedef struct block_factors {
    size_t cells, middle;
    double *ratio;   /* BLOCK a cell: what couples it to the row before, times the inverse of that; of the middle one, below */
    double *inverse; /* BLOCK a cell: of the reduced diagonal */
    double *onward;  /* BLOCK a cell: the inverse times what couples it to the row after; of the middle one, its ratio above */
} block_factors;

static block_factors *factors_of(SUNLinearSolver solver)
{
    return solver->content;
}

/* From an end to the middle: where a row's blocks lie that couple it to the row before and after, and how far off the row before is. */
typedef struct direction {
    int before, after;
    ptrdiff_t step;
} direction;
static const direction upward = {LOWER, UPPER, -1}, downward = {UPPER, LOWER, 1};

/* Takes the row before out of a row's diagonal block; inverse: that row's. */
static SW_INTO_CLONES block reduce(const double *row, direction d, block inverse, block diagonal, double *ratio)
{
    const block share = times_block(read_block(row + d.before), inverse);
    write_block(share, ratio);
    return minus_block(diagonal, times_block(share, read_block(row + d.step * ROW + d.after)));
}

/* inverse: in, of the row before; out, of this one. Returns false if it is singular. */
static SW_INTO_CLONES bool eliminate(const block_factors *f, const double *values, size_t i, direction d, bool is_end, block *inverse)
{
    const double *row = values + i * ROW;
    block diagonal = read_block(row + DIAGONAL);
    if (!is_end)
        diagonal = reduce(row, d, *inverse, diagonal, f->ratio + i * BLOCK);
    const bool is_regular = invert_block(diagonal, inverse);
    write_block(*inverse, f->inverse + i * BLOCK);
    write_block(times_block(*inverse, read_block(row + d.after)), f->onward + i * BLOCK);
    return is_regular;
}

/* Returns nonzero if a reduced block is singular: the integrator then tries a smaller step. */
SW_VECTOR_CLONES
static int solver_setup(SUNLinearSolver solver, SUNMatrix matrix)
{
    const block_factors *f = factors_of(solver);
    const double *values = matrix_of(matrix)->values, *row = values + f->middle * ROW;
    const size_t above = f->cells - 1 - f->middle; /* rows there: as many as below, or one fewer */
    block low = {0.0, 0.0, 0.0, 0.0}, high = low, inverse;
    bool is_regular = true;
    for (size_t i = 0; i < f->middle; i++) {
        is_regular &= eliminate(f, values, i, upward, i == 0, &low);
        if (i < above)
            is_regular &= eliminate(f, values, f->cells - 1 - i, downward, i == 0, &high);
    }
    block diagonal = read_block(row + DIAGONAL);
    if (f->middle > 0)
        diagonal = reduce(row, upward, low, diagonal, f->ratio + f->middle * BLOCK);
    if (above > 0)
        diagonal = reduce(row, downward, high, diagonal, f->onward + f->middle * BLOCK);
    is_regular &= invert_block(diagonal, &inverse);
    write_block(inverse, f->inverse + f->middle * BLOCK);
    return is_regular ? SUNLS_SUCCESS : SUNLS_LUFACT_FAIL;
}

/* Two numbers of a cell, in registers. */
typedef struct pair {
    double t, x;
} pair;

static SW_INTO_CLONES pair times_pair(const double *a, pair v)
{
    return (pair){a[0] * v.t + a[1] * v.x, a[2] * v.t + a[3] * v.x};
}

static SW_INTO_CLONES pair minus_pair(pair a, pair b)
{
    return (pair){a.t - b.t, a.x - b.x};
}

static SW_INTO_CLONES void write_pair(pair v, double *to)
{
    to[0] = v.t;
    to[1] = v.x;
}

/* A row's right-hand side without the row before it, whose own is given; the row's share of the solution is noted. */
static SW_INTO_CLONES pair go_in(const block_factors *f, size_t i, bool is_end, pair before, const double *right, double *x)
{
    pair y = {right[2 * i], right[2 * i + 1]};
    if (!is_end)
        y = minus_pair(y, times_pair(f->ratio + i * BLOCK, before));
    write_pair(times_pair(f->inverse + i * BLOCK, y), x + 2 * i);
    return y;
}

/* A row's solution, from that of the row after it. */
static SW_INTO_CLONES pair come_out(const block_factors *f, size_t i, pair after, double *x)
{
    const pair solved = minus_pair((pair){x[2 * i], x[2 * i + 1]}, times_pair(f->onward + i * BLOCK, after));
    write_pair(solved, x + 2 * i);
    return solved;
}

SW_VECTOR_CLONES
static int solver_solve(SUNLinearSolver solver, SUNMatrix matrix, N_Vector solution, N_Vector right, sunrealtype tolerance)
{
    (void)matrix;
    (void)tolerance;
    const block_factors *f = factors_of(solver);
    const size_t middle = f->middle, last = f->cells - 1, above = last - middle;
    double *x = N_VGetArrayPointer(solution);
    const double *b = N_VGetArrayPointer(right);
    pair low = {0.0, 0.0}, high = low;
    for (size_t i = 0; i < middle; i++) {
        low = go_in(f, i, i == 0, low, b, x);
        if (i < above)
            high = go_in(f, last - i, i == 0, high, b, x);
    }
    pair y = {b[2 * middle], b[2 * middle + 1]};
    if (middle > 0)
        y = minus_pair(y, times_pair(f->ratio + middle * BLOCK, low));
    if (above > 0)
        y = minus_pair(y, times_pair(f->onward + middle * BLOCK, high));
    low = high = times_pair(f->inverse + middle * BLOCK, y);
    write_pair(low, x + 2 * middle);
    for (size_t i = middle; i-- > 0;) {
        low = come_out(f, i, low, x);
        if (i < above)
            high = come_out(f, last - i, high, x);
    }
    return SUNLS_SUCCESS;
}

static int solver_free(SUNLinearSolver solver)
{
    if (solver->content) {
        free(factors_of(solver)->ratio);
        free(factors_of(solver)->inverse);
        free(factors_of(solver)->onward);
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
    solver->ops->gettype = sw_direct_solver_type;
    solver->ops->getid = sw_custom_solver_id;
    solver->ops->setup = solver_setup;
    solver->ops->solve = solver_solve;
    solver->ops->free = solver_free;
    block_factors *content = calloc(1, sizeof *content);
    solver->content = content;
    if (content) {
        content->cells = cells;
        content->middle = cells / 2;
        content->ratio = calloc(cells * BLOCK, sizeof *content->ratio);
        content->inverse = calloc(cells * BLOCK, sizeof *content->inverse);
        content->onward = calloc(cells * BLOCK, sizeof *content->onward);
    }
    if (!content || !content->ratio || !content->inverse || !content->onward) {
        solver_free(solver);
        return NULL;
    }
    return solver;
}
