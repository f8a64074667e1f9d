/* SPDX-License-Identifier: BSD-3-Clause */
#include "building_material.h"

#include "saturation.h"
#include "water_table.h"

#include <math.h>
#include <stdlib.h>

typedef struct building_material {
    sw_material material;
    const building_material_laws *laws;
} building_material;

/* The solver's water content is per dry matter and its tolerances suit values near 3. How much dry matter a wall holds
 * plays no part in the standard, so it is chosen to give such values [kg m-3]. */
static const double dry_density = 40.0;

static const double water_density = 1000.0; /* in Kelvin's equation [kg m-3] */

/* Kelvin's equation: the water activity over a suction, with its slopes by T and by w. */
static double activity(const building_material_laws *laws, double temperature, double w, double *by_temperature,
                       double *by_w)
{
    double suction_slope, suction = laws->suction(w, &suction_slope);
    double per_suction = 1.0 / (water_density * SW_VAPOUR_GAS_CONSTANT * temperature);
    double a = exp(-suction * per_suction);
    *by_temperature = a * suction * per_suction / temperature;
    *by_w = -a * per_suction * suction_slope;
    return a;
}

static double water_heat_capacity(double temperature)
{
    /* A difference of the enthalpy the surfaces use, so that both agree. */
    return (sw_liquid_enthalpy(temperature + 0.5, temperature - 0.5));
}

static void evaluate_cell(const building_material *b, double temperature, double water, sw_properties *value,
                          sw_properties *by_t, sw_properties *by_x)
{
    const building_material_laws *laws = b->laws;
    double w = dry_density * water, slope, share_slope, activity_t, activity_w, saturation, saturation_slope;
    double capacity = water_heat_capacity(temperature);
    sw_saturation(temperature, &saturation, &saturation_slope);
    double a = activity(laws, temperature, w, &activity_t, &activity_w);
    double share = laws->vapour_share(w, &share_slope);
    double in_air = laws->air_diffusivity / (SW_VAPOUR_GAS_CONSTANT * temperature);
    double liquid = sw_liquid_enthalpy(temperature, laws->reference_temperature);

    double conductivity = laws->conductivity(w, &slope);
    if (by_x)
        *by_x = (sw_properties){.conductivity = slope * dry_density};
    double diffusivity = laws->liquid_diffusivity(w, &slope);
    *value = (sw_properties){.heat_capacity = laws->heat_capacity + w * capacity,
                             .conductivity = conductivity,
                             .diffusivity = dry_density * diffusivity,
                             .vapour_permeability = share * in_air,
                             .vapour_pressure = a * saturation,
                             .water_activity = a,
                             .water_enthalpy = liquid,
                             .vapour_enthalpy = liquid + sw_latent_heat_unchecked(temperature)};
    if (!by_t)
        return;
    by_x->heat_capacity = dry_density * capacity;
    by_x->diffusivity = dry_density * dry_density * slope;
    by_x->vapour_permeability = dry_density * share_slope * in_air;
    by_x->vapour_pressure = dry_density * activity_w * saturation;
    by_x->water_activity = dry_density * activity_w;
    double latent_slope = sw_latent_heat_unchecked(temperature + 0.5) - sw_latent_heat_unchecked(temperature - 0.5);
    *by_t = (sw_properties){.vapour_permeability = -share * in_air / temperature,
                            .vapour_pressure = a * saturation_slope + activity_t * saturation,
                            .water_activity = activity_t,
                            .water_enthalpy = capacity,
                            .vapour_enthalpy = capacity + latent_slope};
}

static void evaluate(const sw_material *material, size_t first, size_t n, const double *state, const sw_property_columns *value,
                     const sw_property_columns *by_temperature, const sw_property_columns *by_water)
{
    const building_material *b = (const building_material *)material;
    for (size_t i = first; i < first + n; i++) {
        sw_properties at, by_t, by_x;
        evaluate_cell(b, state[2 * i], state[2 * i + 1], &at, by_temperature ? &by_t : NULL, by_water ? &by_x : NULL);
        sw_set_cell(value, i, at);
        if (!by_temperature)
            continue;
        sw_set_cell(by_temperature, i, by_t);
        sw_set_cell(by_water, i, by_x);
    }
}

static double enthalpy(const sw_material *material, double temperature, double water)
{
    const building_material_laws *laws = ((const building_material *)material)->laws;
    return laws->heat_capacity * (temperature - laws->reference_temperature) +
           dry_density * water * sw_liquid_enthalpy(temperature, laws->reference_temperature);
}

static void destroy(sw_material *material)
{
    free(material);
}

static const sw_material_functions functions = {evaluate, NULL, enthalpy, NULL, destroy};

sw_status building_material_create(const building_material_laws *laws, sw_material **material)
{
    building_material *b = calloc(1, sizeof *b);
    if (!b)
        return SW_ERR_MEMORY;
    b->laws = laws;
    b->material.functions = &functions;
    b->material.dry_density = dry_density;
    b->material.initial_water = 1.0;
    *material = &b->material;
    return SW_OK;
}
