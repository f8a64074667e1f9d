/* SPDX-License-Identifier: BSD-3-Clause */
/* Water on its saturation line: unchecked functions for tables and inner loops; the checked ones are public. */
#ifndef SW_SATURATION_H
#define SW_SATURATION_H

#include <stallwright/moist_air.h>

/* Saturation pressure [Pa] and its slope [Pa K-1] at a temperature of 273.15..647 K. */
void sw_saturation(double temperature, double *pressure, double *slope);

/* Latent heat of evaporation [J kg-1] at 273.15..647 K. */
double sw_latent_heat_unchecked(double temperature);

/* Vapour pressure in air of a humidity ratio >= 0 [kg per kg dry air] at a total pressure [Pa]. */
static inline double sw_vapour_pressure_unchecked(double humidity_ratio, double pressure)
{
    return pressure * humidity_ratio / (SW_WATER_AIR_MASS_RATIO + humidity_ratio);
}

#endif
