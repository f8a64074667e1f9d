/* SPDX-License-Identifier: BSD-3-Clause */
#include "course.h"
#include "history_row.h"
#include "outcome_parts.h"
#include "stall.h"

#include <math.h>

size_t sw_history_deciding_probe(const sw_history *h, double time)
{
    const size_t row = sw_row_at(h, time);
    const double sign = h->scenario.meat.last_probe_decides ? 1.0 : -1.0;
    size_t deciding = 0;
    for (size_t i = 1; i < h->probe_count; i++)
        if (sign * h->probe_series[i][row] < sign * h->probe_series[deciding][row])
            deciding = i;
    return deciding;
}

/* Of a probe alone the course is the cook's, whose stall has been found. */
static bool find_stall(const sw_history *h, const sw_outcome *o, const sw_course *course, sw_stall *stall)
{
    if (h->probe_count > 1)
        return sw_find_stall(course, &h->scenario.stall, stall);
    *stall = (sw_stall){o->stall_start, o->stall_end, o->stall_probe, o->stall_depth, o->stall_slowest_rate};
    return !SW_IS_ABSENT(o->stall_start);
}

static void evaluate_probe(const sw_history *h, const sw_outcome *o, size_t number, sw_probe_outcome *p)
{
    const sw_course all = sw_course_of_probe(h, number, INFINITY), until_pull = sw_course_of_probe(h, number, o->done_time);
#define MAKE_ABSENT(name, unit, long_name) p->name = SW_ABSENT;
    SW_PROBE_FIGURE_LIST(MAKE_ABSENT)
    sw_stall stall;
    if (find_stall(h, o, &until_pull, &stall)) {
        p->stall_start = stall.start;
        p->stall_end = stall.end;
        p->stall_length = stall.end - stall.start;
        p->stall_probe = stall.probe;
        p->stall_depth = stall.depth;
        p->stall_slowest_rate = stall.slowest_rate;
    }
    p->milestone_count = sw_course_milestones(&all, SW_UNITS_SI, p->milestones);
    p->at_pull = until_pull.value[until_pull.count - 1];
    if (!SW_IS_ABSENT(o->slice_time))
        p->at_slicing = all.value[sw_row_at(h, o->slice_time)];
    if (h->scenario.pull.kind != SW_ENDING_PROBE_TEMPERATURE)
        return;
    /* The integrator stops within a millionth of a kelvin of the temperature, on either side. */
    const double reached = sw_course_reach(&until_pull, h->scenario.pull.value - 1e-5);
    if (isfinite(reached))
        p->done_time = reached;
}

void sw_evaluate_probes(const sw_history *h, sw_outcome *o)
{
    o->probe_count = h->probe_count;
    for (size_t i = 0; i < h->probe_count; i++)
        evaluate_probe(h, o, i, &o->probes[i]);
}
