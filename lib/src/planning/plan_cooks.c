/* SPDX-License-Identifier: BSD-3-Clause */
#include "plan_cooks.h"

#include <math.h>
#include <stdio.h>

/* A lag counts as seen when it is two and a half times what a probe may read wrong (2 K, docs/theory/population.md would have it
 * of probes in general): a choice. */
static const double seen_lag = 5.0;

/* A moment on a clock that people look at. */
static const double quarter = 900.0;

static const double least_hold = 60.0;

const char *sw_plan_rescue_name(sw_plan_rescue rescue)
{
    static const char *const names[SW_RESCUE_COUNT] = {"nothing", "closed foil", "pit hotter", "closed foil and pit hotter"};
    return names[rescue];
}

static sw_status cook(sw_context *context, const sw_plan_question *q, const char *label, sw_run *run)
{
    const sw_watch watch = {.is_cancelled = q->is_cancelled, .data = q->data};
    snprintf(run->label, sizeof run->label, "%s", label);
    const sw_status status = sw_run_cook(context, run, &watch);
    return status == SW_ERR_NEVER_ENDS ? SW_OK : status;
}

/* Of a cook without a hold. */
static double ready_of(const sw_run *run)
{
    return run->status != SW_OK || SW_IS_ABSENT(run->outcome.slice_time) ? INFINITY : run->outcome.slice_time;
}

/* Held until it is served from a lead, or not at all if it comes later. */
static void hold_until_served(sw_scenario *s, double ready, double lead)
{
    const double left = isfinite(ready) ? lead - ready : 0.0;
    s->cooling.until.kind = SW_ENDING_NONE;
    s->hold.until = left >= least_hold ? (sw_ending){SW_ENDING_DURATION, left} : (sw_ending){SW_ENDING_NONE, 0.0};
}

/* Cooks a scenario up to its rest, then once more with the hold that is left. */
static sw_status cook_and_hold(sw_context *context, const sw_plan_question *q, const char *label, double lead, sw_run *run, double *ready)
{
    sw_run first = {.scenario = run->scenario};
    sw_plan_until_ready(&first.scenario);
    sw_status status = cook(context, q, label, &first);
    *ready = ready_of(&first);
    hold_until_served(&run->scenario, *ready, lead);
    sw_run_free(&first);
    return status == SW_OK ? cook(context, q, label, run) : status;
}

/* The draw that a share of all draws are no slower than; draws->count if that never gets ready. */
static size_t draw_at(const sw_plan_draws *d, const sw_plan *plan, double share)
{
    const double time = sw_time_reached_by(plan->ready, plan->draws, share);
    for (size_t i = 0; i < d->count && isfinite(time); i++)
        if (d->times[SW_PLAN_EVENT_ready][i] == time)
            return i;
    return d->count;
}

static double probe_at(const sw_history *h, double time)
{
    const double *times = h->series[SW_SERIES_time], *probe = h->series[SW_SERIES_probe_temperature];
    size_t i = 1;
    while (i + 1 < h->row_count && times[i] < time)
        i++;
    const double share = fmin(fmax((time - times[i - 1]) / (times[i] - times[i - 1]), 0.0), 1.0);
    return probe[i - 1] + share * (probe[i] - probe[i - 1]);
}

/* The first quarter of an hour after the stall began or the wrap went on in the median cook at which the slow one lags by what a
 * probe can tell; SW_ABSENT if it does not while the median one is on. */
static double when_it_shows(const sw_run *median, const sw_run *slow)
{
    const sw_outcome *o = &median->outcome;
    const double from = fmax(SW_IS_ABSENT(o->stall_start) ? 0.0 : o->stall_start, SW_IS_ABSENT(o->wrap_time) ? 0.0 : o->wrap_time);
    for (double t = quarter * ceil(fmax(from, 2.0 * 3600.0) / quarter); t < fmin(o->done_time, slow->outcome.done_time); t += quarter)
        if (probe_at(median->history, t) - probe_at(slow->history, t) >= seen_lag)
            return t;
    return SW_ABSENT;
}

/* Closed foil from a moment on. */
static bool add_foil(sw_scenario *s, const sw_run *slow, double from)
{
    const double wrapped = slow->outcome.wrap_time;
    const bool is_wrapped = !SW_IS_ABSENT(wrapped) && wrapped < from;
    for (size_t i = 0; i < slow->history->phase_count; i++)
        if (slow->history->phases[i].phase == SW_PHASE_REWRAPPED && slow->history->phases[i].start < from)
            return false;
    if (is_wrapped && s->wrap.kind == SW_WRAP_CLOSED_FOIL)
        return false;
    if (is_wrapped) {
        s->rewrap = (sw_rewrap){SW_WRAP_CLOSED_FOIL, {SW_ENDING_DURATION, fmax(from, wrapped + least_hold)}};
    } else {
        s->wrap.kind = SW_WRAP_CLOSED_FOIL;
        s->wrap.when = (sw_ending){SW_ENDING_DURATION, from};
        s->rewrap.when.kind = SW_ENDING_NONE;
    }
    s->wrap.pour = SW_POUR_NO;
    return true;
}

/* A hotter pit from a moment on: what is set later too. */
static bool add_heat(sw_context *context, sw_scenario *s, double from)
{
    sw_pit *pit = &s->pit;
    size_t next = 0;
    while (next < pit->step_count && pit->steps[next].start <= from)
        next++;
    if (pit->step_count == SW_PIT_STEPS_MAX || pit->steps[next - 1].ramp)
        return false;
    for (size_t i = pit->step_count; i > next; i--)
        pit->steps[i] = pit->steps[i - 1];
    pit->steps[next] = (sw_pit_step){.start = from, .temperature = pit->steps[next - 1].temperature};
    pit->step_count++;
    if (pit->steps[next - 1].start == from) { /* a step of its own begins there */
        for (size_t i = next; i < pit->step_count; i++)
            pit->steps[i - 1] = pit->steps[i];
        pit->step_count--;
        next--;
    }
    for (size_t i = next; i < pit->step_count; i++)
        pit->steps[i].temperature += SW_PLAN_PIT_STEP;
    return sw_scenario_check(context, s) == SW_OK;
}

static sw_status rescue(sw_context *context, const sw_plan_question *q, const sw_run *slow, double lead, sw_plan_late *late)
{
    sw_status status = SW_OK;
    for (int r = 0; status == SW_OK && r < SW_RESCUE_COUNT; r++) {
        sw_run *run = &late->run[r];
        run->scenario = slow->scenario;
        late->is_open[r] = true;
        if (r == SW_RESCUE_FOIL || r == SW_RESCUE_BOTH)
            late->is_open[r] = add_foil(&run->scenario, slow, late->shows);
        if (r == SW_RESCUE_HOTTER || r == SW_RESCUE_BOTH)
            late->is_open[r] = late->is_open[r] && add_heat(context, &run->scenario, late->shows);
        if (late->is_open[r])
            status = cook_and_hold(context, q, sw_plan_rescue_name((sw_plan_rescue)r), lead, run, &late->ready[r]);
    }
    return status;
}

static sw_status make_late(sw_context *context, const sw_plan_question *q, const sw_plan_draws *d, sw_plan *plan)
{
    const size_t number = draw_at(d, plan, SW_PLAN_LATE_SHARE);
    if (number == d->count)
        return SW_OK;
    sw_run slow = {.label = ""};
    sw_plan_draws_scenario(d, q->seed, number, &slow.scenario);
    sw_plan_until_ready(&slow.scenario);
    sw_status status = cook(context, q, "slow", &slow);
    if (status == SW_OK && slow.status == SW_OK) {
        plan->late.shows = when_it_shows(&plan->median, &slow);
        plan->late.is_found = !SW_IS_ABSENT(plan->late.shows);
    }
    if (plan->late.is_found) {
        plan->late.probe = probe_at(slow.history, plan->late.shows);
        plan->late.usual = probe_at(plan->median.history, plan->late.shows);
        status = rescue(context, q, &slow, plan->starts.recommended, &plan->late);
    }
    sw_run_free(&slow);
    return status;
}

/* The median cook held for as long as it may be: whether that is safe. */
static sw_status make_longest(sw_context *context, const sw_plan_question *q, sw_plan *plan)
{
    sw_run *run = &plan->longest;
    run->scenario = plan->median.scenario;
    const double most = plan->stated.serving.hold_at_most;
    run->scenario.hold.until = most >= least_hold ? (sw_ending){SW_ENDING_DURATION, most} : (sw_ending){SW_ENDING_NONE, 0.0};
    return cook(context, q, "longest", run);
}

sw_status sw_plan_cooks_make(sw_context *context, const sw_plan_question *q, const sw_plan_draws *d, sw_plan *plan)
{
    const double lead = plan->starts.recommended;
    double ready;
    if (SW_IS_ABSENT(lead) || SW_IS_ABSENT(d->median_ready))
        return SW_OK;
    sw_plan_draws_scenario(d, q->seed, d->count, &plan->median.scenario);
    sw_status status = cook_and_hold(context, q, "median", lead, &plan->median, &ready);
    if (status != SW_OK || plan->median.status != SW_OK)
        return status;
    plan->is_median_run = true;
    plan->rest = ready - plan->median.outcome.done_time;
    status = make_longest(context, q, plan);
    const size_t early = draw_at(d, plan, SW_PLAN_EARLY_SHARE);
    if (status == SW_OK && early < d->count) {
        sw_plan_draws_scenario(d, q->seed, early, &plan->early.scenario);
        status = cook_and_hold(context, q, "early", lead, &plan->early, &plan->early_ready);
    }
    return status == SW_OK ? make_late(context, q, d, plan) : status;
}
