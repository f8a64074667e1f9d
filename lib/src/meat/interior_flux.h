/* SPDX-License-Identifier: BSD-3-Clause */
/* Water and heat through a face between two cells. In a header, so that it goes into the clones of its caller's loop.
 * Theory: docs/theory/numerics.md. */
#ifndef SW_INTERIOR_FLUX_H
#define SW_INTERIOR_FLUX_H

#include "transport.h"
#include "vector_clones.h"

/* Water and heat crossing a face from a to b, and their derivatives by T_a, X_a, T_b, X_b. */
typedef struct face_flux {
    double water, heat;
    double water_by[4], heat_by[4];
} face_flux;

/* How easily heat and water pass a face, over its distance, and what drives them from a to b. */
typedef struct face_terms {
    double heat_factor, juice_factor; /* over those across the fibres */
    double conductance, mobility, diffusivity, permeability, steam_permeability;
    double pressure, content, vapour_drop, steam_drop;
    double liquid, vapour, liquid_enthalpy, vapour_enthalpy;
    double per_distance;
    int alike; /* both cells are of one material */
} face_terms;

static SW_INTO_CLONES double harmonic(double distance_a, double value_a, double distance_b, double value_b)
{
    return value_a > 0.0 && value_b > 0.0 ? value_a * value_b / (distance_a * value_b + distance_b * value_a) : 0.0;
}

/* Flow through a face over that with the same ease in all directions. Where fibres run aslant the face has the smaller ease of
 * the two; the rest is that of fibre triangles, more than nothing so that no flow goes uphill as a whole. */
static SW_INTO_CLONES double fibre_factor(const sw_face *face, double ratio)
{
    return 1.0 + face->along_fibres * (ratio - 1.0) + face->aslant * fmin(ratio - 1.0, 0.0);
}

static SW_INTO_CLONES face_terms terms_of(const sw_transport *t, const sw_face *face, const double *state)
{
    const sw_properties *a = &t->value[face->a], *b = &t->value[face->b];
    const double da = face->distance_a, db = face->distance_b;
    face_terms m;
    m.per_distance = 1.0 / (da + db);
    m.alike = t->mesh->region[face->a] == t->mesh->region[face->b];
    /* Within a material the means are arithmetic, so that a drying skin does not choke its own supply; between materials
     * the resistances add, and water content is no potential. */
    m.heat_factor = fibre_factor(face, t->fibre_conductivity);
    m.juice_factor = fibre_factor(face, t->fibre_permeability);
    m.conductance = m.heat_factor * harmonic(da, a->conductivity, db, b->conductivity);
    m.mobility = m.juice_factor * (m.alike ? 0.5 * (a->mobility + b->mobility) * m.per_distance
                                           : harmonic(da, a->mobility, db, b->mobility));
    m.diffusivity = m.alike ? 0.5 * (a->diffusivity + b->diffusivity) * m.per_distance : 0.0;
    m.permeability = 0.5 * (a->vapour_permeability + b->vapour_permeability) * m.per_distance;
    m.pressure = a->juice_pressure - b->juice_pressure;
    m.content = state[2 * face->a + 1] - state[2 * face->b + 1];
    m.vapour_drop = a->vapour_pressure - b->vapour_pressure;
    m.steam_drop = a->steam_pressure - b->steam_pressure;
    m.steam_permeability = 0.5 * (a->steam_permeability + b->steam_permeability) * m.per_distance;
    m.liquid = m.mobility * m.pressure + m.diffusivity * m.content;
    m.vapour = m.permeability * m.vapour_drop + m.steam_permeability * m.steam_drop;
    m.liquid_enthalpy = 0.5 * (a->water_enthalpy + b->water_enthalpy);
    m.vapour_enthalpy = 0.5 * (a->vapour_enthalpy + b->vapour_enthalpy);
    return m;
}

/* Derivatives of the means that are not arithmetic, by the property of each cell:
 * a harmonic mean m of k_a and k_b over distances has dm/dk_a = m^2 d_a / k_a^2. */
static SW_INTO_CLONES void differentiate_means(const face_terms *m, const sw_face *face, const sw_properties *a,
                                               const sw_properties *b, double conductance_by[2], double mobility_by[2])
{
    const double da = face->distance_a, db = face->distance_b;
    conductance_by[0] = conductance_by[1] = 0.0;
    if (m->conductance > 0.0) {
        const double scale = m->conductance * m->conductance / m->heat_factor;
        conductance_by[0] = scale * da / (a->conductivity * a->conductivity);
        conductance_by[1] = scale * db / (b->conductivity * b->conductivity);
    }
    if (m->alike) {
        mobility_by[0] = mobility_by[1] = m->juice_factor * 0.5 * m->per_distance;
    } else {
        const double scale = m->mobility * m->mobility / m->juice_factor;
        mobility_by[0] = a->mobility > 0.0 ? scale * da / (a->mobility * a->mobility) : 0.0;
        mobility_by[1] = b->mobility > 0.0 ? scale * db / (b->mobility * b->mobility) : 0.0;
    }
}

/* All fluxes are over the distance between the centres. */
static SW_INTO_CLONES double scaled_area(const sw_transport *t, const sw_face *face)
{
    return face->area * (t->meat_scale.area / t->meat_scale.distance);
}

static SW_INTO_CLONES void differentiate_flux(const sw_transport *t, const sw_face *face, const double *state,
                                              const face_terms *m, face_flux *f)
{
    const double temperature_drop = state[2 * face->a] - state[2 * face->b];
    const double area = scaled_area(t, face);
    double conductance_by_own[2], mobility_by_own[2];
    differentiate_means(m, face, &t->value[face->a], &t->value[face->b], conductance_by_own, mobility_by_own);
#pragma GCC unroll 4
    for (int v = 0; v < 4; v++) {
        const int of_a = v < 2;
        const sw_properties *d = v == 0   ? &t->by_temperature[face->a]
                                 : v == 1 ? &t->by_water[face->a]
                                 : v == 2 ? &t->by_temperature[face->b]
                                          : &t->by_water[face->b];
        const double sign = of_a ? 1.0 : -1.0;
        const double conductance_by = conductance_by_own[v / 2] * d->conductivity;
        const double mobility_by = mobility_by_own[v / 2] * d->mobility;
        double diffusivity_by = m->alike ? 0.5 * d->diffusivity * m->per_distance : 0.0;
        double permeability_by = 0.5 * d->vapour_permeability * m->per_distance;
        double liquid_by = mobility_by * m->pressure + m->mobility * sign * d->juice_pressure + diffusivity_by * m->content;
        double steam_permeability_by = 0.5 * d->steam_permeability * m->per_distance;
        double vapour_by = permeability_by * m->vapour_drop + m->permeability * sign * d->vapour_pressure +
                           steam_permeability_by * m->steam_drop + m->steam_permeability * sign * d->steam_pressure;
        double conduction_by = conductance_by * temperature_drop;
        if (v == 0 || v == 2)
            conduction_by += sign * m->conductance;
        else
            liquid_by += sign * m->diffusivity;
        f->water_by[v] = area * (liquid_by + vapour_by);
        f->heat_by[v] = area * (conduction_by + liquid_by * m->liquid_enthalpy + vapour_by * m->vapour_enthalpy +
                                      0.5 * m->liquid * d->water_enthalpy + 0.5 * m->vapour * d->vapour_enthalpy);
    }
}

static SW_INTO_CLONES face_flux flux_through(const sw_transport *t, const sw_face *face, const double *state,
                                             const int derivatives)
{
    const face_terms m = terms_of(t, face, state);
    const double area = scaled_area(t, face);
    face_flux f;
    f.water = area * (m.liquid + m.vapour);
    f.heat = area * (m.conductance * (state[2 * face->a] - state[2 * face->b]) + m.liquid * m.liquid_enthalpy +
                           m.vapour * m.vapour_enthalpy);
    if (derivatives)
        differentiate_flux(t, face, state, &m, &f);
    return f;
}

#endif
