/* SPDX-License-Identifier: BSD-3-Clause */
#include "track_events.h"

#include "happened.h"

#include "quantity.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static const double day = 86400.0;

int track_split(session *s, const char *option, const char *text, double *time, char *value)
{
    char when[96];
    const char *equals = strchr(text, '=');
    const size_t length = equals ? (size_t)(equals - text) : strlen(text);
    if ((value && !equals) || length >= sizeof when || (equals && strlen(equals + 1) >= 96)) {
        print_error("%s: \"%s\" is not of the form %s", option, text, value ? "TIME=VALUE, such as 5h30m=149F or 04:10=155F" : "5h30m or 04:10");
        return EXIT_BAD_USE;
    }
    snprintf(when, sizeof when, "%.*s", (int)length, text);
    if (value)
        snprintf(value, 96, "%s", equals + 1);
    const bool is_clock = strchr(when, ':');
    const sw_status status = is_clock ? sw_read_value(s->context, session_reader(s), option, when, SW_QUANTITY_CLOCK, 0.0, day, time)
                                      : sw_read_value(s->context, session_reader(s), option, when, SW_QUANTITY_DURATION, 0.0,
                                                      SW_LONGEST_PHASE, time);
    if (status != SW_OK)
        return report(s, status);
    if (is_clock)
        *time = fmod(*time - s->scenario.start_clock + day, day);
    return EXIT_DONE;
}

static int report_if(const session *s, sw_status status)
{
    return status == SW_OK ? EXIT_DONE : report(s, status);
}

/* ---- a list of what was done, by options and by the log ---- */

static int read_wrap(const char *text, sw_wrap_kind *kind)
{
    static const char *const names[] = {"none", "paper", "open-tray", "closed-foil", "covered-pan"};
    if (track_event_wrap(text, kind))
        return EXIT_DONE;
    const char *near = sw_nearest_word(text, names, sizeof names / sizeof *names);
    print_error("--wrapped: \"%s\" is no wrap%s%s%s; paper, tray, foil, covered-pan and none are", text, near ? ", did you mean \"" : "",
                near ? near : "", near ? "\"?" : "");
    return EXIT_BAD_USE;
}

/* Options of one kind. */
static int take_options(session *s, track_input *in, const char *option, const text_list *texts, track_event_kind kind)
{
    const bool has_value = kind == TRACK_WRAPPED || kind == TRACK_PIT_SET;
    for (size_t i = 0; i < texts->count; i++) {
        char value[96] = "";
        track_event e = {.kind = kind};
        int status = track_split(s, option, texts->texts[i], &e.time, has_value ? value : NULL);
        if (status == EXIT_DONE && kind == TRACK_WRAPPED)
            status = read_wrap(value, &e.wrap);
        if (status == EXIT_DONE && kind == TRACK_PIT_SET) {
            const sw_status read = track_event_pit(s->context, session_reader(s), option, value, &e.temperature);
            status = read == SW_OK ? EXIT_DONE : report(s, read);
        }
        if (status == EXIT_DONE)
            status = report_if(s, track_add_event(s->context, in, e));
        if (status != EXIT_DONE)
            return status;
    }
    return EXIT_DONE;
}

static void doubt_event(sw_cook_log *log, const sw_log_event *said)
{
    if (log->doubt_count++ >= SW_LOG_DOUBTS_MAX)
        return;
    sw_log_doubt *d = &log->doubts[log->doubt_count - 1];
    d->line = said->line;
    snprintf(d->sentence, sizeof d->sentence, "the event \"%.60s\" is left out; wrapped paper, unwrapped, lid, spritzed, pit 135 C, meat on, "
             "off the pit, in the hold and sliced are understood", said->text);
}

/* What the command line says of wraps holds for all of them. */
static int take_log_events(session *s, const track_options *o, track_input *in)
{
    for (size_t i = 0; i < in->log.event_count; i++) {
        const sw_log_event *said = &in->log.events[i];
        track_event e = {.time = fmax(said->time - in->on, 0.0)};
        if (!track_event_read(s->context, session_reader(s), s->scenario.wrap.kind, said->text, &e)) {
            doubt_event(&in->log, said);
        } else if (e.kind != TRACK_WRAPPED || o->wrapped.count == 0) {
            const int status = report_if(s, track_add_event(s->context, in, e));
            if (status != EXIT_DONE)
                return status;
        }
    }
    return EXIT_DONE;
}

int track_take_events(session *s, const track_options *o, track_input *in)
{
    int status = take_options(s, in, "--wrapped", &o->wrapped, TRACK_WRAPPED);
    if (status == EXIT_DONE)
        status = take_options(s, in, "--pit", &o->pit, TRACK_PIT_SET);
    if (status == EXIT_DONE)
        status = take_options(s, in, "--lid", &o->lid, TRACK_LID);
    if (status == EXIT_DONE)
        status = take_options(s, in, "--spritzed", &o->spritzed, TRACK_SPRITZED);
    if (status == EXIT_DONE)
        status = take_log_events(s, o, in);
    return status == EXIT_DONE ? report_if(s, track_put_happened(s->context, &s->scenario, in)) : status;
}
