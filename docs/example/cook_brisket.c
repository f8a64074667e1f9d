/* Cooks the default brisket through the public interface and prints its probe curve and outcome. */
#include <stallwright/stallwright.h>

#include <stdio.h>

static void print_curve(const sw_history *history)
{
    double next = 0.0;
    for (size_t row = 0; row < history->row_count; row++) {
        double time = history->series[SW_SERIES_time][row];
        if (time < next)
            continue;
        printf("%5.1f h  %5.1f C\n", time / 3600.0, history->series[SW_SERIES_probe_temperature][row] - 273.15);
        next += 3600.0;
    }
}

int main(void)
{
    sw_context *context;
    sw_scenario scenario;
    sw_history *history;
    sw_outcome outcome;
    if (sw_context_create(&context) != SW_OK)
        return 1;
    sw_scenario_init(&scenario);
    scenario.wrap.kind = SW_WRAP_PAPER;
    if (sw_cook_run(context, &scenario, NULL, NULL, &history) != SW_OK) {
        fprintf(stderr, "%s\n", sw_context_message(context));
        sw_context_destroy(context);
        return 1;
    }
    sw_outcome_evaluate(history, &outcome);
    print_curve(history);
    if (SW_IS_ABSENT(outcome.stall_start))
        printf("no stall\n");
    else
        printf("stall of %.1f h\n", outcome.stall_length / 3600.0);
    printf("done after %.1f h, yield %.0f %%\n", outcome.done_time / 3600.0, 100.0 * outcome.yield_fraction);
    sw_history_destroy(history);
    sw_context_destroy(context);
    return 0;
}
