/* SPDX-License-Identifier: BSD-3-Clause */
#include "bordered.h"

#include "sundials_names.h"
#include "vector_clones.h"

#include <nvector/nvector_serial.h>

#include <math.h>
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

static SUNMatrix_ID matrix_id(SUNMatrix matrix)
{
    (void)matrix;
    return SUNMATRIX_CUSTOM;
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
    matrix->ops->getid = matrix_id;
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

/* The Schur complement of the bordered unknowns in use, factored with pivots. */
typedef struct complement {
    size_t count, unknown[SW_BORDERED_MAX]; /* which they are */
    double entry[SW_BORDERED_MAX][SW_BORDERED_MAX];
    size_t pivot[SW_BORDERED_MAX];
} complement;

/* The inner factors, the inner solutions of the columns, and the factored Schur complement. */
typedef struct bordered_solver {
    SUNLinearSolver inner;
    size_t cells, count;
    bool border_is_due;
    bool has_column[SW_BORDERED_MAX], has_row[SW_BORDERED_MAX]; /* whether an unknown in use has any entries there */
    const double *weight;          /* of an iterative solver's norm; NULL for a direct one */
    double *solved;                /* count columns */
    double *room;                  /* two vectors of the cells */
    complement complement;
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

/* The weights of the cells' unknowns come first. */
static int solver_set_scaling(SUNLinearSolver solver, N_Vector left, N_Vector right)
{
    solver_of(solver)->weight = N_VGetArrayPointer(left);
    return SUNLinSolSetScalingVectors(solver_of(solver)->inner, left, right);
}

static int solver_iterations(SUNLinearSolver solver)
{
    return SUNLinSolNumIters(solver_of(solver)->inner);
}

static sunrealtype solver_residual(SUNLinearSolver solver)
{
    return SUNLinSolResNorm(solver_of(solver)->inner);
}

static SUNLinearSolver_ID solver_id(SUNLinearSolver solver)
{
    (void)solver;
    return SUNLINEARSOLVER_CUSTOM;
}

static int solver_initialise(SUNLinearSolver solver)
{
    return SUNLinSolInitialize(solver_of(solver)->inner);
}

/* Running sums let the additions overlap. */
static SW_INTO_CLONES double dot(const double *a, const double *b, size_t n)
{
    enum { SUMS = 8 };
    double sum[SUMS] = {0.0};
    size_t i = 0;
    for (; i + SUMS <= n; i += SUMS)
        for (size_t k = 0; k < SUMS; k++)
            sum[k] += a[i + k] * b[i + k];
    for (; i < n; i++)
        sum[0] += a[i] * b[i];
    return ((sum[0] + sum[1]) + (sum[2] + sum[3])) + ((sum[4] + sum[5]) + (sum[6] + sum[7]));
}

static int solve_inner(bordered_solver *s, SUNMatrix inner, double *right, double *solution, double tolerance)
{
    N_VSetArrayPointer(right, s->right);
    N_VSetArrayPointer(solution, s->solution);
    return SUNLinSolSolve(s->inner, inner, s->solution, s->right, tolerance);
}

/* Norm of a column as the inner solver measures it; 1 where it does not. */
static double weighted_norm(const bordered_solver *s, const double *column)
{
    double sum = 0.0;
    for (size_t i = 0; s->weight && i < s->cells; i++)
        sum += column[i] * column[i] * s->weight[i] * s->weight[i];
    return s->weight ? sqrt(sum) : 1.0;
}

/* How far the inner solution of a column goes, as a share of its norm; a choice, small beside Newton's own error. */
static const double column_share = 1e-4;

static int solve_column(bordered_solver *s, SUNMatrix inner, const double *column, double *solved)
{
    double size = weighted_norm(s, column);
    /* Solvers may write on the right-hand side: it is a copy. */
    memcpy(s->room, column, s->cells * sizeof *s->room);
    return solve_inner(s, inner, s->room, solved, column_share * size);
}

static bool is_used(const double *values, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (values[i] != 0.0)
            return true;
    return false;
}

/* Returns false if it is singular. */
static bool factor(complement *c)
{
    for (size_t k = 0; k < c->count; k++) {
        size_t best = k;
        for (size_t i = k + 1; i < c->count; i++)
            if (fabs(c->entry[i][k]) > fabs(c->entry[best][k]))
                best = i;
        c->pivot[k] = best;
        for (size_t j = 0; j < c->count; j++) {
            const double moved = c->entry[best][j];
            c->entry[best][j] = c->entry[k][j];
            c->entry[k][j] = moved;
        }
        if (!(fabs(c->entry[k][k]) > 0.0))
            return false;
        for (size_t i = k + 1; i < c->count; i++) {
            const double share = c->entry[i][k] /= c->entry[k][k];
            for (size_t j = k + 1; j < c->count; j++)
                c->entry[i][j] -= share * c->entry[k][j];
        }
    }
    return true;
}

/* Solves in place, the unknowns in their order within the complement. */
static void solve_factored(const complement *c, double *values)
{
    for (size_t k = 0; k < c->count; k++) {
        const double moved = values[c->pivot[k]];
        values[c->pivot[k]] = values[k];
        values[k] = moved;
    }
    for (size_t k = 0; k < c->count; k++)
        for (size_t j = 0; j < k; j++)
            values[k] -= c->entry[k][j] * values[j];
    for (size_t k = c->count; k-- > 0;) {
        for (size_t j = k + 1; j < c->count; j++)
            values[k] -= c->entry[k][j] * values[j];
        values[k] /= c->entry[k][k];
    }
}

/* Eliminates the border. */
SW_VECTOR_CLONES
static int factor_complement(bordered_solver *s, const bordered_matrix *m)
{
    complement *c = &s->complement;
    c->count = 0;
    for (size_t j = 0; j < s->count; j++) {
        s->has_column[j] = m->in_use[j] && is_used(m->border.columns + j * s->cells, s->cells);
        s->has_row[j] = m->in_use[j] && is_used(m->border.rows + j * s->cells, s->cells);
        if (m->in_use[j])
            c->unknown[c->count++] = j;
    }
    for (size_t k = 0; k < c->count; k++) {
        const size_t j = c->unknown[k];
        double *solved = s->solved + j * s->cells;
        int flag = s->has_column[j] ? solve_column(s, m->inner, m->border.columns + j * s->cells, solved) : SUNLS_SUCCESS;
        if (flag != SUNLS_SUCCESS)
            return flag;
        for (size_t i = 0; i < c->count; i++) {
            const size_t r = c->unknown[i];
            c->entry[i][k] = m->border.corner[r * s->count + j];
            if (s->has_column[j] && s->has_row[r])
                c->entry[i][k] -= dot(m->border.rows + r * s->cells, solved, s->cells);
        }
    }
    return factor(c) ? SUNLS_SUCCESS : SUNLS_LUFACT_FAIL;
}

/* The border waits for the first solution: an iterative inner solver has its weights only then. */
static int solver_setup(SUNLinearSolver solver, SUNMatrix matrix)
{
    solver_of(solver)->border_is_due = true;
    return SUNLinSolSetup(solver_of(solver)->inner, matrix_of(matrix)->inner);
}

/* An unknown that is not in use is its own right-hand side. */
SW_VECTOR_CLONES
static void solve_border(const bordered_solver *s, const bordered_matrix *m, const double *right, double *x)
{
    const complement *c = &s->complement;
    double border[SW_BORDERED_MAX];
    for (size_t k = 0; k < c->count; k++) {
        const size_t r = c->unknown[k];
        border[k] = right[r];
        if (s->has_row[r])
            border[k] -= dot(m->border.rows + r * s->cells, x, s->cells);
    }
    solve_factored(c, border);
    memcpy(x + s->cells, right, s->count * sizeof *x);
    for (size_t k = 0; k < c->count; k++) {
        const size_t j = c->unknown[k];
        const double *column = s->solved + j * s->cells;
        for (size_t i = 0; s->has_column[j] && i < s->cells; i++)
            x[i] -= column[i] * border[k];
        x[s->cells + j] = border[k];
    }
}

static int solver_solve(SUNLinearSolver solver, SUNMatrix matrix, N_Vector solution, N_Vector right, sunrealtype tolerance)
{
    bordered_solver *s = solver_of(solver);
    const bordered_matrix *m = matrix_of(matrix);
    double *x = N_VGetArrayPointer(solution), border[SW_BORDERED_MAX];
    const double *b = N_VGetArrayPointer(right);
    int flag = s->border_is_due ? factor_complement(s, m) : SUNLS_SUCCESS;
    if (flag != SUNLS_SUCCESS)
        return flag;
    s->border_is_due = false;
    memcpy(s->room, b, s->cells * sizeof *s->room);
    memcpy(border, b + s->cells, s->count * sizeof *border);
    flag = solve_inner(s, m->inner, s->room, s->room + s->cells, tolerance);
    if (flag != 0)
        return flag;
    memcpy(x, s->room + s->cells, s->cells * sizeof *x);
    solve_border(s, m, border, x);
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
    solver->ops->getid = solver_id;
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
    s->solved = malloc(cells * count * sizeof *s->solved);
    s->room = malloc(2 * cells * sizeof *s->room);
    s->right = N_VNewEmpty_Serial((sunindextype)cells, context);
    s->solution = N_VNewEmpty_Serial((sunindextype)cells, context);
    if (!s->solved || !s->room || !s->right || !s->solution) {
        solver_free(solver);
        return NULL;
    }
    return solver;
}
