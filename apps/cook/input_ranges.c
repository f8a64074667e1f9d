#include "input_ranges.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

/* What a cook measures or sets: how well cooks know it, common practice, no source. What nobody measures: the standard
 * deviation of an even spread over the published or usual range of docs/theory/parameters.md, its width over the root of
 * twelve; for ranges over decades of the logarithm. */
#define FIELD(name) offsetof(sw_scenario, name)
#define ANY SW_WRAP_COUNT

static const input_range ranges[] = {
    /* Known by the cook, to within */
    {"meat.mass", FIELD(meat.mass), RANGE_SHARE, 0.05, SW_QUANTITY_MASS, ANY},
    {"meat.thickness", FIELD(meat.thickness), RANGE_DIFFERENCE, 0.005, SW_QUANTITY_LENGTH, ANY},
    {"meat.initial_temperature", FIELD(meat.initial_temperature), RANGE_DIFFERENCE, 2.0, SW_QUANTITY_TEMPERATURE, ANY},
    {"meat.composition.fat", FIELD(meat.composition.fat), RANGE_DIFFERENCE, 0.02, SW_QUANTITY_NUMBER, ANY},
    {"meat.fat_cap.thickness", FIELD(meat.fat_cap_thickness), RANGE_DIFFERENCE, 0.002, SW_QUANTITY_LENGTH, ANY},
    {"pit.temperature", FIELD(pit.steps[0].temperature), RANGE_DIFFERENCE, 6.0, SW_QUANTITY_TEMPERATURE, ANY},
    {"pit.humidity_ratio", FIELD(pit.humidity_ratio), RANGE_FACTOR, 1.6, SW_QUANTITY_NUMBER, ANY},
    {"pit.wall_offset", FIELD(pit.wall_offset), RANGE_DIFFERENCE, 10.0, SW_QUANTITY_TEMPERATURE, ANY},
    {"wrap.when", FIELD(wrap.when.value), RANGE_DIFFERENCE, 2.0, SW_QUANTITY_TEMPERATURE, ANY},
    {"pull", FIELD(pull.value), RANGE_DIFFERENCE, 1.5, SW_QUANTITY_TEMPERATURE, ANY},
    /* From the ranges: 6 to 12; 1e-17 to 3e-16; 62 to 70; 0.3 to 0.6; 3e-10 to 5e-9; 6e-10 to 1e-8; 0.003 to 0.01; ... */
    {"pit.convection", FIELD(pit.convection), RANGE_FACTOR, 1.22, SW_QUANTITY_NUMBER, ANY},
    {"meat.permeability", FIELD(meat.permeability), RANGE_FACTOR, 2.67, SW_QUANTITY_NUMBER, ANY},
    {"meat.water_holding_temperature", FIELD(meat.water_holding_temperature), RANGE_DIFFERENCE, 2.3, SW_QUANTITY_TEMPERATURE,
     ANY},
    {"meat.water_holding_loss", FIELD(meat.water_holding_loss), RANGE_DIFFERENCE, 0.087, SW_QUANTITY_NUMBER, ANY},
    {"meat.juice_runoff_time", FIELD(meat.juice_runoff_time), RANGE_FACTOR, 3.1, SW_QUANTITY_NUMBER, ANY},
    {"meat.bark_openness", FIELD(meat.bark_openness), RANGE_FACTOR, 2.9, SW_QUANTITY_NUMBER, ANY},
    {"meat.water_diffusivity", FIELD(meat.water_diffusivity), RANGE_FACTOR, 2.25, SW_QUANTITY_NUMBER, ANY},
    {"wrap.paper.permeance", FIELD(wrap.paper_permeance), RANGE_FACTOR, 2.25, SW_QUANTITY_NUMBER, SW_WRAP_PAPER},
    {"wrap.paper.resistance", FIELD(wrap.paper_resistance), RANGE_DIFFERENCE, 0.002, SW_QUANTITY_NUMBER, SW_WRAP_PAPER},
    {"wrap.foil.resistance", FIELD(wrap.foil_resistance), RANGE_FACTOR, 2.67, SW_QUANTITY_NUMBER, SW_WRAP_CLOSED_FOIL},
    {"wrap.foil.emissivity", FIELD(wrap.foil_emissivity), RANGE_FACTOR, 2.2, SW_QUANTITY_NUMBER, SW_WRAP_CLOSED_FOIL},
    {"wrap.tray.resistance", FIELD(wrap.tray_resistance), RANGE_DIFFERENCE, 0.0014, SW_QUANTITY_NUMBER, SW_WRAP_OPEN_TRAY},
    {"wrap.tray.convection", FIELD(wrap.tray_convection), RANGE_DIFFERENCE, 0.29, SW_QUANTITY_NUMBER, SW_WRAP_OPEN_TRAY},
};

size_t input_range_count(void)
{
    return sizeof ranges / sizeof *ranges;
}

const input_range *input_range_at(size_t number)
{
    return &ranges[number];
}

static bool is_key(const input_range *range, const char *key)
{
    return strcmp(range->key, key) == 0;
}

bool input_range_counts(const input_range *range, const sw_scenario *s)
{
    if (is_key(range, "wrap.when"))
        return s->wrap.kind != SW_WRAP_NONE && s->wrap.when.kind == SW_ENDING_PROBE_TEMPERATURE;
    if (is_key(range, "pull"))
        return s->pull.kind == SW_ENDING_PROBE_TEMPERATURE;
    /* What is zero is left out, or taken from elsewhere, and has nothing to move. */
    if (is_key(range, "meat.fat_cap.thickness") || is_key(range, "meat.thickness"))
        return input_value(range, s) > 0.0;
    return range->only_with == SW_WRAP_COUNT || range->only_with == s->wrap.kind;
}

double input_value(const input_range *range, const sw_scenario *scenario)
{
    return *(const double *)((const char *)scenario + range->field);
}

void input_range_move(const input_range *range, double deviations, sw_scenario *s)
{
    double *value = (double *)((char *)s + range->field), before = *value;
    switch (range->kind) {
    case RANGE_DIFFERENCE:
        *value += deviations * range->deviation;
        break;
    case RANGE_SHARE:
        *value *= 1.0 + deviations * range->deviation;
        break;
    case RANGE_FACTOR:
        *value *= pow(range->deviation, deviations);
        break;
    }
    /* Fat takes the place of water; a thermometer that reads wrong does so at every step of the pit. */
    if (is_key(range, "meat.composition.fat"))
        s->meat.composition.water -= *value - before;
    if (is_key(range, "pit.temperature"))
        for (size_t i = 1; i < s->pit.step_count; i++)
            s->pit.steps[i].temperature += *value - before;
}
