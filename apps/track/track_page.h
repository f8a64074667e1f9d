/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook under way as a page. */
#ifndef SW_APPS_TRACK_PAGE_H
#define SW_APPS_TRACK_PAGE_H

#include "track_words.h"

/* Prints the reason if it fails; an exit status. */
int track_page_write(const track_options *options, const track_input *input, const sw_track *track);

#endif
