/* SPDX-License-Identifier: BSD-3-Clause */
#include "happened.h"

#include "quantity.h"

#include <math.h>
#include <stdlib.h>

/* What one round of spritzing brings where the scenario names none: a guess, 50 to 200 g. */
static const double usual_spritz = 0.1;

void track_input_begin(track_input *in)
{
    *in = (track_input){.serving = SW_ABSENT, .wrap_due = SW_ABSENT, .pit_read = SW_ABSENT, .pit_planned = SW_ABSENT, .off = SW_ABSENT};
}

sw_status track_add_event(sw_context *context, track_input *in, track_event event)
{
    if (in->event_count == TRACK_EVENTS_MAX)
        return sw_fail(context, SW_ERR_INPUT, "more than %d events are given; leave out some of the lid and of spritzing", (int)TRACK_EVENTS_MAX);
    size_t at = in->event_count++;
    for (; at > 0 && in->events[at - 1].time > event.time; at--)
        in->events[at] = in->events[at - 1];
    in->events[at] = event;
    return SW_OK;
}

sw_status track_add_log_readings(sw_context *context, track_input *in, size_t others)
{
    const sw_cook_log *log = &in->log;
    sw_readings *r = &in->question.readings;
    in->list = calloc(others + SW_TRACK_PROBES_MAX * log->row_count + 1, sizeof *in->list);
    if (!in->list)
        return sw_fail(context, SW_ERR_MEMORY, "memory for %zu readings could not be allocated", log->row_count);
    r->list = in->list;
    for (size_t k = 0; k < log->meat_count; k++) {
        snprintf(r->probe_names[k], sizeof r->probe_names[k], "%.31s", log->meat[k].name);
        for (size_t i = 0; i < log->row_count; i++)
            if (log->time[i] >= in->on && !SW_IS_ABSENT(log->meat[k].values[i]))
                in->list[r->count++] = (sw_reading){.time = log->time[i] - in->on, .temperature = log->meat[k].values[i], .probe = k};
    }
    if (log->row_count > 0)
        in->question.now = fmax(log->time[log->row_count - 1] - in->on, 0.0);
    return SW_OK;
}

/* Only what was told has happened: a wrap, and another or none after it. */
static sw_status put_wraps(sw_context *context, sw_scenario *sc, track_input *in)
{
    size_t count = 0;
    for (size_t i = 0; i < in->event_count; i++) {
        const track_event *e = &in->events[i];
        if (e->kind != TRACK_WRAPPED)
            continue;
        if (++count > 2)
            return sw_fail(context, SW_ERR_INPUT, "more than two wraps are given; a cook has one wrap and one change of it");
        if (count == 1) {
            sc->wrap.kind = e->wrap;
            sc->wrap.when = (sw_ending){SW_ENDING_DURATION, e->time};
        } else {
            sc->rewrap.kind = e->wrap;
            sc->rewrap.when = (sw_ending){SW_ENDING_DURATION, e->time};
        }
        in->question.now = fmax(in->question.now, e->time);
    }
    return SW_OK;
}

static bool has_opening(const sw_pit *pit, double time)
{
    for (size_t i = 0; i < pit->opening_count; i++)
        if (pit->openings[i] == time)
            return true;
    return false;
}

static sw_status put_openings(sw_context *context, sw_pit *pit, const track_input *in)
{
    for (size_t i = 0; i < in->event_count; i++) {
        const double time = in->events[i].time;
        if (in->events[i].kind != TRACK_LID || has_opening(pit, time))
            continue;
        if (pit->opening_count == SW_PIT_OPENINGS_MAX)
            return sw_fail(context, SW_ERR_INPUT, "the lid is opened more than %d times, those of the scenario included; leave out some",
                           SW_PIT_OPENINGS_MAX);
        size_t at = pit->opening_count++;
        for (; at > 0 && pit->openings[at - 1] > time; at--)
            pit->openings[at] = pit->openings[at - 1];
        pit->openings[at] = time;
    }
    return SW_OK;
}

static void put_spritzes(sw_spritz *spritz, track_input *in)
{
    double first = SW_ABSENT, last = 0.0, count = 0.0;
    for (size_t i = 0; i < in->event_count; i++)
        if (in->events[i].kind == TRACK_SPRITZED) {
            last = in->events[i].time;
            first = count++ > 0.0 ? first : last;
        }
    if (count == 0.0)
        return;
    spritz->amount = spritz->amount > 0.0 ? spritz->amount : usual_spritz;
    spritz->from = first;
    if (last > first)
        spritz->every = (last - first) / (count - 1.0);
    prose_add(track_note(in), "Spritzing is every {duration}, so far and from now on.", spritz->every);
}

size_t track_off_event(const track_input *in)
{
    size_t i = 0;
    while (i < in->event_count && in->events[i].kind < TRACK_OFF)
        i++;
    return i;
}

/* What was read or done from then on tells of rest and hold: those readings go behind the others, for the judge of food safety only. */
static void put_off(track_input *in)
{
    sw_readings *r = &in->question.readings;
    const size_t off = track_off_event(in);
    in->reading_count = r->count;
    if (off == in->event_count)
        return;
    in->off = in->events[off].time;
    in->event_count = off;
    in->last = fmax(in->question.now, in->off);
    in->question.now = in->off;
    for (size_t i = 0; i < r->count;) {
        const sw_reading x = in->list[i];
        if (x.time <= in->off) {
            i++;
        } else {
            in->list[i] = in->list[--r->count];
            in->list[r->count] = x;
        }
    }
    prose_add(track_note(in), "The meat came off {duration} after it went on: what was read later tells of rest and hold.", in->off);
}

sw_status track_put_happened(sw_context *context, sw_scenario *scenario, track_input *in)
{
    put_off(in);
    sw_status status = put_wraps(context, scenario, in);
    if (status == SW_OK)
        status = put_openings(context, &scenario->pit, in);
    if (status == SW_OK)
        put_spritzes(&scenario->spritz, in);
    return status == SW_OK ? track_drive_pit(context, scenario, in) : status;
}

void track_set_serving(const sw_scenario *sc, double serving, track_input *in)
{
    in->serving = serving;
    in->question.serve = SW_IS_ABSENT(serving) ? SW_ABSENT : serving - (sc->rest.until.kind == SW_ENDING_DURATION ? sc->rest.until.value : 0.0);
}

static bool has_wrap_event(const track_input *in)
{
    for (size_t i = 0; i < in->event_count; i++)
        if (in->events[i].kind == TRACK_WRAPPED)
            return true;
    return false;
}

sw_status track_set_question(sw_context *context, const sw_scenario *sc, track_input *in)
{
    in->question.scenario = *sc;
    in->wrap_due = sw_track_wrap_due(&in->question.readings, in->question.now, sc);
    if (sc->wrap.kind != SW_WRAP_NONE && !has_wrap_event(in) && sc->wrap.when.kind == SW_ENDING_DURATION && sc->wrap.when.value <= in->question.now) {
        char clock[QUANTITY_SIZE];
        prose_add(track_note(in), "The wrap went on at {text}, the hour that the scenario has for it. If that is wrong, give {text}.",
                  show_clock(sc->start_clock, sc->wrap.when.value, clock), in->has_controls ? "\"Wrapped in\"" : "--wrapped");
    }
    return sw_scenario_check(context, &in->question.scenario);
}

void track_judge(const track_input *in, const sw_track *track, sw_track_safety *safety)
{
    const sw_readings all = {.count = in->reading_count, .list = in->list};
    if (SW_IS_ABSENT(in->off)) {
        sw_track_judge(&all, track->deciding, track->now, safety);
        return;
    }
    /* Meat that came off hot had come up by then, however it cooled later; what came off before that is still under way. */
    sw_track_safety until_off;
    sw_track_judge(&all, track->deciding, in->last, safety);
    sw_track_judge(&in->question.readings, track->deciding, in->off, &until_off);
    if (until_off.is_through) {
        until_off.fall_back = safety->fall_back;
        until_off.lowest_after = safety->lowest_after;
        *safety = until_off;
    }
}

void track_input_free(track_input *in)
{
    sw_cook_log_free(&in->log);
    free(in->list);
    in->list = NULL;
}
