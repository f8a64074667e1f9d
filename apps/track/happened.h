/* SPDX-License-Identifier: BSD-3-Clause */
/* What happened so far during a cook, put into its scenario and into the question about it: the same for the program and for the page
 * that computes. Each returns SW_OK, or why not. */
#ifndef SW_APPS_HAPPENED_H
#define SW_APPS_HAPPENED_H

#include "track_input.h"

/* Nothing has happened yet. */
void track_input_begin(track_input *input);

/* Adds it at its place by time. */
sw_status track_add_event(sw_context *context, track_input *input, track_event event);

/* The first event that tells that the meat is off the pit; their number if there is none. */
size_t track_off_event(const track_input *input);

/* The readings of the log's probes from when the meat went on.
 * others: for how many more, which come after them, there is to be room */
sw_status track_add_log_readings(sw_context *context, track_input *input, size_t others);

/* Wraps, the lid, spritzes and the pit; after all events and readings. What was read after the meat came off is put aside. */
sw_status track_put_happened(sw_context *context, sw_scenario *scenario, track_input *input);

/* The pit as the log has it, else as planned and set by events. */
sw_status track_drive_pit(sw_context *context, sw_scenario *scenario, track_input *input);

/* Of the hour at which it is to be served [s after the meat went on; SW_ABSENT: not told] when it has to come off. */
void track_set_serving(const sw_scenario *scenario, double serving, track_input *input);

/* Asks of that scenario. */
sw_status track_set_question(sw_context *context, const sw_scenario *scenario, track_input *input);

#endif
