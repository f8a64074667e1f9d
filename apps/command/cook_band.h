/* SPDX-License-Identifier: BSD-3-Clause */
/* How far cooks like one that was run differ from it. */
#ifndef SW_APPS_COOK_BAND_H
#define SW_APPS_COOK_BAND_H

#include "progress.h"
#include "scenario_option.h"

/* Finds the bands of a cook, on all processors. Returns false if it has none: it failed, its pull waits for no temperature, or
 * --no-band is given; or if the draws fail, which is noted. */
bool cook_band_find(const sw_run *run, sw_context *context, progress *progress, const command_options *options, sw_band *band);

/* The same for several runs, up to SW_RANKED_MAX of them: found[i] tells whether bands[i] is there. */
void cook_bands_find(const sw_run *runs, size_t count, sw_context *context, progress *progress, const command_options *options,
                     bool *found, sw_band *bands);

/* "8 h 21 min to 12 h 38 min", or "8 h 21 min or more"; text: BAND_TEXT_SIZE. A dash for NULL. */
enum { BAND_TEXT_SIZE = 64 };
const char *show_done_band(const sw_band *band, char text[BAND_TEXT_SIZE]);

/* The same to quarters of an hour, the low end rounded down and the high end up: "8.25-12.75 h". */
const char *show_done_band_briefly(const sw_band *band, char text[BAND_TEXT_SIZE]);

#endif
