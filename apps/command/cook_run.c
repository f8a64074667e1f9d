#include "cook_run.h"

void cook_run_do(cook_run *run, sw_context *context, progress *p)
{
    const sw_watch watch = progress_watch(p);
    sw_run_cook(context, run, &watch);
}

void cook_run_note_work(const cook_run *run, const command_options *o)
{
    if (!o->verbose || !run->history)
        return;
    const sw_solver_statistics *work = &run->history->statistics;
    print_note(o, "%s: %ld steps, %ld right-hand sides, %ld Jacobians, %zu cells", run->label, work->steps,
               work->right_hand_sides, work->jacobians, run->history->cell_count);
}
