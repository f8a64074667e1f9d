/* SPDX-License-Identifier: BSD-3-Clause */
/* Fuels, and the damp they and the weather give to the air of a pit. Pure functions. Theory: docs/theory/pit.md. */
#ifndef SW_FUEL_H
#define SW_FUEL_H

#include <stallwright/scenario.h>

/* What burning a kilogram of fuel, as it is with its moisture, takes and gives. */
typedef struct sw_fuel_figures {
    double water; /* vapour made, moisture included [kg kg-1] */
    double heat;  /* lower heating value [J kg-1]; 0 for electric heat */
    double air;   /* dry air for complete combustion [kg kg-1] */
} sw_fuel_figures;

/* moisture: of wood, per wet wood; other fuels have their own. fuel is not SW_FUEL_USUAL. */
sw_fuel_figures sw_fuel_figures_of(sw_fuel fuel, double moisture);

/* Humidity ratio of outside air [kg per kg dry air]; relative humidity is over liquid water, as in weather reports. */
double sw_outside_humidity(double temperature, double relative_humidity, double pressure);

#endif
