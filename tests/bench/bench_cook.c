/* SPDX-License-Identifier: BSD-3-Clause */
/* How fast a cook is. Prints figures and passes no judgement.
 * One dimension: the default brisket on the pit for 18 h, 60 cells, relative tolerance 1e-5.
 * Two dimensions: half a rectangular section of the default cells, 18 h, relative tolerance 1e-4, and how the time grows with
 * the number of cells; then the error of the done time against the work, by cells and tolerance. Usage: bench_cook [repeats of the first] */
#include "block_sparse.h"
#include "block_tridiagonal.h"
#include "body.h"
#include "wrap.h"

#include <stallwright/everything.h>

#include <nvector/nvector_serial.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static double peak_memory(void)
{
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    return (double)usage.ru_maxrss / 1024.0;
}

typedef struct timing {
    double best, mean; /* [ms] */
    size_t cells;
    sw_solver_statistics work;
} timing;

static timing run(sw_context *context, const sw_scenario *scenario, int repeats)
{
    timing t = {.best = HUGE_VAL};
    for (int i = 0; i < repeats; i++) {
        sw_history *history;
        double start = now();
        if (sw_cook_run(context, scenario, NULL, NULL, &history) != SW_OK) {
            fprintf(stderr, "bench_cook: %s\n", sw_context_message(context));
            exit(1);
        }
        double spent = now() - start;
        t.work = history->statistics;
        t.cells = history->cell_count;
        sw_history_destroy(history);
        t.mean += spent / repeats;
        t.best = spent < t.best ? spent : t.best;
    }
    return t;
}

static void print_timing(const timing *t)
{
    printf("  best %.3f ms, mean %.3f ms a cook (process time, history included)\n", t->best, t->mean);
    printf("  steps %ld, right-hand sides %ld, Jacobians %ld, failed error tests %ld, failed iterations %ld\n",
           t->work.steps, t->work.right_hand_sides, t->work.jacobians, t->work.error_test_failures,
           t->work.convergence_failures);
    printf("  %.1f ns per cell and right-hand side (whole run over cells)\n",
           1e6 * t->best / ((double)t->cells * (double)t->work.right_hand_sides));
}

/* What the parts of a step take, one call each [ms]. */
typedef struct kernels {
    double rate, jacobian, set_up, solve;
    int iterations; /* of the solution */
} kernels;

/* The integrator's matrix and solver for a body, with a layout for its transport. */
typedef struct linear_system {
    sw_block_pattern pattern;
    SUNContext context;
    SUNMatrix jacobian, matrix;
    SUNLinearSolver solver;
    N_Vector right, solution, weight;
    double *values; /* of the Jacobian */
} linear_system;

static size_t row_offset(size_t row, size_t column, const void *layout)
{
    (void)layout;
    return sw_block_tridiagonal_offset(row, column);
}

static size_t sparse_offset(size_t row, size_t column, const void *layout)
{
    return sw_block_sparse_offset(layout, row, column);
}

static void create_system(sw_body *body, linear_system *l)
{
    const size_t cells = body->mesh->cell_count;
    sw_jacobian_layout layout = {row_offset, NULL};
    *l = (linear_system){.context = NULL};
    if (SUNContext_Create(NULL, &l->context) != 0)
        exit(1);
    if (body->mesh->in_a_row) {
        l->jacobian = sw_block_tridiagonal_matrix(cells, l->context);
        l->solver = sw_block_tridiagonal_solver(cells, l->context);
        l->values = sw_block_tridiagonal_values(l->jacobian);
    } else {
        if (sw_block_pattern_init(&l->pattern, body->mesh) != 0)
            exit(1);
        layout = (sw_jacobian_layout){sparse_offset, &l->pattern};
        l->jacobian = sw_block_sparse_matrix(&l->pattern, l->context);
        l->solver = sw_block_sparse_solver(&l->pattern, l->context);
        l->values = sw_block_sparse_values(l->jacobian);
    }
    sw_transport_set_layout(body->transport, &layout);
    l->matrix = SUNMatClone(l->jacobian);
    l->right = N_VNew_Serial(2 * (sunindextype)cells, l->context);
    l->solution = N_VClone(l->right);
    l->weight = N_VClone(l->right);
}

static void destroy_system(linear_system *l)
{
    SUNLinSolFree(l->solver);
    SUNMatDestroy(l->jacobian);
    SUNMatDestroy(l->matrix);
    N_VDestroy(l->right);
    N_VDestroy(l->solution);
    N_VDestroy(l->weight);
    sw_block_pattern_free(&l->pattern);
    SUNContext_Free(&l->context);
}

static void move_temperatures(size_t n, double *state, double by)
{
    for (size_t i = 0; i < n; i += 2)
        state[i] += by;
}

/* A body half cooked on the pit, at a step of some minutes. */
static kernels time_kernels(sw_scenario scenario)
{
    enum { ROUNDS = 50, CALLS = 20 };
    const double step = 100.0;
    sw_body body;
    if (sw_body_init(NULL, &scenario, &body) != SW_OK)
        exit(1);
    linear_system l;
    create_system(&body, &l);
    const size_t n = 2 * body.mesh->cell_count;
    double *state = malloc(n * sizeof *state), *rate = malloc(n * sizeof *rate);
    sw_body_raw_state(&body, &scenario, state);
    const double height = scenario.meat.thickness;
    for (size_t i = 0; i < n; i += 2) {
        state[i] = 340.0 + 10.0 * cos(2.0 * SW_PI * body.mesh->position[i / 2] / height);
        state[i + 1] *= 0.7 - 0.2 * cos(2.0 * SW_PI * body.mesh->position[i / 2] / height);
    }
    sw_surroundings around = {394.15, 394.15, 101325.0, 3000.0, 10.0, NULL};
    const sw_wrap_contents empty = sw_empty_wrap(&scenario.wrap);
    sw_wrapped_surfaces(body.mesh, &around, &scenario.wrap, SW_WRAP_NONE, &empty, true, body.transport->surfaces);
    for (size_t i = 0; i < n; i++)
        NV_Ith_S(l.weight, i) = 1.0 / (i % 2 == 0 ? 350.0 : 6.0);
    if (!body.mesh->in_a_row)
        SUNLinSolSetScalingVectors(l.solver, l.weight, l.weight);

    /* Of each the best of many rounds, as the machine may have other work; the state moves so that surfaces must too. */
    kernels best = {HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL, 0};
    for (int round = 0; round < ROUNDS; round++) {
        double start = now();
        for (int call = 0; call < CALLS; call++) {
            move_temperatures(n, state, call % 2 == 0 ? 0.01 : -0.01);
            sw_transport_rate(body.transport, 0.0, state, rate);
        }
        best.rate = fmin(best.rate, (now() - start) / CALLS);
        start = now();
        for (int call = 0; call < CALLS; call++) {
            move_temperatures(n, state, call % 2 == 0 ? 0.01 : -0.01);
            SUNMatZero(l.jacobian);
            sw_transport_jacobian(body.transport, 0.0, state, rate, l.values, NULL);
        }
        best.jacobian = fmin(best.jacobian, (now() - start) / CALLS);
        start = now();
        for (int call = 0; call < CALLS; call++) {
            SUNMatCopy(l.jacobian, l.matrix);
            SUNMatScaleAddI(-step, l.matrix);
            SUNLinSolSetup(l.solver, l.matrix);
        }
        best.set_up = fmin(best.set_up, (now() - start) / CALLS);
        for (size_t i = 0; i < n; i++)
            NV_Ith_S(l.right, i) = step * rate[i];
        const double tolerance = 0.003 * sqrt((double)n) * N_VWrmsNorm(l.right, l.weight);
        start = now();
        for (int call = 0; call < CALLS; call++)
            SUNLinSolSolve(l.solver, l.matrix, l.solution, l.right, tolerance);
        best.solve = fmin(best.solve, (now() - start) / CALLS);
    }
    if (!body.mesh->in_a_row)
        best.iterations = SUNLinSolNumIters(l.solver);
    free(state);
    free(rate);
    destroy_system(&l);
    sw_body_free(&body);
    return best;
}

/* The integrator sets up its solver once a Jacobian, and solves about once a right-hand side. */
static void print_shares(const sw_scenario *scenario, const timing *t)
{
    const kernels k = time_kernels(*scenario);
    const double percent = 100.0 / t->best, rates = (double)t->work.right_hand_sides, jacobians = (double)t->work.jacobians;
    printf("  right-hand side %.1f us (%.1f ns a cell), Jacobian %.1f us, set-up %.1f us, solution %.1f us", 1e3 * k.rate,
           1e6 * k.rate / (double)t->cells, 1e3 * k.jacobian, 1e3 * k.set_up, 1e3 * k.solve);
    printf(k.iterations > 0 ? " (%d iterations)\n" : "\n", k.iterations);
    printf("  share of time: right-hand sides %.0f %%, Jacobians %.0f %%, set-ups %.0f %%, solutions %.0f %%, rest %.0f %%\n",
           percent * rates * k.rate, percent * jacobians * k.jacobian, percent * jacobians * k.set_up,
           percent * rates * k.solve,
           100.0 - percent * (rates * (k.rate + k.solve) + jacobians * (k.jacobian + k.set_up)));
}

/* When a cook is done [h]; the best time of some repeats [ms]. */
static double done_time(sw_context *context, const sw_scenario *scenario, int repeats, double *best)
{
    double done = 0.0;
    *best = HUGE_VAL;
    for (int i = 0; i < repeats; i++) {
        sw_history *history;
        sw_outcome outcome;
        const double start = now();
        if (sw_cook_run(context, scenario, NULL, NULL, &history) != SW_OK)
            return NAN; /* refused, as too loose a tolerance is */
        *best = fmin(*best, now() - start);
        sw_outcome_evaluate(history, &outcome);
        sw_history_destroy(history);
        done = outcome.done_time / 3600.0;
    }
    return done;
}

/* Rows of the table: cells of a slab with the outermost one shrinking as they do, or rows and columns of a section. */
static void set_cells(sw_scenario *s, int cells)
{
    if (s->meat.shape == SW_SHAPE_SECTION) {
        s->solver.rows = cells;
        s->solver.columns = 5 * cells / 3;
    } else {
        s->solver.cells = cells;
        s->solver.surface_cell = 0.3e-3 * 60.0 / cells;
    }
}

/* Work against accuracy: error of the done time by space and by time, and both together, against the milliseconds. */
static void print_accuracy(sw_context *context, sw_scenario s, const int *cells, size_t count, int finest, int repeats)
{
    static const double tolerances[] = {1e-3, 1e-4, 1e-5, 1e-6, 1e-7};
    enum { TOLERANCES = sizeof tolerances / sizeof *tolerances };
    double best;
    set_cells(&s, finest);
    s.solver.relative_tolerance = 1e-6;
    const double exact = done_time(context, &s, 1, &best);
    printf("  error of the done time in per cent, against %.4f h of %d cells across at 1e-6; then milliseconds\n  cells", exact, finest);
    for (int k = 0; k < TOLERANCES; k++)
        printf("         %.0e     ", tolerances[k]);
    for (size_t i = 0; i < count; i++) {
        printf("\n  %5d", cells[i]);
        for (int k = 0; k < TOLERANCES; k++) {
            set_cells(&s, cells[i]);
            s.solver.relative_tolerance = tolerances[k];
            const double done = done_time(context, &s, repeats, &best);
            if (isnan(done))
                printf("   refused          ");
            else
                printf("  %+7.3f %8.2f ms", 100.0 * (done / exact - 1.0), best);
        }
        fflush(stdout);
    }
    printf("\n");
}

/* The default cook up to its pull. */
static void print_work_against_accuracy(sw_context *context)
{
    static const int slab[] = {20, 30, 60, 120, 240}, section[] = {8, 12, 16, 24, 32};
    sw_scenario s;
    sw_scenario_init(&s);
    s.rest.until.kind = s.hold.until.kind = SW_ENDING_NONE;
    printf("Work against accuracy, 1D (default: %d cells, %.0e)\n", s.solver.cells, s.solver.relative_tolerance);
    print_accuracy(context, s, slab, sizeof slab / sizeof *slab, 480, 3);
    s.meat.shape = SW_SHAPE_SECTION;
    s.meat.width = 0.25;
    printf("Work against accuracy, 2D, rows of a section with 5/3 as many columns (default: %d x %d, %.0e)\n", s.solver.rows,
           s.solver.columns, s.solver.relative_tolerance);
    print_accuracy(context, s, section, sizeof section / sizeof *section, 48, 1);
}

/* What was aimed at, and whether this machine gets there; the default tolerance and cells. */
static void print_goals(sw_context *context, double slab, double section)
{
    enum { COARSE = 200 };
    sw_scenario s;
    sw_scenario_init(&s);
    s.rest.until.kind = s.hold.until.kind = SW_ENDING_NONE;
    s.solver.cells = 20;
    s.solver.relative_tolerance = 1e-3;
    s.solver.surface_cell = 1e-3;
    double best;
    const double start = now();
    for (int i = 0; i < COARSE; i++)
        done_time(context, &s, 1, &best);
    const double coarse = (now() - start) / COARSE;
    const struct {
        const char *what;
        double got, goal; /* [ms] */
    } goals[] = {{"1D, 18 h", slab, 5.0}, {"2D, 18 h", section, 100.0}, {"10,000 coarse cooks on 2 cores", 0.5 * 1e4 * coarse, 8000.0}};
    printf("Goals (compare: see \"time stallwright compare --no-band\", goal 35 ms)\n");
    for (size_t i = 0; i < sizeof goals / sizeof *goals; i++)
        printf("  %-32s %9.1f ms, goal %6.0f ms: %s\n", goals[i].what, goals[i].got, goals[i].goal,
               goals[i].got < goals[i].goal ? "reached" : "not reached");
}

int main(int argc, char **argv)
{
    int repeats = argc > 1 ? atoi(argv[1]) : 50;
    sw_context *context;
    if (sw_context_create(&context) != SW_OK)
        return 1;
    sw_scenario scenario;
    sw_scenario_init(&scenario);
    scenario.pull = (sw_ending){SW_ENDING_DURATION, 18 * 3600.0};
    scenario.rest.until.kind = scenario.hold.until.kind = SW_ENDING_NONE;

    printf("1D, 60 cells, 18 h, relative tolerance 1e-5, %d repeats\n", repeats);
    timing t = run(context, &scenario, repeats);
    const double slab = t.best;
    print_timing(&t);
    print_shares(&scenario, &t);
    printf("  peak memory %.1f MiB\n", peak_memory());

    scenario.meat.shape = SW_SHAPE_SECTION;
    scenario.meat.width = 0.25;
    scenario.solver.relative_tolerance = 1e-4;
    printf("2D, half section %d x %d cells, 18 h, relative tolerance 1e-4, 10 repeats\n", scenario.solver.rows, scenario.solver.columns);
    t = run(context, &scenario, 10);
    const double section = t.best;
    print_timing(&t);
    print_shares(&scenario, &t);
    printf("  peak memory %.1f MiB\n", peak_memory());

    const int sizes[][2] = {{16, 32}, {24, 44}, {32, 64}, {48, 84}, {64, 128}};
    double first = 0.0, last = 0.0, first_cells = 0.0, last_cells = 0.0;
    printf("2D growth (best of 3):\n");
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        scenario.solver.rows = sizes[i][0];
        scenario.solver.columns = sizes[i][1];
        t = run(context, &scenario, 3);
        printf("  %5zu cells: %8.1f ms, %ld steps, %ld right-hand sides, %ld Jacobians\n", t.cells, t.best, t.work.steps,
               t.work.right_hand_sides, t.work.jacobians);
        last = t.best;
        last_cells = (double)t.cells;
        if (i == 0) {
            first = last;
            first_cells = last_cells;
        }
    }
    printf("  growth exponent from %.0f to %.0f cells: %.2f\n", first_cells, last_cells,
           log(last / first) / log(last_cells / first_cells));
    printf("  peak memory %.1f MiB\n", peak_memory());
    print_work_against_accuracy(context);
    print_goals(context, slab, section);
    sw_context_destroy(context);
    return 0;
}
