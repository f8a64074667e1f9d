/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/outcome.h>

#include "history_row.h"
#include "outcome_parts.h"
#include "stall.h"

#include <math.h>
#include <string.h>

const char *sw_surface_state_name(sw_surface_state state)
{
    static const char *const names[] = {"dry", "firm", "tacky", "wet"};
    return state >= SW_SURFACE_DRY && state <= SW_SURFACE_WET ? names[state] : "unknown state";
}

sw_surface_state sw_surface_state_of(double water_activity, double film_share)
{
    const bool is_filmed = film_share >= SW_FILM_TO_SPEAK_OF;
    if (water_activity < 0.75 && !is_filmed)
        return SW_SURFACE_DRY;
    if (water_activity < 0.90 && !is_filmed)
        return SW_SURFACE_FIRM;
    return water_activity < 0.97 ? SW_SURFACE_TACKY : SW_SURFACE_WET;
}

static void clear(sw_outcome *o)
{
    memset(o, 0, sizeof *o);
#define MAKE_ABSENT(name, unit, long_name) o->name = SW_ABSENT;
    SW_OUTCOME_LIST(MAKE_ABSENT)
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++) {
        sw_reaction_outcome *reaction = &o->reactions[r];
#define MAKE_REACTION_ABSENT(name, unit, long_name) reaction->name = SW_ABSENT;
        SW_REACTION_FIGURE_LIST(MAKE_REACTION_ABSENT)
    }
    for (int i = 0; i < SW_SIDE_COUNT; i++) {
        sw_side_outcome *side = &o->sides[i];
#define MAKE_SIDE_ABSENT(name, unit, long_name) side->name = SW_ABSENT;
        SW_SIDE_FIGURE_LIST(MAKE_SIDE_ABSENT)
    }
}

static void find_stall(const sw_history *h, sw_outcome *o)
{
    const sw_course course = sw_course_of(h, o->done_time);
    sw_stall stall;
    if (!sw_find_stall(&course, &h->scenario.stall, &stall))
        return;
    o->stall_start = stall.start;
    o->stall_end = stall.end;
    o->stall_length = stall.end - stall.start;
    o->stall_probe = stall.probe;
    o->stall_depth = stall.depth;
    o->stall_slowest_rate = stall.slowest_rate;
}

static void read_phases(const sw_history *h, sw_outcome *o)
{
    for (size_t i = 0; i < h->phase_count; i++) {
        const sw_phase_record *p = &h->phases[i];
        switch (p->phase) {
        case SW_PHASE_PIT:
        case SW_PHASE_WRAPPED:
        case SW_PHASE_REWRAPPED:
            if (p->phase == SW_PHASE_WRAPPED) {
                o->wrap_time = p->start;
                o->wrap_probe = h->phases[i - 1].probe_at_end;
            }
            o->done_time = p->end;
            o->done_probe = p->probe_at_end;
            o->top_surface_at_pull = p->top_surface_at_end;
            o->top_water_activity_at_pull = p->top_water_activity_at_end;
            o->at_pull = p->budget_at_end;
            break;
        case SW_PHASE_REST:
            o->rest_end = p->end;
            break;
        case SW_PHASE_HOLD:
            o->hold_end = p->end;
            break;
        default: /* a cooling comes after slicing */
            o->at_end = h->phases[i - 1].budget_at_end;
            return;
        }
        o->slice_time = p->end;
        o->slice_probe = p->probe_at_end;
    }
}

/* The time of day that the meat was planned for is that of the hold, else that of the rest, else that of the pull. */
static double lateness(const sw_history *h)
{
    const sw_scenario *s = &h->scenario;
    const bool holds = s->hold.until.kind != SW_ENDING_NONE, rests = s->rest.until.kind != SW_ENDING_NONE;
    const sw_ending last = holds ? s->hold.until : rests ? s->rest.until : s->pull;
    if (!isfinite(sw_ending_clock_time(s->start_clock, last)) || !sw_history_is_ready(h))
        return SW_ABSENT;
    const sw_missing *missing =
        holds || rests ? sw_history_missing(h, holds ? SW_PLANNED_HOLD : SW_PLANNED_REST) : NULL;
    return missing ? missing->late : 0.0;
}

static double count_endless_phases(const sw_history *h)
{
    double count = 0.0;
    for (size_t i = 0; i < h->missing_count; i++)
        count += h->missing[i].reason != SW_MISSING_HOUR_PASSED && h->missing[i].reason != SW_MISSING_PULLED_FIRST;
    return count;
}

/* A meat that does not get ready has no figures of slicing, only of what was before. */
static void clear_slicing(sw_outcome *o)
{
    double *const figures[] = {&o->slice_time, &o->slice_probe, &o->lowest_after_pull, &o->yield_fraction,
                               &o->probe_collagen, &o->probe_collagen_low, &o->probe_collagen_high, &o->bark,
                               &o->softening, &o->kept_juice_mass, &o->kept_fat_mass, &o->kept_cap_fat_mass,
                               &o->servings, &o->raw_mass_needed, &o->mass_to_buy};
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
        *figures[i] = SW_ABSENT;
    o->tenderness = SW_TENDERNESS_UNKNOWN;
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++) {
        sw_reaction_outcome *reaction = &o->reactions[r];
        SW_REACTION_FIGURE_LIST(MAKE_REACTION_ABSENT)
    }
    for (int i = 0; i < SW_SIDE_COUNT; i++) {
        sw_side_outcome *side = &o->sides[i];
        side->water_content_at_end = side->dryness_at_end = side->bark = side->softening = SW_ABSENT;
    }
}

static double count_unmet_rules(const sw_safety *safety)
{
    double unmet = 0.0;
    for (int i = 0; i < SW_SAFETY_RULE_COUNT; i++)
        unmet += safety->findings[i].verdict == SW_VERDICT_NOT_MET;
    return unmet;
}

void sw_outcome_evaluate(const sw_history *history, sw_outcome *outcome)
{
    sw_safety safety;
    sw_outcome_evaluate_with_safety(history, outcome, &safety);
}

void sw_outcome_evaluate_with_safety(const sw_history *history, sw_outcome *outcome, sw_safety *safety)
{
    clear(outcome);
    outcome->at_end = history->budget;
    outcome->pour_time = history->pour.time;
    outcome->pour_probe = history->pour.probe_temperature;
    read_phases(history, outcome);
    outcome->yield_fraction = outcome->at_end.meat_mass / outcome->at_end.initial_mass;
    outcome->yield_at_pull = outcome->at_pull.meat_mass / outcome->at_pull.initial_mass;
    size_t pull = sw_row_at(history, outcome->done_time), slice = sw_row_at(history, outcome->slice_time);
    outcome->top_film_share_at_pull = history->series[SW_SERIES_top_film_share][pull];
    outcome->top_state_at_pull = sw_surface_state_of(outcome->top_water_activity_at_pull, outcome->top_film_share_at_pull);
    find_stall(history, outcome);
    const double *lowest = history->series[SW_SERIES_lowest_temperature];
    const sw_course course = sw_course_of(history, INFINITY);
    outcome->highest_probe = sw_course_highest(&course);
    outcome->lowest_after_pull = lowest[pull];
    for (size_t row = pull; row <= slice; row++)
        outcome->lowest_after_pull = fmin(outcome->lowest_after_pull, lowest[row]);
    sw_evaluate_doneness(history, pull, outcome);
    sw_evaluate_probes(history, outcome);
    sw_evaluate_bark(history, outcome);
    sw_evaluate_servings(history, outcome);
    sw_evaluate_rest(history, pull, slice, outcome);
    sw_safety_evaluate(history, safety);
    outcome->unmet_rules = count_unmet_rules(safety);
    outcome->late = lateness(history);
    outcome->endless_phases = count_endless_phases(history);
    if (!sw_history_is_ready(history))
        clear_slicing(outcome);
}
