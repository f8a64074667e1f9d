#include "scenario_keys.h"

#include <stallwright/uncertain_input.h>

#include <math.h>
#include <string.h>

/* What a cook measures or sets: how well cooks know it. What nobody measures: the standard deviation of an even spread over
 * the published or usual range, its width over the root of twelve; for ranges over decades of the logarithm. */
#define PRACTICE "how well cooks know it: common practice, no source"
#define SPREAD "an even spread over its range in docs/theory/parameters.md"
#define ANY SW_WRAP_COUNT

static const sw_uncertain_input inputs[] = {
    /* Known by the cook, to within */
    {"meat.mass", SW_UNCERTAINTY_SHARE, 0.05, PRACTICE, ANY},
    {"meat.thickness", SW_UNCERTAINTY_DIFFERENCE, 0.005, PRACTICE, ANY},
    {"meat.initial_temperature", SW_UNCERTAINTY_DIFFERENCE, 2.0, PRACTICE, ANY},
    {"meat.composition.fat", SW_UNCERTAINTY_DIFFERENCE, 0.02, PRACTICE, ANY},
    {"meat.fat_cap.thickness", SW_UNCERTAINTY_DIFFERENCE, 0.002, PRACTICE, ANY},
    {"pit.temperature", SW_UNCERTAINTY_DIFFERENCE, 6.0, PRACTICE, ANY},
    {"pit.humidity_ratio", SW_UNCERTAINTY_FACTOR, 1.6, PRACTICE, ANY},
    {"pit.wall_offset", SW_UNCERTAINTY_DIFFERENCE, 10.0, PRACTICE, ANY},
    {"wrap.when", SW_UNCERTAINTY_DIFFERENCE, 2.0, PRACTICE, ANY},
    {"pull", SW_UNCERTAINTY_DIFFERENCE, 1.5, PRACTICE, ANY},
    /* From the ranges: 6 to 12; 1e-17 to 3e-16; 62 to 70; 0.3 to 0.6; 3e-10 to 5e-9; 6e-10 to 1e-8; 0.003 to 0.01; ... */
    {"pit.convection", SW_UNCERTAINTY_FACTOR, 1.22, SPREAD, ANY},
    {"meat.permeability", SW_UNCERTAINTY_FACTOR, 2.67, SPREAD, ANY},
    {"meat.water_holding_temperature", SW_UNCERTAINTY_DIFFERENCE, 2.3, SPREAD, ANY},
    {"meat.water_holding_loss", SW_UNCERTAINTY_DIFFERENCE, 0.087, SPREAD, ANY},
    {"meat.juice_runoff_time", SW_UNCERTAINTY_FACTOR, 3.1, SPREAD, ANY},
    {"meat.bark_openness", SW_UNCERTAINTY_FACTOR, 2.9, SPREAD, ANY},
    {"meat.water_diffusivity", SW_UNCERTAINTY_FACTOR, 2.25, SPREAD, ANY},
    {"wrap.paper.permeance", SW_UNCERTAINTY_FACTOR, 2.25, SPREAD, SW_WRAP_PAPER},
    {"wrap.paper.resistance", SW_UNCERTAINTY_DIFFERENCE, 0.002, SPREAD, SW_WRAP_PAPER},
    {"wrap.foil.resistance", SW_UNCERTAINTY_FACTOR, 2.67, SPREAD, SW_WRAP_CLOSED_FOIL},
    {"wrap.foil.emissivity", SW_UNCERTAINTY_FACTOR, 2.2, SPREAD, SW_WRAP_CLOSED_FOIL},
    {"wrap.tray.resistance", SW_UNCERTAINTY_DIFFERENCE, 0.0014, SPREAD, SW_WRAP_OPEN_TRAY},
    {"wrap.tray.convection", SW_UNCERTAINTY_DIFFERENCE, 0.29, SPREAD, SW_WRAP_OPEN_TRAY},
};

size_t sw_uncertain_input_count(void)
{
    return sizeof inputs / sizeof *inputs;
}

const sw_uncertain_input *sw_uncertain_input_at(size_t number)
{
    return &inputs[number];
}

static bool is_key(const sw_uncertain_input *input, const char *key)
{
    return strcmp(input->key, key) == 0;
}

/* Where its number stands in a scenario. */
static size_t offset_of(const sw_scenario_key *key)
{
    switch (key->type) {
    case SW_KEY_SCHEDULE:
        return key->offset + offsetof(sw_pit, steps) + offsetof(sw_pit_step, temperature);
    case SW_KEY_ENDING:
        return key->offset + offsetof(sw_ending, value);
    default:
        return key->offset;
    }
}

sw_quantity sw_uncertain_input_quantity(const sw_uncertain_input *input)
{
    const sw_scenario_key *key = sw_scenario_key_find(input->key);
    return key->type == SW_KEY_ENDING ? SW_QUANTITY_TEMPERATURE : key->quantity;
}

bool sw_uncertain_input_counts(const sw_uncertain_input *input, const sw_scenario *s)
{
    const sw_scenario_key *key = sw_scenario_key_find(input->key);
    if (key->type == SW_KEY_ENDING) {
        const sw_ending *ending = (const sw_ending *)((const char *)s + key->offset);
        return ending->kind == SW_ENDING_PROBE_TEMPERATURE && (!is_key(input, "wrap.when") || s->wrap.kind != SW_WRAP_NONE);
    }
    /* What is zero is left out, or taken from elsewhere, and has nothing to move. */
    if (key->quantity == SW_QUANTITY_LENGTH)
        return sw_uncertain_input_value(input, s) > 0.0;
    return input->only_with == SW_WRAP_COUNT || input->only_with == s->wrap.kind;
}

double sw_uncertain_input_value(const sw_uncertain_input *input, const sw_scenario *s)
{
    return *(const double *)((const char *)s + offset_of(sw_scenario_key_find(input->key)));
}

static double moved(const sw_uncertain_input *input, double value, double deviations)
{
    switch (input->kind) {
    case SW_UNCERTAINTY_SHARE:
        return value * (1.0 + deviations * input->deviation);
    case SW_UNCERTAINTY_FACTOR:
        return value * pow(input->deviation, deviations);
    default:
        return value + deviations * input->deviation;
    }
}

void sw_uncertain_input_move(const sw_uncertain_input *input, double deviations, sw_scenario *s)
{
    const sw_scenario_key *key = sw_scenario_key_find(input->key);
    double *value = (double *)((char *)s + offset_of(key)), before = *value;
    *value = moved(input, before, deviations);
    if (is_key(input, "meat.composition.fat"))
        s->meat.composition.water -= *value - before;
    if (key->type == SW_KEY_SCHEDULE)
        for (size_t i = 1; i < s->pit.step_count; i++)
            s->pit.steps[i].temperature += *value - before;
}
