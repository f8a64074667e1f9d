/* SPDX-License-Identifier: BSD-3-Clause */
#include "idle_keys.h"

#include <string.h>

void idle_keys_see(idle_keys *keys, const sw_scenario *scenario)
{
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        keys->counts[i] = keys->counts[i] || sw_scenario_key_counts(sw_scenario_key_at(i), scenario);
}

void idle_keys_note(const idle_keys *keys, const session *s, const command_options *o)
{
    sw_scenario usual;
    sw_scenario_init(&usual);
    for (size_t i = 0; s->reader && i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        char text[SW_KEY_PLACE_SIZE], condition[SW_KEY_CONDITION_SIZE];
        const char *place = sw_scenario_key_place(s->reader, key, text);
        const bool is_set = strcmp(place, "--set") == 0;
        if (keys->counts[i] || !*place || (!is_set && sw_scenario_key_same(key, &s->scenario, &usual)))
            continue;
        print_note(o, "%s%s%s changes nothing; it counts if %s", place, is_set ? " " : ": ", key->name,
                   sw_scenario_key_condition(key, condition));
    }
}

void note_idle_keys(const session *s, const command_options *o)
{
    idle_keys keys = {{false}};
    idle_keys_see(&keys, &s->scenario);
    idle_keys_note(&keys, s, o);
}
