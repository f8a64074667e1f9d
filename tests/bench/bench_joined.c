/* SPDX-License-Identifier: BSD-3-Clause */
/* What cooks cost that are integrated as one system with a common step, as they would have to be with one cook in each lane of a
 * vector. Prints figures and passes no judgement.
 * Draws of a band and neighbours in a sweep, on the pit up to the pull, by two, four and eight: steps, right-hand sides and Jacobians of
 * the whole over those that a cook takes alone, and the share of lanes whose cook is not yet done. The error and Newton's correction
 * are measured by the cook that is worst, or by the mean of all squares. Usage: bench_joined [cooks of each kind] */
#include "block_tridiagonal.h"
#include "body.h"
#include "bordered.h"
#include "custom_kinds.h"
#include "newton.h"
#include "surround.h"
#include "sundials_names.h"
#include "vectors.h"

#include <stallwright/everything.h>

#include <nvector/nvector_serial.h>
#include <sunnonlinsol/sunnonlinsol_newton.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LANES_MAX = 8, COOKS_MAX = 256 };

/* A cook among those integrated together. One that is done stays where it was, and no norm counts it. */
typedef struct lane {
    sw_scenario scenario;
    sw_body body;
    sw_around around;
    SUNMatrix matrix;
    SUNLinearSolver solver;
    N_Vector solution, right; /* views */
    sunindextype first, count; /* of its unknowns among all */
    bool is_done;
    double pulled; /* [s] */
} lane;

typedef struct work {
    double steps, rates, jacobians, lane_rates;
} work;

/* The system. One at a time: norms and matrices get nothing of ours from SUNDIALS. */
static struct {
    size_t count;
    lane lanes[LANES_MAX];
    sunindextype unknowns;
    bool by_worst;
    sw_contraction contraction;
    work work;
    SUNContext sundials;
} system_of;

static sw_context *context;

static void must(sw_status status)
{
    if (status == SW_OK)
        return;
    fprintf(stderr, "bench_joined: %s\n", sw_context_message(context));
    exit(1);
}

static void must_be(bool good)
{
    if (good)
        return;
    fprintf(stderr, "bench_joined: the integrator failed\n");
    exit(1);
}

static sunrealtype weighted_norm(N_Vector x, N_Vector weights)
{
    double worst = 0.0, all = 0.0, count = 0.0;
    for (size_t k = 0; k < system_of.count; k++) {
        const lane *l = &system_of.lanes[k];
        double sum = 0.0;
        for (sunindextype i = l->first; i < l->first + l->count && !l->is_done; i++)
            sum += pow(NV_Ith_S(x, i) * NV_Ith_S(weights, i), 2.0);
        worst = fmax(worst, sum / (double)l->count);
        all += sum;
        count += l->is_done ? 0.0 : (double)l->count;
    }
    return sqrt(system_of.by_worst ? worst : all / fmax(count, 1.0));
}

/* ---- a matrix of one matrix a cook ---- */

static SUNMatrix *parts_of(SUNMatrix matrix)
{
    return matrix->content;
}

static SUNMatrix make_matrix(SUNMatrix *parts);

static SUNMatrix matrix_clone(SUNMatrix matrix)
{
    SUNMatrix parts[LANES_MAX];
    for (size_t k = 0; k < system_of.count; k++)
        parts[k] = SUNMatClone(parts_of(matrix)[k]);
    return make_matrix(parts);
}

static void matrix_destroy(SUNMatrix matrix)
{
    for (size_t k = 0; k < system_of.count; k++)
        SUNMatDestroy(parts_of(matrix)[k]);
    free(matrix->content);
    matrix->content = NULL;
    SUNMatFreeEmpty(matrix);
}

static int matrix_zero(SUNMatrix matrix)
{
    for (size_t k = 0; k < system_of.count; k++)
        SUNMatZero(parts_of(matrix)[k]);
    return SUNMAT_SUCCESS;
}

static int matrix_copy(SUNMatrix from, SUNMatrix to)
{
    for (size_t k = 0; k < system_of.count; k++)
        SUNMatCopy(parts_of(from)[k], parts_of(to)[k]);
    return SUNMAT_SUCCESS;
}

static int matrix_scale_add_identity(sunrealtype factor, SUNMatrix matrix)
{
    for (size_t k = 0; k < system_of.count; k++)
        SUNMatScaleAddI(factor, parts_of(matrix)[k]);
    return SUNMAT_SUCCESS;
}

static SUNMatrix make_matrix(SUNMatrix *parts)
{
    SUNMatrix matrix = SUNMatNewEmpty(system_of.sundials);
    matrix->ops->getid = sw_custom_matrix_id;
    matrix->ops->clone = matrix_clone;
    matrix->ops->destroy = matrix_destroy;
    matrix->ops->zero = matrix_zero;
    matrix->ops->copy = matrix_copy;
    matrix->ops->scaleaddi = matrix_scale_add_identity;
    matrix->content = calloc(LANES_MAX, sizeof *parts);
    must_be(matrix->content);
    memcpy(matrix->content, parts, system_of.count * sizeof *parts);
    return matrix;
}

/* ---- its solver ---- */

static int solver_setup(SUNLinearSolver solver, SUNMatrix matrix)
{
    int flag = SUNLS_SUCCESS;
    (void)solver;
    for (size_t k = 0; k < system_of.count && flag == SUNLS_SUCCESS; k++)
        flag = SUNLinSolSetup(system_of.lanes[k].solver, parts_of(matrix)[k]);
    return flag;
}

static int solver_solve(SUNLinearSolver solver, SUNMatrix matrix, N_Vector solution, N_Vector right, sunrealtype tolerance)
{
    int flag = SUNLS_SUCCESS;
    (void)solver;
    N_VConst(0.0, solution);
    for (size_t k = 0; k < system_of.count && flag == SUNLS_SUCCESS; k++) {
        lane *l = &system_of.lanes[k];
        if (l->is_done)
            continue;
        N_VSetArrayPointer(NV_DATA_S(solution) + l->first, l->solution);
        N_VSetArrayPointer(NV_DATA_S(right) + l->first, l->right);
        flag = SUNLinSolSolve(l->solver, parts_of(matrix)[k], l->solution, l->right, tolerance);
    }
    return flag;
}

static int solver_free(SUNLinearSolver solver)
{
    SUNLinSolFreeEmpty(solver);
    return SUNLS_SUCCESS;
}

static SUNLinearSolver make_solver(void)
{
    SUNLinearSolver solver = SUNLinSolNewEmpty(system_of.sundials);
    solver->ops->gettype = sw_direct_solver_type;
    solver->ops->getid = sw_custom_solver_id;
    solver->ops->setup = solver_setup;
    solver->ops->solve = solver_solve;
    solver->ops->free = solver_free;
    return solver;
}

/* ---- the equations ---- */

static int rate(sunrealtype time, N_Vector state, N_Vector rates, void *data)
{
    int flag = 0;
    (void)data;
    N_VConst(0.0, rates);
    for (size_t k = 0; k < system_of.count && flag == 0; k++) {
        const lane *l = &system_of.lanes[k];
        if (l->is_done)
            continue;
        system_of.work.lane_rates += 1.0;
        flag = sw_transport_rate(l->body.transport, time, NV_DATA_S(state) + l->first, NV_DATA_S(rates) + l->first);
    }
    return flag;
}

static int jacobian(sunrealtype time, N_Vector state, N_Vector rates, SUNMatrix matrix, void *data, N_Vector a, N_Vector b, N_Vector c)
{
    int flag = 0;
    (void)rates;
    (void)data;
    (void)b;
    (void)c;
    for (size_t k = 0; k < system_of.count && flag == 0; k++) {
        const lane *l = &system_of.lanes[k];
        SUNMatrix own = parts_of(matrix)[k];
        const sw_border border = sw_bordered_border(own);
        SUNMatZero(own);
        if (!l->is_done)
            flag = sw_transport_jacobian(l->body.transport, time, NV_DATA_S(state) + l->first, NV_DATA_S(a) + l->first,
                                         sw_block_tridiagonal_values(sw_bordered_inner(own)), &border);
    }
    return flag;
}

static int is_converged(SUNNonlinearSolver solver, N_Vector total, N_Vector correction, sunrealtype tolerance, N_Vector weights, void *data)
{
    (void)total;
    (void)data;
    return sw_newton_judge(solver, N_VWrmsNorm(correction, weights), tolerance, sw_contraction_growth_row, &system_of.contraction);
}

/* ---- cooks ---- */

static size_t row_offset(size_t row, size_t column, const void *layout)
{
    (void)layout;
    return sw_block_tridiagonal_offset(row, column);
}

static void begin_lane(lane *l, const sw_scenario *scenario)
{
    *l = (lane){.scenario = *scenario, .first = system_of.unknowns};
    sw_scenario_settle(&l->scenario);
    must(sw_body_init(context, &l->scenario, &l->body));
    must(sw_surround_init(context, &l->scenario, &l->body, &l->around));
    const sw_transport *t = l->body.transport;
    const size_t cells = l->body.mesh->cell_count, unknowns = sw_transport_unknowns(t), lumped = unknowns - 2 * cells;
    l->count = (sunindextype)unknowns;
    system_of.unknowns += l->count;
    l->matrix = sw_bordered_matrix(sw_block_tridiagonal_matrix(cells, system_of.sundials), 2 * cells, lumped, t->lumped.in_use,
                                   system_of.sundials);
    l->solver = sw_bordered_solver(sw_block_tridiagonal_solver(cells, system_of.sundials), 2 * cells, lumped, system_of.sundials);
    l->solution = N_VNewEmpty_Serial(l->count, system_of.sundials);
    l->right = N_VNewEmpty_Serial(l->count, system_of.sundials);
    must_be(l->matrix && l->solver && l->solution && l->right);
    const sw_jacobian_layout layout = {row_offset, NULL};
    sw_transport_set_layout(l->body.transport, &layout);
}

static void end_lane(lane *l)
{
    SUNLinSolFree(l->solver);
    N_VDestroy(l->solution);
    N_VDestroy(l->right);
    sw_body_free(&l->body);
}

/* Raw meat goes on the pit. */
static void fill_lane(lane *l, double *state, double *tolerance)
{
    const size_t cells = 2 * l->body.mesh->cell_count;
    double *lumped = state + cells;
    sw_body_raw_state(&l->body, &l->scenario, state);
    sw_around_start(&l->around, lumped);
    sw_around_enter(&l->around, NULL, SW_WRAP_NONE, 0.0, 0.0, sw_surround_surface_temperature(&l->body, &l->around), lumped);
    sw_surround_stretch(&l->body, &l->around, 0.0, lumped);
    for (size_t i = 0; i < (size_t)l->count; i++) {
        const double of_cell = i % 2 == 0 ? 10.0 : 3.0; /* as in transport_problem.c */
        tolerance[i] = l->scenario.solver.relative_tolerance * (i < cells ? of_cell : l->body.transport->lumped.scale[i - cells]);
    }
}

static void integrate(void *cvode, N_Vector state)
{
    for (size_t left = system_of.count; left > 0;) {
        double time;
        must_be(CVode(cvode, 1e9, state, &time, CV_ONE_STEP) >= 0);
        for (size_t k = 0; k < system_of.count; k++) {
            lane *l = &system_of.lanes[k];
            if (l->is_done || sw_probe_reading(&l->body.probes[0], NV_DATA_S(state) + l->first) < l->scenario.pull.value)
                continue;
            l->is_done = true;
            l->pulled = time;
            left--;
        }
    }
}

static void integrate_together(N_Vector state, N_Vector tolerance)
{
    SUNMatrix parts[LANES_MAX];
    for (size_t k = 0; k < system_of.count; k++)
        parts[k] = system_of.lanes[k].matrix;
    SUNMatrix matrix = make_matrix(parts);
    SUNLinearSolver solver = make_solver();
    SUNNonlinearSolver newton = SUNNonlinSol_Newton(state, system_of.sundials);
    void *cvode = CVodeCreate(CV_BDF, system_of.sundials);
    must_be(CVodeInit(cvode, rate, 0.0, state) == 0 &&
            CVodeSVtolerances(cvode, system_of.lanes[0].scenario.solver.relative_tolerance, tolerance) == 0 &&
            CVodeSetNonlinearSolver(cvode, newton) == 0 && SUNNonlinSolSetConvTestFn(newton, is_converged, NULL) == 0 &&
            CVodeSetLinearSolver(cvode, solver, matrix) == 0 && CVodeSetJacFn(cvode, jacobian) == 0 &&
            CVodeSetMaxNumSteps(cvode, -1) == 0 && CVodeSetMaxErrTestFails(cvode, 20) == 0 && CVodeSetMaxConvFails(cvode, 30) == 0 &&
            CVodeSetNonlinConvCoef(cvode, sw_newton_share) == 0 && CVodeSetMaxNonlinIters(cvode, 4) == 0 &&
            CVodeSetLSetupFrequency(cvode, sw_jacobian_steps_row) == 0 && CVodeSetJacEvalFrequency(cvode, sw_jacobian_steps_row) == 0);
    integrate(cvode, state);
    long steps, rates, jacobians;
    CVodeGetNumSteps(cvode, &steps);
    CVodeGetNumRhsEvals(cvode, &rates);
    CVodeGetNumJacEvals(cvode, &jacobians);
    system_of.work.steps += (double)steps;
    system_of.work.rates += (double)rates;
    system_of.work.jacobians += (double)jacobians;
    CVodeFree(&cvode);
    SUNNonlinSolFree(newton);
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
}

/* Cooks some together, and adds the work. */
static void cook(size_t count, const sw_scenario *const *scenarios, double *pulled)
{
    system_of.count = count;
    system_of.unknowns = 0;
    system_of.contraction.factor = 1.0;
    for (size_t k = 0; k < count; k++)
        begin_lane(&system_of.lanes[k], scenarios[k]);
    N_Vector state = sw_vector_create(system_of.unknowns, system_of.sundials);
    must_be(state != NULL);
    state->ops->nvwrmsnorm = weighted_norm;
    N_Vector tolerance = N_VClone(state);
    for (size_t k = 0; k < count; k++) {
        lane *l = &system_of.lanes[k];
        fill_lane(l, NV_DATA_S(state) + l->first, NV_DATA_S(tolerance) + l->first);
    }
    integrate_together(state, tolerance);
    for (size_t k = 0; k < count; k++) {
        pulled[k] = system_of.lanes[k].pulled;
        end_lane(&system_of.lanes[k]);
    }
    N_VDestroy(tolerance);
    N_VDestroy(state);
}

static work work_of(size_t count, size_t together, const sw_scenario *const *scenarios, bool by_worst, double *pulled)
{
    system_of.work = (work){0};
    system_of.by_worst = by_worst;
    for (size_t i = 0; i + together <= count; i += together)
        cook(together, scenarios + i, pulled + i);
    return system_of.work;
}

/* A cook and when it is done. */
typedef struct ranked {
    const sw_scenario *scenario;
    double pulled;
} ranked;

static int earlier(const void *a, const void *b)
{
    const double x = ((const ranked *)a)->pulled, y = ((const ranked *)b)->pulled;
    return (x > y) - (x < y);
}

/* Those that are done at about the same time are next to each other then: no one can know that before, so it is the best case. */
static void sort_by_end(size_t count, const sw_scenario **each, const double *pulled)
{
    ranked by_end[COOKS_MAX];
    for (size_t i = 0; i < count; i++)
        by_end[i] = (ranked){each[i], pulled[i]};
    qsort(by_end, count, sizeof *by_end, earlier);
    for (size_t i = 0; i < count; i++)
        each[i] = by_end[i].scenario;
}

static void compare(const char *title, size_t count, const sw_scenario *scenarios)
{
    const sw_scenario *each[COOKS_MAX];
    double pulled[COOKS_MAX];
    for (size_t i = 0; i < count; i++)
        each[i] = &scenarios[i];
    const work alone = work_of(count, 1, each, true, pulled);
    const double n = (double)count;
    printf("%s: %zu cooks, each alone %.0f steps, %.0f right-hand sides, %.0f Jacobians\n", title, count, alone.steps / n, alone.rates / n,
           alone.jacobians / n);
    for (int sorted = 0; sorted < 2; sorted++) {
        if (sorted)
            sort_by_end(count, each, pulled);
        for (size_t k = 2; k <= LANES_MAX; k *= 2)
            for (int worst = 1; worst >= 0; worst--) {
                double ends[COOKS_MAX];
                const work w = work_of(count, k, each, worst, ends);
                const double lanes = (double)k;
                printf("  %zu together%s, by %s: steps x %.2f, right-hand sides x %.2f, Jacobians x %.2f; lanes in use %.0f %%\n", k,
                       sorted ? " sorted by end" : "", worst ? "the worst" : "the mean", lanes * w.steps / alone.steps,
                       lanes * w.rates / alone.rates, lanes * w.jacobians / alone.jacobians, 100.0 * w.lane_rates / (w.rates * lanes));
            }
    }
    fflush(stdout);
}

static void draw_band(bool is_coarse, size_t count, sw_scenario *scenarios)
{
    sw_scenario base;
    sw_population population;
    double normal[SW_POPULATION_INPUTS_MAX];
    sw_scenario_init(&base);
    if (is_coarse)
        sw_population_coarsen(&base);
    must(sw_population_given(context, &base, &population));
    for (size_t i = 0; i < count; i++) {
        sw_population_draw(&population, 1, i, normal);
        sw_population_scenario(&population, normal, &scenarios[i]);
    }
}

int main(int argc, char **argv)
{
    static sw_scenario s[COOKS_MAX];
    const size_t asked = argc > 1 ? (size_t)strtoul(argv[1], NULL, 10) : 32;
    const size_t count = asked < LANES_MAX ? LANES_MAX : asked > COOKS_MAX ? COOKS_MAX : asked / LANES_MAX * LANES_MAX;
    must_be(sw_context_create(&context) == SW_OK && SUNContext_Create(SW_NO_COMMUNICATOR, &system_of.sundials) == 0);
    draw_band(false, count, s);
    compare("draws of a band, default cells and tolerance", count, s);
    draw_band(true, count, s);
    compare("draws of a band, as coarse as bands are", count, s);
    for (size_t i = 0; i < count; i++) {
        sw_scenario_init(&s[i]);
        sw_scenario_settle(&s[i]);
        s[i].pit.steps[0].temperature = 380.0 + 30.0 * (double)i / (double)(count - 1);
    }
    compare("sweep of the pit, 107 to 137 C", count, s);
    for (size_t i = 0; i < count; i++) {
        sw_scenario_init(&s[i]);
        s[i].meat.mass = 5.0 + 3.0 * (double)i / (double)(count - 1);
        sw_scenario_settle(&s[i]);
    }
    compare("sweep of the mass, 5 to 8 kg", count, s);
    SUNContext_Free(&system_of.sundials);
    sw_context_destroy(context);
    return 0;
}
