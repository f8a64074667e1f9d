/* SPDX-License-Identifier: BSD-3-Clause */
#include "bordered.h"

#include "custom_kinds.h"
#include "sundials_names.h"
#include "block_sparse.h"
#include "complement.h"
#include "products.h"
#include "vector_clones.h"

#include <nvector/nvector_serial.h>

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

typedef struct bordered_matrix {
    SUNMatrix inner;
    size_t cells, count;
    const bool *in_use;
    double *values; /* columns, rows, corner */
    sw_border border;
} bordered_matrix;

static bordered_matrix *matrix_of(SUNMatrix matrix)
{
    return matrix->content;
}

SUNMatrix sw_bordered_inner(SUNMatrix matrix)
{
    return matrix_of(matrix)->inner;
}

sw_border sw_bordered_border(SUNMatrix matrix)
{
    return matrix_of(matrix)->border;
}

static size_t border_size(const bordered_matrix *m)
{
    return 2 * m->cells * m->count + m->count * m->count;
}

static SUNMatrix matrix_clone(SUNMatrix matrix)
{
    const bordered_matrix *m = matrix_of(matrix);
    SUNMatrix inner = SUNMatClone(m->inner);
    return inner ? sw_bordered_matrix(inner, m->cells, m->count, m->in_use, matrix->sunctx) : NULL;
}

static void matrix_destroy(SUNMatrix matrix)
{
    if (matrix->content) {
        SUNMatDestroy(matrix_of(matrix)->inner);
        free(matrix_of(matrix)->values);
        free(matrix->content);
    }
    matrix->content = NULL;
    SUNMatFreeEmpty(matrix);
}

/* Rows and columns of unknowns that are not in use are neither written nor read. */
static int matrix_zero(SUNMatrix matrix)
{
    bordered_matrix *m = matrix_of(matrix);
    for (size_t j = 0; j < m->count; j++) {
        if (!m->in_use[j])
            continue;
        memset(m->border.columns + j * m->cells, 0, m->cells * sizeof *m->values);
        memset(m->border.rows + j * m->cells, 0, m->cells * sizeof *m->values);
    }
    memset(m->border.corner, 0, m->count * m->count * sizeof *m->values);
    return SUNMatZero(m->inner);
}

static int matrix_copy(SUNMatrix from, SUNMatrix to)
{
    const bordered_matrix *a = matrix_of(from);
    bordered_matrix *b = matrix_of(to);
    for (size_t j = 0; j < a->count; j++) {
        if (!a->in_use[j])
            continue;
        memcpy(b->border.columns + j * a->cells, a->border.columns + j * a->cells, a->cells * sizeof *a->values);
        memcpy(b->border.rows + j * a->cells, a->border.rows + j * a->cells, a->cells * sizeof *a->values);
    }
    memcpy(b->border.corner, a->border.corner, a->count * a->count * sizeof *a->values);
    return SUNMatCopy(a->inner, b->inner);
}

static void scale(double factor, size_t n, double *values)
{
    for (size_t i = 0; i < n; i++)
        values[i] *= factor;
}

/* matrix = factor * matrix + identity */
static int matrix_scale_add_identity(sunrealtype factor, SUNMatrix matrix)
{
    bordered_matrix *m = matrix_of(matrix);
    for (size_t j = 0; j < m->count; j++) {
        if (!m->in_use[j])
            continue;
        scale(factor, m->cells, m->border.columns + j * m->cells);
        scale(factor, m->cells, m->border.rows + j * m->cells);
    }
    scale(factor, m->count * m->count, m->border.corner);
    for (size_t i = 0; i < m->count; i++)
        m->border.corner[i * m->count + i] += 1.0;
    return SUNMatScaleAddI(factor, m->inner);
}

SUNMatrix sw_bordered_matrix(SUNMatrix inner, size_t cells, size_t count, const bool *in_use, SUNContext context)
{
    SUNMatrix matrix = SUNMatNewEmpty(context);
    bordered_matrix *m = calloc(1, sizeof *m);
    if (!matrix || !m) {
        SUNMatDestroy(inner);
        SUNMatFreeEmpty(matrix);
        free(m);
        return NULL;
    }
    *m = (bordered_matrix){.inner = inner, .cells = cells, .count = count, .in_use = in_use};
    matrix->content = m;
    matrix->ops->getid = sw_custom_matrix_id;
    matrix->ops->clone = matrix_clone;
    matrix->ops->destroy = matrix_destroy;
    matrix->ops->zero = matrix_zero;
    matrix->ops->copy = matrix_copy;
    matrix->ops->scaleaddi = matrix_scale_add_identity;
    m->values = calloc(border_size(m), sizeof *m->values);
    if (!m->values) {
        matrix_destroy(matrix);
        return NULL;
    }
    m->border.columns = m->values;
    m->border.rows = m->values + cells * count;
    m->border.corner = m->values + 2 * cells * count;
    return matrix;
}

/* What is known of a border once it is eliminated. A direct inner solver gives the solutions of its columns; an iterative one takes
 * the border into its iteration (block_sparse.h). */
typedef struct bordered_solver {
    SUNLinearSolver inner;
    size_t cells, count;
    bool is_iterative, border_is_due;
    bool has_column[SW_BORDERED_MAX], has_row[SW_BORDERED_MAX]; /* whether an unknown in use has any entries there */
    size_t unknown[SW_BORDERED_MAX]; /* those in use, in their order within the complement */
    sw_complement complement;
    double *solved;                /* count columns; NULL with an iterative solver */
    double *room;                  /* two vectors of the cells */
    N_Vector right, solution;      /* views */
} bordered_solver;

static bordered_solver *solver_of(SUNLinearSolver solver)
{
    return solver->content;
}

/* An iterative inner solver makes the whole iterative. */
static SUNLinearSolver_Type solver_type(SUNLinearSolver solver)
{
    return SUNLinSolGetType(solver_of(solver)->inner);
}

static int solver_set_scaling(SUNLinearSolver solver, N_Vector left, N_Vector right)
{
    return SUNLinSolSetScalingVectors(solver_of(solver)->inner, left, right); /* those of the cells come first */
}

static int solver_iterations(SUNLinearSolver solver)
{
    return SUNLinSolNumIters(solver_of(solver)->inner);
}

static sunrealtype solver_residual(SUNLinearSolver solver)
{
    return SUNLinSolResNorm(solver_of(solver)->inner);
}

static int solver_initialise(SUNLinearSolver solver)
{
    return SUNLinSolInitialize(solver_of(solver)->inner);
}

static int solve_inner(bordered_solver *s, SUNMatrix inner, double *right, double *solution)
{
    N_VSetArrayPointer(right, s->right);
    N_VSetArrayPointer(solution, s->solution);
    return SUNLinSolSolve(s->inner, inner, s->solution, s->right, 0.0);
}

static bool is_used(const double *values, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (values[i] != 0.0)
            return true;
    return false;
}

/* Solves the columns, and leaves of the complement what the cells do not take. */
SW_VECTOR_CLONES
static int eliminate_directly(bordered_solver *s, const bordered_matrix *m)
{
    sw_complement *c = &s->complement;
    for (size_t k = 0; k < c->count; k++) {
        const size_t j = s->unknown[k];
        if (!s->has_column[j])
            continue;
        double *solved = s->solved + j * s->cells;
        /* Solvers may write on the right-hand side: it is a copy. */
        memcpy(s->room, m->border.columns + j * s->cells, s->cells * sizeof *s->room);
        const int flag = solve_inner(s, m->inner, s->room, solved);
        if (flag != SUNLS_SUCCESS)
            return flag;
        for (size_t i = 0; i < c->count; i++)
            if (s->has_row[s->unknown[i]])
                c->entry[i][k] -= sw_dot(m->border.rows + s->unknown[i] * s->cells, solved, s->cells);
    }
    return sw_complement_factor(c) ? SUNLS_SUCCESS : SUNLS_LUFACT_FAIL;
}

static int eliminate_within_iteration(bordered_solver *s, const bordered_matrix *m)
{
    const double *rows[SW_BORDERED_MAX], *columns[SW_BORDERED_MAX];
    for (size_t k = 0; k < s->complement.count; k++) {
        const size_t j = s->unknown[k];
        rows[k] = s->has_row[j] ? m->border.rows + j * s->cells : NULL;
        columns[k] = s->has_column[j] ? m->border.columns + j * s->cells : NULL;
    }
    return sw_block_sparse_set_border(s->inner, rows, columns, &s->complement) ? SUNLS_SUCCESS : SUNLS_LUFACT_FAIL;
}

static int eliminate_border(bordered_solver *s, const bordered_matrix *m)
{
    sw_complement *c = &s->complement;
    c->count = 0;
    for (size_t j = 0; j < s->count; j++) {
        s->has_column[j] = m->in_use[j] && is_used(m->border.columns + j * s->cells, s->cells);
        s->has_row[j] = m->in_use[j] && is_used(m->border.rows + j * s->cells, s->cells);
        if (m->in_use[j])
            s->unknown[c->count++] = j;
    }
    for (size_t i = 0; i < c->count; i++)
        for (size_t k = 0; k < c->count; k++)
            c->entry[i][k] = m->border.corner[s->unknown[i] * s->count + s->unknown[k]];
    return s->is_iterative ? eliminate_within_iteration(s, m) : eliminate_directly(s, m);
}

/* The border waits for the first solution. */
static int solver_setup(SUNLinearSolver solver, SUNMatrix matrix)
{
    solver_of(solver)->border_is_due = true;
    return SUNLinSolSetup(solver_of(solver)->inner, matrix_of(matrix)->inner);
}

SW_VECTOR_CLONES
static void take_off_border(const bordered_solver *s, const bordered_matrix *m, double *x, double *border)
{
    for (size_t k = 0; k < s->complement.count; k++)
        if (s->has_row[s->unknown[k]])
            border[k] -= sw_dot(m->border.rows + s->unknown[k] * s->cells, x, s->cells);
    sw_complement_solve(&s->complement, border);
    for (size_t k = 0; k < s->complement.count; k++) {
        const double *column = s->solved + s->unknown[k] * s->cells;
        for (size_t i = 0; s->has_column[s->unknown[k]] && i < s->cells; i++)
            x[i] -= column[i] * border[k];
    }
}

static int solver_solve(SUNLinearSolver solver, SUNMatrix matrix, N_Vector solution, N_Vector right, sunrealtype tolerance)
{
    bordered_solver *s = solver_of(solver);
    const bordered_matrix *m = matrix_of(matrix);
    const size_t cells = s->cells;
    double *x = s->room + cells, border[SW_BORDERED_MAX], all[SW_BORDERED_MAX];
    int flag = s->border_is_due ? eliminate_border(s, m) : SUNLS_SUCCESS;
    if (flag != SUNLS_SUCCESS)
        return flag;
    s->border_is_due = false;
    memcpy(s->room, N_VGetArrayPointer(right), cells * sizeof *s->room);
    memcpy(all, N_VGetArrayPointer(right) + cells, s->count * sizeof *all);
    for (size_t k = 0; k < s->complement.count; k++)
        border[k] = all[s->unknown[k]];
    if (s->is_iterative) {
        flag = sw_block_sparse_solve(s->inner, s->room, border, x, tolerance);
    } else {
        flag = solve_inner(s, m->inner, s->room, x);
        take_off_border(s, m, x, border);
    }
    if (flag != SUNLS_SUCCESS)
        return flag;
    /* An unknown that is not in use is its own right-hand side. */
    for (size_t k = 0; k < s->complement.count; k++)
        all[s->unknown[k]] = border[k];
    memcpy(N_VGetArrayPointer(solution), x, cells * sizeof *x);
    memcpy(N_VGetArrayPointer(solution) + cells, all, s->count * sizeof *all);
    return SUNLS_SUCCESS;
}

static int solver_free(SUNLinearSolver solver)
{
    bordered_solver *s = solver_of(solver);
    if (s) {
        SUNLinSolFree(s->inner);
        free(s->solved);
        free(s->room);
        N_VDestroy(s->right);
        N_VDestroy(s->solution);
        free(s);
    }
    solver->content = NULL;
    SUNLinSolFreeEmpty(solver);
    return SUNLS_SUCCESS;
}

SUNLinearSolver sw_bordered_solver(SUNLinearSolver inner, size_t cells, size_t count, SUNContext context)
{
    SUNLinearSolver solver = SUNLinSolNewEmpty(context);
    bordered_solver *s = calloc(1, sizeof *s);
    if (!solver || !s) {
        SUNLinSolFree(inner);
        SUNLinSolFreeEmpty(solver);
        free(s);
        return NULL;
    }
    *s = (bordered_solver){.inner = inner, .cells = cells, .count = count};
    solver->content = s;
    solver->ops->gettype = solver_type;
    solver->ops->getid = sw_custom_solver_id;
    solver->ops->initialize = solver_initialise;
    if (inner->ops->setscalingvectors)
        solver->ops->setscalingvectors = solver_set_scaling;
    if (inner->ops->numiters)
        solver->ops->numiters = solver_iterations;
    if (inner->ops->resnorm)
        solver->ops->resnorm = solver_residual;
    solver->ops->setup = solver_setup;
    solver->ops->solve = solver_solve;
    solver->ops->free = solver_free;
    s->is_iterative = SUNLinSolGetType(inner) == SUNLINEARSOLVER_MATRIX_ITERATIVE;
    const bool has_room = s->is_iterative ? sw_block_sparse_make_border_room(inner, count) == 0
                                          : (s->solved = malloc(cells * count * sizeof *s->solved)) != NULL;
    s->room = malloc(2 * cells * sizeof *s->room);
    s->right = N_VNewEmpty_Serial((sunindextype)cells, context);
    s->solution = N_VNewEmpty_Serial((sunindextype)cells, context);
    if (!has_room || !s->room || !s->right || !s->solution) {
        solver_free(solver);
        return NULL;
    }
    return solver;
}
