/* SPDX-License-Identifier: BSD-3-Clause */
#include "branches.h"

#include <stdlib.h>
#include <string.h>

struct sw_branches {
    size_t count;
    sw_branch *list;
    size_t mark_count;
    sw_mark marks[SW_MARKS_MAX];
};

sw_status sw_branches_create(sw_context *context, size_t count, const sw_scenario *const *scenarios, sw_branches **branches)
{
    sw_branches *made = calloc(1, sizeof *made);
    if (made)
        made->list = calloc(count ? count : 1, sizeof *made->list);
    if (!made || !made->list) {
        free(made);
        return sw_fail(context, SW_ERR_MEMORY, "memory for cooks that begin alike could not be allocated");
    }
    made->count = count;
    for (size_t i = 0; i < count; i++) {
        made->list[i].scenario = *scenarios[i];
        made->list[i].is_wanted = true;
    }
    *branches = made;
    return SW_OK;
}

void sw_branches_destroy(sw_branches *branches)
{
    if (!branches)
        return;
    for (size_t i = 0; i < branches->count; i++)
        sw_branch_drop(&branches->list[i]);
    free(branches->list);
    free(branches);
}

/* How late a cook wraps among those that begin alike: never is latest. A temperature rises, and a bark sets late. */
static double lateness(const sw_scenario *s)
{
    return s->wrap.kind == SW_WRAP_NONE                         ? 3e3
           : s->wrap.when.kind == SW_ENDING_BARK                ? 2e3
           : s->wrap.when.kind == SW_ENDING_PROBE_TEMPERATURE ? s->wrap.when.value
                                                                : 0.0;
}

size_t sw_branches_turn(const sw_branches *branches, size_t turn)
{
    size_t latest = 0;
    for (size_t i = 1; i < branches->count; i++)
        if (lateness(&branches->list[i].scenario) > lateness(&branches->list[latest].scenario))
            latest = i;
    return turn == 0 ? latest : turn <= latest ? turn - 1 : turn;
}

sw_branch *sw_branches_find(sw_branches *branches, const sw_scenario *scenario)
{
    for (size_t i = 0; branches && i < branches->count; i++)
        if (branches->list[i].is_kept && memcmp(&branches->list[i].scenario, scenario, sizeof *scenario) == 0)
            return &branches->list[i];
    return NULL;
}

/* Whether two cooks are one until the first of them wraps or is pulled: all but what is on the meat from then on is the same. */
static bool begin_alike(const sw_scenario *a, const sw_scenario *b)
{
    sw_scenario other = *b;
    memcpy(&other.wrap, &a->wrap, sizeof other.wrap);
    memcpy(&other.rewrap, &a->rewrap, sizeof other.rewrap);
    memcpy(&other.rest, &a->rest, sizeof other.rest);
    memcpy(&other.hold, &a->hold, sizeof other.hold);
    memcpy(&other.cooling, &a->cooling, sizeof other.cooling);
    return sw_around_adds_to_film(a) == sw_around_adds_to_film(b) && memcmp(a, &other, sizeof other) == 0;
}

/* The number of a mark among those there are, or of a new one; -1 if there is no room. */
static int number_of_mark(sw_branches *branches, sw_mark mark)
{
    size_t i = 0;
    while (i < branches->mark_count && (branches->marks[i].is_bark != mark.is_bark || branches->marks[i].value != mark.value))
        i++;
    if (i == SW_MARKS_MAX)
        return -1;
    branches->marks[i] = mark;
    if (i == branches->mark_count)
        branches->mark_count++;
    return (int)i;
}

void sw_branches_begin(sw_branches *branches, const sw_scenario *scenario)
{
    if (!branches)
        return;
    branches->mark_count = 0;
    for (size_t i = 0; i < branches->count; i++) {
        sw_branch *b = &branches->list[i];
        const sw_wrap *wrap = &b->scenario.wrap;
        const bool is_itself = memcmp(&b->scenario, scenario, sizeof *scenario) == 0;
        const bool is_bark = wrap->when.kind == SW_ENDING_BARK;
        b->mark = -1;
        if (is_itself)
            b->is_wanted = false;
        /* A time of its own is one that the integrator's steps go to, so that those before it are other steps. */
        if (!b->is_wanted || wrap->kind == SW_WRAP_NONE || !(is_bark || wrap->when.kind == SW_ENDING_PROBE_TEMPERATURE) ||
            !begin_alike(scenario, &b->scenario))
            continue;
        b->mark = number_of_mark(branches, (sw_mark){is_bark, is_bark ? wrap->bark_set : wrap->when.value});
    }
}

size_t sw_branches_marks(sw_branches *branches, sw_mark *marks)
{
    if (!branches)
        return 0;
    memcpy(marks, branches->marks, branches->mark_count * sizeof *marks);
    return branches->mark_count;
}

sw_branch *sw_branches_take(sw_branches *branches, int mark)
{
    for (size_t i = 0; branches && i < branches->count; i++) {
        sw_branch *b = &branches->list[i];
        if (b->is_wanted && b->mark == mark) {
            b->is_wanted = false;
            return b;
        }
    }
    return NULL;
}

sw_status sw_branch_begin(sw_branch *b, const sw_cook *from, double time)
{
    sw_status status = sw_cook_prepare(from->context, &b->scenario, &b->cook);
    if (status != SW_OK)
        return status;
    b->integrator = b->cook.integrator;
    b->cook.integrator = from->integrator;
    return sw_cook_copy_progress(&b->cook, from, time);
}

void sw_branch_keep(sw_branch *b, const sw_cook *from)
{
    b->cook.integrator = b->integrator;
    b->integrator = NULL;
    sw_integrator_take_over(b->cook.integrator, from->integrator);
    b->is_kept = true;
}

void sw_branch_drop(sw_branch *b)
{
    if (b->integrator)
        b->cook.integrator = b->integrator;
    b->integrator = NULL;
    sw_cook_release(&b->cook);
    b->is_kept = false;
}
