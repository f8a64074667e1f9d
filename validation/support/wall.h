/* SPDX-License-Identifier: BSD-3-Clause */
/* A slab of one material between two climates, in the library's own solver: mesh, surfaces, transport, integrator. */
#ifndef SW_VALIDATION_WALL_H
#define SW_VALIDATION_WALL_H

#include "transport_problem.h"

typedef struct wall_setup {
    double thickness;           /* [m] */
    size_t cells;
    double low_cell, high_cell; /* of the outermost cells; 0: all alike [m] */
    bool sealed_low;            /* nothing passes x = 0: a plane of symmetry */
    double temperature;         /* at the start [K] */
    double water;               /* at the start, per dry matter [kg kg-1] */
    double tolerance;           /* relative */
    double water_reference;     /* where enthalpies are zero [K] */
    sw_tabulated_functions water_functions; /* NULL for water as it is; else saturation pressure, latent heat, liquid enthalpy */
} wall_setup;

typedef struct wall {
    sw_context *context;
    sw_mesh *mesh;
    sw_material *material;
    sw_water_table water;
    sw_transport *transport;
    sw_integrator *integrator;
    double time; /* reached [s] */
} wall;

/* The material goes over to the wall. Surfaces are sealed until they are set. */
void wall_init(wall *w, const wall_setup *setup, sw_material *material);
void wall_free(wall *w);

/* The surface at x = 0 (SW_SIDE_BOTTOM) or at the other end (SW_SIDE_TOP). */
sw_surface *wall_surface(wall *w, sw_side side);

void wall_run_to(wall *w, double time);

/* At a place: linear between cell centres. [K], [kg kg-1] */
double wall_temperature(const wall *w, double x);
double wall_water(const wall *w, double x);

/* The surface's own temperature now [K]. */
double wall_surface_temperature(wall *w, sw_side side);

#endif
