/* SPDX-License-Identifier: BSD-3-Clause */
#include "integrator.h"

#include "block_sparse.h"
#include "block_tridiagonal.h"
#include "bordered.h"
#include "memory_at_hand.h"
#include "newton.h"
#include "sundials_names.h"
#include "vectors.h"

#include <stallwright/version.h>

#include <nvector/nvector_serial.h>
#include <sunnonlinsol/sunnonlinsol_newton.h>

#include <errno.h>
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A context of SUNDIALS crashes where its own allocations fail: some times what it takes [bytes]. */
static const size_t context_room = (size_t)64 << 10;

/* The first step copies the matrix, and crashes without memory: a few times what a cell takes [bytes]. */
static const size_t matrix_room_per_cell = 1024;

struct sw_integrator {
    sw_context *context;
    sw_problem problem;
    SUNContext sundials;
    void *cvode;
    SUNMatrix matrix;
    SUNLinearSolver solver;
    SUNNonlinearSolver iteration;
    sw_contraction contraction; /* of the nonlinear iteration */
    double rate_time;       /* of the last rate [s] */
    bool jacobian_is_ready; /* matrix holds that of the last rate's state */
    sw_block_pattern pattern; /* empty for cells in a row */
    N_Vector state, tolerance, sums, scratch, sum_scratch;
    sw_roots roots;
    double root_time, root_values[SW_ROOTS_MAX]; /* at the end of the last step, or at the segment's start */
    double relative_tolerance;
    bool is_initialised;
    sw_integration_work before; /* what was done when the last segment began */
    char failure[256]; /* last text of the integrator's own */
};

const char *sw_version_of_sundials(void)
{
    static const char version[] = SUNDIALS_VERSION;
    return version;
}

/* Keeps the integrator's words for our own sentence instead of letting them reach stderr. */
static void keep_message(int code, const char *message, void *data)
{
    sw_integrator *integrator = data;
    if (code < 0)
        snprintf(integrator->failure, sizeof integrator->failure, "%s", message);
}

SW_SUNDIALS_LISTENER(listen, keep_message)

/* Jacobian and rate at once. */
static int evaluate_jacobian(sw_integrator *s, double time, const double *state, double *rate, SUNMatrix matrix)
{
    const sw_problem *problem = &s->problem;
    const bool bordered = problem->bordered_count > 0;
    SUNMatrix cells = bordered ? sw_bordered_inner(matrix) : matrix;
    sw_border border = {NULL, NULL, NULL};
    if (bordered)
        border = sw_bordered_border(matrix);
    double *values = problem->mesh->in_a_row ? sw_block_tridiagonal_values(cells) : sw_block_sparse_values(cells);
    SUNMatZero(cells);
    return problem->jacobian(time, state, rate, values, &border, problem->data);
}

/* Where every step has its own Jacobian, the first rate of a step is taken together with it: the integrator asks for the
 * Jacobian of the same state next, and its solver has no more use for the matrix it gave. */
static int rate_function(sunrealtype time, N_Vector state, N_Vector rate, void *data)
{
    sw_integrator *s = data;
    const bool with_jacobian = !s->problem.mesh->in_a_row && sw_jacobian_steps_section == 1 && time != s->rate_time;
    int flag;
    s->rate_time = time;
    if (with_jacobian)
        flag = evaluate_jacobian(s, time, N_VGetArrayPointer(state), N_VGetArrayPointer(rate), s->matrix);
    else
        flag = s->problem.rate(time, N_VGetArrayPointer(state), N_VGetArrayPointer(rate), s->problem.data);
    s->jacobian_is_ready = with_jacobian && flag == 0;
    return flag;
}

static int jacobian_function(sunrealtype time, N_Vector state, N_Vector rate, SUNMatrix matrix, void *data, N_Vector a,
                             N_Vector b, N_Vector c)
{
    (void)rate;
    (void)b;
    (void)c;
    sw_integrator *s = data;
    const bool is_ready = s->jacobian_is_ready && matrix == s->matrix && time == s->rate_time;
    s->jacobian_is_ready = false;
    return is_ready ? 0 : evaluate_jacobian(s, time, N_VGetArrayPointer(state), N_VGetArrayPointer(a), matrix);
}

static int sum_function(sunrealtype time, N_Vector state, N_Vector sums, void *data)
{
    const sw_problem *problem = &((sw_integrator *)data)->problem;
    return problem->sums(time, N_VGetArrayPointer(state), N_VGetArrayPointer(sums), problem->data);
}

static int is_converged(SUNNonlinearSolver solver, N_Vector total, N_Vector correction, sunrealtype tolerance, N_Vector weights,
                        void *data)
{
    (void)total;
    sw_integrator *s = data;
    const double growth = s->problem.mesh->in_a_row ? sw_contraction_growth_row : sw_contraction_growth_section;
    return sw_newton_judge(solver, N_VWrmsNorm(correction, weights), tolerance, growth, &s->contraction);
}

static size_t row_offset(size_t row, size_t column, const void *layout)
{
    (void)layout;
    return sw_block_tridiagonal_offset(row, column);
}

static size_t sparse_offset(size_t row, size_t column, const void *layout)
{
    return sw_block_sparse_offset(layout, row, column);
}

/* Cells in a row get a block tridiagonal solver, any other mesh an iterative one. Returns 0 or -1 if memory is short. */
static int create_solver(sw_integrator *s)
{
    const sw_problem *problem = &s->problem;
    const sw_mesh *mesh = problem->mesh;
    sw_jacobian_layout layout = {row_offset, NULL};
    if (mesh->in_a_row) {
        s->matrix = sw_block_tridiagonal_matrix(mesh->cell_count, s->sundials);
        s->solver = sw_block_tridiagonal_solver(mesh->cell_count, s->sundials);
    } else {
        if (sw_block_pattern_init(&s->pattern, mesh) != 0)
            return -1;
        layout = (sw_jacobian_layout){sparse_offset, &s->pattern};
        s->matrix = sw_block_sparse_matrix(&s->pattern, s->sundials);
        s->solver = sw_block_sparse_solver(&s->pattern, s->sundials);
    }
    if (s->matrix && s->solver && problem->bordered_count > 0) {
        s->matrix = sw_bordered_matrix(s->matrix, 2 * mesh->cell_count, problem->bordered_count, problem->bordered_in_use,
                                       s->sundials);
        s->solver = sw_bordered_solver(s->solver, 2 * mesh->cell_count, problem->bordered_count, s->sundials);
    }
    if (!s->matrix || !s->solver)
        return -1;
    problem->set_layout(&layout, problem->data);
    return 0;
}

static bool misses_vectors(const sw_integrator *s)
{
    return sw_vector_misses_clones(s->state) || sw_vector_misses_clones(s->tolerance) || sw_vector_misses_clones(s->sums);
}

static sw_status no_memory(sw_context *context)
{
    return sw_fail(context, SW_ERR_MEMORY, "memory for the time integration could not be allocated");
}

sw_status sw_integrator_create(sw_context *context, const sw_problem *problem, double relative_tolerance,
                               sw_integrator **integrator)
{
    sw_integrator *s = calloc(1, sizeof *s);
    if (!s)
        return no_memory(context);
    s->context = context;
    s->problem = *problem;
    s->relative_tolerance = relative_tolerance;
    const sunindextype cells = 2 * (sunindextype)problem->mesh->cell_count;
    const sunindextype n = cells + (sunindextype)problem->bordered_count, sums = (sunindextype)problem->sum_count;
    if (!sw_memory_is_at_hand(context_room) || SUNContext_Create(SW_NO_COMMUNICATOR, &s->sundials) != 0)
        goto failed;
    s->state = sw_vector_create(n, s->sundials);
    s->tolerance = sw_vector_create(n, s->sundials);
    s->scratch = N_VNewEmpty_Serial(n, s->sundials);
    s->sums = sw_vector_create(sums, s->sundials);
    s->sum_scratch = N_VNewEmpty_Serial(sums, s->sundials);
    if (!s->state || !s->tolerance || !s->scratch || !s->sums || !s->sum_scratch)
        goto failed;
    sw_vectors_use(s->scratch);
    sw_vectors_use(s->sum_scratch);
    s->iteration = SUNNonlinSol_Newton(s->state, s->sundials);
    s->cvode = CVodeCreate(CV_BDF, s->sundials);
    if (!s->iteration || !s->cvode || create_solver(s) != 0 || misses_vectors(s))
        goto failed;
    N_VConst(0.0, s->sums);
    double *tolerance = N_VGetArrayPointer(s->tolerance);
    for (sunindextype i = 0; i < cells; i += 2) {
        tolerance[i] = problem->cell_scale[0] * relative_tolerance;
        tolerance[i + 1] = problem->cell_scale[1] * relative_tolerance;
    }
    for (size_t i = 0; i < problem->bordered_count; i++)
        tolerance[(size_t)cells + i] = problem->bordered_scale[i] * relative_tolerance;
    *integrator = s;
    return SW_OK;

failed:
    sw_integrator_destroy(s);
    return no_memory(context);
}

void sw_integrator_destroy(sw_integrator *s)
{
    if (!s)
        return;
    if (s->cvode)
        CVodeFree(&s->cvode);
    SUNNonlinSolFree(s->iteration);
    SUNLinSolFree(s->solver);
    SUNMatDestroy(s->matrix);
    N_VDestroy(s->state);
    N_VDestroy(s->tolerance);
    N_VDestroy(s->scratch);
    N_VDestroy(s->sums);
    N_VDestroy(s->sum_scratch);
    sw_block_pattern_free(&s->pattern);
    SUNContext_Free(&s->sundials);
    free(s);
}

double *sw_integrator_state(sw_integrator *s)
{
    return N_VGetArrayPointer(s->state);
}

const double *sw_integrator_sums(const sw_integrator *s)
{
    return N_VGetArrayPointer(s->sums);
}

void sw_integrator_take_over(sw_integrator *s, const sw_integrator *from)
{
    N_VScale(1.0, from->state, s->state);
    N_VScale(1.0, from->sums, s->sums);
}

/* Where this fails the integrator has destroyed its vectors and would do so again when it is freed: better a leak. */
static int initialise(sw_integrator *s, double time)
{
    const int flag = CVodeInit(s->cvode, rate_function, time, s->state);
    if (flag != CV_SUCCESS)
        s->cvode = NULL;
    return flag;
}

/* Stops at the first call that fails: later ones would work on what is not there. */
static int set_up(sw_integrator *s, double time)
{
    const long steps = s->problem.mesh->in_a_row ? sw_jacobian_steps_row : sw_jacobian_steps_section;
    int flag = CV_SUCCESS;
    (void)((flag = SW_SUNDIALS_LISTEN(s->cvode, s->sundials, listen, s)) || (flag = initialise(s, time)) ||
           (flag = CVodeSVtolerances(s->cvode, s->relative_tolerance, s->tolerance)) ||
           (flag = CVodeSetUserData(s->cvode, s)) || (flag = CVodeSetNonlinearSolver(s->cvode, s->iteration)) ||
           (flag = SUNNonlinSolSetConvTestFn(s->iteration, is_converged, s)) ||
           (flag = CVodeSetLinearSolver(s->cvode, s->solver, s->matrix)) ||
           (flag = CVodeSetJacFn(s->cvode, jacobian_function)) || (flag = CVodeQuadInit(s->cvode, sum_function, s->sums)) ||
           (flag = CVodeSetMaxNumSteps(s->cvode, -1)) || (flag = CVodeSetMaxErrTestFails(s->cvode, 20)) ||
           (flag = CVodeSetMaxConvFails(s->cvode, 30)) || (flag = CVodeSetNonlinConvCoef(s->cvode, sw_newton_share)) ||
           (flag = CVodeSetMaxNonlinIters(s->cvode, 4)) || (flag = CVodeSetLSetupFrequency(s->cvode, steps)) ||
           (flag = CVodeSetJacEvalFrequency(s->cvode, steps)));
    return flag;
}

static void look_at_roots(const sw_integrator *s, double time, double *values)
{
    if (s->roots.count > 0)
        s->roots.values(time, N_VGetArrayPointer(s->state), values, s->roots.data);
}

sw_status sw_integrator_start(sw_integrator *s, double time, double end_time, const sw_roots *roots)
{
    int flag = 0;
    s->roots = *roots;
    errno = 0;
    s->contraction.factor = 1.0;
    s->rate_time = NAN;
    s->jacobian_is_ready = false;
    s->before = (sw_integration_work){0};
    if (!s->is_initialised) {
        flag = set_up(s, time);
        s->is_initialised = flag == 0;
    } else {
        flag = CVodeReInit(s->cvode, time, s->state);
        flag = flag ? flag : CVodeQuadReInit(s->cvode, s->sums);
    }
    flag = flag ? flag : CVodeSetStopTime(s->cvode, end_time);
    const size_t matrix_room = matrix_room_per_cell * s->problem.mesh->cell_count;
    if (misses_vectors(s) || (flag != 0 && errno == ENOMEM) || !sw_memory_is_at_hand(matrix_room))
        return no_memory(s->context);
    if (flag != 0)
        return sw_fail(s->context, SW_ERR_SOLVER, "the time integration could not be started at %.6g s: %s", time,
                       s->failure);
    look_at_roots(s, time, s->root_values);
    s->root_time = time;
    return SW_OK;
}

static sw_integration_work work_in_all(const sw_integrator *s)
{
    sw_integration_work work = {0};
    if (!s->cvode)
        return work;
    CVodeGetNumSteps(s->cvode, &work.steps);
    CVodeGetNumRhsEvals(s->cvode, &work.right_hand_sides);
    CVodeGetNumJacEvals(s->cvode, &work.jacobians);
    CVodeGetNumErrTestFails(s->cvode, &work.error_test_failures);
    CVodeGetNumNonlinSolvConvFails(s->cvode, &work.convergence_failures);
    return work;
}

sw_status sw_integrator_go_on(sw_integrator *s, double time, double end_time, const sw_roots *roots)
{
    s->before = work_in_all(s);
    s->roots = *roots;
    s->rate_time = NAN;
    s->jacobian_is_ready = false;
    if (CVodeSetStopTime(s->cvode, end_time) != CV_SUCCESS)
        return sw_fail(s->context, SW_ERR_SOLVER, "the time integration could not go on at %.6g s: %s", time, s->failure);
    return SW_OK;
}

/* Names the unknown that gave the integrator the most trouble. */
static sw_status report_failure(sw_integrator *s, double time, int flag)
{
    const double *state = N_VGetArrayPointer(s->state);
    const sw_problem *problem = &s->problem;
    size_t cell = problem->bad_cell(problem->data), worst = 0;
    char words[128];
    double step = 0.0, largest = -1.0;
    long steps = 0;
    CVodeGetLastStep(s->cvode, &step);
    CVodeGetNumSteps(s->cvode, &steps);
    N_Vector errors = N_VClone(s->state), weights = N_VClone(s->state);
    if (!misses_vectors(s) && CVodeGetEstLocalErrors(s->cvode, errors) == CV_SUCCESS &&
        CVodeGetErrWeights(s->cvode, weights) == CV_SUCCESS) {
        for (size_t i = 0; i < 2 * problem->mesh->cell_count; i++) {
            double error = fabs(N_VGetArrayPointer(errors)[i] * N_VGetArrayPointer(weights)[i]);
            if (error > largest) {
                largest = error;
                worst = i;
            }
        }
        cell = worst / 2;
    }
    problem->describe(cell, state, words, sizeof words, problem->data);
    N_VDestroy(errors);
    N_VDestroy(weights);
    return sw_fail(s->context, SW_ERR_SOLVER,
                   "the time integration failed at %.6g s (code %d, %ld steps, last step %.3g s); the hardest cell is "
                   "number %zu at %.4g m with %s: %s",
                   time, flag, steps, step, cell, problem->mesh->position[cell], words, s->failure);
}

/* Keeps the step after the next one, which is chosen at the end of that, from leaping over what the surroundings do. */
static int limit_step(sw_integrator *s, double time)
{
    double step = 0.0;
    int flag = CVodeGetCurrentStep(s->cvode, &step);
    double longest = s->problem.longest_step(time + step, s->problem.data);
    return flag == CV_SUCCESS ? CVodeSetMaxStep(s->cvode, isfinite(longest) ? longest : 0.0) : flag;
}

sw_status sw_integrator_visit(sw_integrator *s, double time)
{
    if (CVodeGetDky(s->cvode, time, 0, s->state) != CV_SUCCESS || CVodeGetQuadDky(s->cvode, time, 0, s->sums) != CV_SUCCESS)
        return sw_fail(s->context, SW_ERR_SOLVER, "no solution at %.6g s: %s", time, s->failure);
    return SW_OK;
}

static bool changes_sign(double before, double after)
{
    return before != 0.0 && (after == 0.0 || (before < 0.0) != (after < 0.0));
}

/* When a root is passed in the last step, by straight lines between points on either side, each second time by halves; the later side, where
 * it has been passed. */
static sw_status find_root(sw_integrator *s, int root, double end, double at_end, double *found)
{
    double low = s->root_time, high = end, at_low = s->root_values[root], at_high = at_end, values[SW_ROOTS_MAX];
    const double near = 100.0 * DBL_EPSILON * (fabs(end) + (end - low));
    for (int i = 0; high - low > near && at_high != 0.0; i++) {
        double middle = i % 2 == 0 ? low - at_low * (high - low) / (at_high - at_low) : 0.5 * (low + high);
        middle = fmin(fmax(middle, low + 0.4 * near), high - 0.4 * near);
        const sw_status status = sw_integrator_visit(s, middle);
        if (status != SW_OK)
            return status;
        look_at_roots(s, middle, values);
        if (changes_sign(at_low, values[root])) {
            high = middle;
            at_high = values[root];
        } else {
            low = middle;
            at_low = values[root];
        }
    }
    *found = high;
    return SW_OK;
}

/* Which roots were passed in the last step, up to its end or the first of them that ends the segment. */
static sw_status find_roots(sw_integrator *s, double *time, sw_step_end *how)
{
    const int ends = s->roots.count - s->roots.mark_count;
    double values[SW_ROOTS_MAX], when[SW_ROOTS_MAX], first = *time;
    bool any = false;
    look_at_roots(s, *time, values);
    for (int i = 0; i < s->roots.count; i++) {
        when[i] = INFINITY;
        if (!changes_sign(s->root_values[i], values[i]))
            continue;
        const sw_status status = find_root(s, i, *time, values[i], &when[i]);
        if (status != SW_OK)
            return status;
        any = true;
        if (i < ends) {
            how->ended = true;
            first = fmin(first, when[i]);
        }
    }
    for (int i = ends; i < s->roots.count; i++)
        if (when[i] <= first) {
            how->marks[how->mark_count].number = i - ends;
            how->marks[how->mark_count++].time = when[i];
        }
    memcpy(s->root_values, values, sizeof values);
    s->root_time = *time;
    *time = first;
    return any ? sw_integrator_visit(s, first) : SW_OK;
}

sw_status sw_integrator_step(sw_integrator *s, double *time, sw_step_end *end)
{
    sw_step_end how = {.ended = false};
    sunrealtype reached = *time;
    if (limit_step(s, reached) != CV_SUCCESS)
        return report_failure(s, reached, -1);
    int flag = CVode(s->cvode, INFINITY, s->state, &reached, CV_ONE_STEP);
    if (misses_vectors(s))
        return no_memory(s->context);
    if (flag < 0)
        return report_failure(s, reached, flag);
    sunrealtype sum_time;
    if (CVodeGetQuad(s->cvode, &sum_time, s->sums) != CV_SUCCESS)
        return report_failure(s, reached, -1);
    how.ended = flag == CV_TSTOP_RETURN;
    const sw_status status = find_roots(s, &reached, &how);
    if (status != SW_OK)
        return status;
    *time = reached;
    *end = how;
    return SW_OK;
}

sw_status sw_integrator_interpolate(sw_integrator *s, double time, int order, double *values)
{
    N_VSetArrayPointer(values, s->scratch);
    if (CVodeGetDky(s->cvode, time, order, s->scratch) != CV_SUCCESS)
        return sw_fail(s->context, SW_ERR_SOLVER, "no solution at %.6g s: %s", time, s->failure);
    return SW_OK;
}

sw_status sw_integrator_interpolate_sums(sw_integrator *s, double time, double *values)
{
    N_VSetArrayPointer(values, s->sum_scratch);
    if (CVodeGetQuadDky(s->cvode, time, 0, s->sum_scratch) != CV_SUCCESS)
        return sw_fail(s->context, SW_ERR_SOLVER, "no sums at %.6g s: %s", time, s->failure);
    return SW_OK;
}

sw_integration_work sw_integrator_work(const sw_integrator *s)
{
    sw_integration_work work = work_in_all(s);
    work.steps -= s->before.steps;
    work.right_hand_sides -= s->before.right_hand_sides;
    work.jacobians -= s->before.jacobians;
    work.error_test_failures -= s->before.error_test_failures;
    work.convergence_failures -= s->before.convergence_failures;
    return work;
}
