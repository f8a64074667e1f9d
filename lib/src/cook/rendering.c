#include "rendering.h"

#include "choi_okos.h"
#include "tissue.h"

#include <math.h>
#include <stdlib.h>

/* First-order rendering. A guess: no measured rate for intact beef was found. At 80 C 1e-6..3e-5 s-1, with the activation
 * energy of collagen's solubilisation (about 110 kJ/mol), since fat drains as its collagen net gives way. */
static const double rate_at_80 = 7e-6;           /* [s-1] */
static const double activation_temperature = 13230.0; /* 110 kJ/mol over the gas constant [K] */

static void rendering_rate(const void *parameters, double temperature, double *value)
{
    (void)parameters;
    value[0] = rate_at_80 * exp(-activation_temperature * (1.0 / temperature - 1.0 / 353.15));
}

int sw_rendering_init(sw_rendering *r, const sw_body *body, double reference_temperature)
{
    size_t n = body->mesh->cell_count;
    *r = (sw_rendering){.body = body, .reference_temperature = reference_temperature};
    r->remaining = malloc(n * sizeof *r->remaining);
    r->last_rate = calloc(n, sizeof *r->last_rate);
    if (!r->remaining || !r->last_rate || sw_table_init(&r->rate, sw_temperature_range, 1, rendering_rate, NULL) != 0) {
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
    free(r->last_rate);
    sw_table_free(&r->rate);
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

void sw_rendering_advance(sw_rendering *r, double time, const double *state)
{
    const sw_mesh *mesh = r->body->mesh;
    double step = time - r->last_time, mass = 0.0, mass_temperature = 0.0;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        double temperature = state[2 * i];
        sw_table_place place = sw_table_find(&r->rate, temperature, 0);
        double rate = sw_table_value(&place, 1, 0);
        double share = 0.25 * step * (rate + r->last_rate[i]);
        /* (1 - share) / (1 + share) is exp(-2 share) to third order. */
        double left = r->remaining[i] * (1.0 - share) / (1.0 + share);
        double fat = mesh->volume[i] * r->body->materials[mesh->region[i]]->fat_density;
        double lost = fat * (r->remaining[i] - left);
        mass += lost;
        mass_temperature += lost * temperature;
        r->remaining[i] = left;
        r->last_rate[i] = rate;
    }
    r->last_time = time;
    if (mass > 0.0) {
        r->mass += mass;
        r->heat += mass * fat_enthalpy(mass_temperature / mass, r->reference_temperature);
    }
}

double sw_rendering_melting_heat(const sw_rendering *r, const double *state)
{
    const sw_mesh *mesh = r->body->mesh;
    sw_tissue_parameters p;
    double slope, heat = 0.0;
    sw_lean_parameters(&p);
    const double melted_at_start = sw_melted_fraction(&p, r->reference_temperature, &slope);
    for (size_t i = 0; i < mesh->cell_count; i++) {
        double fat = mesh->volume[i] * r->body->materials[mesh->region[i]]->fat_density * r->remaining[i];
        heat += fat * p.melting_heat * (sw_melted_fraction(&p, state[2 * i], &slope) - melted_at_start);
    }
    return heat;
}
