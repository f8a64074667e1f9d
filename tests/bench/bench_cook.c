/* How fast a cook is: the default brisket on the pit for 18 h, 60 cells, relative tolerance 1e-5.
 * Prints figures and passes no judgement. Usage: bench_cook [repeats] */
#include <stallwright/stallwright.h>

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
    scenario.solver.cells = 60;
    scenario.solver.relative_tolerance = 1e-5;
    double best = 1e300, total = 0.0;
    sw_solver_statistics work = {0};
    for (int i = 0; i < repeats; i++) {
        sw_history *history;
        double start = now();
        if (sw_cook_run(context, &scenario, NULL, NULL, &history) != SW_OK) {
            fprintf(stderr, "bench_cook: %s\n", sw_context_message(context));
            return 1;
        }
        double spent = now() - start;
        work = history->statistics;
        sw_history_destroy(history);
        total += spent;
        best = spent < best ? spent : best;
    }
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf("1D, 60 cells, 18 h, relative tolerance 1e-5, %d repeats\n", repeats);
    printf("  best %.3f ms, mean %.3f ms a cook (process time, history included)\n", best, total / repeats);
    printf("  steps %ld, right-hand sides %ld, Jacobians %ld, failed error tests %ld, failed iterations %ld\n", work.steps,
           work.right_hand_sides, work.jacobians, work.error_test_failures, work.convergence_failures);
    printf("  %.1f ns per cell and right-hand side (whole run over 60 cells)\n",
           1e6 * best / (60.0 * (double)work.right_hand_sides));
    printf("  peak memory %.1f MiB\n", (double)usage.ru_maxrss / 1024.0);
    sw_context_destroy(context);
    return 0;
}
