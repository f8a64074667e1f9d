/* SPDX-License-Identifier: BSD-3-Clause */
#include "cooked.h"

#include <stallwright/scenario_keys.h>
#include <stallwright/setup_scenario.h>

#include <stdlib.h>
#include <string.h>

static sw_status no_memory(sw_context *context)
{
    return sw_fail(context, SW_ERR_MEMORY, "memory for a scenario could not be allocated");
}

sw_status sw_setup_create(sw_context *context, sw_setup **setup)
{
    sw_setup *created = calloc(1, sizeof *created);
    if (!created)
        return no_memory(context);
    sw_scenario_init(&created->scenario);
    *setup = created;
    return SW_OK;
}

sw_status sw_setup_clone(sw_context *context, const sw_setup *setup, sw_setup **clone)
{
    sw_setup *created = malloc(sizeof *created);
    if (!created)
        return no_memory(context);
    *created = *setup;
    *clone = created;
    return SW_OK;
}

void sw_setup_destroy(sw_setup *setup)
{
    free(setup);
}

size_t sw_setup_key_count(void)
{
    return sw_scenario_key_count();
}

const char *sw_setup_key_name(size_t number)
{
    return number < sw_scenario_key_count() ? sw_scenario_key_at(number)->name : NULL;
}

const char *sw_setup_key_meaning(const char *key)
{
    const sw_scenario_key *found = sw_scenario_key_find(key);
    return found ? found->meaning : NULL;
}

const char *sw_setup_key_unit(const char *key)
{
    const sw_scenario_key *found = sw_scenario_key_find(key);
    return found ? sw_quantity_si_unit(found->quantity) : NULL;
}

sw_status sw_setup_set_number(sw_context *context, sw_setup *setup, const char *key, double number)
{
    return sw_scenario_set_number(context, &setup->scenario, key, number);
}

sw_status sw_setup_number(sw_context *context, const sw_setup *setup, const char *key, double *number)
{
    const sw_scenario_key *found = sw_scenario_key_find(key);
    if (found && found->type == SW_KEY_VALUE && sw_scenario_key_is_usual(found, &setup->scenario))
        return sw_fail(context, SW_ERR_ARGUMENT, "%s is usual, which is no number", key);
    return sw_scenario_number(context, &setup->scenario, key, number);
}

/* A number that may be left open is so by a word. */
static bool is_open_number(const char *key)
{
    const sw_scenario_key *found = sw_scenario_key_find(key);
    return found && found->type == SW_KEY_VALUE && found->may_be_usual;
}

sw_status sw_setup_set_word(sw_context *context, sw_setup *setup, const char *key, const char *word)
{
    if (is_open_number(key) && strcmp(word, SW_USUAL_WORD) == 0)
        return sw_scenario_set_number(context, &setup->scenario, key, SW_USUAL);
    return sw_scenario_set_word(context, &setup->scenario, key, word);
}

sw_status sw_setup_word(sw_context *context, const sw_setup *setup, const char *key, const char **word)
{
    if (is_open_number(key) && sw_scenario_key_is_usual(sw_scenario_key_find(key), &setup->scenario)) {
        *word = SW_USUAL_WORD;
        return SW_OK;
    }
    return sw_scenario_word(context, &setup->scenario, key, word);
}

/* By sw_ending_kind. */
static const char *const ending_kinds[] = {"none", "temperature", "duration", "bark", "clock", "clock-on-day", "usual"};
enum { ENDING_KINDS = sizeof ending_kinds / sizeof *ending_kinds };
_Static_assert((int)ENDING_KINDS == (int)SW_ENDING_USUAL + 1, "each kind of ending has its word");

sw_status sw_setup_set_ending(sw_context *context, sw_setup *setup, const char *key, const char *kind, double value)
{
    for (int i = 0; i < ENDING_KINDS; i++)
        if (strcmp(kind, ending_kinds[i]) == 0)
            return sw_scenario_set_ending(context, &setup->scenario, key, (sw_ending){(sw_ending_kind)i, value});
    return sw_fail(context, SW_ERR_ARGUMENT,
                   "%s is to end by \"%.60s\"; allowed are none, temperature, duration, bark, clock, clock-on-day, usual", key, kind);
}

sw_status sw_setup_ending(sw_context *context, const sw_setup *setup, const char *key, const char **kind, double *value)
{
    sw_ending ending;
    const sw_status status = sw_scenario_ending(context, &setup->scenario, key, &ending);
    if (status != SW_OK)
        return status;
    *kind = ending_kinds[ending.kind];
    *value = ending.value;
    return SW_OK;
}

sw_status sw_setup_check(sw_context *context, const sw_setup *setup)
{
    return sw_scenario_check(context, &setup->scenario);
}

sw_scenario *sw_setup_scenario(sw_setup *setup)
{
    return &setup->scenario;
}
