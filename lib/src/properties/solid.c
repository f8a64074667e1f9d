/* SPDX-License-Identifier: BSD-3-Clause */
#include "solid.h"

#include <stdlib.h>

typedef struct solid {
    sw_material material;
    sw_solid_parameters parameters;
} solid;

static void solid_evaluate(const sw_material *material, size_t first, size_t n, const double *state,
                           const sw_property_columns *value, const sw_property_columns *by_temperature,
                           const sw_property_columns *by_water)
{
    const sw_solid_parameters *p = &((const solid *)material)->parameters;
    for (size_t i = first; i < first + n; i++) {
        double rise = state[2 * i] - p->reference_temperature;
        sw_set_cell(value, i,
                    (sw_properties){.heat_capacity = p->heat_capacity,
                                    .conductivity = p->conductivity * (1.0 + p->conductivity_slope * rise),
                                    .diffusivity = p->diffusivity,
                                    .water_activity = p->sorption_slope * state[2 * i + 1]});
        if (by_temperature) {
            sw_set_cell(by_temperature, i, (sw_properties){.conductivity = p->conductivity * p->conductivity_slope});
            sw_set_cell(by_water, i, (sw_properties){.water_activity = p->sorption_slope});
        }
    }
}

static double solid_enthalpy(const sw_material *material, double temperature, double water_content)
{
    (void)water_content;
    const sw_solid_parameters *p = &((const solid *)material)->parameters;
    return p->heat_capacity * (temperature - p->reference_temperature);
}

static void solid_destroy(sw_material *material)
{
    free(material);
}

static const sw_material_functions solid_material = {solid_evaluate, NULL, solid_enthalpy, NULL, solid_destroy};

sw_status sw_solid_create(const sw_solid_parameters *parameters, sw_material **material)
{
    solid *created = calloc(1, sizeof *created);
    if (!created)
        return SW_ERR_MEMORY;
    created->parameters = *parameters;
    created->material.functions = &solid_material;
    created->material.dry_density = parameters->dry_density;
    created->material.initial_water = 1.0;
    *material = &created->material;
    return SW_OK;
}
