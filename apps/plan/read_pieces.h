/* SPDX-License-Identifier: BSD-3-Clause */
/* The pieces of --pieces: scenario files, of which the meat and what is done with it count; the pit, the hold and the serving are those
 * of the scenario of the plan. */
#ifndef SW_APPS_READ_PIECES_H
#define SW_APPS_READ_PIECES_H

#include "plan_view.h"
#include "scenario_option.h"

typedef struct plan_pieces {
    size_t count; /* 0: --pieces was not given */
    sw_scenario scenarios[SW_PLAN_PIECES_MAX];
    char labels[SW_PLAN_PIECES_MAX][PIECE_LABEL_SIZE];
} plan_pieces;

/* Whether a key is said by each piece and not by the scenario of the plan. */
bool is_key_of_piece(const sw_scenario_key *key);

/* Reads them: files with commas between. Notes what is left aside or changes nothing. Prints the reason if it fails; returns an exit
 * status. The places of keys in the session's scenario are forgotten. */
int read_pieces(session *session, const command_options *options, const char *list, plan_pieces *pieces);

#endif
