/* SPDX-License-Identifier: BSD-3-Clause */
/* What was done during a cook, as people write it into a log. */
#ifndef SW_APPS_EVENT_WORDS_H
#define SW_APPS_EVENT_WORDS_H

#include <stallwright/scenario_file.h>

/* What was done, or will be. */
/* From TRACK_OFF on they tell that the meat is off the pit. */
typedef enum track_event_kind { TRACK_WRAPPED, TRACK_PIT_SET, TRACK_LID, TRACK_SPRITZED, TRACK_OFF, TRACK_HELD, TRACK_SLICED } track_event_kind;
typedef struct track_event {
    track_event_kind kind;
    double time;        /* after the meat went on [s] */
    sw_wrap_kind wrap;  /* TRACK_WRAPPED */
    double temperature; /* TRACK_PIT_SET [K] */
} track_event;

/* Reads what a row says, but for its time; false if it is not understood. "wrapped", with no word behind it, is the wrap that is planned. */
bool track_event_read(sw_context *context, sw_scenario_reader *reader, sw_wrap_kind planned, const char *text, track_event *event);

/* A wrap by its name, or as people call it; false if there is no such. */
bool track_event_wrap(const char *text, sw_wrap_kind *kind);

/* What the pit is set to.
 * @param where begins the sentence
 * @return what sw_read_value returns */
sw_status track_event_pit(sw_context *context, sw_scenario_reader *reader, const char *where, const char *text, double *kelvin);

#endif
