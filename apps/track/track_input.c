/* SPDX-License-Identifier: BSD-3-Clause */
#include "track_input.h"

#include "happened.h"
#include "track_events.h"

#include "processors.h"
#include "progress.h"
#include "quantity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Draws that an update takes: of the cook as planned, and of each other choice. Choices: docs/theory/tracking.md. */
enum { DRAWS = 200, CHOICE_DRAWS = 50, SEED = 1 };
static const double day = 86400.0;
static const double late_clock = 18.0 * 3600.0; /* after which a time of day may be meant otherwise; a choice [s] */

static bool is_cancelled(void *data)
{
    (void)data;
    return was_interrupted();
}

static int read_log(session *s, const track_options *o, track_input *in)
{
    sw_scenario_reader *reader = session_reader(s);
    const sw_cook_log_form form = {
        .path = o->log_path, .columns = o->columns, .units = o->shared.units, .leaves_last_line = o->follow};
    if (!reader)
        return EXIT_FAILED;
    const sw_status status = sw_cook_log_read(s->context, reader, &form, &in->log);
    if (status == SW_ERR_FILE) {
        report(s, status);
        return EXIT_BAD_USE;
    }
    in->has_log = status == SW_OK;
    return status == SW_OK ? EXIT_DONE : report(s, status);
}

/* --on: by the clock of the log or of the wall, or elapsed. */
static int read_on(session *s, const track_options *o, track_input *in)
{
    double value = 0.0;
    const bool is_clock = o->on && strchr(o->on, ':');
    if (o->on) {
        const sw_status status =
            is_clock ? sw_read_value(s->context, session_reader(s), "--on", o->on, SW_QUANTITY_CLOCK, 0.0, day, &value)
                     : sw_read_value(s->context, session_reader(s), "--on", o->on, SW_QUANTITY_DURATION, 0.0, SW_LONGEST_PHASE, &value);
        if (status != SW_OK)
            return report(s, status);
    }
    if (is_clock)
        s->scenario.start_clock = value;
    if (!in->has_log)
        return EXIT_DONE;
    if (is_clock && in->log.by_clock) {
        in->on = fmod(value - in->log.first_clock + day, day);
        in->on -= in->on > 0.5 * day ? day : 0.0;
    } else if (o->on && !is_clock) {
        in->on = value - (in->log.by_clock ? 0.0 : in->log.first_clock);
    } else if (in->log.row_count > 0) {
        char when[QUANTITY_SIZE];
        in->on = in->log.start;
        show_duration(in->on, when);
        prose_add(track_note(in), "The meat went on {text}{text} the log's first row: {text}. If that is wrong, give --on.",
                  in->on > 0.0 ? when : "with", in->on > 0.0 ? " after" : "", in->log.start_sentence);
    }
    if (in->log.by_clock && in->log.row_count > 0)
        s->scenario.start_clock = fmod(in->log.first_clock + in->on + 2.0 * day, day);
    return EXIT_DONE;
}

/* A time of day is the next one after the meat went on: what was meant to be before it is then most of a day later. */
static void note_late_clock(const session *s, track_input *in, const char *text, double time)
{
    char clock[QUANTITY_SIZE];
    if (strcspn(text, ":") < strcspn(text, "=") && time > late_clock)
        prose_add(track_note(in), "{text} is taken as {duration} after the meat went on at {text}.", text, time, show_clock(s->scenario.start_clock, 0.0, clock));
}

static int take_hand_readings(session *s, const track_options *o, track_input *in)
{
    for (size_t i = 0; i < o->readings.count; i++) {
        sw_reading reading = {0};
        char value[96];
        const int status = track_split(s, "--reading", o->readings.texts[i], &reading.time, value);
        if (status != EXIT_DONE)
            return status;
        const sw_status read = sw_read_value(s->context, session_reader(s), "--reading", value, SW_QUANTITY_TEMPERATURE, 250.0, 423.15,
                                             &reading.temperature);
        if (read != SW_OK)
            return report(s, read);
        in->list[in->question.readings.count++] = reading;
        note_late_clock(s, in, o->readings.texts[i], reading.time);
        in->question.now = fmax(in->question.now, reading.time);
    }
    return EXIT_DONE;
}

/* When the meat is to come off: the hour it is served, less the rest that the scenario plans by time. */
static int read_serve(session *s, const track_options *o, track_input *in)
{
    const sw_scenario *sc = &s->scenario;
    double serve = SW_ABSENT;
    if (o->serve) {
        double clock;
        const sw_status status = sw_read_value(s->context, session_reader(s), "--serve", o->serve, SW_QUANTITY_CLOCK, 0.0, day, &clock);
        if (status != SW_OK)
            return report(s, status);
        serve = fmod(clock - sc->start_clock + day, day);
        serve += serve < in->question.now ? day : 0.0;
    } else if (isfinite(sw_ending_clock_time(sc->start_clock, sc->hold.until))) {
        serve = sw_ending_clock_time(sc->start_clock, sc->hold.until);
    }
    track_set_serving(sc, serve, in);
    return EXIT_DONE;
}

static int take_log_readings(const session *s, const track_options *o, track_input *in)
{
    const sw_status status = track_add_log_readings(s->context, in, o->readings.count);
    return status == SW_OK ? EXIT_DONE : report(s, status);
}

static int read_all(session *s, const track_options *o, track_input *in)
{
    int status = o->log_path ? read_log(s, o, in) : EXIT_DONE;
    if (status == EXIT_DONE)
        status = read_on(s, o, in);
    if (status == EXIT_DONE)
        status = take_log_readings(s, o, in);
    if (status == EXIT_DONE)
        status = take_hand_readings(s, o, in);
    if (status == EXIT_DONE)
        status = track_take_events(s, o, in);
    if (status == EXIT_DONE)
        status = read_serve(s, o, in);
    return status;
}

int track_input_read(session *s, const track_options *o, track_input *in)
{
    track_input_begin(in);
    in->question = (sw_track_question){
        .serve = SW_ABSENT, .draws = DRAWS, .choice_draws = CHOICE_DRAWS, .threads = count_processors(), .seed = SEED, .is_cancelled = is_cancelled};
    const int status = read_all(s, o, in);
    if (status != EXIT_DONE)
        return status;
    const sw_status asked = track_set_question(s->context, &s->scenario, in);
    return asked == SW_OK ? EXIT_DONE : report(s, asked);
}
