/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/ranking.h>

static const struct {
    const char *name;
    double sign;      /* 1: more is better */
    double tolerance; /* within which two are level */
} criteria[SW_BY_COUNT] = {
    [SW_BY_TIME] = {"time", -1.0, 600.0},
    [SW_BY_YIELD] = {"yield", 1.0, 0.005},
    [SW_BY_BARK] = {"bark", 1.0, 0.02},
    [SW_BY_TENDER] = {"tender", 1.0, 0.02},
};

const char *sw_criterion_name(sw_criterion by)
{
    return criteria[by].name;
}

double sw_criterion_value(sw_criterion by, const sw_run *run)
{
    const sw_outcome *o = &run->outcome;
    if (run->status != SW_OK || SW_IS_ABSENT(o->slice_time))
        return SW_ABSENT;
    switch (by) {
    case SW_BY_YIELD:
        return o->yield_fraction;
    case SW_BY_BARK:
        return o->bark;
    case SW_BY_TENDER:
        return o->probe_collagen;
    default:
        return o->done_time;
    }
}

static double advantage(sw_criterion by, const sw_run *run, const sw_run *over)
{
    return criteria[by].sign * (sw_criterion_value(by, run) - sw_criterion_value(by, over));
}

bool sw_is_better(sw_criterion by, const sw_run *run, const sw_run *than)
{
    return advantage(by, run, than) > criteria[by].tolerance;
}

static void swap(size_t *a, size_t *b)
{
    const size_t kept = *a;
    *a = *b;
    *b = kept;
}

/* Puts the best of order[from..to) first, by a criterion to the last digit. */
static void bring_best_first(sw_criterion by, const sw_run *runs, size_t *order, size_t from, size_t to)
{
    for (size_t i = from + 1; i < to; i++)
        if (advantage(by, &runs[order[i]], &runs[order[from]]) > 0.0)
            swap(&order[i], &order[from]);
}

void sw_rank(sw_criterion by, const sw_run *runs, size_t count, sw_ranking *r)
{
    *r = (sw_ranking){.by = by};
    for (size_t i = 0; i < count && r->count < SW_RANKED_MAX; i++)
        if (!SW_IS_ABSENT(sw_criterion_value(by, &runs[i])))
            r->order[r->count++] = i;
    for (size_t i = 0; i < r->count; i++)
        bring_best_first(by, runs, r->order, i, r->count);
    /* A group is level with its best; the next group begins with the first that is not. */
    for (size_t first = 0, end; first < r->count; first = end) {
        end = first + 1;
        while (end < r->count && !sw_is_better(by, &runs[r->order[first]], &runs[r->order[end]]))
            end++;
        for (size_t i = first; i < end; i++) {
            r->place[i] = first + 1;
            bring_best_first(SW_BY_TIME, runs, r->order, i, end);
        }
    }
}

size_t sw_ranking_place(const sw_ranking *r, size_t run)
{
    for (size_t i = 0; i < r->count; i++)
        if (r->order[i] == run)
            return r->place[i];
    return 0;
}
