/* SPDX-License-Identifier: BSD-3-Clause */
/* Keys that were given and do nothing: somebody may believe that they do. */
#ifndef SW_APPS_IDLE_KEYS_H
#define SW_APPS_IDLE_KEYS_H

#include "scenario_option.h"

typedef struct idle_keys {
    bool counts[SW_SCENARIO_NAMES_MAX]; /* by the number of the key: in one of the cooks */
} idle_keys;

/* Takes note of what counts in a cook; begin with {{false}}. */
void idle_keys_see(idle_keys *keys, const sw_scenario *scenario);

/* Prints a note for each key that was set, or is in the file with a value other than its default, and counts in no cook. */
void idle_keys_note(const idle_keys *keys, const session *session, const command_options *options);

/* Both for one cook. */
void note_idle_keys(const session *session, const command_options *options);

#endif
