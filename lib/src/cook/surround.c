/* SPDX-License-Identifier: BSD-3-Clause */
#include "surround.h"

static double raw_water_of(const sw_body *body)
{
    double sum = 0.0;
    for (size_t i = 0; i < body->mesh->cell_count; i++) {
        const sw_material *material = body->materials[body->mesh->region[i]];
        sum += body->mesh->volume[i] * material->dry_density * material->initial_water;
    }
    return sum;
}

sw_status sw_surround_init(sw_context *context, const sw_scenario *scenario, sw_body *body, sw_around *around)
{
    const sw_surrounded meat = {.mesh = body->mesh,
                                .water = &body->water,
                                .pressure = body->pressure,
                                .raw_water = raw_water_of(body),
                                .density = sw_material_raw_density(body->materials[SW_REGION_LEAN])};
    sw_status status = sw_around_init(context, around, scenario, &meat);
    if (status != SW_OK)
        return status;
    const sw_lumped_model model = sw_around_model(around);
    if (sw_transport_set_lumped(body->transport, &model) != SW_OK)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the surroundings could not be allocated");
    return SW_OK;
}

double sw_surround_stretch(sw_body *body, sw_around *around, double time, const double *lumped)
{
    const double jump = sw_around_begin_stretch(around, time);
    sw_transport_surround(body->transport, time, lumped);
    return jump;
}

double sw_surround_surface_temperature(const sw_body *body, const sw_around *around)
{
    const double found = sw_transport_surface_temperature(body->transport);
    return found > 0.0 ? found : around->scenario->meat.initial_temperature;
}
