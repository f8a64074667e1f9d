/* SPDX-License-Identifier: BSD-3-Clause */
#include "cook_run.h"

#include "missing.h"
#include "quantity.h"

void cook_run_do(sw_run *run, sw_context *context, progress *p, sw_branches *branches)
{
    const sw_watch watch = progress_watch(p);
    sw_run_cook_branching(context, run, &watch, branches);
}

void cook_run_note_log(const sw_run *run, const command_options *o)
{
    const sw_pit *pit = &run->scenario.pit;
    const sw_pit_step *last = &pit->steps[pit->step_count - 1];
    char time[QUANTITY_SIZE], temperature[QUANTITY_SIZE];
    if (pit->is_log && run->history && last->start < run->outcome.done_time)
        print_note(o, "%s: the pit log ends after %s, before the pull; from there its last value holds, %s", run->label,
                   show_duration(last->start, time), show_temperature(last->temperature, o->units, temperature));
}

void cook_run_note_work(const sw_run *run, const command_options *o)
{
    if (!o->verbose || !run->history)
        return;
    const sw_solver_statistics *work = &run->history->statistics;
    print_note(o, "%s: %ld steps, %ld right-hand sides, %ld Jacobians, %zu cells", run->label, work->steps,
               work->right_hand_sides, work->jacobians, run->history->cell_count);
}

/* One line on standard error for each. */
static void warn(const sw_run *run, bool with_label, sw_unit_system units)
{
    char text[PROSE_TEXT_SIZE];
    prose p;
    for (size_t i = 0; i < run->history->missing_count; i++) {
        say_missing(&run->history->scenario, &run->history->missing[i], &p);
        fprintf(stderr, "stallwright: warning: %s%s%s\n", with_label ? run->label : "", with_label ? ": " : "",
                prose_plain(&p, units, text, sizeof text));
    }
}

int report_missing(const sw_run *runs, size_t count, const command_options *o)
{
    size_t endless = 0;
    for (size_t i = 0; i < count; i++) {
        if (!runs[i].history)
            continue;
        if (o->format != FORMAT_TABLE)
            warn(&runs[i], count > 1, o->units);
        endless += runs[i].outcome.endless_phases > 0.0;
    }
    if (endless == 0)
        return EXIT_DONE;
    if (count == 1)
        print_error("a phase does not end; the results go up to there");
    else
        print_error("of %zu choices %zu have a phase that does not end; their results go up to there", count, endless);
    return EXIT_FAILED;
}
