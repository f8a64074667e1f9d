/* SPDX-License-Identifier: BSD-3-Clause */
#include "plan_view.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double five_minutes = 300.0;

sw_odds plan_in_time(const plan_view *v, double lead)
{
    return sw_odds_in_time(v->plan->ready, v->plan->draws, v->plan->stated.serving.hold_at_least, lead);
}

sw_odds plan_held_too_long(const plan_view *v, double lead)
{
    return sw_odds_held_too_long(v->plan->ready, v->plan->draws, v->plan->stated.serving.hold_at_most, lead);
}

static plan_row *add_set(plan_row *rows, size_t *count, const char *key, const char *what, double before)
{
    plan_row *row = &rows[(*count)++];
    row->key = key;
    row->piece = NULL;
    snprintf(row->what, sizeof row->what, "%s", what);
    row->first = row->middle = row->last = before;
    row->draws = 0;
    prose_clear(&row->look);
    return row;
}

static plan_row *add_window(const plan_view *v, plan_row *rows, size_t *count, sw_plan_event event)
{
    const sw_plan_window *w = &v->plan->windows[event];
    const double lead = v->plan->starts.recommended;
    if (w->draws == 0)
        return NULL;
    plan_row *row = add_set(rows, count, sw_plan_event_name(event), sw_plan_event_long_name(event), 0.0);
    row->draws = w->draws;
    row->first = five_minutes * ceil((lead - w->low) / five_minutes);
    row->middle = five_minutes * round((lead - w->middle) / five_minutes);
    row->last = five_minutes * floor((lead - w->high) / five_minutes);
    return row;
}

/* What ends a phase, as a cook looks for it. */
static void say_ending(prose *p, sw_ending ending, double bark_set)
{
    switch (ending.kind) {
    case SW_ENDING_PROBE_TEMPERATURE:
        prose_add(p, "the probe reads {temperature}", ending.value);
        break;
    case SW_ENDING_BARK:
        prose_add(p, "the bark is set: the top is dry and does not come off on a finger (water activity {number})", bark_set);
        break;
    default:
        prose_add(p, "it is time, whatever the probe reads");
        break;
    }
}

static void say_change(plan_row *row, const char *what, const sw_plan *plan, sw_ending when)
{
    if (!row)
        return;
    prose_add(&row->look, "{text} when ", what);
    say_ending(&row->look, when, plan->stated.wrap.bark_set);
    prose_add(&row->look, ". The reading decides, not the clock.");
}

static void add_stall(const plan_view *v, plan_row *rows, size_t *count)
{
    plan_row *row = add_window(v, rows, count, SW_PLAN_EVENT_stall_start);
    if (row)
        prose_add(&row->look, "The probe hardly climbs, though the pit is as hot as ever. That is normal. Leave the lid shut.");
    row = add_window(v, rows, count, SW_PLAN_EVENT_stall_end);
    if (row)
        prose_add(&row->look, "The probe climbs again by itself.");
}

static void add_on_the_pit(const plan_view *v, plan_row *rows, size_t *count)
{
    const sw_plan *plan = v->plan;
    const sw_scenario *s = &plan->stated;
    char wrap[80];
    snprintf(wrap, sizeof wrap, "Wrap (%s)", sw_wrap_name(s->wrap.kind));
    say_change(add_window(v, rows, count, SW_PLAN_EVENT_wrap), wrap, plan, s->wrap.when);
    snprintf(wrap, sizeof wrap, s->rewrap.kind == SW_WRAP_NONE ? "Take the wrap off" : "Change the wrap to %s", sw_wrap_name(s->rewrap.kind));
    say_change(add_window(v, rows, count, SW_PLAN_EVENT_rewrap), wrap, plan, s->rewrap.when);
    plan_row *pull = add_window(v, rows, count, SW_PLAN_EVENT_pull);
    if (pull) {
        prose_add(&pull->look, "Take it off when ");
        say_ending(&pull->look, s->pull, s->wrap.bark_set);
        prose_add(&pull->look, ". A skewer should go in with hardly a push.");
    }
}

static void add_after(const plan_view *v, plan_row *rows, size_t *count)
{
    const sw_scenario *s = &v->plan->stated;
    plan_row *ready = add_window(v, rows, count, SW_PLAN_EVENT_ready);
    if (ready) {
        if (s->hold.kind == SW_PLACE_COOLING_PIT)
            prose_add(&ready->look, "Into the hold: back into the pit, its fire out and its vents shut.");
        else
            prose_add(&ready->look, "Into the hold: {text} at {temperature}, heated beforehand.",
                      s->hold.kind == SW_PLACE_BOX ? "the insulated box" : "the warm place", s->hold.temperature);
        prose_add(&ready->look, " A probe in the meat must never read less than ");
        prose_add(&ready->look, "{temperature}.", ceil(10.0 * (sw_hot_holding_limit() - 273.15)) / 10.0 + 273.15);
    }
    plan_row *slice = add_set(rows, count, "serve", "slice and serve", 0.0);
    prose_add(&slice->look, "Slice across the grain, only as much as is eaten at once.");
}

static double set_before(const plan_row *row)
{
    return row->middle;
}

/* In the order of the clock, by the middles. */
static void sort_rows(plan_row *rows, size_t count)
{
    static plan_row kept;
    for (size_t i = 1; i < count; i++)
        for (size_t k = i; k > 0 && set_before(&rows[k]) > set_before(&rows[k - 1]); k--) {
            kept = rows[k];
            rows[k] = rows[k - 1];
            rows[k - 1] = kept;
        }
}

static size_t fill_rows(const plan_view *v, plan_row *rows)
{
    const sw_plan *plan = v->plan;
    const sw_scenario *s = &plan->stated;
    const double lead = plan->starts.recommended;
    size_t count = 0;
    plan_row *row = add_set(rows, &count, "fire", "light the fire", lead + s->pit.heat_up);
    prose_add(&row->look, "Bring the pit to {temperature}; wait until it holds and the smoke is thin.", s->pit.steps[0].temperature);
    row = add_set(rows, &count, "meat_on", "put the meat on", lead);
    prose_add(&row->look, "From the refrigerator onto the pit; the probe into the middle of the thickest part.");
    if (s->spritz.amount > 0.0) {
        row = add_set(rows, &count, "spritz", "begin to spray", lead - s->spritz.from);
        prose_add(&row->look, "Then every {duration}, until it is wrapped.", s->spritz.every);
    }
    add_stall(v, rows, &count);
    add_on_the_pit(v, rows, &count);
    add_after(v, rows, &count);
    return count;
}

/* Says whose a row is; of the fires and servings of several pieces the first stands for all. Returns how many are left. */
static size_t name_piece(const plan_view *v, plan_row *rows, size_t count, plan_row *fire)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        const bool is_fire = strcmp(rows[i].key, "fire") == 0, is_serving = strcmp(rows[i].key, "serve") == 0;
        if (is_fire && fire && rows[i].middle > fire->middle)
            fire->first = fire->middle = fire->last = rows[i].middle;
        if (fire && (is_fire || is_serving))
            continue;
        if (!is_fire && !is_serving) {
            char what[sizeof rows[i].what];
            memcpy(what, rows[i].what, sizeof what);
            snprintf(rows[i].what, sizeof rows[i].what, "%.*s: %.44s", PIECE_LABEL_SIZE - 1, v->label, what);
            rows[i].piece = v->label;
        }
        if (kept != i)
            rows[kept] = rows[i];
        kept++;
    }
    return kept;
}

const plan_row *plan_timetable(const plan_view *views, size_t pieces, size_t *count)
{
    static plan_row rows[SW_PLAN_PIECES_MAX * PLAN_ROWS_MAX];
    *count = 0;
    for (size_t k = 0; k < pieces; k++) {
        const size_t more = fill_rows(&views[k], rows + *count);
        *count += views[k].label ? name_piece(&views[k], rows + *count, more, k > 0 ? &rows[0] : NULL) : more;
    }
    sort_rows(rows, *count);
    return rows;
}
