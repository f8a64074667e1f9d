/* SPDX-License-Identifier: BSD-3-Clause */
#include "missing.h"

#include <math.h>
#include <stdio.h>

static const double day = 86400.0, hour = 3600.0;

/* So much beyond the nearest reading that it is still beyond when shown in tenths of a degree [K]. */
static const double beyond = 0.06;

/* What each ending is of, what its hour was for, and what was not done if the pull came first. */
static const struct {
    const char *phase, *purpose, *consequence, *undone;
} words[SW_PLANNED_COUNT] = {
    [SW_PLANNED_WRAP] = {"pit", "the meat was to be wrapped", "it is not wrapped", "NOT WRAPPED"},
    [SW_PLANNED_POUR] = {"wrap", "the juice was to be poured", "it is not poured", "NOT POURED"},
    [SW_PLANNED_REWRAP] = {"second wrap", "the wrap was to be changed", "the first wrap stays", "WRAP NOT CHANGED"},
    [SW_PLANNED_REST] = {"rest", "the rest was to end", "there is no rest", NULL},
    [SW_PLANNED_HOLD] = {"hold", "the hold was to end", "there is no hold", NULL},
    [SW_PLANNED_COOLING] = {"cooling", "the cooling was to end", "there is no cooling", NULL},
};

static const sw_place *place_of(const sw_scenario *s, sw_planned_end end)
{
    return end == SW_PLANNED_REST ? &s->rest : end == SW_PLANNED_HOLD ? &s->hold : &s->cooling;
}

/* Whether it is the end of the last phase before slicing. */
static bool is_slicing(const sw_scenario *s, sw_planned_end end)
{
    return end == SW_PLANNED_HOLD || (end == SW_PLANNED_REST && s->hold.until.kind == SW_ENDING_NONE);
}

/* The hour of an ending on the first day on which its phase can still reach it: "13:00 +1 day". */
static const char *next_hour(const sw_scenario *s, const sw_missing *m, char text[QUANTITY_SIZE])
{
    return show_clock(s->start_clock, m->planned + day * ceil(m->late / day), text);
}

void say_missing_briefly(const sw_scenario *s, const sw_missing *m, prose *p)
{
    char planned[QUANTITY_SIZE];
    show_clock(s->start_clock, m->planned, planned);
    prose_clear(p);
    if (m->reason == SW_MISSING_PULLED_FIRST)
        prose_add(p, "{text}: pulled before {text}", words[m->end].undone, sw_planned_end_key(m->end));
    else if (m->reason != SW_MISSING_HOUR_PASSED)
        prose_add(p, m->end == SW_PLANNED_COOLING ? "COOLING NEVER ENDS" : "NEVER READY: the {text} does not end",
                  words[m->end].phase);
    else if (is_slicing(s, m->end))
        prose_add(p, "NOT READY at {text}, late by {duration}", planned, m->late);
    else
        prose_add(p, "MISSED {text} for {text}, by {duration}", planned, sw_planned_end_key(m->end), m->late);
}

static void say_passed(const sw_scenario *s, const sw_missing *m, prose *p)
{
    char begin[QUANTITY_SIZE], next[QUANTITY_SIZE];
    prose_add(p, ": {text} then, but the meat comes to it at {text} only, so {text}. Start earlier; or, if a later day is meant, write {text}={text}.",
              words[m->end].purpose, show_clock(s->start_clock, m->begin, begin), words[m->end].consequence,
              sw_planned_end_key(m->end), next_hour(s, m, next));
}

static void say_pulled_first(const sw_scenario *s, const sw_missing *m, prose *p)
{
    char pulled[QUANTITY_SIZE], planned[QUANTITY_SIZE];
    if (!SW_IS_ABSENT(m->target))
        prose_add(p, ", {temperature}", m->target);
    else if (!SW_IS_ABSENT(m->planned))
        prose_add(p, ", {text}", show_clock(s->start_clock, m->planned, planned));
    prose_add(p, ". The meat comes off the pit at {text}, so {text}. An earlier {text} or a later pull mends it.",
              show_clock(s->start_clock, m->begin, pulled), words[m->end].consequence, sw_planned_end_key(m->end));
}

/* What would end a phase that waits for a temperature: its own place, its own ending. */
static void say_remedy(const sw_scenario *s, const sw_missing *m, prose *p)
{
    const bool too_hot = m->reason == SW_MISSING_TOO_HOT;
    const char *phase = words[m->end].phase, *key = sw_planned_end_key(m->end);
    const bool cools_by_itself = place_of(s, m->end)->kind != SW_PLACE_AIR;
    const bool is_moving = too_hot ? m->rate < -0.05 / hour : m->rate > 0.05 / hour;
    prose_add(p, too_hot ? " A {text}.{text} below {temperature}, a {text} above {temperature} or a time such as {text}=2h ends "
                           "it; a hotter pit does not."
                         : " A {text}.{text} well above {temperature}, a {text} below {temperature} or a time such as {text}=2h "
                           "ends it.",
              phase, too_hot && cools_by_itself ? "room_temperature" : "temperature", m->target, key, m->nearest + (too_hot ? beyond : -beyond), key);
    if (is_moving)
        prose_add(p, " It still changes by {rate}, so a longer solver.longest_phase may do.", m->rate);
}

static void say_waiting(const sw_scenario *s, const sw_missing *m, prose *p)
{
    const bool too_hot = m->reason == SW_MISSING_TOO_HOT;
    prose_add(p, too_hot ? ": {text} waits for the probe to fall to {temperature}, but it is never below {temperature}, and reads "
                           "{temperature} after {duration}."
                         : ": {text} waits for the probe to reach {temperature}, but it is never above {temperature}, and reads "
                           "{temperature} after {duration}.",
              sw_planned_end_key(m->end), m->target, m->nearest, m->last, s->solver.longest_phase);
    say_remedy(s, m, p);
}

void say_missing(const sw_scenario *s, const sw_missing *m, prose *p)
{
    char planned[QUANTITY_SIZE];
    say_missing_briefly(s, m, p);
    switch (m->reason) {
    case SW_MISSING_HOUR_PASSED:
        say_passed(s, m, p);
        break;
    case SW_MISSING_PULLED_FIRST:
        say_pulled_first(s, m, p);
        break;
    case SW_MISSING_TOO_COOL:
    case SW_MISSING_TOO_HOT:
        say_waiting(s, m, p);
        break;
    case SW_MISSING_TOO_FAR:
        prose_add(p, ": {text} is {text}, later than solver.longest_phase, {duration}, after it begins. An earlier hour or a "
                     "longer solver.longest_phase ends it.",
                  sw_planned_end_key(m->end), show_clock(s->start_clock, m->planned, planned), s->solver.longest_phase);
        break;
    default:
        prose_clear(p);
        prose_add(p, "NOT BEGUN: the {text}, since a phase before it does not end.", words[m->end].phase);
        break;
    }
}

void print_missing(const sw_run *run, const char *label, sw_unit_system units)
{
    const sw_history *h = run->history;
    prose p;
    for (size_t i = 0; h && i < h->missing_count; i++) {
        char first[SW_RUN_LABEL_SIZE + 2];
        say_missing(&h->scenario, &h->missing[i], &p);
        snprintf(first, sizeof first, "%s%s", label ? label : "", label ? ": " : "");
        prose_print(&p, units, first, "  ", stdout);
    }
}
