/* SPDX-License-Identifier: BSD-3-Clause */
#include "pit_learned.h"

#define FIELD(field) #field, offsetof(sw_pit_learned, field)
#define CORRELATION {-0.999, 0.999}

const sw_learned_number sw_learned_numbers[SW_LEARNED_NUMBERS] = {
    {FIELD(offset), SW_QUANTITY_TEMPERATURE_DIFFERENCE, "K", "F", {-60.0, 60.0}, "the pit as the meat feels it, less its gauge"},
    {FIELD(offset_spread), SW_QUANTITY_TEMPERATURE_DIFFERENCE, "K", "F", {1e-3, 30.0}, "one deviation of it"},
    {FIELD(convection), SW_QUANTITY_HEAT_TRANSFER, "W/m2/K", "W/m2/K", {1.0, 100.0}, "heat transfer coefficient of its air at the meat"},
    {FIELD(convection_spread), SW_QUANTITY_NUMBER, "", "", {1.0001, 4.0}, "times or over this, one deviation"},
    {FIELD(humidity_ratio), SW_QUANTITY_HUMIDITY_RATIO, "", "", {1e-4, 1.0}, "vapour per dry air in it, by mass"},
    {FIELD(humidity_ratio_spread), SW_QUANTITY_NUMBER, "", "", {1.0001, 4.0}, "times or over this, one deviation"},
    {FIELD(offset_with_convection), SW_QUANTITY_NUMBER, "", "", CORRELATION, "correlations: two that make up for each other have a negative one"},
    {FIELD(offset_with_humidity_ratio), SW_QUANTITY_NUMBER, "", "", CORRELATION, ""},
    {FIELD(convection_with_humidity_ratio), SW_QUANTITY_NUMBER, "", "", CORRELATION, ""},
};
