/* SPDX-License-Identifier: BSD-3-Clause */
/* The damp of a pit's air, per kilogram of dry air: outside air, water of the fuel, of a pan and of the meat, and the draught
 * that carries them off. Pure functions but for sw_pit_air_init and sw_pit_air_check. Theory: docs/theory/pit.md. */
#ifndef SW_PIT_AIR_H
#define SW_PIT_AIR_H

#include "fuel.h"
#include "pit_usual.h"
#include "water_table.h"

#include <stallwright/context.h>
#include <stallwright/scenario.h>

/* A pit with everything it takes from its kind filled in. */
typedef struct sw_pit_air {
    double pressure;             /* [Pa] */
    double outside_temperature;  /* [K] */
    double outside_humidity;     /* [kg per kg dry air] */
    double dry_air_flow;         /* [kg s-1] */
    double air_heat_share;       /* [-] */
    double volume;               /* [m3] */
    sw_fuel_figures fuel;
    double pan_area;             /* 0 for no pan [m2] */
    double pan_water;            /* at the start [kg] */
    double pieces;               /* of meat [-] */
} sw_pit_air;

/* Returns SW_OK; SW_ERR_RANGE with a sentence for a flow that is not above 0, a share outside 0 to 1, or a pan deeper than
 * the pit. */
sw_status sw_pit_air_init(sw_context *context, const sw_pit *pit, double pressure, sw_pit_air *air);

/* Fuel burnt [kg s-1] to keep the air at a temperature [K]; 0 for electric heat and where the pit is no warmer than outside. */
double sw_pit_fuel_rate(const sw_pit_air *air, double temperature);

/* Air the fire needs over air there is [-]; above 1 the fire cannot burn so. */
double sw_pit_air_used(const sw_pit_air *air, double temperature);

/* Dry air in the chamber [kg]. */
double sw_pit_dry_air(const sw_pit_air *air, double temperature, double humidity);

/* d(humidity)/dt [s-1] at a humidity ratio; vapour: from all meat and the pan [kg s-1]. */
double sw_pit_humidity_rate(const sw_pit_air *air, double temperature, double humidity, double vapour);

/* The humidity ratio at which that rate is 0. */
double sw_pit_humidity_steady(const sw_pit_air *air, double temperature, double vapour);

/* Refuses a humidity ratio that air of this temperature cannot hold; name is what the sentence calls it. Air at boiling or
 * above holds any. Returns SW_OK, SW_ERR_RANGE. */
sw_status sw_pit_air_check(sw_context *context, const char *name, double temperature, double humidity, double pressure);

/* What a pan's water does. */
typedef struct sw_pan_state {
    double water;       /* left [kg] */
    double temperature; /* [K] */
} sw_pan_state;

typedef struct sw_pan_rates {
    double evaporation;      /* negative: condensation [kg s-1] */
    double temperature_rate; /* [K s-1] */
    double heat;             /* received from air and walls [W] */
} sw_pan_rates;

/* Rates of the pan in air; convection: of the film [W m-2 K-1]. Returns 0, or -1 if its surface finds no balance. */
int sw_pan_rates_of(const sw_pit_air *air, const sw_water_table *water, const sw_pan_state *pan, double air_temperature,
                    double wall_temperature, double humidity, double convection, sw_pan_rates *rates);

#endif
