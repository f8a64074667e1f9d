/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/study_file.h>

#include "scenario_entry.h"
#include "typed_text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PREFIX_SIZE = 16, VALUE_SIZE = 256 };

/* One factor as it was typed. */
typedef struct variation {
    sw_context *context;
    sw_scenario_reader *reader;
    sw_study *study;
    const sw_scenario_key *key;
    const char *text; /* behind the equals sign */
} variation;

static const char prefix[] = "--vary ";

static sw_status refuse(const variation *v, const char *why)
{
    char typed[SW_QUOTE_SIZE];
    return sw_fail(v->context, SW_ERR_INPUT, "%s%s: %s %s", prefix, v->key->name, sw_quote(v->text, typed), why);
}

/* A sentence of the study, with what it is about in front. */
static sw_status pass_on(const variation *v, sw_status status)
{
    char sentence[512];
    if (status == SW_OK || !v->context)
        return status;
    snprintf(sentence, sizeof sentence, "%s", sw_context_message(v->context));
    return sw_fail(v->context, status, "%s%s: %s", prefix, v->key->name, sentence);
}

/* Copies a part of a text without the blanks around it; false if it is empty or too long. */
static bool copy_part(const char *from, size_t length, char part[VALUE_SIZE])
{
    size_t skip = strspn(from, " \t");
    skip = skip < length ? skip : length;
    while (length > skip && strchr(" \t", from[length - 1]))
        length--;
    if (length == skip || length - skip >= VALUE_SIZE)
        return false;
    memcpy(part, from + skip, length - skip);
    part[length - skip] = '\0';
    return true;
}

/* The base scenario with one value of the key. */
static sw_status hold(const variation *v, const char *value, sw_scenario *holder)
{
    char assignment[SW_KEY_NAME_SIZE + VALUE_SIZE + 2];
    snprintf(assignment, sizeof assignment, "%s=%s", v->key->name, value);
    *holder = *sw_study_base(v->study);
    return sw_scenario_set_for(v->context, v->reader, prefix, assignment, holder);
}

static sw_status add_value(const variation *v, const char *value)
{
    sw_scenario holder;
    sw_status status = hold(v, value, &holder);
    if (status != SW_OK)
        return status;
    return pass_on(v, sw_study_add_value(v->context, v->study, v->key->name, &holder, value));
}

static sw_status add_list(const variation *v)
{
    for (const char *at = v->text;;) {
        char value[VALUE_SIZE];
        size_t length = strcspn(at, ",");
        if (!copy_part(at, length, value))
            return refuse(v, "has a value that is missing or too long; values stand with one comma between, such as a,b,c");
        sw_status status = add_value(v, value);
        if (status != SW_OK || !at[length])
            return status;
        at += length + 1;
    }
}

/* ---- ranges ---- */

/* One of the three numbers of a range and what stands behind it. */
typedef struct range_part {
    double number;
    char unit[VALUE_SIZE];
} range_part;

static bool read_part(const char *text, size_t length, range_part *part)
{
    char copy[VALUE_SIZE], *end;
    if (!copy_part(text, length, copy))
        return false;
    part->number = strtod(copy, &end);
    strcpy(part->unit, end + strspn(end, " \t"));
    return end != copy && isfinite(part->number);
}

static sw_status read_range(const variation *v, range_part parts[3])
{
    const char *at = v->text;
    for (int i = 0; i < 3; i++) {
        size_t length = strcspn(at, ":");
        if ((at[length] == '\0') != (i == 2) || !read_part(at, length, &parts[i]))
            return refuse(v, "is no range; a range is written as from:to:step, such as 225F:300F:15F");
        if (strcmp(parts[i].unit, parts[0].unit) != 0)
            return refuse(v, "mixes units; the three numbers of a range have the same one, such as 6cm:10cm:1cm");
        at += length + 1;
    }
    return SW_OK;
}

/* Steps are counted as they are typed, so that a value of a range is the same to the bit as one typed alone. */
static sw_status add_range(const variation *v)
{
    range_part parts[3];
    sw_status status = read_range(v, parts);
    if (status != SW_OK)
        return status;
    const double from = parts[0].number, to = parts[1].number, step = parts[2].number;
    if (step == 0.0)
        return refuse(v, "has a step of 0; it must lead from the first number towards the second");
    const double steps = (to - from) / step;
    if (steps < 0.0)
        return refuse(v, "is an empty range: the step leads away from the second number; change its sign");
    if (steps > SW_STUDY_VALUES_MAX - 1) {
        char why[96];
        snprintf(why, sizeof why, "has more than %d values; take a larger step", SW_STUDY_VALUES_MAX);
        return refuse(v, why);
    }
    /* A step that comes out a rounding error short of the end still reaches it. */
    const size_t count = (size_t)floor(steps + 1e-9) + 1;
    for (size_t i = 0; i < count && status == SW_OK; i++) {
        char value[VALUE_SIZE + 32];
        snprintf(value, sizeof value, "%.12g%s%s", from + (double)i * step, parts[0].unit[0] ? " " : "", parts[0].unit);
        status = add_value(v, value);
    }
    return status;
}

/* ---- distributions ---- */

/* The text in the brackets of "name(...)"; NULL if the variation is no such call. */
static const char *arguments_of(const variation *v, const char *name)
{
    size_t length = strlen(name), whole = strlen(v->text);
    bool is_call = strncmp(v->text, name, length) == 0 && v->text[length] == '(' && v->text[whole - 1] == ')';
    return is_call ? v->text + length + 1 : NULL;
}

static bool split_pair(const char *arguments, char first[VALUE_SIZE], char second[VALUE_SIZE])
{
    size_t length = strcspn(arguments, ","), rest = strlen(arguments);
    return arguments[length] == ',' && copy_part(arguments, length, first) &&
           copy_part(arguments + length + 1, rest - length - 2, second) && !strchr(second, ',');
}

static sw_status add_uniform(const variation *v, const char *arguments)
{
    char low[VALUE_SIZE], high[VALUE_SIZE];
    sw_scenario low_holder, high_holder;
    if (!split_pair(arguments, low, high))
        return refuse(v, "needs two values, the least and the greatest, such as uniform(6cm,10cm)");
    sw_status status = hold(v, low, &low_holder);
    if (status == SW_OK)
        status = hold(v, high, &high_holder);
    if (status != SW_OK)
        return status;
    return pass_on(v, sw_study_add_uniform(v->context, v->study, v->key->name, &low_holder, &high_holder));
}

/* What the deviation of a factor measures: a temperature's is a difference. */
static sw_quantity deviation_quantity(const sw_scenario_key *key, const sw_scenario *holder)
{
    sw_quantity quantity = key->quantity;
    if (key->type == SW_KEY_ENDING) {
        const sw_ending *ending = sw_key_value(key, holder);
        quantity = ending->kind == SW_ENDING_PROBE_TEMPERATURE ? SW_QUANTITY_TEMPERATURE : SW_QUANTITY_DURATION;
    }
    if (quantity == SW_QUANTITY_CLOCK)
        return SW_QUANTITY_DURATION;
    return quantity == SW_QUANTITY_TEMPERATURE ? SW_QUANTITY_TEMPERATURE_DIFFERENCE : quantity;
}

static sw_status add_normal(const variation *v, const char *arguments)
{
    char mean[VALUE_SIZE], deviation[VALUE_SIZE], where[SW_KEY_NAME_SIZE + PREFIX_SIZE];
    sw_scenario holder;
    double size = 0.0;
    if (!split_pair(arguments, mean, deviation))
        return refuse(v, "needs two values, the mean and the standard deviation, such as normal(8cm,0.5cm)");
    sw_status status = hold(v, mean, &holder);
    if (status != SW_OK)
        return status;
    const bool has_quantity = v->key->type == SW_KEY_VALUE || v->key->type == SW_KEY_ENDING || v->key->type == SW_KEY_SCHEDULE;
    snprintf(where, sizeof where, "%s%s", prefix, v->key->name);
    if (has_quantity)
        status = sw_read_value(v->context, v->reader, where, deviation, deviation_quantity(v->key, &holder), 0.0,
                               INFINITY, &size);
    if (status != SW_OK)
        return status;
    return pass_on(v, sw_study_add_normal(v->context, v->study, v->key->name, &holder, size));
}

/* ---- what is typed ---- */

/* Whether the colons in a text are those of a time of day, such as 17:30 or 13:00 +1 day. */
static bool is_clock(const variation *v)
{
    const size_t length = strspn(v->text, "0123456789:. ");
    return (v->key->type == SW_KEY_ENDING || v->key->quantity == SW_QUANTITY_CLOCK) &&
           (v->text[length] == '\0' || v->text[length] == '+');
}

static bool takes_ranges(const variation *v)
{
    return v->key->type == SW_KEY_VALUE || v->key->type == SW_KEY_WHOLE || v->key->type == SW_KEY_ENDING ||
           v->key->type == SW_KEY_SCHEDULE;
}

static sw_status add_factor(const variation *v)
{
    const char *uniform = arguments_of(v, "uniform"), *normal = arguments_of(v, "normal");
    if (uniform)
        return add_uniform(v, uniform);
    if (normal)
        return add_normal(v, normal);
    if (takes_ranges(v) && !strchr(v->text, ',') && strchr(v->text, ':') && !is_clock(v))
        return add_range(v);
    return add_list(v);
}

static bool is_factor(const sw_study *study, const char *key)
{
    for (size_t i = 0; i < sw_study_factor_count(study); i++)
        if (strcmp(sw_study_factor(study, i).key, key) == 0)
            return true;
    return false;
}

static sw_status vary(sw_context *context, sw_scenario_reader *reader, sw_study *study, const char *text)
{
    char name[VALUE_SIZE], values[16 * VALUE_SIZE], typed[SW_QUOTE_SIZE];
    const char *mark = strchr(text, '=');
    if (!mark || !copy_part(text, (size_t)(mark - text), name))
        return sw_fail(context, SW_ERR_INPUT,
                       "%s%s: write a name, an equals sign and values, such as pit.temperature=225F:300F:15F", prefix,
                       sw_quote(text, typed));
    const sw_scenario_key *key = sw_scenario_key_find(name);
    if (!key) {
        /* Setting it says what is wrong with the name. */
        sw_scenario scratch = *sw_study_base(study);
        return sw_scenario_set_for(context, reader, prefix, text, &scratch);
    }
    size_t length = strlen(mark + 1), skip = strspn(mark + 1, " \t");
    if (length - skip >= sizeof values || length == skip)
        return sw_fail(context, SW_ERR_INPUT, "%s%s: the values are missing or too long", prefix, name);
    snprintf(values, sizeof values, "%s", mark + 1 + skip);
    for (length = strlen(values); length > 0 && strchr(" \t", values[length - 1]); length--)
        values[length - 1] = '\0';
    if (is_factor(study, key->name))
        return sw_fail(context, SW_ERR_INPUT, "%s%s is given twice; list all its values in one", prefix, key->name);
    const variation v = {context, reader, study, key, values};
    return add_factor(&v);
}

sw_status sw_study_vary(sw_context *context, sw_scenario_reader *reader, sw_study *study, const char *text)
{
    locale_t before = uselocale(reader->plain_locale);
    sw_status status = vary(context, reader, study, text);
    uselocale(before);
    return status;
}
