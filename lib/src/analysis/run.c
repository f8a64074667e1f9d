/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/run.h>

#include <stdio.h>

static bool is_cancelled(const sw_watch *watch)
{
    return watch->is_cancelled && watch->is_cancelled(watch->data);
}

static int observe(double time, double probe_temperature, void *data)
{
    const sw_watch *watch = data;
    return (watch->observe && watch->observe(time, probe_temperature, watch->data) != 0) || is_cancelled(watch);
}

static void finish(sw_context *context, sw_run *run)
{
    if (run->status == SW_OK)
        sw_outcome_evaluate_with_safety(run->history, &run->outcome, &run->safety);
    else
        snprintf(run->failure, sizeof run->failure, "%s", sw_context_message(context));
}

static sw_status cook(sw_context *context, sw_run *run, sw_watch *watch, sw_branches *branches)
{
    if (is_cancelled(watch))
        return sw_fail(context, SW_ERR_CANCELLED, "%s: %s", run->label, sw_status_text(SW_ERR_CANCELLED));
    if (watch->begin)
        watch->begin(run->label, watch->data);
    const sw_status status = sw_cook_run_branching(context, &run->scenario, observe, watch, branches, &run->history);
    if (watch->end)
        watch->end(watch->data);
    return status;
}

sw_status sw_run_cook_branching(sw_context *context, sw_run *run, const sw_watch *watch, sw_branches *branches)
{
    sw_watch own = watch ? *watch : (sw_watch){0};
    run->status = cook(context, run, &own, branches);
    finish(context, run);
    return run->status;
}

sw_status sw_run_cook(sw_context *context, sw_run *run, const sw_watch *watch)
{
    return sw_run_cook_branching(context, run, watch, NULL);
}

sw_status sw_run_or_follow(sw_context *context, sw_run *run, const sw_watch *watch, bool *never_ends, char *reason)
{
    reason[0] = '\0';
    sw_run_cook(context, run, watch);
    *never_ends = run->status == SW_ERR_NEVER_ENDS;
    if (!*never_ends)
        return run->status;
    snprintf(reason, SW_RUN_FAILURE_SIZE, "%s", run->failure);
    run->scenario.pull = (sw_ending){SW_ENDING_DURATION, run->scenario.solver.longest_phase};
    return sw_run_cook(context, run, watch);
}

void sw_run_free(sw_run *run)
{
    sw_history_destroy(run->history);
    run->history = NULL;
}
