/* SPDX-License-Identifier: BSD-3-Clause */
/* What a pit has when a scenario leaves it to the kind of pit. */
#ifndef SW_PIT_USUAL_H
#define SW_PIT_USUAL_H

#include <stallwright/scenario.h>

typedef struct sw_pit_usual {
    const char *name; /* in scenario files */
    sw_fuel fuel;
    double air_flow;       /* dry air through the pit [kg s-1] */
    double air_heat_share; /* of the fuel's heat that leaves as warm air [-] */
    double air_speed;      /* at the meat [m s-1] */
    double volume;         /* of the chamber [m3] */
    double convection;     /* heat transfer coefficient of the air at the meat [W m-2 K-1] */
    double wall_share;     /* how far walls are from the air's temperature towards that outside [-] */
    double heat_up;        /* from lighting the fire until the meat may go on [s] */
    double humidity_ratio; /* with one brisket and no pan, in the weather of docs/theory/pit.md [kg per kg dry air] */
} sw_pit_usual;

const sw_pit_usual *sw_pit_usual_of(sw_pit_kind kind);

/* What a pit has, said or left to its kind and draught. */
sw_fuel sw_pit_fuel_of(const sw_pit *pit); /* never SW_FUEL_USUAL */
double sw_pit_air_flow_of(const sw_pit *pit);
double sw_pit_air_heat_share_of(const sw_pit *pit);
double sw_pit_air_speed_of(const sw_pit *pit);

/* Coefficient of the air film by kind and draught [W m-2 K-1]. */
double sw_usual_convection(const sw_pit *pit);

/* Wall temperature less air temperature by kind and weather [K]. */
double sw_usual_wall_offset(const sw_pit *pit);

/* The vapour that a piece of meat gives off over that of another of this mass: by its surface, whose ratio this is [-]. */
double sw_pit_load(double mass, double other_mass);

/* Humidity ratio by kind, air flow, fuel, weather, pan and load; mass of one piece of meat [kg]. */
double sw_usual_humidity(const sw_pit *pit, double mass);

/* The lowest temperature that the pit is set to, swings included [K]. */
double sw_pit_coolest_air(const sw_pit *pit);

#endif
