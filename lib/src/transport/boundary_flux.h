/* SPDX-License-Identifier: BSD-3-Clause */
/* What crosses a boundary face, and what meat and surroundings so exchange. In a header, so that it goes into the clones of
 * its caller's loop. Theory: docs/theory/surface.md, numerics.md. */
#ifndef SW_BOUNDARY_FLUX_H
#define SW_BOUNDARY_FLUX_H

#include "lanes.h"
#include "transport.h"
#include "vector_clones.h"

#include <math.h>

/* What crosses a boundary face out of its cell, with derivatives by the cell's T and X. */
typedef struct boundary_flux {
    double water, heat;
    double drip, drip_enthalpy; /* [kg s-1], [J kg-1] */
    double outside_heat;        /* received from outside [W] */
    double evaporation, film;   /* in all, and from the film [kg s-1] */
    double vapour_enthalpy;     /* of all that evaporates [W] */
    double warming;             /* heat in what evaporates beyond its latent heat [W] */
    double water_by[2], heat_by[2], drip_by[2], drip_enthalpy_by[2], outside_by[2], evaporation_by[2], film_by[2],
        vapour_enthalpy_by[2];
} boundary_flux;

/* Has the lumped model set the surfaces and the meat's size, if it moves them. */
static inline void surround(sw_transport *t, double time, const double *lumped)
{
    if (!t->follows)
        return;
    t->lumped.surround(time, lumped, t->surfaces, t->lumped.data);
    if (t->lumped.scale_of_meat)
        t->meat_scale = t->lumped.scale_of_meat(lumped, t->lumped.data);
}

/* From the cell's centre to the surface, as the meat is now [m]. */
static SW_INTO_CLONES double depth_of(const sw_transport *t, const sw_boundary_face *face)
{
    return face->distance * t->meat_scale.distance;
}

/* From the last balance and what was behind it, along its tangents: most often one evaluation then does. */
static SW_INTO_CLONES double guess_surface(const sw_behind *last, const sw_surface_balance *b, const sw_behind *behind)
{
    if (!(last->temperature > 0.0))
        return behind->temperature;
    double move = b->temperature_by_cell * (behind->temperature - last->temperature) +
                  b->temperature_by_conductance * (behind->conductance - last->conductance) +
                  b->temperature_by_activity * (behind->water_activity - last->water_activity);
    /* Far from the last balance, as after a jump of the surroundings, a tangent leads nowhere. */
    return fabs(move) < 5.0 ? b->temperature + move : b->temperature;
}

static SW_INTO_CLONES double heat_factor_of(const sw_transport *t, const sw_boundary_face *face)
{
    return 1.0 + face->along_fibres * (t->fibre_conductivity - 1.0);
}

/* Of the juice's way from the cell's centre out; 0 where nothing drips. */
static SW_INTO_CLONES double juice_per_distance(const sw_transport *t, const sw_boundary_face *face, const sw_surface *surface)
{
    const double juice_factor = 1.0 + face->along_fibres * (t->fibre_permeability - 1.0);
    return surface->drips ? juice_factor / depth_of(t, face) : 0.0;
}

/* Derivatives of what crosses by the cell's T and X; own: what the meat itself evaporates [kg s-1 m-2]. */
static SW_INTO_CLONES void differentiate_boundary(const sw_transport *t, size_t index, const sw_behind *behind, double own,
                                                  double drip, boundary_flux *f)
{
    const sw_boundary_face *face = &t->mesh->boundary_faces[index];
    const sw_surface *surface = &t->surfaces[index];
    const sw_surface_balance *b = &t->balances[index];
    const size_t cell = face->cell;
    const sw_properties p = sw_cell_of(&t->value, cell);
    const double area = face->area * t->meat_scale.area, heat_factor = heat_factor_of(t, face);
    const double per_distance = juice_per_distance(t, face, surface);
    const double difference = b->temperature - behind->temperature;
    for (int v = 0; v < 2; v++) {
        const sw_properties d = sw_cell_of(v == 0 ? &t->by_temperature : &t->by_water, cell);
        double conductance_by = heat_factor * d.conductivity / depth_of(t, face);
        double surface_by = b->temperature_by_conductance * conductance_by +
                            b->temperature_by_activity * d.water_activity + (v == 0 ? b->temperature_by_cell : 0.0);
        double evaporation_by = b->evaporation_by_temperature * surface_by +
                                b->evaporation_by_activity * d.water_activity;
        double film_by = evaporation_by * b->film_part + b->evaporation * b->film_part_by_activity * d.water_activity;
        double own_by = evaporation_by - film_by, enthalpy_by = b->water_enthalpy_slope * surface_by;
        double drip_by = (d.mobility * p.juice_pressure + p.mobility * d.juice_pressure) * per_distance;
        double passed_by = conductance_by * difference + behind->conductance * (surface_by - (v == 0 ? 1.0 : 0.0));
        double latent_by = evaporation_by * b->latent_heat + b->evaporation * b->latent_heat_slope * surface_by;
        double warming_by = own_by * b->water_enthalpy + own * enthalpy_by + film_by * surface->film_warming;
        f->drip_by[v] = area * drip_by;
        f->drip_enthalpy_by[v] = d.water_enthalpy;
        f->evaporation_by[v] = area * evaporation_by;
        f->film_by[v] = area * film_by;
        f->water_by[v] = area * (own_by + drip_by);
        f->heat_by[v] = area * (-passed_by + warming_by + drip_by * p.water_enthalpy + drip * d.water_enthalpy);
        f->outside_by[v] = area * (latent_by + passed_by);
        f->vapour_enthalpy_by[v] = area * (latent_by + evaporation_by * b->water_enthalpy + b->evaporation * enthalpy_by);
    }
}

/* Finds the balance of a surface, by evaluations or, where it has moved by little, along its tangents. */
typedef enum surface_search { FIND_BALANCE, FOLLOW_TANGENTS } surface_search;

/* A surface moves by thousandths of a kelvin for a difference: what its tangents miss of that is of its square [K]. */
static const double little = 0.1;

static SW_INTO_CLONES int flux_out(sw_transport *t, size_t index, const double *state, boundary_flux *f,
                                   const int derivatives, const surface_search search)
{
    const sw_boundary_face *face = &t->mesh->boundary_faces[index];
    const sw_surface *surface = &t->surfaces[index];
    const size_t cell = face->cell;
    const sw_properties p = sw_cell_of(&t->value, cell);
    const double temperature = state[2 * cell];
    const sw_behind behind = {temperature, heat_factor_of(t, face) * p.conductivity / depth_of(t, face), p.water_activity};
    sw_surface_balance *b = &t->balances[index];
    double guess = guess_surface(&t->surface_guess[index], b, &behind);
    if ((search == FOLLOW_TANGENTS ? sw_surface_follow(surface, t->water, &behind, guess, little, b)
                                   : sw_surface_solve(surface, t->water, &behind, guess, b)) != 0) {
        t->bad_cell = cell;
        return 1;
    }
    t->surface_guess[index] = behind;

    const double area = face->area * t->meat_scale.area;
    const double drip = p.mobility * p.juice_pressure * juice_per_distance(t, face, surface);
    double difference = b->temperature - temperature;
    double film = b->evaporation * b->film_part, own = b->evaporation - film;
    double warming = own * b->water_enthalpy + film * surface->film_warming;
    f->drip = area * drip;
    f->drip_enthalpy = p.water_enthalpy;
    f->evaporation = area * b->evaporation;
    f->film = area * film;
    f->water = area * (own + drip);
    f->warming = area * warming;
    f->heat = area * (-behind.conductance * difference + warming + drip * p.water_enthalpy);
    f->outside_heat = area * (b->evaporation_heat + behind.conductance * difference);
    f->vapour_enthalpy = area * (b->evaporation_heat + b->evaporation * b->water_enthalpy);
    if (derivatives)
        differentiate_boundary(t, index, &behind, own, drip, f);
    return 0;
}

/* Adds what a face exchanges with its surroundings to the sums. */
static void add_exchange(const sw_surface *surface, const boundary_flux *f, double exchange[SW_EXCHANGE_COUNT])
{
    exchange[SW_EXCHANGE_DRIP] += f->drip;
    exchange[SW_EXCHANGE_DRIP_HEAT] += f->drip * f->drip_enthalpy;
    exchange[surface->contact == SW_CONTACT_POOL ? SW_EXCHANGE_POOL_HEAT : SW_EXCHANGE_AIR_HEAT] += f->outside_heat;
    if (surface->contact == SW_CONTACT_INSIDE) {
        exchange[SW_EXCHANGE_INSIDE_VAPOUR] += f->evaporation;
        exchange[SW_EXCHANGE_INSIDE_HEAT] += f->vapour_enthalpy;
    } else {
        exchange[SW_EXCHANGE_AIR_VAPOUR] += f->evaporation;
        exchange[SW_EXCHANGE_FILM_VAPOUR] += f->film;
    }
}

/* Runoff of all cells, as part of the drip. */
static SW_INTO_CLONES void add_runoff(const sw_transport *t, double exchange[SW_EXCHANGE_COUNT])
{
    sw_lanes water = sw_all(0.0), heat = sw_all(0.0);
    for (size_t i = 0; i < t->room; i += SW_LANES) {
        const sw_lanes runoff = sw_load(t->volume + i) * sw_load(t->value.runoff + i);
        water += runoff;
        heat += runoff * sw_load(t->value.water_enthalpy + i);
    }
    exchange[SW_EXCHANGE_DRIP] += (water[0] + water[1]) + (water[2] + water[3]);
    exchange[SW_EXCHANGE_DRIP_HEAT] += (heat[0] + heat[1]) + (heat[2] + heat[3]);
}

#endif
