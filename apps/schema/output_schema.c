/* SPDX-License-Identifier: BSD-3-Clause */
/* outputs.json describes objects by their keys, and values by words: figure (a number, null if it does not exist), number, count, flag,
 * text, "a|b" (one of these words), [what] (a list), what? (or null), another object. A key that ends in * may be missing; "..." takes
 * in the keys of others, the figures of the library's lists among them. */
#include "schema.h"

#include "figures.h"
#include "json_output.h"
#include "page_parts.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { WORDS_SIZE = 256 };

static json_t *of_type(const char *type)
{
    return json_pack("{s:s}", "type", type);
}

/* ---- figures, as the library lists them ---- */

static void add_figure(json_t *keys, const char *name, const char *unit, const char *meaning)
{
    char key[FIGURE_KEY_SIZE];
    json_object_set_new(keys, figure_key(name, unit, key),
                        json_pack("{s:[s,s],s:s}", "type", "number", "null", "description", meaning));
}

static void add_choice(json_t *keys)
{
    const sw_run none = {.status = SW_ERR_NEVER_ENDS};
    figure figures[FIGURES_MAX];
    const size_t count = choice_figures(&none, SW_ABSENT, figures);
    for (size_t i = 0; i < count; i++)
        json_object_set_new(keys, figures[i].key, json_pack("{s:[s,s]}", "type", "number", "null"));
#define ADD(name, unit, long_name) add_figure(keys, #name, unit, long_name);
    SW_OUTCOME_LIST(ADD)
}

static void add_budget(json_t *keys)
{
    SW_BUDGET_LIST(ADD)
}

static void add_side(json_t *keys)
{
    SW_SIDE_FIGURE_LIST(ADD)
}

static void add_reaction(json_t *keys)
{
    SW_REACTION_FIGURE_LIST(ADD)
}

static void add_probe(json_t *keys)
{
    SW_PROBE_FIGURE_LIST(ADD)
}

static void add_missing(json_t *keys)
{
    SW_MISSING_LIST(ADD)
}

static void add_plateau(json_t *keys)
{
    SW_PLATEAU_LIST(ADD)
#undef ADD
}

static void add_heat(json_t *keys)
{
    char name[FIGURE_KEY_SIZE];
    for (int i = 0; i < SW_HEAT_ITEM_COUNT; i++) {
        snprintf(name, sizeof name, "%s_heat", sw_heat_name((sw_heat_item)i));
        add_figure(keys, name, "J", sw_heat_long_name((sw_heat_item)i));
    }
}

static const struct {
    const char *name;
    void (*add)(json_t *keys);
} lists[] = {{"figures of a choice", add_choice},     {"figures of a budget", add_budget},
             {"figures of a side", add_side},         {"figures of a reaction", add_reaction},
             {"figures of a probe", add_probe},       {"figures of what is missing", add_missing},
             {"figures of a plateau", add_plateau},   {"figures of heat", add_heat}};

/* ---- the words of outputs.json ---- */

static json_t *one_of_words(const char *words, bool may_be_null)
{
    char copy[WORDS_SIZE], *rest = NULL;
    json_t *list = json_array();
    snprintf(copy, sizeof copy, "%s", words);
    for (char *word = strtok_r(copy, "|", &rest); word; word = strtok_r(NULL, "|", &rest))
        json_array_append_new(list, json_string(word));
    if (may_be_null)
        json_array_append_new(list, json_null());
    return json_pack("{s:o}", "enum", list);
}

static json_t *value_of(const char *what);

static json_t *bare_value_of(const char *what)
{
    char inner[WORDS_SIZE + 16];
    const size_t length = strlen(what);
    if (what[0] == '[') {
        snprintf(inner, sizeof inner, "%.*s", (int)length - 2, what + 1);
        return json_pack("{s:s,s:o}", "type", "array", "items", value_of(inner));
    }
    if (strcmp(what, "figure") == 0)
        return json_pack("{s:[s,s]}", "type", "number", "null");
    if (strcmp(what, "number or text") == 0)
        return json_pack("{s:[s,s]}", "type", "number", "string");
    if (strcmp(what, "count") == 0)
        return json_pack("{s:s,s:i}", "type", "integer", "minimum", 0);
    if (strcmp(what, "format") == 0)
        return json_pack("{s:i}", "const", JSON_FORMAT);
    if (strcmp(what, "none") == 0)
        return json_object();
    if (strcmp(what, "stallwright") == 0)
        return json_pack("{s:s}", "const", what);
    if (strcmp(what, "number") == 0 || strcmp(what, "text") == 0 || strcmp(what, "flag") == 0)
        return of_type(what[0] == 'n' ? "number" : what[0] == 't' ? "string" : "boolean");
    snprintf(inner, sizeof inner, "#/$defs/%s", what);
    return json_pack("{s:s}", "$ref", inner);
}

static json_t *value_of(const char *what)
{
    char bare[WORDS_SIZE];
    const size_t length = strlen(what);
    const bool may_be_null = length > 0 && what[length - 1] == '?';
    snprintf(bare, sizeof bare, "%.*s", (int)(length - may_be_null), what);
    if (strchr(bare, '|'))
        return one_of_words(bare, may_be_null);
    if (strcmp(bare, "none") == 0)
        return of_type("null");
    json_t *value = bare_value_of(bare);
    return may_be_null ? json_pack("{s:[o,o]}", "anyOf", value, of_type("null")) : value;
}

static void add_keys(json_t *properties, json_t *required, json_t *outputs, const char *name);

static void add_key(json_t *properties, json_t *required, const char *key, const char *what)
{
    char bare[FIGURE_KEY_SIZE];
    const bool may_be_missing = key[strlen(key) - 1] == '*';
    snprintf(bare, sizeof bare, "%.*s", (int)(strlen(key) - may_be_missing), key);
    json_object_set_new(properties, bare, value_of(what));
    if (!may_be_missing)
        json_array_append_new(required, json_string(bare));
}

static void add_others(json_t *properties, json_t *required, json_t *outputs, const char *name)
{
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
        if (strcmp(lists[i].name, name) != 0)
            continue;
        json_t *figures = json_object(), *value;
        const char *key;
        lists[i].add(figures);
        json_object_foreach(figures, key, value)
            json_array_append_new(required, json_string(key));
        json_object_update_new(properties, figures);
        return;
    }
    add_keys(properties, required, outputs, name);
}

static void add_keys(json_t *properties, json_t *required, json_t *outputs, const char *name)
{
    const char *key;
    json_t *value, *other;
    size_t i;
    json_object_foreach(json_object_get(outputs, name), key, value) {
        if (strcmp(key, "...") != 0)
            add_key(properties, required, key, json_string_value(value));
        else
            json_array_foreach(value, i, other)
                add_others(properties, required, outputs, json_string_value(other));
    }
}

static json_t *object_of(json_t *outputs, const char *name)
{
    json_t *properties = json_object(), *required = json_array();
    add_keys(properties, required, outputs, name);
    return json_pack("{s:s,s:o,s:o,s:b}", "type", "object", "properties", properties, "required", required, "additionalProperties", 0);
}

json_t *schema_outputs(void)
{
    json_error_t error;
    for (size_t i = 0; i < page_part_count; i++)
        if (strcmp(page_parts[i].name, "outputs.json") == 0)
            return json_loadb(page_parts[i].bytes, page_parts[i].length, 0, &error);
    return NULL;
}

/* Takes in what a value refers to, and what that does; what stands there already is not followed again. */
static void take_references(json_t *defs, json_t *outputs, const json_t *value)
{
    const char *reference = json_string_value(json_object_get(value, "$ref")), *key;
    json_t *inner;
    size_t i;
    if (reference && !json_object_get(defs, reference + strlen("#/$defs/"))) {
        const char *name = reference + strlen("#/$defs/");
        json_t *object = object_of(outputs, name);
        json_object_set_new(defs, name, object);
        take_references(defs, outputs, object);
    }
    json_object_foreach((json_t *)(uintptr_t)value, key, inner)
        take_references(defs, outputs, inner);
    json_array_foreach(value, i, inner)
        take_references(defs, outputs, inner);
}

json_t *schema_of_output(const char *app)
{
    char title[64];
    json_t *outputs = schema_outputs(), *object = object_of(outputs, app), *defs = json_object();
    snprintf(title, sizeof title, "What stallwright %s --format json prints", app);
    json_t *schema = json_pack("{s:s,s:s}", "$schema", "https://json-schema.org/draft/2020-12/schema", "title", title);
    take_references(defs, outputs, object);
    json_object_update_new(schema, object);
    json_object_set_new(schema, "$defs", defs);
    json_decref(outputs);
    return schema;
}
