#include "cook_run.h"

#include "quantity.h"

void cook_run_do(cook_run *run, sw_context *context, progress *p)
{
    const sw_watch watch = progress_watch(p);
    sw_run_cook(context, run, &watch);
}

void cook_run_note_log(const cook_run *run, const command_options *o)
{
    const sw_pit *pit = &run->scenario.pit;
    const sw_pit_step *last = &pit->steps[pit->step_count - 1];
    char time[QUANTITY_SIZE], temperature[QUANTITY_SIZE];
    if (pit->is_log && run->history && last->start < run->outcome.done_time)
        print_note(o, "%s: the pit log ends after %s, before the pull; from there its last value holds, %s", run->label,
                   show_duration(last->start, time), show_temperature(last->temperature, o->units, temperature));
}

void cook_run_note_work(const cook_run *run, const command_options *o)
{
    if (!o->verbose || !run->history)
        return;
    const sw_solver_statistics *work = &run->history->statistics;
    print_note(o, "%s: %ld steps, %ld right-hand sides, %ld Jacobians, %zu cells", run->label, work->steps,
               work->right_hand_sides, work->jacobians, run->history->cell_count);
}
