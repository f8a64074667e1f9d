/* SPDX-License-Identifier: BSD-3-Clause */
#include "block_sparse.h"

#include "custom_kinds.h"
#include "sundials_names.h"
#include "block.h"
#include "products.h"
#include "vector_clones.h"

#include <nvector/nvector_serial.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* After so many iterations GMRES gives up and the integrator tries a smaller step; a few are usual. */
enum { ITERATIONS_MAX = 40 };

typedef struct block_matrix {
    const sw_block_pattern *pattern;
    double *values;
} block_matrix;

static block_matrix *matrix_of(SUNMatrix matrix)
{
    return matrix->content;
}

double *sw_block_sparse_values(SUNMatrix matrix)
{
    return matrix_of(matrix)->values;
}

static size_t entry_count(const sw_block_pattern *p)
{
    return BLOCK * p->first[p->cell_count];
}

static SUNMatrix matrix_clone(SUNMatrix matrix)
{
    return sw_block_sparse_matrix(matrix_of(matrix)->pattern, matrix->sunctx);
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
    memset(matrix_of(matrix)->values, 0, entry_count(matrix_of(matrix)->pattern) * sizeof(double));
    return SUNMAT_SUCCESS;
}

static int matrix_copy(SUNMatrix from, SUNMatrix to)
{
    memcpy(matrix_of(to)->values, matrix_of(from)->values, entry_count(matrix_of(from)->pattern) * sizeof(double));
    return SUNMAT_SUCCESS;
}

/* matrix = factor * matrix + identity */
static int matrix_scale_add_identity(sunrealtype factor, SUNMatrix matrix)
{
    const sw_block_pattern *p = matrix_of(matrix)->pattern;
    double *values = matrix_of(matrix)->values;
    const size_t entries = entry_count(p);
    for (size_t i = 0; i < entries; i++)
        values[i] *= factor;
    for (size_t i = 0; i < p->cell_count; i++) {
        values[BLOCK * p->diagonal[i]] += 1.0;
        values[BLOCK * p->diagonal[i] + 3] += 1.0;
    }
    return SUNMAT_SUCCESS;
}

SUNMatrix sw_block_sparse_matrix(const sw_block_pattern *pattern, SUNContext context)
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
        content->pattern = pattern;
        content->values = calloc(entry_count(pattern), sizeof *content->values);
    }
    if (!content || !content->values) {
        matrix_destroy(matrix);
        return NULL;
    }
    return matrix;
}

/* All vectors of the solver have the cells at their places in the pattern.
 * With A = L + A_D + U and diagonal blocks D, the factorisation is (D + L) D^-1 (D + U). Rows are kept multiplied by D^-1:
 * D^-1 A = l + E + u with l, u beside the diagonal, and GMRES sees (1 + l)^-1 (l + E + u) (1 + u)^-1, which applied to v
 * is t + (1 + l)^-1 (v + (E - 2) t) with t = (1 + u)^-1 v (Eisenstat): one pass up and one down, and no product with A.
 *
 * A border of rows C, columns B and a corner G is eliminated by the factorisation M, not by A: with Z = M^-1 B and S = G - C Z
 * the preconditioner solves [M B; C G] exactly, so that the border's rows hold in every iteration, and GMRES sees the above and
 * F S^-1 C t, where F is what it makes of (1 + l)^-1 D^-1 B less that itself: what M lacks of A there. */
typedef struct block_solver {
    const sw_block_pattern *pattern;
    size_t unknowns;
    double *scaled;       /* l and u, and E - 2 on the diagonal */
    double *inverse;      /* of D, BLOCK a cell */
    double *scratch, *found; /* one vector each */
    double *basis;        /* ITERATIONS_MAX + 1 vectors */
    double *squared_weight; /* of the unknowns in the norm */
    double *border;         /* of each bordered unknown three vectors: row, column and fed_back (below) */
    size_t border_count;    /* 0 without a border */
    bool has_row[SW_BORDERED_MAX], has_column[SW_BORDERED_MAX];
    const sw_complement *complement;
    int iterations;       /* of the last solution */
    double residual;
} block_solver;

static const sw_complement no_border = {.count = 0};

static block_solver *solver_of(SUNLinearSolver solver)
{
    return solver->content;
}

static SUNLinearSolver_Type solver_type(SUNLinearSolver solver)
{
    (void)solver;
    return SUNLINEARSOLVER_MATRIX_ITERATIVE;
}

/* Returns nonzero if a diagonal block is singular: the integrator then tries a smaller step. */
SW_VECTOR_CLONES
static int solver_setup(SUNLinearSolver solver, SUNMatrix matrix)
{
    block_solver *s = solver_of(solver);
    const sw_block_pattern *p = s->pattern;
    const double *values = matrix_of(matrix)->values;
    double *scaled = s->scaled;
    for (size_t i = 0; i < p->cell_count; i++) {
        const size_t own = p->diagonal[i], first = p->first[i], end = p->first[i + 1];
        block d = read_block(values + BLOCK * own);
        for (size_t k = first; k < own; k++) {
            const block fill = times_block(read_block(values + BLOCK * k), read_block(scaled + BLOCK * p->transposed[k]));
            d = minus_block(d, fill);
        }
        block inverse;
        if (!invert_block(d, &inverse))
            return SUNLS_LUFACT_FAIL;
        write_block(inverse, s->inverse + BLOCK * i);
        for (size_t k = first; k < end; k++)
            write_block(times_block(inverse, read_block(values + BLOCK * k)), scaled + BLOCK * k);
        scaled[BLOCK * own] -= 2.0;
        scaled[BLOCK * own + 3] -= 2.0;
    }
    return SUNLS_SUCCESS;
}

/* x = (1 + u)^-1 v; x may be v. */
static SW_INTO_CLONES void solve_upper(const block_solver *s, const double *v, double *x)
{
    const sw_block_pattern *p = s->pattern;
    for (size_t i = p->cell_count; i-- > 0;) {
        double x0 = v[2 * i], x1 = v[2 * i + 1];
        for (size_t k = p->first[i + 1]; --k > p->diagonal[i];) {
            const double *a = s->scaled + BLOCK * k, *y = x + 2 * p->column[k];
            x0 -= a[0] * y[0] + a[1] * y[1];
            x1 -= a[2] * y[0] + a[3] * y[1];
        }
        x[2 * i] = x0;
        x[2 * i + 1] = x1;
    }
}

/* A cell of (1 + l)^-1 (x0, x1), those before it being done. */
static SW_INTO_CLONES void solve_lower_cell(const block_solver *s, size_t i, double x0, double x1, double *x)
{
    const sw_block_pattern *p = s->pattern;
    for (size_t k = p->first[i]; k < p->diagonal[i]; k++) {
        const double *a = s->scaled + BLOCK * k, *y = x + 2 * p->column[k];
        x0 -= a[0] * y[0] + a[1] * y[1];
        x1 -= a[2] * y[0] + a[3] * y[1];
    }
    x[2 * i] = x0;
    x[2 * i + 1] = x1;
}

/* product = (1 + l)^-1 (l + E + u) (1 + u)^-1 v */
SW_VECTOR_CLONES
static void times(const block_solver *s, const double *v, double *product)
{
    const sw_block_pattern *p = s->pattern;
    double *t = s->scratch;
    solve_upper(s, v, t);
    for (size_t i = 0; i < p->cell_count; i++) {
        const double *e = s->scaled + BLOCK * p->diagonal[i];
        solve_lower_cell(s, i, v[2 * i] + e[0] * t[2 * i] + e[1] * t[2 * i + 1],
                         v[2 * i + 1] + e[2] * t[2 * i] + e[3] * t[2 * i + 1], product);
    }
    for (size_t i = 0; i < s->unknowns; i++)
        product[i] += t[i];
}

static double *row_of(const block_solver *s, size_t k)
{
    return s->border + 3 * k * s->unknowns;
}

/* Z */
static double *column_of(const block_solver *s, size_t k)
{
    return row_of(s, k) + s->unknowns;
}

/* F */
static double *fed_back(const block_solver *s, size_t k)
{
    return row_of(s, k) + 2 * s->unknowns;
}

/* The right-hand side as GMRES sees it: times D^-1, then (1 + l)^-1. */
SW_VECTOR_CLONES
static void begin_with(const block_solver *s, const double *right, double *first)
{
    const sw_block_pattern *p = s->pattern;
    for (size_t cell = 0; cell < p->cell_count; cell++) {
        const double *inverse = s->inverse + BLOCK * p->place[cell], *b = right + 2 * cell;
        double *at = first + 2 * p->place[cell];
        at[0] = inverse[0] * b[0] + inverse[1] * b[1];
        at[1] = inverse[2] * b[0] + inverse[3] * b[1];
    }
    for (size_t i = 0; i < p->cell_count; i++)
        solve_lower_cell(s, i, first[2 * i], first[2 * i + 1], first);
}

SW_VECTOR_CLONES
static void solve_upper_in_place(const block_solver *s, double *found)
{
    solve_upper(s, found, found);
}

static void take_from_places(const block_solver *s, const double *at_places, double *values)
{
    for (size_t cell = 0; cell < s->pattern->cell_count; cell++)
        memcpy(values + 2 * cell, at_places + 2 * s->pattern->place[cell], 2 * sizeof *values);
}

static void put_in_places(const block_solver *s, const double *values, double *at_places)
{
    for (size_t cell = 0; cell < s->pattern->cell_count; cell++)
        memcpy(at_places + 2 * s->pattern->place[cell], values + 2 * cell, 2 * sizeof *values);
}

/* Running sums let the additions overlap. */
SW_VECTOR_CLONES
static double weighted_product(const block_solver *s, const double *u, const double *v)
{
    enum { SUMS = 8 };
    const double *w = s->squared_weight;
    double sum[SUMS] = {0.0};
    size_t i = 0;
    for (; i + SUMS <= s->unknowns; i += SUMS)
        for (size_t k = 0; k < SUMS; k++)
            sum[k] += w[i + k] * u[i + k] * v[i + k];
    for (; i < s->unknowns; i++)
        sum[0] += w[i] * u[i] * v[i];
    return ((sum[0] + sum[1]) + (sum[2] + sum[3])) + ((sum[4] + sum[5]) + (sum[6] + sum[7]));
}

SW_VECTOR_CLONES
static void scale(const block_solver *s, double factor, double *v)
{
    for (size_t i = 0; i < s->unknowns; i++)
        v[i] *= factor;
}

SW_VECTOR_CLONES
static void subtract(const block_solver *s, double factor, const double *u, double *v)
{
    for (size_t i = 0; i < s->unknowns; i++)
        v[i] -= factor * u[i];
}

/* values: S^-1 (values - C t), t in the scratch or found. */
SW_VECTOR_CLONES
static void solve_border(const block_solver *s, const double *t, double *values)
{
    for (size_t k = 0; k < s->border_count; k++)
        if (s->has_row[k])
            values[k] -= sw_dot(row_of(s, k), t, s->unknowns);
    sw_complement_solve(s->complement, values);
}

static void subtract_columns(const block_solver *s, double *(*of)(const block_solver *, size_t), const double *factor, double *v)
{
    for (size_t k = 0; k < s->border_count; k++)
        if (s->has_column[k])
            subtract(s, factor[k], of(s, k), v);
}

/* The next basis vector and its column of the Hessenberg matrix (modified Gram and Schmidt). */
static void extend_basis(const block_solver *s, int k, double *column)
{
    double *next = s->basis + (size_t)(k + 1) * s->unknowns;
    times(s, s->basis + (size_t)k * s->unknowns, next);
    double border[SW_BORDERED_MAX] = {0.0};
    solve_border(s, s->scratch, border);
    subtract_columns(s, fed_back, border, next);
    for (int i = 0; i <= k; i++) {
        const double *v = s->basis + (size_t)i * s->unknowns;
        column[i] = weighted_product(s, v, next);
        subtract(s, column[i], v, next);
    }
    column[k + 1] = sqrt(weighted_product(s, next, next));
    if (column[k + 1] > 0.0)
        scale(s, 1.0 / column[k + 1], next);
}

/* Applies the earlier rotations to a column, then makes and applies the one that clears its last entry. */
static void rotate(int k, double *column, double (*turn)[2], double *right)
{
    for (int i = 0; i < k; i++) {
        double a = column[i], b = column[i + 1];
        column[i] = turn[i][0] * a + turn[i][1] * b;
        column[i + 1] = turn[i][0] * b - turn[i][1] * a;
    }
    double length = hypot(column[k], column[k + 1]);
    turn[k][0] = column[k] / length;
    turn[k][1] = column[k + 1] / length;
    column[k] = length;
    right[k + 1] = -turn[k][1] * right[k];
    right[k] *= turn[k][0];
}

/* Solves the preconditioned system from zero; the first basis vector is its right-hand side. Returns whether the weighted
 * residual fell to the tolerance (a 2-norm, as the integrator's is). */
static bool minimise_residual(block_solver *s, double *solution, double tolerance)
{
    double column[ITERATIONS_MAX][ITERATIONS_MAX + 1], turn[ITERATIONS_MAX][2], right[ITERATIONS_MAX + 1];
    int count = 0;
    memset(solution, 0, s->unknowns * sizeof *solution);
    right[0] = sqrt(weighted_product(s, s->basis, s->basis));
    if (right[0] > tolerance)
        scale(s, 1.0 / right[0], s->basis);
    while (fabs(right[count]) > tolerance && count < ITERATIONS_MAX) {
        extend_basis(s, count, column[count]);
        rotate(count, column[count], turn, right);
        count++;
    }
    s->iterations = count;
    s->residual = fabs(right[count]);
    for (int i = count; i-- > 0;) {
        right[i] /= column[i][i];
        for (int j = 0; j < i; j++)
            right[j] -= right[i] * column[i][j];
        subtract(s, -right[i], s->basis + (size_t)i * s->unknowns, solution);
    }
    return s->residual <= tolerance;
}

int sw_block_sparse_solve(SUNLinearSolver solver, const double *right, double *border, double *solution, double tolerance)
{
    block_solver *s = solver_of(solver);
    double apart[SW_BORDERED_MAX]; /* what the bordered unknowns would be if the cells' were 0 */
    begin_with(s, right, s->basis);
    for (size_t k = 0; k < s->border_count; k++)
        apart[k] = -border[k];
    sw_complement_solve(s->complement, apart);
    subtract_columns(s, fed_back, apart, s->basis);
    const bool converged = minimise_residual(s, s->found, tolerance);
    solve_upper_in_place(s, s->found);
    solve_border(s, s->found, border);
    subtract_columns(s, column_of, border, s->found);
    take_from_places(s, s->found, solution);
    return converged ? SUNLS_SUCCESS : SUNLS_CONV_FAIL;
}

static int solver_solve(SUNLinearSolver solver, SUNMatrix matrix, N_Vector solution, N_Vector right, sunrealtype tolerance)
{
    (void)matrix;
    return sw_block_sparse_solve(solver, N_VGetArrayPointer(right), NULL, N_VGetArrayPointer(solution), tolerance);
}

int sw_block_sparse_make_border_room(SUNLinearSolver solver, size_t count)
{
    block_solver *s = solver_of(solver);
    s->border = malloc(3 * count * s->unknowns * sizeof *s->border);
    return s->border ? 0 : -1;
}

SW_VECTOR_CLONES
static void take_border(block_solver *s, const double *const *rows, const double *const *columns)
{
    for (size_t k = 0; k < s->border_count; k++) {
        s->has_row[k] = rows[k] != NULL;
        s->has_column[k] = columns[k] != NULL;
        if (rows[k])
            put_in_places(s, rows[k], row_of(s, k));
        if (!columns[k])
            continue;
        begin_with(s, columns[k], s->basis);
        times(s, s->basis, fed_back(s, k));
        memcpy(column_of(s, k), s->scratch, s->unknowns * sizeof *s->scratch);
        for (size_t i = 0; i < s->unknowns; i++)
            fed_back(s, k)[i] -= s->basis[i];
    }
}

bool sw_block_sparse_set_border(SUNLinearSolver solver, const double *const *rows, const double *const *columns,
                                sw_complement *complement)
{
    block_solver *s = solver_of(solver);
    s->border_count = complement->count;
    s->complement = complement;
    take_border(s, rows, columns);
    for (size_t i = 0; i < s->border_count; i++)
        for (size_t k = 0; k < s->border_count; k++)
            if (rows[i] && columns[k])
                complement->entry[i][k] -= sw_dot(row_of(s, i), column_of(s, k), s->unknowns);
    return sw_complement_factor(complement);
}

static int solver_set_scaling(SUNLinearSolver solver, N_Vector left, N_Vector right)
{
    (void)right;
    block_solver *s = solver_of(solver);
    const double *weight = N_VGetArrayPointer(left);
    for (size_t cell = 0; cell < s->pattern->cell_count; cell++) {
        double *squared = s->squared_weight + 2 * s->pattern->place[cell];
        squared[0] = weight[2 * cell] * weight[2 * cell];
        squared[1] = weight[2 * cell + 1] * weight[2 * cell + 1];
    }
    return SUNLS_SUCCESS;
}

static int solver_iterations(SUNLinearSolver solver)
{
    return solver_of(solver)->iterations;
}

static sunrealtype solver_residual(SUNLinearSolver solver)
{
    return solver_of(solver)->residual;
}

static int solver_free(SUNLinearSolver solver)
{
    block_solver *s = solver_of(solver);
    if (s) {
        free(s->scaled);
        free(s->inverse);
        free(s->scratch);
        free(s->found);
        free(s->squared_weight);
        free(s->basis);
        free(s->border);
        free(s);
    }
    solver->content = NULL;
    SUNLinSolFreeEmpty(solver);
    return SUNLS_SUCCESS;
}

SUNLinearSolver sw_block_sparse_solver(const sw_block_pattern *pattern, SUNContext context)
{
    SUNLinearSolver solver = SUNLinSolNewEmpty(context);
    if (!solver)
        return NULL;
    solver->ops->gettype = solver_type;
    solver->ops->getid = sw_custom_solver_id;
    solver->ops->setscalingvectors = solver_set_scaling;
    solver->ops->setup = solver_setup;
    solver->ops->solve = solver_solve;
    solver->ops->numiters = solver_iterations;
    solver->ops->resnorm = solver_residual;
    solver->ops->free = solver_free;
    block_solver *s = calloc(1, sizeof *s);
    solver->content = s;
    if (s) {
        s->pattern = pattern;
        s->unknowns = 2 * pattern->cell_count;
        s->complement = &no_border;
        s->scaled = calloc(entry_count(pattern), sizeof *s->scaled);
        s->inverse = calloc(BLOCK * pattern->cell_count, sizeof *s->inverse);
        s->scratch = calloc(s->unknowns, sizeof *s->scratch);
        s->found = calloc(s->unknowns, sizeof *s->found);
        s->squared_weight = calloc(s->unknowns, sizeof *s->squared_weight);
        s->basis = calloc((ITERATIONS_MAX + 1) * s->unknowns, sizeof *s->basis);
    }
    if (!s || !s->scaled || !s->inverse || !s->scratch || !s->found || !s->squared_weight || !s->basis) {
        solver_free(solver);
        return NULL;
    }
    return solver;
}
