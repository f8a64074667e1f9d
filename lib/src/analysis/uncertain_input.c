/* SPDX-License-Identifier: BSD-3-Clause */
#include "key_table.h"

#include <stallwright/uncertain_input.h>

#include <math.h>
#include <string.h>

size_t sw_uncertain_input_count(void)
{
    size_t count = 0;
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        count += sw_scenario_key_at(i)->uncertain.kind != SW_UNCERTAINTY_NONE;
    return count;
}

const sw_scenario_key *sw_uncertain_input_at(size_t number)
{
    size_t i = 0;
    while (i + 1 < sw_scenario_key_count() && sw_scenario_key_at(i)->uncertain.place != (int)number + 1)
        i++;
    return sw_scenario_key_at(i);
}

sw_quantity sw_uncertain_input_quantity(const sw_scenario_key *input)
{
    return input->type == SW_KEY_ENDING ? SW_QUANTITY_TEMPERATURE : input->quantity;
}

/* Of the wraps' own numbers only those of the wrap that goes on. */
static bool is_of_another_wrap(const sw_scenario_key *input, sw_wrap_kind wrap)
{
    static const struct {
        const char *group;
        sw_wrap_kind wrap;
    } own[] = {{"wrap.paper.", SW_WRAP_PAPER}, {"wrap.foil.", SW_WRAP_CLOSED_FOIL}, {"wrap.tray.", SW_WRAP_OPEN_TRAY}};
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        if (strncmp(input->name, own[i].group, strlen(own[i].group)) == 0)
            return wrap != own[i].wrap;
    return false;
}

bool sw_uncertain_input_counts(const sw_scenario_key *input, const sw_scenario *s)
{
    if (input->type == SW_KEY_ENDING) {
        const sw_ending *ending = sw_key_value(input, s);
        return ending->kind == SW_ENDING_PROBE_TEMPERATURE && (ending != &s->wrap.when || s->wrap.kind != SW_WRAP_NONE);
    }
    /* What is zero is left out, or taken from elsewhere, and has nothing to move. */
    if (input->quantity == SW_QUANTITY_LENGTH)
        return sw_uncertain_input_value(input, s) > 0.0;
    return !is_of_another_wrap(input, s->wrap.kind);
}

/* Where its number stands in a scenario. */
static double *number_in(const sw_scenario_key *input, sw_scenario *s)
{
    void *field = sw_key_field(input, s);
    switch (input->type) {
    case SW_KEY_SCHEDULE:
        return &((sw_pit *)field)->steps[0].temperature;
    case SW_KEY_ENDING:
        return &((sw_ending *)field)->value;
    default:
        return field;
    }
}

double sw_uncertain_input_value(const sw_scenario_key *input, const sw_scenario *s)
{
    const void *field = sw_key_value(input, s);
    return input->type == SW_KEY_SCHEDULE ? ((const sw_pit *)field)->steps[0].temperature
           : input->type == SW_KEY_ENDING ? ((const sw_ending *)field)->value
                                          : *(const double *)field;
}

static double moved(const sw_uncertainty *by, double value, double deviations)
{
    switch (by->kind) {
    case SW_UNCERTAINTY_SHARE:
        return value * (1.0 + deviations * by->deviation);
    case SW_UNCERTAINTY_FACTOR:
        return value * pow(by->deviation, deviations);
    default:
        return value + deviations * by->deviation;
    }
}

static bool is_left_open(const sw_scenario_key *input, const sw_scenario *stated)
{
    if (input->type == SW_KEY_SCHEDULE)
        return !stated->pit.is_log;
    if (input->quantity == SW_QUANTITY_LENGTH)
        return sw_uncertain_input_value(input, stated) <= 0.0;
    return sw_scenario_key_is_usual(input, stated);
}

const sw_uncertainty *sw_uncertain_input_given(const sw_scenario_key *input, const sw_scenario *stated)
{
    const bool open = input->left_open.kind != SW_UNCERTAINTY_NONE && is_left_open(input, stated);
    return open ? &input->left_open : &input->uncertain;
}

void sw_uncertain_input_move(const sw_scenario_key *input, const sw_uncertainty *by, double deviations, sw_scenario *s)
{
    double *value = number_in(input, s), before = *value;
    *value = moved(by, before, deviations);
    if (value == &s->meat.composition.fat)
        s->meat.composition.water -= *value - before;
    if (input->type == SW_KEY_SCHEDULE)
        for (size_t i = 1; i < s->pit.step_count; i++)
            s->pit.steps[i].temperature += *value - before;
}
