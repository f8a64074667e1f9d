/* SPDX-License-Identifier: BSD-3-Clause */
/* Whether a value is left to what is usual. */
#include "key_table.h"

#include <string.h>

bool sw_scenario_key_is_usual(const sw_scenario_key *key, const sw_scenario *scenario)
{
    const void *value = sw_key_value(key, scenario);
    switch (key->type) {
    case SW_KEY_TEXT:
        return key->may_be_usual && strcmp(value, SW_USUAL_WORD) == 0;
    case SW_KEY_VALUE:
        return key->may_be_usual && *(const double *)value == SW_USUAL;
    case SW_KEY_ENDING:
        return ((const sw_ending *)value)->kind == SW_ENDING_USUAL;
    default:
        return false;
    }
}
