/* SPDX-License-Identifier: BSD-3-Clause */
#include "rendering.h"

#include "choi_okos.h"
#include "tissue.h"

#include <stdlib.h>
#include <string.h>

int sw_rendering_init(sw_rendering *r, const sw_reactions *reactions, double reference_temperature)
{
    size_t n = reactions->body->mesh->cell_count;
    *r = (sw_rendering){.reactions = reactions, .reference_temperature = reference_temperature};
    r->remaining = malloc(n * sizeof *r->remaining);
    r->next = malloc(n * sizeof *r->next);
    r->warmth = malloc(n * sizeof *r->warmth);
    if (!r->remaining || !r->next || !r->warmth) {
        sw_rendering_free(r);
        return -1;
    }
    for (size_t i = 0; i < n; i++)
        r->remaining[i] = 1.0;
    return 0;
}

void sw_rendering_free(sw_rendering *r)
{
    free(r->remaining);
    free(r->next);
    free(r->warmth);
    *r = (sw_rendering){0};
}

void sw_rendering_copy(sw_rendering *r, const sw_rendering *from)
{
    memcpy(r->remaining, from->remaining, r->reactions->body->mesh->cell_count * sizeof *r->remaining);
    r->mass = from->mass;
    r->cap_mass = from->cap_mass;
    r->heat = from->heat;
}

/* Heat a kilogram of rendered fat carries off: sensible and melting [J kg-1]. */
static double fat_enthalpy(double temperature, double reference)
{
    sw_tissue_parameters p;
    sw_lean_parameters(&p);
    sw_quadratic c = sw_choi_okos_table[SW_COMPONENT_FAT].heat_capacity;
    double slope;
    return sw_quadratic_integral(c, temperature - 273.15) - sw_quadratic_integral(c, reference - 273.15) +
           p.melting_heat * (sw_melted_fraction(&p, temperature, &slope) - sw_melted_fraction(&p, reference, &slope));
}

/* Goes on to the shares in next. What renders leaves as warm as its cell was in the mean. */
static void go_on(sw_rendering *r)
{
    const sw_body *body = r->reactions->body;
    const sw_mesh *mesh = body->mesh;
    double mass = 0.0, mass_temperature = 0.0, *before = r->remaining;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        double fat = mesh->volume[i] * body->materials[mesh->region[i]]->fat_density;
        double lost = fat * (before[i] - r->next[i]);
        mass += lost;
        mass_temperature += lost * r->warmth[i];
        if (mesh->region[i] == SW_REGION_FAT)
            r->cap_mass += lost;
    }
    if (mass > 0.0) {
        r->mass += mass;
        r->heat += mass * fat_enthalpy(mass_temperature / mass, r->reference_temperature);
    }
    r->remaining = r->next;
    r->next = before;
}

void sw_rendering_advance(sw_rendering *r)
{
    for (size_t i = 0; i < r->reactions->body->mesh->cell_count; i++) {
        r->next[i] = r->reactions->places[i].remaining[SW_REACTION_RENDERING];
        r->warmth[i] = r->reactions->places[i].mean;
    }
    go_on(r);
}

void sw_rendering_at(const sw_rendering *r, double time, const double *halfway, const double *state, sw_rendering *at)
{
    *at = *r;
    sw_reactions_of_cells(r->reactions, SW_REACTION_RENDERING, time, halfway, state, at->next, at->warmth);
    go_on(at);
}

double sw_rendering_melting_heat(const sw_rendering *r, const double *state)
{
    const sw_mesh *mesh = r->reactions->body->mesh;
    sw_tissue_parameters p;
    double slope, heat = 0.0;
    sw_lean_parameters(&p);
    const double melted_at_start = sw_melted_fraction(&p, r->reference_temperature, &slope);
    for (size_t i = 0; i < mesh->cell_count; i++) {
        double fat = mesh->volume[i] * r->reactions->body->materials[mesh->region[i]]->fat_density * r->remaining[i];
        heat += fat * p.melting_heat * (sw_melted_fraction(&p, state[2 * i], &slope) - melted_at_start);
    }
    return heat;
}
