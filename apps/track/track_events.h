/* SPDX-License-Identifier: BSD-3-Clause */
/* What was done during a cook under way, put into its scenario. */
#ifndef SW_APPS_TRACK_EVENTS_H
#define SW_APPS_TRACK_EVENTS_H

#include "track_input.h"

/* Reads "6h10m=paper" or "04:10=155F": a time after the meat went on, or of the clock, and what stands behind the equals sign
 * (96 bytes; NULL: there is none). Prints the reason if it cannot; an exit status. */
int track_split(session *session, const char *option, const char *text, double *time, char *value);

/* Wraps, the pit, spritzes and the lid, by options and by the log's column of events; prints the reason if it cannot. An exit status. */
int track_take_events(session *session, const track_options *options, track_input *input);

#endif
