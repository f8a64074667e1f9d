/* SPDX-License-Identifier: BSD-3-Clause */
/* Prints when things happen in some cooks, for tests/long/lanes.sh, which compares those of different machines: of each event its
 * name, its time, and what the tolerance allows, all in seconds. That is how far the same event of cooks with tolerances somewhat smaller
 * than the default lies from that of a much smaller one, at most. With a number as argument the tolerances are so many times as large. */
#include <stallwright/everything.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { EVENT_COUNT = 4, LOOSE_COUNT = 5 };
static const char *const event_names[EVENT_COUNT] = {"wrap", "stall_start", "stall_end", "done"};

static void cook(sw_context *context, sw_scenario scenario, double tolerance, double *time)
{
    sw_history *history;
    sw_outcome outcome;
    scenario.solver.relative_tolerance = tolerance;
    if (sw_cook_run(context, &scenario, NULL, NULL, &history) != SW_OK) {
        fprintf(stderr, "print_events: %s\n", sw_context_message(context));
        exit(1);
    }
    sw_outcome_evaluate(history, &outcome);
    sw_history_destroy(history);
    time[0] = outcome.wrap_time;
    time[1] = outcome.stall_start;
    time[2] = outcome.stall_end;
    time[3] = outcome.done_time;
}

static void print_cook(sw_context *context, const char *name, const sw_scenario *scenario, double looser)
{
    const double tolerance = scenario->solver.relative_tolerance;
    double exact[EVENT_COUNT], loose[EVENT_COUNT], allowed[EVENT_COUNT] = {0.0}, time[EVENT_COUNT];
    cook(context, *scenario, 0.01 * tolerance, exact);
    for (int i = 1; i <= LOOSE_COUNT; i++) {
        cook(context, *scenario, (1.0 - 0.08 * i) * tolerance, loose);
        for (int k = 0; k < EVENT_COUNT; k++)
            allowed[k] = fmax(allowed[k], fabs(loose[k] - exact[k]));
    }
    cook(context, *scenario, looser * tolerance, time);
    for (int k = 0; k < EVENT_COUNT; k++)
        if (!isnan(time[k]))
            printf("%s_%s %.9f %.9f\n", name, event_names[k], time[k], allowed[k]);
}

int main(int argc, char **argv)
{
    sw_context *context;
    sw_scenario slab;
    const double looser = argc > 1 ? atof(argv[1]) : 1.0;
    if (sw_context_create(&context) != SW_OK)
        return 1;
    sw_scenario_init(&slab);
    slab.rest.until.kind = slab.hold.until.kind = SW_ENDING_NONE;
    print_cook(context, "slab", &slab, looser);
    slab.meat.fat_cap_thickness = 0.006;
    slab.wrap.kind = SW_WRAP_PAPER;
    slab.wrap.when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + 72.0};
    print_cook(context, "cap_in_paper", &slab, looser);
    slab.meat.fat_cap_thickness = 0.0;
    slab.meat.shape = SW_SHAPE_SECTION;
    slab.meat.width = 0.25;
    slab.solver.rows = 9;
    slab.solver.columns = 10;
    print_cook(context, "section_in_paper", &slab, looser);
    sw_context_destroy(context);
    return 0;
}
