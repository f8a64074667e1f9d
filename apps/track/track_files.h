/* SPDX-License-Identifier: BSD-3-Clause */
/* What track writes besides tables, pictures and pages: results with the ensemble, and what is learned of the pit. */
#ifndef SW_APPS_TRACK_FILES_H
#define SW_APPS_TRACK_FILES_H

#include "track_input.h"

/* Whether what is to be learned can be: the file, if it is there, is read; prints the reason if not. An exit status. */
int track_learn_check(session *session, const track_options *options, sw_pit_learned *learned);

/* Writes the files that are asked for. Both print the reason if they cannot; an exit status. */
int track_write_results(session *session, const track_options *options, const track_input *input, const sw_track *track);
int track_learn(session *session, const track_options *options, const track_input *input, const sw_track *track);

#endif
