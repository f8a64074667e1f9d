/* SPDX-License-Identifier: BSD-3-Clause */
#include "bordered.h"

#include "sundials_names.h"

#include <nvector/nvector_serial.h>
#include <sundials/sundials_dense.h>

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

typedef struct bordered_matrix {
    SUNMatrix inner;
    size_t cells, count;
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
    return inner ? sw_bordered_matrix(inner, m->cells, m->count, matrix->sunctx) : NULL;
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

static int matrix_zero(SUNMatrix matrix)
{
    bordered_matrix *m = matrix_of(matrix);
    memset(m->values, 0, border_size(m) * sizeof *m->values);
    return SUNMatZero(m->inner);
}

static int matrix_copy(SUNMatrix from, SUNMatrix to)
{
    const bordered_matrix *a = matrix_of(from);
    bordered_matrix *b = matrix_of(to);
    memcpy(b->values, a->values, border_size(a) * sizeof *a->values);
    return SUNMatCopy(a->inner, b->inner);
}

/* matrix = factor * matrix + identity */
static int matrix_scale_add_identity(sunrealtype factor, SUNMatrix matrix)
{
    bordered_matrix *m = matrix_of(matrix);
    for (size_t i = 0; i < border_size(m); i++)
        m->values[i] *= factor;
    for (size_t i = 0; i < m->count; i++)
        m->border.corner[i * m->count + i] += 1.0;
    return SUNMatScaleAddI(factor, m->inner);
}

SUNMatrix sw_bordered_matrix(SUNMatrix inner, size_t cells, size_t count, SUNContext context)
{
    SUNMatrix matrix = SUNMatNewEmpty(context);
    bordered_matrix *m = calloc(1, sizeof *m);
    if (!matrix || !m) {
        SUNMatDestroy(inner);
        SUNMatFreeEmpty(matrix);
        free(m);
        return NULL;
    }
    *m = (bordered_matrix){.inner = inner, .cells = cells, .count = count};
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

/* The inner factors, the inner solutions of the columns, and the factored Schur complement. */
typedef struct bordered_solver {
    SUNLinearSolver inner;
    size_t cells, count;
    bool border_is_due;
    bool has_column[SW_BORDERED_MAX], has_row[SW_BORDERED_MAX]; /* false for an unknown that is not in use now */
    const double *weight;          /* of an iterative solver's norm; NULL for a direct one */
    double *solved;                /* count columns */
    double *room;                  /* two vectors of the cells */
    sunrealtype **complement;         /* count x count, by columns */
    sunindextype pivots[SW_BORDERED_MAX];
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

static double dot(const double *a, const double *b, size_t n)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
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

/* Eliminates the border. */
static int factor_complement(bordered_solver *s, const bordered_matrix *m)
{
    for (size_t j = 0; j < s->count; j++) {
        s->has_column[j] = is_used(m->border.columns + j * s->cells, s->cells);
        s->has_row[j] = is_used(m->border.rows + j * s->cells, s->cells);
    }
    for (size_t j = 0; j < s->count; j++) {
        double *solved = s->solved + j * s->cells;
        int flag = s->has_column[j] ? solve_column(s, m->inner, m->border.columns + j * s->cells, solved) : SUNLS_SUCCESS;
        if (flag != SUNLS_SUCCESS)
            return flag;
        for (size_t r = 0; r < s->count; r++) {
            s->complement[j][r] = m->border.corner[r * s->count + j];
            if (s->has_column[j] && s->has_row[r])
                s->complement[j][r] -= dot(m->border.rows + r * s->cells, solved, s->cells);
        }
    }
    return SUNDlsMat_denseGETRF(s->complement, (sunindextype)s->count, (sunindextype)s->count, s->pivots) == 0
               ? SUNLS_SUCCESS
               : SUNLS_LUFACT_FAIL;
}

/* The border waits for the first solution: an iterative inner solver has its weights only then. */
static int solver_setup(SUNLinearSolver solver, SUNMatrix matrix)
{
    solver_of(solver)->border_is_due = true;
    return SUNLinSolSetup(solver_of(solver)->inner, matrix_of(matrix)->inner);
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
    for (size_t r = 0; r < s->count; r++)
        if (s->has_row[r])
            border[r] -= dot(m->border.rows + r * s->cells, x, s->cells);
    SUNDlsMat_denseGETRS(s->complement, (sunindextype)s->count, s->pivots, border);
    for (size_t j = 0; j < s->count; j++) {
        const double *column = s->solved + j * s->cells;
        for (size_t i = 0; s->has_column[j] && i < s->cells; i++)
            x[i] -= column[i] * border[j];
        x[s->cells + j] = border[j];
    }
    return SUNLS_SUCCESS;
}

static int solver_free(SUNLinearSolver solver)
{
    bordered_solver *s = solver_of(solver);
    if (s) {
        SUNLinSolFree(s->inner);
        free(s->solved);
        free(s->room);
        if (s->complement)
            SUNDlsMat_destroyMat(s->complement);
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
    s->complement = SUNDlsMat_newDenseMat((sunindextype)count, (sunindextype)count);
    s->right = N_VNewEmpty_Serial((sunindextype)cells, context);
    s->solution = N_VNewEmpty_Serial((sunindextype)cells, context);
    if (!s->solved || !s->room || !s->complement || !s->right || !s->solution) {
        solver_free(solver);
        return NULL;
    }
    return solver;
}
