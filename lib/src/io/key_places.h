/* SPDX-License-Identifier: BSD-3-Clause */
/* Where the keys of a scenario were given, for sentences that name several of them. */
#ifndef SW_IO_KEY_PLACES_H
#define SW_IO_KEY_PLACES_H

#include "key_table.h"

#include <stallwright/scenario_file.h>

#include <stdbool.h>

typedef struct sw_key_places {
    char file[SW_TEXT_MAX * 2];
    int line[SW_SCENARIO_NAMES_MAX]; /* by the key's number; 0: not in the file */
    int column[SW_SCENARIO_NAMES_MAX];
    bool is_set[SW_SCENARIO_NAMES_MAX]; /* by --set, after the file */
} sw_key_places;

/* "--set", or "FILE:LINE:COLUMN"; "" if the key was not given. */
const char *sw_key_place_of(const sw_key_places *places, const sw_scenario_key *key, char place[SW_KEY_PLACE_SIZE]);

/* Tells the last sentence of the context again, with the place of the first key it names before it and those of the others behind
 * it. Returns status. */
sw_status sw_key_places_tell(sw_context *context, const sw_key_places *places, sw_status status);

#endif
