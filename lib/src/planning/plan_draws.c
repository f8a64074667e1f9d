/* SPDX-License-Identifier: BSD-3-Clause */
#include "halton.h"
#include "plan_draws.h"

#include <stallwright/side_by_side.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Cook by cook, all that are made of a draw one after the other. */
typedef struct making {
    sw_plan_draws *draws; /* count */
    size_t count;
    sw_plan_count *counter;
} making;

void sw_plan_until_ready(sw_scenario *s)
{
    s->hold.until.kind = s->cooling.until.kind = SW_ENDING_NONE;
}

static bool is_of_the_meat(const sw_population_input *input)
{
    return strncmp(input->key->name, "meat.", strlen("meat.")) == 0;
}

/* A point of the population. Of several pieces those that share the pit share its coordinates, whatever else is open in each. */
static void draw_point(const sw_plan_draws *d, uint64_t seed, size_t number, double *normal)
{
    const sw_population *p = &d->population;
    size_t of_pit = 0, of_meat = 0;
    if (d->piece_count <= 1) {
        sw_population_draw(p, seed, number, normal);
        return;
    }
    for (size_t i = 0; i < p->count; i++)
        of_pit += !is_of_the_meat(&p->inputs[i]);
    for (size_t i = 0, next = 0; i < p->count; i++) {
        const size_t dimension = is_of_the_meat(&p->inputs[i]) ? of_pit + d->piece + d->piece_count * of_meat++ : next++;
        normal[i] = sw_normal_quantile(sw_halton_point(seed, number, dimension));
    }
}

void sw_plan_draws_scenario(const sw_plan_draws *d, uint64_t seed, size_t number, sw_scenario *scenario)
{
    double normal[SW_POPULATION_INPUTS_MAX] = {0.0};
    if (number < d->count)
        draw_point(d, seed, number, normal);
    sw_population_scenario(&d->population, normal, scenario);
}

/* The last one is the median cook made coarsely, after it that as finely as the scenario asks. */
static void draw(size_t cook, sw_scenario *scenario, void *data)
{
    const making *m = data;
    const sw_plan_draws *d = &m->draws[cook % m->count];
    const size_t number = cook / m->count;
    sw_plan_draws_scenario(d, m->counter->question->seed, number, scenario);
    sw_plan_until_ready(scenario);
    if (number <= d->count)
        sw_population_coarsen(scenario);
}

static double begin_of(const sw_history *h, sw_phase phase)
{
    for (size_t i = 0; i < h->phase_count; i++)
        if (h->phases[i].phase == phase)
            return h->phases[i].start;
    return SW_ABSENT;
}

static void take_times(const sw_run *run, size_t number, sw_plan_draws *d)
{
    const sw_outcome *o = &run->outcome;
    const double times[SW_PLAN_EVENT_COUNT] = {
        [SW_PLAN_EVENT_stall_start] = o->stall_start,
        [SW_PLAN_EVENT_wrap] = o->wrap_time,
        [SW_PLAN_EVENT_rewrap] = begin_of(run->history, SW_PHASE_REWRAPPED),
        [SW_PLAN_EVENT_stall_end] = o->stall_end,
        [SW_PLAN_EVENT_pull] = o->done_time,
        [SW_PLAN_EVENT_ready] = SW_IS_ABSENT(o->slice_time) ? INFINITY : o->slice_time};
    for (int e = 0; e < SW_PLAN_EVENT_COUNT; e++)
        d->times[e][number] = times[e];
    d->yield[number] = o->yield_fraction;
}

static sw_status take(sw_context *context, size_t cook, const sw_run *run, void *data)
{
    making *m = data;
    sw_plan_draws *d = &m->draws[cook % m->count];
    const size_t number = cook / m->count;
    if (run->status != SW_OK && run->status != SW_ERR_NEVER_ENDS)
        return sw_fail(context, run->status, "draw %zu of a plan: %s", number + 1, run->failure);
    if (run->status == SW_OK) {
        take_times(run, number, d);
    } else {
        for (int e = 0; e < SW_PLAN_EVENT_COUNT; e++)
            d->times[e][number] = e == SW_PLAN_EVENT_pull || e == SW_PLAN_EVENT_ready ? INFINITY : SW_ABSENT;
        d->yield[number] = SW_ABSENT;
    }
    m->counter->done++;
    if (m->counter->question->count)
        m->counter->question->count(m->counter->done, m->counter->total, m->counter->question->data);
    return SW_OK;
}

static bool is_cancelled(void *data)
{
    const sw_plan_question *q = ((making *)data)->counter->question;
    return q->is_cancelled && q->is_cancelled(q->data);
}

/* Takes out what is coarse, up to the pull by a ratio; the rest keeps its length. */
static void refine(sw_plan_draws *d)
{
    const double *pull = d->times[SW_PLAN_EVENT_pull], *ready = d->times[SW_PLAN_EVENT_ready];
    const double ratio = pull[d->count + 1] / pull[d->count], yield = d->yield[d->count + 1] - d->yield[d->count];
    d->median_ready = isfinite(ready[d->count + 1]) ? ready[d->count + 1] : SW_ABSENT;
    d->median_yield = d->yield[d->count + 1];
    if (!isfinite(ratio) || !isfinite(d->median_ready))
        return;
    for (size_t i = 0; i < d->count; i++) {
        const double longer = (ratio - 1.0) * pull[i];
        d->yield[i] += yield;
        for (int e = 0; e < SW_PLAN_EVENT_COUNT; e++)
            d->times[e][i] = e == SW_PLAN_EVENT_ready ? d->times[e][i] + (isfinite(longer) ? longer : 0.0) : ratio * d->times[e][i];
    }
}

static sw_status begin(sw_context *context, const sw_scenario *stated, sw_plan_draws *d)
{
    const size_t count = d->count;
    const sw_status status = sw_population_given(context, stated, &d->population);
    if (status != SW_OK)
        return status;
    double *block = malloc((count + 2) * (SW_PLAN_EVENT_COUNT + 1) * sizeof *block);
    if (!block)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the draws of a plan could not be allocated");
    d->yield = block;
    for (size_t e = 0; e < SW_PLAN_EVENT_COUNT; e++)
        d->times[e] = block + (e + 1) * (count + 2);
    return SW_OK;
}

sw_status sw_plan_draws_make_all(sw_context *context, size_t count, const sw_scenario *stated, sw_plan_count *counter, sw_plan_draws *draws)
{
    making m = {draws, count, counter};
    sw_status status = SW_OK;
    for (size_t i = 0; i < count; i++)
        draws[i].yield = NULL;
    for (size_t i = 0; status == SW_OK && i < count; i++)
        status = begin(context, &stated[i], &draws[i]);
    if (status != SW_OK)
        return status;
    const sw_side_by_side work = {.count = (draws->count + 2) * count,
                                  .alike = count,
                                  .threads = counter->question->threads,
                                  .scenario = draw,
                                  .take = take,
                                  .is_cancelled = is_cancelled,
                                  .data = &m};
    status = sw_cook_side_by_side(context, &work);
    for (size_t i = 0; status == SW_OK && i < count; i++)
        refine(&draws[i]);
    return status;
}

sw_status sw_plan_draws_make(sw_context *context, const sw_scenario *stated, sw_plan_count *counter, sw_plan_draws *d)
{
    return sw_plan_draws_make_all(context, 1, stated, counter, d);
}

void sw_plan_draws_free(sw_plan_draws *d)
{
    free(d->yield);
    d->yield = NULL;
}

static int compare(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

size_t sw_plan_draws_sort(const sw_plan_draws *d, size_t count, sw_plan_event event, double *sorted)
{
    size_t happens = 0;
    for (size_t i = 0; i < count; i++)
        if (!SW_IS_ABSENT(d->times[event][i]))
            sorted[happens++] = d->times[event][i];
    qsort(sorted, happens, sizeof *sorted, compare);
    return happens;
}
