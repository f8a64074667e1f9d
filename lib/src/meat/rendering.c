#include "rendering.h"

#include "choi_okos.h"
#include "tissue.h"

#include <stdlib.h>

int sw_rendering_init(sw_rendering *r, const sw_reactions *reactions, double reference_temperature)
{
    size_t n = reactions->body->mesh->cell_count;
    *r = (sw_rendering){.reactions = reactions, .reference_temperature = reference_temperature};
    r->remaining = malloc(n * sizeof *r->remaining);
    if (!r->remaining)
        return -1;
    for (size_t i = 0; i < n; i++)
        r->remaining[i] = 1.0;
    return 0;
}

void sw_rendering_free(sw_rendering *r)
{
    free(r->remaining);
    *r = (sw_rendering){0};
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

void sw_rendering_advance(sw_rendering *r)
{
    const sw_body *body = r->reactions->body;
    const sw_mesh *mesh = body->mesh;
    double mass = 0.0, mass_temperature = 0.0;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        const sw_reacting_place *place = &r->reactions->places[i];
        double left = place->remaining[SW_REACTION_RENDERING];
        double fat = mesh->volume[i] * body->materials[mesh->region[i]]->fat_density;
        double lost = fat * (r->remaining[i] - left);
        mass += lost;
        mass_temperature += lost * place->temperature;
        if (mesh->region[i] == SW_REGION_FAT)
            r->cap_mass += lost;
        r->remaining[i] = left;
    }
    if (mass > 0.0) {
        r->mass += mass;
        r->heat += mass * fat_enthalpy(mass_temperature / mass, r->reference_temperature);
    }
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
