/* SPDX-License-Identifier: BSD-3-Clause */
/* Water and heat through the faces between cells, four faces side by side. In a header, so that it goes into the clones of its
 * caller's loop. Theory: docs/theory/numerics.md. */
#ifndef SW_INTERIOR_FLUX_H
#define SW_INTERIOR_FLUX_H

#include "lanes.h"
#include "transport.h"

/* Which faces, and what is known of all of them when the code is compiled. */
typedef struct four_faces {
    size_t first;
    int in_a_row, is_alike; /* of face_columns.h */
} four_faces;

/* Water and heat crossing each face from a to b, and their derivatives by T_a, X_a, T_b, X_b. */
typedef struct face_flux {
    sw_lanes water, heat;
    sw_lanes water_by[4], heat_by[4];
} face_flux;

/* A number of the cells on both sides. */
typedef struct both_sides {
    sw_lanes a, b;
} both_sides;

/* A mean over the distance between the centres, and its derivatives by the value on either side. */
typedef struct face_mean {
    sw_lanes value, by_a, by_b;
} face_mean;

/* How easily heat and water pass, over the distance, and what drives them from a to b. */
typedef struct face_terms {
    face_mean conductance, mobility;
    sw_lanes diffusivity, permeability, steam_permeability;
    sw_lanes per_diffusivity, per_permeability; /* of these by the property of one side */
    sw_lanes temperature_drop, pressure, content, vapour_drop, steam_drop;
    sw_lanes liquid, vapour, liquid_enthalpy, vapour_enthalpy;
} face_terms;

SW_IN_LINE sw_lanes of_cells(const double *column, const size_t *cell, const int in_a_row)
{
    return in_a_row ? sw_load(column + cell[0]) : (sw_lanes){column[cell[0]], column[cell[1]], column[cell[2]], column[cell[3]]};
}

SW_IN_LINE both_sides sides_of(const sw_transport *t, const four_faces *f, const double *column)
{
    return (both_sides){of_cells(column, t->faces.a + f->first, f->in_a_row), of_cells(column, t->faces.b + f->first, f->in_a_row)};
}

SW_IN_LINE sw_lanes drop_of(const sw_transport *t, const four_faces *f, const double *column)
{
    const both_sides s = sides_of(t, f, column);
    return s.a - s.b;
}

SW_IN_LINE sw_lanes sum_of(const sw_transport *t, const four_faces *f, const double *column)
{
    const both_sides s = sides_of(t, f, column);
    return s.a + s.b;
}

/* Resistances add: m = k_a k_b / (d_a k_b + d_b k_a), so that dm/dk_a = d_a (m / k_a)^2. */
SW_IN_LINE face_mean harmonic(both_sides distance, both_sides value, sw_lanes factor)
{
    const sw_lanes none = sw_all(0.0);
    const sw_lane_mask passes = (value.a > 0.0) & (value.b > 0.0);
    const sw_lanes per = 1.0 / sw_where(passes, distance.a * value.b + distance.b * value.a, sw_all(1.0));
    const sw_lanes of_a = sw_where(passes, value.b * per, none), of_b = sw_where(passes, value.a * per, none);
    return (face_mean){factor * value.a * of_a, factor * distance.a * of_a * of_a, factor * distance.b * of_b * of_b};
}

/* Flow through a face over that with the same ease in all directions. Where fibres run aslant the face has the smaller ease of
 * the two; the rest is that of fibre triangles, more than nothing so that no flow goes uphill as a whole. */
SW_IN_LINE sw_lanes fibre_factor(const sw_transport *t, size_t first, double ratio)
{
    const double more = ratio - 1.0, less = more < 0.0 ? more : 0.0;
    return 1.0 + sw_load(t->faces.along_fibres + first) * more + sw_load(t->faces.aslant + first) * less;
}

/* Within a material the means are arithmetic, so that a drying skin does not choke its own supply; between materials the
 * resistances add, and water content is no potential. */
SW_IN_LINE void mean_of_liquid(const sw_transport *t, const four_faces *f, both_sides distance, sw_lanes half, face_terms *m)
{
    const both_sides mobility = sides_of(t, f, t->value.mobility);
    const sw_lanes factor = fibre_factor(t, f->first, t->fibre_permeability), each = factor * half;
    m->mobility = (face_mean){each * (mobility.a + mobility.b), each, each};
    m->per_diffusivity = half;
    if (!f->is_alike) {
        const sw_lane_mask alike = sw_load(t->faces.alike + f->first) > 0.5;
        const face_mean between = harmonic(distance, mobility, factor);
        m->mobility.value = sw_where(alike, m->mobility.value, between.value);
        m->mobility.by_a = sw_where(alike, each, between.by_a);
        m->mobility.by_b = sw_where(alike, each, between.by_b);
        m->per_diffusivity = sw_where(alike, half, sw_all(0.0));
    }
    m->diffusivity = m->per_diffusivity * sum_of(t, f, t->value.diffusivity);
}

SW_IN_LINE face_terms terms_of(const sw_transport *t, const four_faces *f)
{
    const sw_property_columns *p = &t->value;
    const both_sides distance = {sw_load(t->faces.distance_a + f->first), sw_load(t->faces.distance_b + f->first)};
    const sw_lanes half = 0.5 / (distance.a + distance.b);
    face_terms m;
    m.conductance = harmonic(distance, sides_of(t, f, p->conductivity), fibre_factor(t, f->first, t->fibre_conductivity));
    mean_of_liquid(t, f, distance, half, &m);
    m.per_permeability = half;
    m.permeability = half * sum_of(t, f, p->vapour_permeability);
    m.steam_permeability = half * sum_of(t, f, p->steam_permeability);
    m.temperature_drop = drop_of(t, f, t->temperature);
    m.pressure = drop_of(t, f, p->juice_pressure);
    m.content = drop_of(t, f, t->content);
    m.vapour_drop = drop_of(t, f, p->vapour_pressure);
    m.steam_drop = drop_of(t, f, p->steam_pressure);
    m.liquid = m.mobility.value * m.pressure + m.diffusivity * m.content;
    m.vapour = m.permeability * m.vapour_drop + m.steam_permeability * m.steam_drop;
    m.liquid_enthalpy = 0.5 * sum_of(t, f, p->water_enthalpy);
    m.vapour_enthalpy = 0.5 * sum_of(t, f, p->vapour_enthalpy);
    return m;
}

/* By the v-th of T_a, X_a, T_b, X_b. */
SW_IN_LINE void differentiate_by(const sw_transport *t, const four_faces *f, const face_terms *m, sw_lanes area, const int v,
                                 face_flux *flux)
{
    const int of_a = v < 2, of_temperature = v % 2 == 0;
    const sw_property_columns *by = of_temperature ? &t->by_temperature : &t->by_water;
    const size_t *cell = (of_a ? t->faces.a : t->faces.b) + f->first;
    const double sign = of_a ? 1.0 : -1.0;
#define BY(property) of_cells(by->property, cell, f->in_a_row)
    sw_lanes conduction_by = (of_a ? m->conductance.by_a : m->conductance.by_b) * BY(conductivity) * m->temperature_drop;
    sw_lanes liquid_by = (of_a ? m->mobility.by_a : m->mobility.by_b) * BY(mobility) * m->pressure +
                         m->mobility.value * (sign * BY(juice_pressure)) + m->per_diffusivity * BY(diffusivity) * m->content;
    const sw_lanes vapour_by = m->per_permeability * (BY(vapour_permeability) * m->vapour_drop + BY(steam_permeability) * m->steam_drop) +
                               m->permeability * (sign * BY(vapour_pressure)) + m->steam_permeability * (sign * BY(steam_pressure));
    if (of_temperature)
        conduction_by += sign * m->conductance.value;
    else
        liquid_by += sign * m->diffusivity;
    flux->water_by[v] = area * (liquid_by + vapour_by);
    flux->heat_by[v] = area * (conduction_by + liquid_by * m->liquid_enthalpy + vapour_by * m->vapour_enthalpy +
                               0.5 * (m->liquid * BY(water_enthalpy) + m->vapour * BY(vapour_enthalpy)));
#undef BY
}

/* All fluxes are over the distance between the centres. */
SW_IN_LINE face_flux flux_through(const sw_transport *t, const four_faces *f, const int derivatives)
{
    const face_terms m = terms_of(t, f);
    const sw_lanes area = sw_load(t->faces.area + f->first) * (t->meat_scale.area / t->meat_scale.distance);
    face_flux flux;
    flux.water = area * (m.liquid + m.vapour);
    flux.heat = area * (m.conductance.value * m.temperature_drop + m.liquid * m.liquid_enthalpy + m.vapour * m.vapour_enthalpy);
    if (derivatives) {
        differentiate_by(t, f, &m, area, 0, &flux);
        differentiate_by(t, f, &m, area, 1, &flux);
        differentiate_by(t, f, &m, area, 2, &flux);
        differentiate_by(t, f, &m, area, 3, &flux);
    }
    return flux;
}

#endif
