/* SPDX-License-Identifier: BSD-3-Clause */
#include "pit_convection.h"

#include "convection.h"
#include "pit_usual.h"

#include <stallwright/cut_traits.h>

#include <math.h>

/* Surface for which the film is reckoned [K]: that of meat in its stall, 65 C; a choice. Natural convection goes with
 * about the fourth root of the difference, so a surface at 45 or 85 C has 10 % more or 15 % less of it at 121 C. */
static const double surface_temperature = 338.15;

static sw_body_size size_of(const sw_meat *meat, double density)
{
    const sw_cut_traits *usual = sw_cut_traits_of(meat->cut);
    const double plan_proportion = usual->length / usual->width; /* seen from above */
    double width = sqrt(meat->mass / (density * meat->thickness * plan_proportion));
    return (sw_body_size){.is_round = meat->shape == SW_SHAPE_CYLINDER || meat->shape == SW_SHAPE_SPHERE,
                          .height = meat->thickness,
                          .width = width,
                          .length = plan_proportion * width};
}

void sw_pit_convection(const sw_scenario *scenario, double density, double air_temperature, double pressure,
                       double coefficients[SW_SIDE_COUNT])
{
    const sw_pit *pit = &scenario->pit;
    const sw_body_size size = size_of(&scenario->meat, density);
    const sw_air_stream stream = {.air_temperature = air_temperature,
                                  .surface_temperature = surface_temperature,
                                  .pressure = pressure,
                                  .speed = sw_pit_air_speed_of(pit)};
    for (int side = 0; side < SW_SIDE_COUNT; side++)
        sw_side_convection(&stream, &size, (sw_side)side, &coefficients[side]); /* every pit's air is in range */
}
