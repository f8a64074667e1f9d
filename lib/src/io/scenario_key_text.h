/* SPDX-License-Identifier: BSD-3-Clause */
/* What is said of the keys of a scenario: names near a mistyped one, names in a group, allowed values. */
#ifndef SW_IO_SCENARIO_KEY_TEXT_H
#define SW_IO_SCENARIO_KEY_TEXT_H

#include "physical_value.h"

/* One line on a group, for comments. */
const char *sw_scenario_group_meaning(int group_number);

/* Writes the names directly below a group ("" is the whole scenario) as "name, shape, mass"; returns text. */
const char *sw_scenario_group_names(const char *group, char *text, size_t size);

/* Whether a key may hold a list. */
bool sw_scenario_key_may_be_list(const sw_scenario_key *key);

/* Whether the value of a key is written as a list. */
bool sw_scenario_key_is_list(const sw_scenario_key *key, const sw_scenario *scenario);

/* The key or group a mistyped name may have meant; NULL if none is near. */
const char *sw_scenario_key_near(const char *typed);

/* Writes what a key may hold: "0.2 to 30 kg", "one of slab, cylinder, sphere". */
enum { SW_KEY_ALLOWED_SIZE = 288 };
sw_status sw_scenario_key_allowed(sw_context *context, const sw_units *units, const sw_scenario_key *key,
                                  sw_unit_system system, char text[SW_KEY_ALLOWED_SIZE]);

#endif
