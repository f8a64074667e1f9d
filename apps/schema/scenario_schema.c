/* SPDX-License-Identifier: BSD-3-Clause */
/* Scenario files as a JSON Schema: groups and keys from the table, what each may hold in words and, as far as a schema can say it, as a
 * rule. Ranges of values with units stand in the words alone, since a schema converts no units. */
#include "schema.h"

#include "json_output.h"
#include "scenario_option.h"

#include <string.h>

/* A number, and what stands for one in parts: "14 lb 6 oz". */
#define NUMBER "[-+]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][-+]?[0-9]+)?"
#define WITH_UNIT "^ *" NUMBER " *[A-Za-z]"
#define CLOCK "^ *[0-2]?[0-9]:[0-5][0-9]"

static json_t *text_like(const char *pattern)
{
    return json_pack("{s:s,s:s}", "type", "string", "pattern", pattern);
}

static json_t *any_of(json_t *one, json_t *other)
{
    return json_pack("{s:[o,o]}", "anyOf", one, other);
}

static json_t *words_of(const sw_scenario_key *key)
{
    json_t *words = json_array();
    for (int i = 0; i < key->choice_count; i++)
        json_array_append_new(words, json_string(key->choice_name(i)));
    return json_pack("{s:o}", "enum", words);
}

/* A number of its own: bare, or as text with a unit such as %. */
static json_t *number_of(const sw_scenario_key *key)
{
    return any_of(json_pack("{s:s,s:f,s:f}", "type", "number", "minimum", key->range.minimum, "maximum", key->range.maximum),
                  text_like("^ *" NUMBER " *[A-Za-z%]"));
}

static json_t *value_of(const sw_scenario_key *key)
{
    const bool is_bare = key->quantity == SW_QUANTITY_NUMBER || key->quantity == SW_QUANTITY_HUMIDITY_RATIO;
    json_t *value = key->quantity == SW_QUANTITY_CLOCK ? text_like(CLOCK) : is_bare ? number_of(key) : text_like(WITH_UNIT);
    return key->may_be_usual ? any_of(json_pack("{s:s}", "const", SW_USUAL_WORD), value) : value;
}

static json_t *ending_of(const sw_scenario_key *key)
{
    json_t *words = json_array();
    if (key->ending.may_be_none)
        json_array_append_new(words, json_string("none"));
    if (key->ending.may_be_bark)
        json_array_append_new(words, json_string("bark"));
    if (key->ending.may_be_usual)
        json_array_append_new(words, json_string(SW_USUAL_WORD));
    json_t *moment = any_of(text_like(WITH_UNIT), text_like(CLOCK));
    if (json_array_size(words) > 0)
        return any_of(json_pack("{s:o}", "enum", words), moment);
    json_decref(words);
    return moment;
}

/* A list of entries with parts; the last may be left out if it is a switch. */
static json_t *list_of(json_t *parts, json_t *required, int least, int most)
{
    return json_pack("{s:s,s:i,s:i,s:{s:s,s:o,s:o,s:b}}", "type", "array", "minItems", least, "maxItems", most, "items", "type", "object",
                     "properties", parts, "required", required, "additionalProperties", 0);
}

static json_t *switch_rule(void)
{
    return json_pack("{s:[b,b,s,s,s,s]}", "enum", 1, 0, "yes", "no", "true", "false");
}

static json_t *list_or_file(const char *first, json_t *list)
{
    return json_pack("{s:[o,o,o]}", "anyOf", text_like(first), text_like("\\.csv$"), list);
}

static json_t *schedule_rule(void)
{
    json_t *parts = json_pack("{s:o,s:o,s:o}", "from", text_like(WITH_UNIT), "temperature", text_like(WITH_UNIT), "ramp", switch_rule());
    return list_or_file(WITH_UNIT, list_of(parts, json_pack("[s,s]", "from", "temperature"), 1, SW_PIT_STEPS_MAX));
}

static json_t *times_rule(void)
{
    json_t *list = json_pack("{s:s,s:i,s:o}", "type", "array", "maxItems", SW_PIT_OPENINGS_MAX, "items", text_like(WITH_UNIT));
    return list_or_file("^none$|" WITH_UNIT, list);
}

static json_t *outline_rule(void)
{
    json_t *parts = json_pack("{s:o,s:o}", "x", text_like(WITH_UNIT), "y", text_like(WITH_UNIT));
    return list_or_file("^none$", list_of(parts, json_pack("[s,s]", "x", "y"), 4, SW_OUTLINE_MAX + 1));
}

static json_t *probes_rule(void)
{
    json_t *parts = json_pack("{s:{s:s,s:i,s:i},s:o,s:o}", "name", "type", "string", "minLength", 1, "maxLength", 31, "along",
                              text_like(WITH_UNIT), "up", text_like(WITH_UNIT));
    return any_of(json_pack("{s:s}", "const", SW_USUAL_WORD), list_of(parts, json_pack("[s,s,s]", "name", "along", "up"), 1, SW_PROBES_MAX));
}

static json_t *rule_of(const sw_scenario_key *key)
{
    switch (key->type) {
    case SW_KEY_TEXT:
        return json_pack("{s:[s,s],s:i}", "type", "string", "number", "maxLength", SW_TEXT_MAX - 1);
    case SW_KEY_CHOICE:
        return words_of(key);
    case SW_KEY_SWITCH:
        return switch_rule();
    case SW_KEY_WHOLE:
        return json_pack("{s:s,s:f,s:f}", "type", "integer", "minimum", key->range.minimum, "maximum", key->range.maximum);
    case SW_KEY_VALUE:
        return value_of(key);
    case SW_KEY_ENDING:
        return ending_of(key);
    case SW_KEY_SCHEDULE:
        return schedule_rule();
    case SW_KEY_TIMES:
        return times_rule();
    case SW_KEY_OUTLINE:
        return outline_rule();
    case SW_KEY_LEARNED: /* a file, none, or its values */
        return any_of(json_pack("{s:s}", "type", "string"), json_pack("{s:s}", "type", "object"));
    case SW_KEY_PROBES:
        return probes_rule();
    }
    return NULL;
}

/* What an editor shows: the meaning, what is allowed in either system of units, when it counts; and the default. */
static void describe(json_t *rule, const sw_scenario_key *key, const session *s)
{
    char allowed[SW_KEY_TOLD_SIZE], us[SW_KEY_TOLD_SIZE], condition[SW_KEY_CONDITION_SIZE], value[SW_KEY_TOLD_SIZE],
        text[3 * SW_KEY_TOLD_SIZE + SW_KEY_CONDITION_SIZE];
    if (sw_scenario_key_tell_allowed(s->context, s->reader, key, SW_UNITS_SI, allowed) != SW_OK ||
        sw_scenario_key_tell_allowed(s->context, s->reader, key, SW_UNITS_US, us) != SW_OK)
        return;
    sw_scenario_key_condition(key, condition);
    const bool is_same = strcmp(allowed, us) == 0;
    snprintf(text, sizeof text, "%s. Allowed: %s%s%s%s.%s%s%s", key->meaning, allowed, is_same ? "" : " (", is_same ? "" : us,
             is_same ? "" : ")", *condition ? " Counts if " : "", condition, *condition ? "." : "");
    json_object_set_new(rule, "description", json_string(text));
    if (key->type == SW_KEY_VALUE || key->type == SW_KEY_ENDING || key->type == SW_KEY_CHOICE)
        if (sw_scenario_key_tell_value(s->context, s->reader, key, &s->scenario, SW_UNITS_SI, value) == SW_OK)
            json_object_set_new(rule, "examples", json_pack("[s]", value));
}

/* The group that a dotted name is in, made on the way; name becomes what follows the last dot. */
static json_t *group_of(json_t *schema, const char **name)
{
    json_t *group = schema;
    for (const char *dot = strchr(*name, '.'); dot; *name = dot + 1, dot = strchr(*name, '.')) {
        char part[SW_KEY_NAME_SIZE];
        json_t *properties = json_object_get(group, "properties");
        snprintf(part, sizeof part, "%.*s", (int)(dot - *name), *name);
        group = json_object_get(properties, part);
        if (!group) {
            group = json_pack("{s:s,s:{},s:b}", "type", "object", "properties", "additionalProperties", 0);
            json_object_set_new(properties, part, group);
        }
    }
    return group;
}

json_t *schema_of_scenarios(void)
{
    session s;
    json_t *schema = json_pack("{s:s,s:s,s:s,s:{},s:b}", "$schema", "https://json-schema.org/draft/2020-12/schema", "title",
                               "A scenario of stallwright", "type", "object", "properties", "additionalProperties", 0);
    if (session_open(&s) != EXIT_DONE || !session_reader(&s)) {
        json_decref(schema);
        schema = NULL;
    }
    sw_scenario_init(&s.scenario);
    for (size_t i = 0; schema && i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        const char *name = key->name;
        json_t *group = group_of(schema, &name), *rule = rule_of(key);
        describe(rule, key, &s);
        json_object_set_new(json_object_get(group, "properties"), name, rule);
        if (group != schema) /* a file may name it with its dots instead */
            json_object_set(json_object_get(schema, "properties"), key->name, rule);
    }
    session_end(&s);
    return schema;
}
