/* SPDX-License-Identifier: BSD-3-Clause */
/* What the library itself asks of the table of keys: where the value of a key stands in a scenario, and groups of keys. */
#ifndef SW_KEY_TABLE_H
#define SW_KEY_TABLE_H

#include "key_condition.h"

#include <stallwright/scenario_keys.h>

/* The field of a key, by its type: char[SW_TEXT_MAX], int (also of an enum), bool, double, sw_ending; of lists sw_pit or sw_meat. */
void *sw_key_field(const sw_scenario_key *key, sw_scenario *scenario);
const void *sw_key_value(const sw_scenario_key *key, const sw_scenario *scenario);

/* The value of a key as bytes, sw_key_size of them: any key's, also a list's. */
size_t sw_key_size(const sw_scenario_key *key);
void sw_key_pack(const sw_scenario_key *key, const sw_scenario *scenario, void *bytes);
void sw_key_unpack(const sw_scenario_key *key, const void *bytes, sw_scenario *scenario);

/* When a key counts; NULL: always. */
const sw_key_condition *sw_key_condition_of(const sw_scenario_key *key);

/* Sets the pit to one temperature [K]. */
void sw_pit_hold(sw_pit *pit, double temperature);

/* A mass is said in one of two ways: the one just given takes the place of the other. */
void sw_scenario_key_given(const sw_scenario_key *key, sw_scenario *scenario);

/* Number of a group that holds keys ("meat", "meat.composition"), below SW_SCENARIO_NAMES_MAX; -1 if there is none. */
int sw_scenario_group_number(const char *name);

/* A group of keys: its dotted name and one line on it, for comments. */
typedef struct sw_group_of_keys {
    const char *name;
    const char *meaning;
} sw_group_of_keys;

/* NULL past the last group. */
const sw_group_of_keys *sw_scenario_group_at(size_t number);

/* Limits of an ending that belongs to no key. */
sw_ending_limits sw_ending_limits_default(void);

#endif
