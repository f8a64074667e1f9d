/* SPDX-License-Identifier: BSD-3-Clause */
#include "pit_air.h"

#include "say.h"

#include "saturation.h"
#include "surface.h"

#include <math.h>

sw_status sw_pit_air_init(sw_context *context, const sw_pit *pit, double pressure, sw_pit_air *air)
{
    char a[SW_SAY_SIZE], b[SW_SAY_SIZE];
    if (!(pit->air_flow >= 0.0))
        return sw_fail(context, SW_ERR_RANGE, "pit.air_flow is %s; allowed 0 (that of pit.kind) or more",
                       sw_say(context, SW_QUANTITY_MASS_FLOW, pit->air_flow, a));
    if (!(pit->air_heat_share >= 0.0 && pit->air_heat_share < 1.0))
        return sw_fail(context, SW_ERR_RANGE, "pit.air_heat_share is %.4g; allowed 0 (that of pit.kind) to below 1",
                       pit->air_heat_share);
    if (pit->pan_area > 0.0 && !(pit->pan_depth < pit->height))
        return sw_fail(context, SW_ERR_RANGE, "pit.pan.depth is %s; allowed below pit.height, %s",
                       sw_say(context, SW_QUANTITY_LENGTH, pit->pan_depth, a),
                       sw_say(context, SW_QUANTITY_LENGTH, pit->height, b));
    *air = (sw_pit_air){
        .pressure = pressure,
        .outside_temperature = pit->outside_temperature,
        .outside_humidity = sw_outside_humidity(pit->outside_temperature, pit->outside_relative_humidity, pressure),
        .dry_air_flow = sw_pit_air_flow_of(pit),
        .air_heat_share = sw_pit_air_heat_share_of(pit),
        .volume = sw_pit_usual_of(pit->kind)->volume,
        .fuel = sw_fuel_figures_of(sw_pit_fuel_of(pit), pit->fuel_moisture),
        .pan_area = pit->pan_area,
        .pan_water = 1000.0 * pit->pan_area * pit->pan_depth,
        .pieces = pit->pieces,
    };
    return SW_OK;
}

double sw_pit_fuel_rate(const sw_pit_air *air, double temperature)
{
    double warming = air->dry_air_flow * SW_AIR_HEAT_CAPACITY * (temperature - air->outside_temperature);
    return air->fuel.heat > 0.0 && warming > 0.0 ? warming / (air->air_heat_share * air->fuel.heat) : 0.0;
}

double sw_pit_air_used(const sw_pit_air *air, double temperature)
{
    return air->fuel.air * sw_pit_fuel_rate(air, temperature) / air->dry_air_flow;
}

double sw_pit_dry_air(const sw_pit_air *air, double temperature, double humidity)
{
    double dry_pressure = air->pressure - sw_vapour_pressure_unchecked(humidity, air->pressure);
    return dry_pressure * air->volume / (SW_VAPOUR_GAS_CONSTANT * SW_WATER_AIR_MASS_RATIO * temperature);
}

static double vapour_gained(const sw_pit_air *air, double temperature, double vapour)
{
    return air->dry_air_flow * air->outside_humidity + air->fuel.water * sw_pit_fuel_rate(air, temperature) + vapour;
}

double sw_pit_humidity_rate(const sw_pit_air *air, double temperature, double humidity, double vapour)
{
    return (vapour_gained(air, temperature, vapour) - air->dry_air_flow * humidity) /
           sw_pit_dry_air(air, temperature, humidity);
}

double sw_pit_humidity_steady(const sw_pit_air *air, double temperature, double vapour)
{
    return vapour_gained(air, temperature, vapour) / air->dry_air_flow;
}

sw_status sw_pit_air_check(sw_context *context, const char *name, double temperature, double humidity, double pressure)
{
    double saturation, slope;
    sw_saturation(temperature, &saturation, &slope);
    if (saturation >= pressure)
        return SW_OK;
    double most = SW_WATER_AIR_MASS_RATIO * saturation / (pressure - saturation);
    if (humidity <= most)
        return SW_OK;
    char air[SW_SAY_SIZE];
    return sw_fail(context, SW_ERR_RANGE,
                   "%s is %.4g; air of %s, at the air pressure of the place, is saturated at %.4g and holds no more vapour", name,
                   humidity, sw_say(context, SW_QUANTITY_TEMPERATURE, temperature, air), most);
}

/* Emissivity of a sooty pan, 0.9 to 0.97 in handbook tables [-]. */
static const double pan_emissivity = 0.9;

/* Heat transfer between a pan's water and its surface [W m-2 K-1]; natural convection in water, 200 to 600: a guess. */
static const double water_convection = 300.0;

/* Heat capacity of the empty pan per area [J m-2 K-1]: 1 mm of steel. */
static const double pan_capacity = 3900.0;

/* Below this depth the water no longer covers the pan [m]: a choice. */
static const double covering_depth = 1e-3;

static const double water_density = 1000.0; /* [kg m-3] */

int sw_pan_rates_of(const sw_pit_air *air, const sw_water_table *water, const sw_pan_state *pan, double air_temperature,
                    double wall_temperature, double humidity, double convection, sw_pan_rates *rates)
{
    sw_surface top = {.air_temperature = air_temperature,
                      .wall_temperature = wall_temperature,
                      .pressure = air->pressure,
                      .vapour_pressure = sw_vapour_pressure_unchecked(humidity, air->pressure),
                      .convection = convection,
                      .emissivity = SW_WATER_EMISSIVITY,
                      .vapour_coefficient = sw_open_vapour_coefficient(convection, 0.0, air->pressure),
                      .vents = true};
    sw_surface bottom = top;
    bottom.emissivity = pan_emissivity;
    bottom.vapour_coefficient = 0.0;
    bottom.vents = false;
    const sw_behind behind = {pan->temperature, water_convection, 1.0};
    sw_surface_balance above, below;
    if (sw_surface_solve(&top, water, &behind, pan->temperature, &above) != 0 ||
        sw_surface_solve(&bottom, water, &behind, pan->temperature, &below) != 0)
        return -1;
    double depth = fmax(pan->water, 0.0) / (water_density * air->pan_area);
    double wet = fmin(depth / covering_depth, 1.0);
    rates->evaporation = air->pan_area * wet * above.evaporation;
    double heat_above = wet * (above.convection_heat + above.radiation_heat);
    double heat_below = below.convection_heat + below.radiation_heat;
    rates->heat = air->pan_area * (heat_above + heat_below);
    /* The water that evaporates leaves with the enthalpy of its surface. */
    const sw_table_place place = sw_table_find(&water->table, pan->temperature, 1);
    double enthalpy = sw_table_value(&place, SW_WATER_TABLE_WIDTH, SW_WATER_LIQUID_ENTHALPY);
    double capacity = sw_table_slope(&place, SW_WATER_TABLE_WIDTH, SW_WATER_LIQUID_ENTHALPY);
    double carried = above.evaporation_heat + above.evaporation * (above.water_enthalpy - enthalpy);
    rates->temperature_rate = (heat_above + heat_below - wet * carried) /
                              (pan_capacity + water_density * depth * capacity);
    return 0;
}
