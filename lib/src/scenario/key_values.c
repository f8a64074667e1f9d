/* SPDX-License-Identifier: BSD-3-Clause */
/* Values by key, in SI units and words. */
#include "pit_learned.h"
#include "key_table.h"
#include "scenario_check.h"

#include <stdio.h>
#include <string.h>

/* Enumerations are read and written as int through the table. */
_Static_assert(sizeof(sw_shape) == sizeof(int) && sizeof(sw_side) == sizeof(int) && sizeof(sw_wrap_kind) == sizeof(int) &&
                   sizeof(sw_cut) == sizeof(int) && sizeof(sw_pit_kind) == sizeof(int) && sizeof(sw_fuel) == sizeof(int) && sizeof(sw_pour) == sizeof(int) &&
                   sizeof(sw_place_kind) == sizeof(int) && sizeof(sw_pit_humidity) == sizeof(int),
               "enumerations have the size of int");

bool sw_scenario_key_counts(const sw_scenario_key *key, const sw_scenario *scenario)
{
    const sw_key_condition *condition = sw_key_condition_of(key);
    return !condition || sw_key_condition_holds(condition, scenario);
}

const char *sw_scenario_key_condition(const sw_scenario_key *key, char *text)
{
    const sw_key_condition *condition = sw_key_condition_of(key);
    text[0] = '\0';
    return condition ? sw_key_condition_words(condition, text, SW_KEY_CONDITION_SIZE) : text;
}

/* ---- whole values ---- */

static bool same_steps(const sw_pit *one, const sw_pit *other)
{
    bool same = one->step_count == other->step_count;
    for (size_t i = 0; same && i < one->step_count; i++)
        same = one->steps[i].start == other->steps[i].start && one->steps[i].temperature == other->steps[i].temperature &&
               one->steps[i].ramp == other->steps[i].ramp;
    return same;
}

static bool same_times(const sw_pit *one, const sw_pit *other)
{
    bool same = one->opening_count == other->opening_count;
    for (size_t i = 0; same && i < one->opening_count; i++)
        same = one->openings[i] == other->openings[i];
    return same;
}

static bool same_outlines(const sw_meat *one, const sw_meat *other)
{
    bool same = one->outline_count == other->outline_count;
    for (size_t i = 0; same && i < one->outline_count; i++)
        same = one->outline[i][0] == other->outline[i][0] && one->outline[i][1] == other->outline[i][1];
    return same;
}

static bool same_probes(const sw_meat *one, const sw_meat *other)
{
    bool same = one->probe_count == other->probe_count;
    for (size_t i = 0; same && i < one->probe_count; i++)
        same = strcmp(one->probes[i].name, other->probes[i].name) == 0 && one->probes[i].across == other->probes[i].across &&
               one->probes[i].height == other->probes[i].height;
    return same;
}

static bool same_learned(const sw_pit_learned *one, const sw_pit_learned *other)
{
    bool same = one->cooks == other->cooks;
    for (size_t i = 0; same && one->cooks > 0 && i < SW_LEARNED_NUMBERS; i++) {
        const size_t at = sw_learned_numbers[i].offset;
        same = *(const double *)((const char *)one + at) == *(const double *)((const char *)other + at);
    }
    return same;
}

bool sw_scenario_key_same(const sw_scenario_key *key, const sw_scenario *one, const sw_scenario *other)
{
    const void *a = sw_key_value(key, one), *b = sw_key_value(key, other);
    switch (key->type) {
    case SW_KEY_TEXT:
        return strncmp(a, b, SW_TEXT_MAX) == 0;
    case SW_KEY_CHOICE:
    case SW_KEY_WHOLE:
        return *(const int *)a == *(const int *)b;
    case SW_KEY_SWITCH:
        return *(const bool *)a == *(const bool *)b;
    case SW_KEY_VALUE:
        return *(const double *)a == *(const double *)b;
    case SW_KEY_ENDING:
        return ((const sw_ending *)a)->kind == ((const sw_ending *)b)->kind &&
               ((const sw_ending *)a)->value == ((const sw_ending *)b)->value;
    case SW_KEY_SCHEDULE:
        return same_steps(a, b);
    case SW_KEY_TIMES:
        return same_times(a, b);
    case SW_KEY_OUTLINE:
        return same_outlines(a, b);
    case SW_KEY_LEARNED:
        return same_learned(a, b);
    case SW_KEY_PROBES:
        break;
    }
    return same_probes(a, b);
}

/* Where the value of a key stands, from its field on. */
typedef struct span {
    size_t from, size;
} span;

/* Fields that belong to one key lie side by side. */
_Static_assert(offsetof(sw_pit, steps) > offsetof(sw_pit, step_count) && offsetof(sw_pit, is_log) > offsetof(sw_pit, steps) &&
                   offsetof(sw_pit, openings) > offsetof(sw_pit, opening_count) &&
                   offsetof(sw_meat, outline) > offsetof(sw_meat, outline_count) &&
                   offsetof(sw_meat, probes) > offsetof(sw_meat, probe_count),
               "a list follows its length");

#define SPAN(type, first, last) {offsetof(type, first), offsetof(type, last) + sizeof((type *)0)->last - offsetof(type, first)}

static span span_of(const sw_scenario_key *key)
{
    static const span spans[] = {
        [SW_KEY_TEXT] = {0, SW_TEXT_MAX},
        [SW_KEY_CHOICE] = {0, sizeof(int)},
        [SW_KEY_SWITCH] = {0, sizeof(bool)},
        [SW_KEY_WHOLE] = {0, sizeof(int)},
        [SW_KEY_VALUE] = {0, sizeof(double)},
        [SW_KEY_ENDING] = {0, sizeof(sw_ending)},
        [SW_KEY_SCHEDULE] = SPAN(sw_pit, step_count, is_log),
        [SW_KEY_TIMES] = SPAN(sw_pit, opening_count, openings),
        [SW_KEY_OUTLINE] = SPAN(sw_meat, outline_count, outline),
        [SW_KEY_PROBES] = SPAN(sw_meat, probe_count, probes),
        [SW_KEY_LEARNED] = {0, sizeof(sw_pit_learned)},
    };
    return spans[key->type];
}

size_t sw_key_size(const sw_scenario_key *key)
{
    return span_of(key).size;
}

void sw_key_pack(const sw_scenario_key *key, const sw_scenario *scenario, void *bytes)
{
    const span s = span_of(key);
    memcpy(bytes, (const char *)sw_key_value(key, scenario) + s.from, s.size);
}

void sw_key_unpack(const sw_scenario_key *key, const void *bytes, sw_scenario *scenario)
{
    const span s = span_of(key);
    memcpy((char *)sw_key_field(key, scenario) + s.from, bytes, s.size);
    sw_scenario_key_given(key, scenario);
}

void sw_pit_hold(sw_pit *pit, double temperature)
{
    memset(pit->steps, 0, sizeof pit->steps);
    pit->step_count = 1;
    pit->steps[0].temperature = temperature;
    pit->is_log = false;
}

void sw_scenario_key_given(const sw_scenario_key *key, sw_scenario *s)
{
    if (sw_key_field(key, s) == &s->meat.mass && s->meat.mass > 0.0)
        s->meat.bought_mass = 0.0;
    if (sw_key_field(key, s) == &s->meat.bought_mass && s->meat.bought_mass > 0.0)
        s->meat.mass = 0.0;
}

void sw_scenario_key_copy(const sw_scenario_key *key, const sw_scenario *from, sw_scenario *to)
{
    const span s = span_of(key);
    memcpy((char *)sw_key_field(key, to) + s.from, (const char *)sw_key_value(key, from) + s.from, s.size);
    sw_scenario_key_given(key, to);
}

/* ---- by name ---- */

static sw_status find(sw_context *context, const char *name, const sw_scenario_key **key)
{
    *key = sw_scenario_key_find(name);
    return *key ? SW_OK : sw_fail(context, SW_ERR_ARGUMENT, "\"%.60s\" is no key of a scenario", name);
}

static sw_status refuse_type(sw_context *context, const sw_scenario_key *key, const char *asked)
{
    static const char *const held[] = {
        [SW_KEY_TEXT] = "text",          [SW_KEY_CHOICE] = "one of some words",   [SW_KEY_SWITCH] = "yes or no",
        [SW_KEY_WHOLE] = "a number",     [SW_KEY_VALUE] = "a number",             [SW_KEY_ENDING] = "how a phase ends",
        [SW_KEY_SCHEDULE] = "one temperature or a list of steps",                 [SW_KEY_TIMES] = "a list of times",
        [SW_KEY_OUTLINE] = "a list of corners",                                   [SW_KEY_PROBES] = "a list of places",
        [SW_KEY_LEARNED] = "what was learned of a pit"};
    return sw_fail(context, SW_ERR_ARGUMENT, "%s holds %s, not %s", key->name, held[key->type], asked);
}

sw_status sw_scenario_set_number(sw_context *context, sw_scenario *scenario, const char *name, double number)
{
    const sw_scenario_key *key;
    sw_status status = find(context, name, &key);
    if (status != SW_OK)
        return status;
    if (key->type != SW_KEY_VALUE && key->type != SW_KEY_WHOLE && key->type != SW_KEY_SCHEDULE)
        return refuse_type(context, key, "a number");
    if (!key->may_be_usual || number != SW_USUAL)
        status = sw_check_range(context, name, key->quantity, key->range, number);
    if (status != SW_OK)
        return status;
    void *field = sw_key_field(key, scenario);
    if (key->type == SW_KEY_WHOLE && number != (double)(int)number)
        return sw_fail(context, SW_ERR_RANGE, "%s is %.6g; it must be a whole number", name, number);
    if (key->type == SW_KEY_WHOLE)
        *(int *)field = (int)number;
    else if (key->type == SW_KEY_VALUE)
        *(double *)field = number;
    else
        sw_pit_hold(field, number);
    sw_scenario_key_given(key, scenario);
    return SW_OK;
}

sw_status sw_scenario_number(sw_context *context, const sw_scenario *scenario, const char *name, double *number)
{
    const sw_scenario_key *key;
    sw_status status = find(context, name, &key);
    if (status != SW_OK)
        return status;
    const void *field = sw_key_value(key, scenario);
    if (key->type == SW_KEY_VALUE)
        *number = *(const double *)field;
    else if (key->type == SW_KEY_WHOLE)
        *number = *(const int *)field;
    else if (key->type == SW_KEY_SCHEDULE && scenario->pit.step_count == 1)
        *number = scenario->pit.steps[0].temperature;
    else
        return key->type == SW_KEY_SCHEDULE ? sw_fail(context, SW_ERR_ARGUMENT, "%s has %zu steps and is not one number", name,
                                                      scenario->pit.step_count)
                                            : refuse_type(context, key, "a number");
    return SW_OK;
}

static const char *const switch_words[] = {"no", "yes"};

static const char *switch_word(int choice)
{
    return switch_words[choice];
}

/* Number of a word among those of a choice or switch. */
static sw_status find_word(sw_context *context, const sw_scenario_key *key, const char *word, int *number)
{
    const bool is_switch = key->type == SW_KEY_SWITCH;
    const char *(*name)(int) = is_switch ? switch_word : key->choice_name;
    const int count = is_switch ? 2 : key->choice_count;
    char words[256] = "";
    for (int i = 0; i < count; i++) {
        if (strcmp(word, name(i)) == 0) {
            *number = i;
            return SW_OK;
        }
        const size_t used = strlen(words);
        snprintf(words + used, sizeof words - used, "%s%s", i > 0 ? ", " : "", name(i));
    }
    return sw_fail(context, SW_ERR_ARGUMENT, "%s is \"%.60s\"; allowed %s", key->name, word, words);
}

static sw_status set_text(sw_context *context, const sw_scenario_key *key, char *field, const char *text)
{
    const size_t length = strlen(text);
    if (length >= SW_TEXT_MAX)
        return sw_fail(context, SW_ERR_RANGE, "%s has %zu bytes; allowed %d", key->name, length, SW_TEXT_MAX - 1);
    memset(field, 0, SW_TEXT_MAX);
    memcpy(field, text, length);
    return SW_OK;
}

sw_status sw_scenario_set_word(sw_context *context, sw_scenario *scenario, const char *name, const char *word)
{
    const sw_scenario_key *key;
    sw_status status = find(context, name, &key);
    if (status != SW_OK)
        return status;
    void *field = sw_key_field(key, scenario);
    if (key->type == SW_KEY_TEXT)
        return set_text(context, key, field, word);
    if (key->type != SW_KEY_CHOICE && key->type != SW_KEY_SWITCH)
        return refuse_type(context, key, "a word");
    int number;
    status = find_word(context, key, word, &number);
    if (status == SW_OK && key->type == SW_KEY_CHOICE)
        *(int *)field = number;
    else if (status == SW_OK)
        *(bool *)field = number != 0;
    return status;
}

sw_status sw_scenario_word(sw_context *context, const sw_scenario *scenario, const char *name, const char **word)
{
    const sw_scenario_key *key;
    sw_status status = find(context, name, &key);
    if (status != SW_OK)
        return status;
    const void *field = sw_key_value(key, scenario);
    if (key->type == SW_KEY_TEXT)
        *word = field;
    else if (key->type == SW_KEY_CHOICE)
        *word = key->choice_name(*(const int *)field);
    else if (key->type == SW_KEY_SWITCH)
        *word = switch_words[*(const bool *)field];
    else
        return refuse_type(context, key, "a word");
    return SW_OK;
}

sw_status sw_scenario_set_ending(sw_context *context, sw_scenario *scenario, const char *name, sw_ending ending)
{
    const sw_scenario_key *key;
    sw_status status = find(context, name, &key);
    if (status == SW_OK && key->type != SW_KEY_ENDING)
        return refuse_type(context, key, "how a phase ends");
    if (status == SW_OK)
        status = sw_check_ending(context, key, &ending);
    if (status == SW_OK)
        *(sw_ending *)sw_key_field(key, scenario) = ending;
    return status;
}

sw_status sw_scenario_ending(sw_context *context, const sw_scenario *scenario, const char *name, sw_ending *ending)
{
    const sw_scenario_key *key;
    sw_status status = find(context, name, &key);
    if (status == SW_OK && key->type != SW_KEY_ENDING)
        return refuse_type(context, key, "how a phase ends");
    if (status == SW_OK)
        *ending = *(const sw_ending *)sw_key_value(key, scenario);
    return status;
}
