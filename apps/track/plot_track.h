/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook under way as a picture: what was read, the likeliest cook, how cooks like it go on, and the choices. */
#ifndef SW_APPS_PLOT_TRACK_H
#define SW_APPS_PLOT_TRACK_H

#include "track_words.h"

/* Prints the reason if it fails; an exit status. */
int plot_track(const track_options *options, const track_input *input, const sw_track *track);

#endif
