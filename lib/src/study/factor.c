/* SPDX-License-Identifier: BSD-3-Clause */
#include "factor.h"

#include <stdlib.h>
#include <string.h>

static unsigned char *value_at(const sw_factor *f, size_t value)
{
    return f->values + value * sw_key_size(f->key);
}

/* A scenario of which only the key of the factor means anything: a listed value of it. */
static void hold(const sw_factor *f, size_t value, sw_scenario *holder)
{
    memset(holder, 0, sizeof *holder);
    sw_key_unpack(f->key, value_at(f, value), holder);
}

void sw_factor_free(sw_factor *f)
{
    for (size_t i = 0; i < f->count; i++)
        free(f->labels[i]);
    free(f->labels);
    free(f->values);
    *f = (sw_factor){0};
}

static bool grow(sw_factor *f)
{
    size_t room = f->room ? 2 * f->room : 8;
    unsigned char *values = realloc(f->values, room * sw_key_size(f->key));
    if (values)
        f->values = values;
    char **labels = realloc(f->labels, room * sizeof *labels);
    if (labels)
        f->labels = labels;
    if (!values || !labels)
        return false;
    f->room = room;
    return true;
}

static bool is_same(const sw_factor *f, size_t value, const sw_scenario *holder)
{
    sw_scenario listed;
    hold(f, value, &listed);
    return sw_scenario_key_same(f->key, &listed, holder);
}

sw_status sw_factor_add(sw_context *context, sw_factor *f, const sw_scenario *holder, const char *label)
{
    if (f->count == SW_STUDY_VALUES_MAX)
        return sw_fail(context, SW_ERR_ARGUMENT, "%s has more than %d values", f->key->name, SW_STUDY_VALUES_MAX);
    for (size_t i = 0; i < f->count; i++)
        if (is_same(f, i, holder))
            return sw_fail(context, SW_ERR_ARGUMENT, "%s has the value %.80s twice", f->key->name, label);
    char *copy = strdup(label);
    if (!copy || (f->count == f->room && !grow(f))) {
        free(copy);
        return sw_fail(context, SW_ERR_MEMORY, "memory for the values of %s could not be allocated", f->key->name);
    }
    sw_key_pack(f->key, holder, value_at(f, f->count));
    f->labels[f->count++] = copy;
    return SW_OK;
}

static sw_ending ending_at(const sw_factor *f, size_t value)
{
    sw_scenario holder;
    hold(f, value, &holder);
    return *(const sw_ending *)sw_key_value(f->key, &holder);
}

static bool is_usual_at(const sw_factor *f, size_t value)
{
    sw_scenario holder;
    hold(f, value, &holder);
    return sw_scenario_key_is_usual(f->key, &holder);
}

/* Number of steps of a schedule. */
static size_t step_count_at(const sw_factor *f, size_t value)
{
    sw_scenario holder;
    hold(f, value, &holder);
    return holder.pit.step_count;
}

static bool ending_quantity(const sw_factor *f, sw_quantity *quantity)
{
    static const sw_quantity quantities[] = {[SW_ENDING_PROBE_TEMPERATURE] = SW_QUANTITY_TEMPERATURE,
                                             [SW_ENDING_DURATION] = SW_QUANTITY_DURATION,
                                             [SW_ENDING_CLOCK] = SW_QUANTITY_CLOCK,
                                             [SW_ENDING_CLOCK_ON_DAY] = SW_QUANTITY_CLOCK};
    sw_ending_kind kind = ending_at(f, 0).kind;
    for (size_t i = 0; i < f->count; i++)
        if (ending_at(f, i).kind != kind || kind == SW_ENDING_NONE || kind == SW_ENDING_BARK || kind == SW_ENDING_USUAL)
            return false;
    *quantity = quantities[kind];
    return true;
}

bool sw_factor_quantity(const sw_factor *f, sw_quantity *quantity)
{
    switch (f->key->type) {
    case SW_KEY_WHOLE:
        *quantity = SW_QUANTITY_NUMBER;
        return true;
    case SW_KEY_VALUE:
        for (size_t i = 0; i < f->count; i++)
            if (is_usual_at(f, i))
                return false;
        *quantity = f->key->quantity;
        return true;
    case SW_KEY_ENDING:
        return ending_quantity(f, quantity);
    case SW_KEY_SCHEDULE:
        for (size_t i = 0; i < f->count; i++)
            if (step_count_at(f, i) != 1)
                return false;
        *quantity = f->key->quantity;
        return true;
    default:
        return false;
    }
}

double sw_factor_number(const sw_factor *f, size_t value)
{
    sw_quantity quantity;
    if (!sw_factor_quantity(f, &quantity))
        return (double)value;
    if (f->key->type == SW_KEY_ENDING)
        return ending_at(f, value).value;
    sw_scenario holder;
    hold(f, value, &holder);
    double number = SW_ABSENT;
    (void)sw_scenario_number(NULL, &holder, f->key->name, &number); /* it is one: it has a quantity */
    return number;
}

void sw_factor_apply(const sw_factor *f, size_t value, sw_scenario *scenario)
{
    sw_key_unpack(f->key, value_at(f, value), scenario);
}

void sw_factor_apply_number(const sw_factor *f, double number, sw_scenario *scenario)
{
    sw_factor_apply(f, 0, scenario);
    void *field = sw_key_field(f->key, scenario);
    if (f->key->type == SW_KEY_ENDING)
        ((sw_ending *)field)->value = number;
    else if (f->key->type == SW_KEY_SCHEDULE)
        scenario->pit.steps[0].temperature = number;
    else
        *(double *)field = number;
}
