/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook under way as JSON; the keys are documented in docs/reference/json-output.md. */
#ifndef SW_APPS_JSON_TRACK_H
#define SW_APPS_JSON_TRACK_H

#include "track_words.h"

#include <jansson.h>

/* Its parts that a page draws: every so many readings, the likeliest cook, the band from now on. */
json_t *json_track_readings(const sw_readings *readings, size_t step);
json_t *json_track_fitted(const sw_track *track);
json_t *json_track_fan(const sw_track *track);
json_t *json_track(const track_input *input, const sw_track *track);

/* Prints it; an exit status. */
int json_track_print(const track_input *input, const sw_track *track);


#endif
