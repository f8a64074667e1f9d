#include "ranking.h"

#include "quality_table.h"
#include "quantity.h"

#include <math.h>

/* Differences the model cannot tell apart are a judgement (guess): well above the error of the computation, well below what
 * its uncertain parameters do. */
static const struct {
    const char *name, *key;
    double sign;      /* 1: more is better */
    double tolerance; /* within which two are level */
} criteria[BY_COUNT] = {
    [BY_TIME] = {"time", "done_s", -1.0, 600.0},
    [BY_YIELD] = {"yield", "yield_fraction", 1.0, 0.005},
    [BY_BARK] = {"bark", "bark", 1.0, 0.02},
    [BY_TENDER] = {"tender", "probe_collagen", 1.0, 0.02},
};

const char *criterion_name(criterion by)
{
    return criteria[by].name;
}

const char *criterion_key(criterion by)
{
    return criteria[by].key;
}

double criterion_value(criterion by, const cook_run *run)
{
    const sw_outcome *o = &run->outcome;
    if (run->status != SW_OK || SW_IS_ABSENT(o->slice_time)) /* a meat that never gets ready is not recommended */
        return SW_ABSENT;
    switch (by) {
    case BY_YIELD:
        return o->yield_fraction;
    case BY_BARK:
        return o->bark;
    case BY_TENDER:
        return o->probe_collagen;
    default:
        return o->done_time;
    }
}

const char *show_criterion(criterion by, const cook_run *run, char *text)
{
    double value = criterion_value(by, run);
    if (by == BY_TIME)
        return show_duration(value, text);
    return by == BY_BARK ? show_index(value, text) : show_share(value, text);
}

static double advantage(criterion by, const cook_run *run, const cook_run *over)
{
    return criteria[by].sign * (criterion_value(by, run) - criterion_value(by, over));
}

bool is_better(criterion by, const cook_run *run, const cook_run *than)
{
    return advantage(by, run, than) > criteria[by].tolerance;
}

static void swap(size_t *a, size_t *b)
{
    size_t kept = *a;
    *a = *b;
    *b = kept;
}

/* Puts the best of order[from..to) first, by a criterion to the last digit. */
static void bring_best_first(criterion by, const cook_run *runs, size_t *order, size_t from, size_t to)
{
    for (size_t i = from + 1; i < to; i++)
        if (advantage(by, &runs[order[i]], &runs[order[from]]) > 0.0)
            swap(&order[i], &order[from]);
}

void rank_runs(criterion by, const cook_run *runs, size_t count, choice_ranking *r)
{
    *r = (choice_ranking){.by = by};
    for (size_t i = 0; i < count && r->count < RANKED_MAX; i++)
        if (!SW_IS_ABSENT(criterion_value(by, &runs[i])))
            r->order[r->count++] = i;
    for (size_t i = 0; i < r->count; i++)
        bring_best_first(by, runs, r->order, i, r->count);
    /* A group is level with its best; the next group begins with the first that is not. */
    for (size_t first = 0, end; first < r->count; first = end) {
        end = first + 1;
        while (end < r->count && !is_better(by, &runs[r->order[first]], &runs[r->order[end]]))
            end++;
        for (size_t i = first; i < end; i++) {
            r->place[i] = first + 1;
            bring_best_first(BY_TIME, runs, r->order, i, end);
        }
    }
}

size_t place_of(const choice_ranking *r, size_t run)
{
    for (size_t i = 0; i < r->count; i++)
        if (r->order[i] == run)
            return r->place[i];
    return 0;
}
