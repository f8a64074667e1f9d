/* SPDX-License-Identifier: BSD-3-Clause */
#include "fuel.h"

#include "saturation.h"

/* Molar masses [kg kmol-1]. */
static const double carbon = 12.011, hydrogen_2 = 2.016, oxygen_2 = 31.998, water_mass = 18.015;

/* Oxygen in dry air, by mass (handbook value, from memory). */
static const double oxygen_in_air = 0.2314;

/* Latent heat of water at 25 C, by which higher and lower heating values differ [J kg-1]; steam tables. */
static const double latent_at_25 = 2.442e6;

/* Dry matter of fuels by mass and its lower heating value. Wood: C 0.50, H 0.06, O 0.43 of dry wood, 18.3 MJ/kg (18 to
 * 18.7); charcoal: H 0.02 to 0.03, 29 to 31 MJ/kg; all from memory. Propane: C3H8, 46.35 MJ/kg (from memory). */
typedef struct dry_fuel {
    double carbon, hydrogen, oxygen; /* [kg kg-1] */
    double heat;                     /* [J kg-1] */
    double moisture;                 /* as sold; negative: given by the scenario [-] */
} dry_fuel;

static const dry_fuel fuels[SW_FUEL_COUNT] = {
    [SW_FUEL_WOOD] = {0.50, 0.06, 0.43, 18.3e6, -1.0},
    [SW_FUEL_PELLETS] = {0.50, 0.06, 0.43, 18.3e6, 0.07},
    [SW_FUEL_CHARCOAL] = {0.85, 0.025, 0.09, 31.0e6, 0.05},
    [SW_FUEL_PROPANE] = {0.8171, 0.1829, 0.0, 46.35e6, 0.0},
};

sw_fuel_figures sw_fuel_figures_of(sw_fuel fuel, double moisture)
{
    const dry_fuel *dry = &fuels[fuel];
    double wet = dry->moisture < 0.0 ? moisture : dry->moisture;
    if (dry->heat <= 0.0)
        return (sw_fuel_figures){0};
    double oxygen = dry->carbon * oxygen_2 / carbon + dry->hydrogen * 0.5 * oxygen_2 / hydrogen_2 - dry->oxygen;
    return (sw_fuel_figures){.water = (1.0 - wet) * dry->hydrogen * water_mass / hydrogen_2 + wet,
                             .heat = (1.0 - wet) * dry->heat - wet * latent_at_25,
                             .air = (1.0 - wet) * oxygen / oxygen_in_air};
}

double sw_outside_humidity(double temperature, double relative_humidity, double pressure)
{
    double saturation, slope;
    sw_saturation(temperature, &saturation, &slope);
    double vapour = relative_humidity * saturation;
    return SW_WATER_AIR_MASS_RATIO * vapour / (pressure - vapour);
}
