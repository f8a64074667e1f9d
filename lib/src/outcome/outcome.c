#include <stallwright/outcome.h>
#include <stallwright/safety.h>

#include "outcome_parts.h"

#include <math.h>
#include <string.h>

const char *sw_surface_state_name(sw_surface_state state)
{
    static const char *const names[] = {"dry", "firm", "tacky", "wet"};
    return state >= SW_SURFACE_DRY && state <= SW_SURFACE_WET ? names[state] : "unknown state";
}

sw_surface_state sw_surface_state_of(double water_activity)
{
    if (water_activity < 0.75)
        return SW_SURFACE_DRY;
    if (water_activity < 0.90)
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

/* Time between two rows at which a value that runs straight from one to the other crosses a level. */
static double crossing(double t0, double v0, double t1, double v1, double level)
{
    return v1 == v0 ? t0 : t0 + (t1 - t0) * (level - v0) / (v1 - v0);
}

/* A spell of rows in which the probe is between the stall's temperatures and heats slower than its rate. */
typedef struct spell {
    double start, end;
    size_t first_row, last_row;
} spell;

static bool is_slow(const sw_history *h, const sw_stall_definition *d, size_t row)
{
    double probe = h->series[SW_SERIES_probe_temperature][row];
    return probe >= d->above && probe < d->below && h->series[SW_SERIES_probe_heating_rate][row] < d->rate;
}

/* The moment between two rows at which slowness begins (when the last condition comes true) or ends (when the first one
 * fails). */
static double edge(const sw_history *h, const sw_stall_definition *d, size_t row, bool begins)
{
    const double *t = h->series[SW_SERIES_time] + row;
    const double *probe = h->series[SW_SERIES_probe_temperature] + row;
    const double *rate = h->series[SW_SERIES_probe_heating_rate] + row;
    double moment = begins ? t[0] : t[1];
    const double *value[] = {probe, probe, rate}, level[] = {d->above, d->below, d->rate};
    for (int i = 0; i < 3; i++)
        if ((value[i][0] < level[i]) != (value[i][1] < level[i])) {
            double at = crossing(t[0], value[i][0], t[1], value[i][1], level[i]);
            moment = begins ? fmax(moment, at) : fmin(moment, at);
        }
    return moment;
}

/* Finds the next spell from a row on, among the rows before a limit; returns false when there is none. */
static bool next_spell(const sw_history *h, const sw_stall_definition *d, size_t from, size_t limit, spell *s)
{
    size_t row = from;
    while (row < limit && !is_slow(h, d, row))
        row++;
    if (row >= limit)
        return false;
    s->first_row = row;
    s->start = row > 0 ? edge(h, d, row - 1, true) : h->series[SW_SERIES_time][row];
    while (row + 1 < limit && is_slow(h, d, row + 1))
        row++;
    s->last_row = row;
    s->end = row + 1 < limit ? edge(h, d, row, false) : h->series[SW_SERIES_time][row];
    return true;
}

/* Probe temperature at a time between a row and the one before it. */
static double probe_at(const sw_history *h, size_t row, double time)
{
    const double *t = h->series[SW_SERIES_time], *probe = h->series[SW_SERIES_probe_temperature];
    if (row == 0)
        return probe[0];
    double share = (time - t[row - 1]) / (t[row] - t[row - 1]);
    return probe[row - 1] + share * (probe[row] - probe[row - 1]);
}

static void describe_stall(const sw_history *h, const spell *s, double highest_before, sw_outcome *o)
{
    const double *probe = h->series[SW_SERIES_probe_temperature];
    const double *rate = h->series[SW_SERIES_probe_heating_rate];
    double highest = highest_before;
    o->stall_start = s->start;
    o->stall_end = s->end;
    o->stall_length = s->end - s->start;
    o->stall_probe = probe_at(h, s->first_row, s->start);
    o->stall_depth = 0.0;
    o->stall_slowest_rate = rate[s->first_row];
    for (size_t row = s->first_row; row <= s->last_row; row++) {
        highest = fmax(highest, probe[row]);
        o->stall_depth = fmax(o->stall_depth, highest - probe[row]);
        o->stall_slowest_rate = fmin(o->stall_slowest_rate, rate[row]);
    }
}

static void find_stall(const sw_history *h, size_t limit, sw_outcome *o)
{
    const sw_stall_definition *d = &h->scenario.stall;
    const double *probe = h->series[SW_SERIES_probe_temperature];
    spell s;
    for (size_t row = 0; next_spell(h, d, row, limit, &s); row = s.last_row + 1) {
        if (s.end - s.start < d->duration)
            continue;
        double highest = probe[0];
        for (size_t i = 0; i < s.first_row; i++)
            highest = fmax(highest, probe[i]);
        describe_stall(h, &s, highest, o);
        return;
    }
}

/* The last row of the phases that end at a time: the pull, or slicing. */
static size_t row_of(const sw_history *h, double time)
{
    size_t row = h->row_count - 1;
    while (row > 0 && h->series[SW_SERIES_time][row] > time)
        row--;
    return row;
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
        count += h->missing[i].reason != SW_MISSING_HOUR_PASSED;
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

static double count_unmet_rules(const sw_history *history)
{
    sw_safety safety;
    double unmet = 0.0;
    sw_safety_evaluate(history, &safety);
    for (int i = 0; i < SW_SAFETY_RULE_COUNT; i++)
        unmet += safety.findings[i].verdict == SW_VERDICT_NOT_MET;
    return unmet;
}

void sw_outcome_evaluate(const sw_history *history, sw_outcome *outcome)
{
    clear(outcome);
    outcome->at_end = history->budget;
    read_phases(history, outcome);
    outcome->yield_fraction = outcome->at_end.meat_mass / outcome->at_end.initial_mass;
    outcome->yield_at_pull = outcome->at_pull.meat_mass / outcome->at_pull.initial_mass;
    outcome->top_state_at_pull = sw_surface_state_of(outcome->top_water_activity_at_pull);
    size_t pull = row_of(history, outcome->done_time), slice = row_of(history, outcome->slice_time);
    find_stall(history, pull + 1, outcome);
    const double *probe = history->series[SW_SERIES_probe_temperature];
    const double *lowest = history->series[SW_SERIES_lowest_temperature];
    outcome->highest_probe = probe[0];
    for (size_t row = 0; row < history->row_count; row++)
        outcome->highest_probe = fmax(outcome->highest_probe, probe[row]);
    outcome->lowest_after_pull = lowest[pull];
    for (size_t row = pull; row <= slice; row++)
        outcome->lowest_after_pull = fmin(outcome->lowest_after_pull, lowest[row]);
    sw_evaluate_doneness(history, pull, outcome);
    sw_evaluate_bark(history, outcome);
    sw_evaluate_servings(history, outcome);
    sw_evaluate_rest(history, pull, slice, outcome);
    outcome->unmet_rules = count_unmet_rules(history);
    outcome->late = lateness(history);
    outcome->endless_phases = count_endless_phases(history);
    if (!sw_history_is_ready(history))
        clear_slicing(outcome);
}
