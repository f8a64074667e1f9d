/* How fast a cook is. Prints figures and passes no judgement.
 * One dimension: the default brisket on the pit for 18 h, 60 cells, relative tolerance 1e-5.
 * Two dimensions: half a rectangular section of 24 x 40 cells, 18 h, relative tolerance 1e-4, and how the time grows with
 * the number of cells. Usage: bench_cook [repeats of the first] */
#include "body.h"

#include <stallwright/stallwright.h>

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

/* Time of one right-hand side and one Jacobian of a raw body on the pit [ms]. */
static void time_kernels(sw_scenario scenario, double *rate_ms, double *jacobian_ms)
{
    sw_body body;
    if (sw_body_init(NULL, &scenario, &body) != SW_OK)
        exit(1);
    size_t n = 2 * body.mesh->cell_count;
    double *state = malloc(n * sizeof *state), *rate = malloc(n * sizeof *rate), *values = malloc(40 * n * sizeof *values);
    sw_body_raw_state(&body, &scenario, state);
    for (size_t i = 0; i < n; i += 2) {
        state[i] = 340.0 + 10.0 * sin((double)i);
        state[i + 1] *= 0.7 + 0.2 * cos((double)i);
    }
    sw_surroundings around = {394.15, 394.15, 101325.0, 3000.0, 10.0, NULL};
    sw_body_surround(&body, &scenario, &around, SW_WRAP_NONE);
    for (size_t i = 0; i < body.mesh->face_count; i++)
        for (int k = 0; k < 16; k++)
            body.transport->face_entries[i][k] = 16 * i % (40 * n - 16) + (size_t)k;
    enum { CALLS = 400 };
    double start = now();
    for (int i = 0; i < CALLS; i++)
        sw_transport_rate(body.transport, 0.0, state, rate);
    *rate_ms = (now() - start) / CALLS;
    start = now();
    for (int i = 0; i < CALLS; i++)
        sw_transport_jacobian(body.transport, 0.0, state, rate, values);
    *jacobian_ms = (now() - start) / CALLS;
    free(state);
    free(rate);
    free(values);
    sw_body_free(&body);
}

static void print_shares(const sw_scenario *scenario, const timing *t)
{
    double rate, jacobian;
    time_kernels(*scenario, &rate, &jacobian);
    double rates = rate * (double)t->work.right_hand_sides, jacobians = jacobian * (double)t->work.jacobians;
    printf("  right-hand side %.1f us (%.0f ns a cell), Jacobian %.1f us\n", 1e3 * rate, 1e6 * rate / (double)t->cells,
           1e3 * jacobian);
    printf("  share of time: right-hand sides %.0f %%, Jacobians %.0f %%, linear algebra and the rest %.0f %%\n",
           100.0 * rates / t->best, 100.0 * jacobians / t->best, 100.0 * (1.0 - (rates + jacobians) / t->best));
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
    print_timing(&t);
    print_shares(&scenario, &t);
    printf("  peak memory %.1f MiB\n", peak_memory());

    scenario.meat.shape = SW_SHAPE_SECTION;
    scenario.meat.width = 0.25;
    scenario.solver.relative_tolerance = 1e-4;
    printf("2D, half section 24 x 40 cells, 18 h, relative tolerance 1e-4, 3 repeats\n");
    t = run(context, &scenario, 3);
    print_timing(&t);
    print_shares(&scenario, &t);
    printf("  peak memory %.1f MiB\n", peak_memory());

    const int sizes[][2] = {{16, 32}, {24, 44}, {32, 64}, {48, 84}, {64, 128}};
    double first = 0.0, last = 0.0, first_cells = 0.0, last_cells = 0.0;
    printf("2D growth (one run each):\n");
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        scenario.solver.rows = sizes[i][0];
        scenario.solver.columns = sizes[i][1];
        t = run(context, &scenario, 1);
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
    sw_context_destroy(context);
    return 0;
}
