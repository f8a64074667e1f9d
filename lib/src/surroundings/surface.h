/* SPDX-License-Identifier: BSD-3-Clause */
/* One piece of surface and the air it meets: its own heat balance gives its temperature.
 * Theory: docs/theory/surface.md. */
#ifndef SW_SURFACE_H
#define SW_SURFACE_H

#include "water_table.h"

#include <stdbool.h>

/* What a surface gives its vapour to and takes its heat from. */
typedef enum sw_contact {
    SW_CONTACT_AIR,   /* the air of pit or place */
    SW_CONTACT_POOL,  /* the juice it lies in: no vapour; air and wall temperature are the pool's */
    SW_CONTACT_INSIDE /* air outside for heat, the gas inside closed foil for vapour */
} sw_contact;

/* What a surface meets: air, walls and the wrap between. */
typedef struct sw_surface {
    sw_contact contact;
    double air_temperature;     /* [K] */
    double wall_temperature;    /* [K] */
    double pressure;            /* of the air [Pa] */
    double vapour_pressure;     /* in the air [Pa] */
    double convection;          /* of the air film [W m-2 K-1] */
    double emissivity;          /* of what faces the walls: meat or wrap [-] */
    double resistance;          /* thermal, of the wrap and the gap under it [m2 K W-1] */
    double vapour_coefficient;  /* evaporation per unit of the logarithm in eq. 4; 0 for a tight wrap [kg s-1 m-2] */
    double film_share;          /* of the surface that a film of juice or spray wets [-] */
    double film_warming;        /* heat that liquid takes to reach the surface temperature [J kg-1] */
    bool drips;                 /* whether juice that reaches the surface leaves it */
    bool vents;                 /* whether steam above the air pressure escapes, through any wrap */
    bool is_fixed;              /* the surface is held at fixed_temperature (for exact solutions) */
    double fixed_temperature;   /* [K] */
    double heat_flux;           /* received besides, whatever the temperature (for exact solutions) [W m-2] */
} sw_surface;

#define SW_STEFAN_BOLTZMANN 5.670374419e-8 /* [W m-2 K-4], CODATA 2018 */

/* Emissivity of water and of a layer of fat: 0.95..0.96 in tables for infrared sensors [-]. */
#define SW_WATER_EMISSIVITY 0.95

/* Water activity of the liquid in a film: that of raw meat is about 0.99, salt of a rub lowers it (from memory). A guess,
 * 0.96..0.99 [-]. */
#define SW_FILM_ACTIVITY 0.98

/* Water activity of a surface of which a film wets a share, the rest as dry as the tissue. */
static inline double sw_surface_activity(double film_share, double tissue_activity)
{
    return film_share * SW_FILM_ACTIVITY + (1.0 - film_share) * tissue_activity;
}

/* What the surface needs to know of the cell behind it. */
typedef struct sw_behind {
    double temperature;         /* of the cell [K] */
    double conductance;         /* from the cell's centre to the surface [W m-2 K-1] */
    double water_activity;      /* [-] */
} sw_behind;

/* The balanced surface, per unit area; heat counts into the meat, water out of it. */
typedef struct sw_surface_balance {
    double temperature;         /* of the surface [K] */
    double evaporation;         /* from meat and film; negative: condensation [kg s-1 m-2] */
    double film_part;           /* of evaporation that comes from the film [-] */
    double convection_heat;     /* [W m-2] */
    double radiation_heat;      /* [W m-2] */
    double evaporation_heat;    /* [W m-2] */
    double water_enthalpy;      /* of liquid at the surface temperature [J kg-1] */
    double latent_heat;         /* at the surface temperature [J kg-1] */
    /* Derivatives of the surface temperature with respect to the cell's temperature, conductance and water activity. */
    double temperature_by_cell;
    double temperature_by_conductance;
    double temperature_by_activity;
    /* Derivatives of evaporation at fixed surface temperature or at fixed activity, and of the enthalpy. */
    double evaporation_by_temperature;
    double evaporation_by_activity;
    double water_enthalpy_slope;
    double latent_heat_slope;
    double film_part_by_activity;
} sw_surface_balance;

/* Evaporation coefficient of an open surface with this film, in series with a wrap of this permeance (pass 0 for no
 * wrap) [kg s-1 m-2]. */
double sw_open_vapour_coefficient(double convection, double permeance, double pressure);

/* Evaporation of a surface at a vapour pressure [kg s-1 m-2], and its slope. */
double sw_surface_evaporation(const sw_surface *surface, double vapour_pressure, double *slope);

/* Finds the surface temperature; guess is a start value [K]. Returns 0, or -1 if no balance is found in the range of
 * the water table. */
int sw_surface_solve(const sw_surface *surface, const sw_water_table *water, const sw_behind *behind, double guess,
                     sw_surface_balance *balance);

/* The same, but a last step of so much [K] is taken along the tangents: for a surface that has moved by little. */
int sw_surface_follow(const sw_surface *surface, const sw_water_table *water, const sw_behind *behind, double guess,
                      double last_step, sw_surface_balance *balance);

#endif
