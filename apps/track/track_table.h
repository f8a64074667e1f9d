/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook under way on the terminal. */
#ifndef SW_APPS_TRACK_TABLE_H
#define SW_APPS_TRACK_TABLE_H

#include "track_words.h"

/* Prints everything; an exit status. */
int track_table_print(const track_input *input, const sw_track *track, sw_unit_system units);

/* One line, for those who follow: "23:30  65.2 C  done 09:10 +1 day (07:50 .. 10:40 +1 day)". Ends no line. */
void track_line_print(const track_input *input, const sw_track *track, sw_unit_system units);

#endif
