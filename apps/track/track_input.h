/* SPDX-License-Identifier: BSD-3-Clause */
/* What the command line and a log tell of a cook under way, as a question to the library. */
#ifndef SW_APPS_TRACK_INPUT_H
#define SW_APPS_TRACK_INPUT_H

#include "event_words.h"
#include "options.h"
#include "prose.h"
#include "scenario_option.h"

#include <stallwright/cook_log.h>

typedef struct track_options {
    command_options shared;
    const char *log_path, *columns, *on, *serve, *learn_path;
    text_list readings, wrapped, pit, spritzed, lid;
    bool follow;
    int argc; /* of the command line; not an option */
    char **argv;
} track_options;

enum { TRACK_EVENTS_MAX = 4 * OPTION_TEXTS_MAX + SW_LOG_EVENTS_MAX };
enum { TRACK_NOTES_MAX = 8 };

typedef struct track_input {
    sw_track_question question;
    sw_reading *list; /* those of the question */
    bool has_log;
    sw_cook_log log;
    bool has_controls; /* who asks has the controls of a page, not options */
    double on;        /* when the meat went on [s after the log's first row] */
    double serving;   /* when it is to be served [s]; SW_ABSENT: not told */
    double off;       /* when it came off the pit [s]; SW_ABSENT: it did not */
    double last;      /* as of when anything is known, once it came off [s] */
    size_t reading_count; /* of list: those of the question, then those after it came off */
    size_t event_count;
    track_event events[TRACK_EVENTS_MAX]; /* by time */
    double wrap_due;  /* since when the probe has read what the planned wrap waits for, with no word that it went on [s]; SW_ABSENT */
    double pit_read, pit_planned; /* the pit at the end of its log, and as planned then [K]; SW_ABSENT: no log of it */
    size_t note_count;
    prose notes[TRACK_NOTES_MAX]; /* what was assumed, a sentence each */
} track_input;

/* Reads everything; prints the reason if it cannot. Returns an exit status. Release in any case. */
int track_input_read(session *session, const track_options *options, track_input *input);
void track_input_free(track_input *input);

/* Judges all that was read, also after the meat came off. */
void track_judge(const track_input *input, const sw_track *track, sw_track_safety *safety);

/* A sentence to fill: what was assumed. Past the last there is room for, the last one anew. */
prose *track_note(track_input *input);

#endif
