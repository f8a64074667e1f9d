/* SPDX-License-Identifier: BSD-3-Clause */
#include "pit_usual.h"

#include "fuel.h"
#include "saturation.h"

#include <stallwright/moist_air.h>

#include <math.h>

#define PER_HOUR(mass) ((mass) / 3600.0)
#define MINUTES(minutes) ((minutes) * 60.0)

/* Kinds of pit: sources, ranges and how they hang together stand in docs/theory/pit.md. Flow and share of heat go by the fuel a
 * cook burns in an hour at 107 to 121 C (common practice, no source). Convection and humidity ratio of draughty charcoal and
 * wood pits, of electric cabinets with a small vent and of pellet pits: validation/calibration/report.md; those of the other kinds
 * are guesses between these. Heating up, walls and a steady clean fire included: common practice, no source; half as long to
 * twice as long. */
static const sw_pit_usual usual[SW_PIT_KIND_COUNT] = {
    [SW_PIT_OFFSET] = {"offset", SW_FUEL_WOOD, PER_HOUR(200.0), 0.6, 0.5, 0.25, 8.4, 0.054, MINUTES(60.0), 0.056},
    [SW_PIT_KETTLE] = {"kettle", SW_FUEL_CHARCOAL, PER_HOUR(30.0), 0.35, 0.2, 0.12, 8.4, 0.054, MINUTES(40.0), 0.056},
    [SW_PIT_BULLET] = {"bullet", SW_FUEL_CHARCOAL, PER_HOUR(30.0), 0.35, 0.2, 0.15, 8.4, 0.054, MINUTES(45.0), 0.056},
    [SW_PIT_DRUM] = {"drum", SW_FUEL_CHARCOAL, PER_HOUR(40.0), 0.35, 0.3, 0.2, 8.4, 0.054, MINUTES(45.0), 0.056},
    [SW_PIT_CERAMIC] = {"ceramic", SW_FUEL_CHARCOAL, PER_HOUR(10.0), 0.25, 0.1, 0.1, 6.5, 0.054, MINUTES(60.0), 0.054},
    [SW_PIT_PELLET] = {"pellet", SW_FUEL_PELLETS, PER_HOUR(60.0), 0.5, 1.0, 0.2, 11.0, 0.095, MINUTES(20.0), 0.056},
    [SW_PIT_ELECTRIC] = {"electric", SW_FUEL_NONE, PER_HOUR(0.5), 0.2, 0.1, 0.15, 4.6, 0.095, MINUTES(45.0), 0.32},
    [SW_PIT_GAS] = {"gas", SW_FUEL_PROPANE, PER_HOUR(45.0), 0.4, 0.3, 0.25, 8.0, 0.054, MINUTES(20.0), 0.056},
    [SW_PIT_FAN_OVEN] = {"fan-oven", SW_FUEL_NONE, PER_HOUR(5.0), 0.2, 2.0, 0.06, 20.0, 0.0, MINUTES(15.0), 0.04},
    [SW_PIT_HOUSE_OVEN] = {"house-oven", SW_FUEL_NONE, PER_HOUR(3.0), 0.2, 0.1, 0.06, 6.5, 0.0, MINUTES(20.0), 0.06},
};

const sw_pit_usual *sw_pit_usual_of(sw_pit_kind kind)
{
    return &usual[kind];
}

const char *sw_pit_kind_name(sw_pit_kind kind)
{
    return kind >= 0 && kind < SW_PIT_KIND_COUNT ? usual[kind].name : "unknown kind of pit";
}

sw_fuel sw_pit_fuel_of(const sw_pit *pit)
{
    return pit->fuel == SW_FUEL_USUAL ? usual[pit->kind].fuel : pit->fuel;
}

double sw_pit_air_flow_of(const sw_pit *pit)
{
    return pit->air_flow > 0.0 ? pit->air_flow : pit->draught * usual[pit->kind].air_flow;
}

double sw_pit_air_heat_share_of(const sw_pit *pit)
{
    return pit->air_heat_share > 0.0 ? pit->air_heat_share : usual[pit->kind].air_heat_share;
}

double sw_pit_air_speed_of(const sw_pit *pit)
{
    return pit->air_speed > 0.0 ? pit->air_speed : pit->draught * usual[pit->kind].air_speed;
}

double sw_pit_coolest_air(const sw_pit *pit)
{
    double lowest = INFINITY;
    for (size_t i = 0; i < pit->step_count; i++)
        lowest = fmin(lowest, pit->steps[i].temperature - pit->cycle_swing);
    return lowest;
}

/* A film of air in a stream goes with the root of its speed: the laminar plate of docs/theory/pit.md. */
double sw_usual_convection(const sw_pit *pit)
{
    return usual[pit->kind].convection * sqrt(pit->draught);
}

/* Air of the pit for which fuel and walls are reckoned [K]: 115 C, a choice; W moves by 0.001, walls by 2 K for 15 K of it. */
static const double pit_temperature = 388.15;

double sw_usual_wall_offset(const sw_pit *pit)
{
    return -usual[pit->kind].wall_share * (pit_temperature - pit->outside_temperature);
}

/* What moves the humidity of a pit. */
typedef struct damp {
    double outside_temperature, outside_relative_humidity, pressure;
    sw_fuel fuel;
    double fuel_moisture, air_heat_share, air_flow;
    double vapour; /* of meat and pan [kg s-1] */
} damp;

/* Vapour a piece of meat gives off, on the mean over a cook, at this mass [kg s-1], [kg]; by its surface for another mass. A third
 * of the raw mass in 2.1 h/kg, as briskets at 107 to 121 C lose it (practice). */
static const double meat_vapour = PER_HOUR(0.15), meat_mass = 6.5;

/* Vapour of a pan's water by its surface [kg s-1 m-2]: computed by the balance of docs/theory/pit.md, 2 to 3.5 kg/h m2. */
static const double pan_vapour = PER_HOUR(2.5);

/* The steady balance of vapour in docs/theory/pit.md. */
static double steady(const damp *d)
{
    const sw_fuel_figures fuel = sw_fuel_figures_of(d->fuel, d->fuel_moisture);
    const double warming = SW_AIR_HEAT_CAPACITY * (pit_temperature - d->outside_temperature);
    const double burnt = fuel.heat > 0.0 ? warming / (d->air_heat_share * fuel.heat) : 0.0;
    return sw_outside_humidity(d->outside_temperature, d->outside_relative_humidity, d->pressure) + burnt * fuel.water +
           d->vapour / d->air_flow;
}

/* Meat in a damp cabinet stalls at about 72 C, and a tray of water beside it sits a little hotter: near the vapour pressure of that they give
 * off no more. A guess, 70 to 80 C. */
static const double meat_temperature = 348.15, most_of_saturation = 0.9;

static double dampest(const sw_pit *pit, double pressure)
{
    double saturation, slope;
    sw_saturation(fmin(meat_temperature, sw_pit_coolest_air(pit)), &saturation, &slope);
    const double vapour = most_of_saturation * saturation;
    return SW_WATER_AIR_MASS_RATIO * vapour / (pressure - vapour);
}

double sw_pit_load(double mass, double other_mass)
{
    return pow(mass / other_mass, 2.0 / 3.0);
}

double sw_usual_humidity(const sw_pit *pit, double mass)
{
    const sw_pit_usual *kind = &usual[pit->kind];
    double pressure = SW_STANDARD_PRESSURE;
    (void)sw_pressure_at_altitude(pit->altitude, &pressure); /* an altitude out of range is refused by the check */
    const bool has_pan = pit->pan_area > 0.0 && pit->pan_depth > 0.0;
    const damp here = {.outside_temperature = pit->outside_temperature,
                       .outside_relative_humidity = pit->outside_relative_humidity,
                       .pressure = pressure,
                       .fuel = sw_pit_fuel_of(pit),
                       .fuel_moisture = pit->fuel_moisture,
                       .air_heat_share = sw_pit_air_heat_share_of(pit),
                       .air_flow = sw_pit_air_flow_of(pit),
                       .vapour = pit->pieces * meat_vapour * sw_pit_load(mass, meat_mass) +
                                 (has_pan ? pan_vapour * pit->pan_area : 0.0)};
    /* The weather, fuel and load for which the table holds. */
    const damp usually = {.outside_temperature = 293.15,
                          .outside_relative_humidity = 0.6,
                          .pressure = SW_STANDARD_PRESSURE,
                          .fuel = kind->fuel,
                          .fuel_moisture = 0.2,
                          .air_heat_share = kind->air_heat_share,
                          .air_flow = kind->air_flow,
                          .vapour = meat_vapour};
    return fmin(dampest(pit, pressure), kind->humidity_ratio + steady(&here) - steady(&usually));
}
