/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook under way, as JSON that the page's script reads. */
#ifndef SW_APPS_WEB_TRACK_H
#define SW_APPS_WEB_TRACK_H

#include <stallwright/everything.h>

#include <jansson.h>

/* What is known of it. */
typedef struct web_track_asked {
    const char *under_way; /* as web_under_way_read has it */
    double now, serving;   /* serving: SW_ABSENT: not told */
    size_t draws, choice_draws;
} web_track_asked;

/* "track", as the program has it (json_track), "says", its sentences: [what it is about, prose] each, and "notes", what was assumed. Once the
 * meat came off also "after", null before: the likeliest cook with its rest and hold as they were and are planned, as web_cook_json has it.
 * @param scenario as planned
 * @param told out
 * @return what web_under_way_read and sw_track_find return */
sw_status web_track_find(sw_context *context, const sw_scenario *scenario, const web_track_asked *asked, json_t **told);

/* Adds what it told of its pit to what its scenario has learned of it.
 * @param learned out; unchanged on error
 * @return what sw_track_find and sw_track_learn return */
sw_status web_track_learn(sw_context *context, const sw_scenario *scenario, const web_track_asked *asked, sw_pit_learned *learned);

#endif
