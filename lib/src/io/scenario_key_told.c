/* SPDX-License-Identifier: BSD-3-Clause */
/* What a key may hold and what it holds, in words, for others than the writer of files. */
#include <stallwright/scenario_file.h>

#include "scenario_entry.h"

_Static_assert((int)SW_KEY_TOLD_SIZE >= (int)SW_KEY_ALLOWED_SIZE && (int)SW_KEY_TOLD_SIZE >= (int)SW_ENTRY_TEXT_SIZE,
               "what is told of a key fits");

sw_status sw_scenario_key_tell_allowed(sw_context *context, sw_scenario_reader *reader, const sw_scenario_key *key,
                                       sw_unit_system units, char *text)
{
    locale_t before = uselocale(reader->plain_locale);
    const sw_status status = sw_scenario_key_allowed(context, reader->units, key, units, text);
    uselocale(before);
    return status;
}

sw_status sw_scenario_key_tell_value(sw_context *context, sw_scenario_reader *reader, const sw_scenario_key *key,
                                     const sw_scenario *scenario, sw_unit_system units, char *text)
{
    if (sw_scenario_key_is_list(key, scenario))
        return sw_fail(context, SW_ERR_ARGUMENT, "%s holds a list and is not one value", key->name);
    locale_t before = uselocale(reader->plain_locale);
    const sw_status status = sw_entry_write(context, reader->units, key, units, scenario, text);
    uselocale(before);
    return status;
}
