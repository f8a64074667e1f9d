/* SPDX-License-Identifier: BSD-3-Clause */
#include "wall.h"

#include "case.h"

#include <stallwright/moist_air.h>

#include <string.h>

static void need(sw_status status, const wall *w)
{
    if (status != SW_OK)
        die("%s", w->context ? sw_context_message(w->context) : sw_status_text(status));
}

void wall_init(wall *w, const wall_setup *setup, sw_material *material)
{
    memset(w, 0, sizeof *w);
    w->material = material;
    need(sw_context_create(&w->context), w);
    const sw_layer layer = {.thickness = setup->thickness, .cells = setup->cells, .low_cell = setup->low_cell,
                            .high_cell = setup->high_cell};
    need(sw_mesh_create(SW_SHAPE_SLAB, 1.0, setup->sealed_low, 1, &layer, &w->mesh), w);
    w->water.reference_temperature = setup->water_reference;
    const int failed = setup->water_functions
                     ? sw_table_init(NULL, &w->water.table, sw_temperature_range, SW_WATER_TABLE_WIDTH,
                                     setup->water_functions, NULL, NULL, 0)
                     : sw_water_table_init(NULL, &w->water, setup->water_reference);
    if (failed)
        die("memory is short");
    const sw_material *materials[SW_REGION_COUNT] = {material, material};
    need(sw_transport_create(w->mesh, materials, &w->water, &w->transport), w);
    need(sw_transport_integrator(w->context, w->transport, setup->tolerance, &w->integrator), w);
    for (size_t i = 0; i < w->mesh->boundary_face_count; i++)
        w->transport->surfaces[i] = (sw_surface){.pressure = SW_STANDARD_PRESSURE};
    double *state = sw_integrator_state(w->integrator);
    for (size_t i = 0; i < w->mesh->cell_count; i++) {
        state[2 * i] = setup->temperature;
        state[2 * i + 1] = setup->water;
    }
}

void wall_free(wall *w)
{
    sw_integrator_destroy(w->integrator);
    sw_transport_destroy(w->transport);
    sw_water_table_free(&w->water);
    sw_mesh_destroy(w->mesh);
    sw_material_destroy(w->material);
    sw_context_destroy(w->context);
}

static size_t face_of(const wall *w, sw_side side)
{
    for (size_t i = 0; i < w->mesh->boundary_face_count; i++)
        if (w->mesh->boundary_faces[i].side == side)
            return i;
    die("the wall has no surface on that side");
}

sw_surface *wall_surface(wall *w, sw_side side)
{
    return &w->transport->surfaces[face_of(w, side)];
}

void wall_run_to(wall *w, double time)
{
    const sw_roots none = {.count = 0};
    need(sw_integrator_start(w->integrator, w->time, time, &none), w);
    for (sw_step_end end = {.ended = false}; !end.ended;)
        need(sw_integrator_step(w->integrator, &w->time, &end), w);
}

static double at(const wall *w, double x, size_t unknown)
{
    const double *state = sw_integrator_state(w->integrator), *position = w->mesh->position;
    size_t i = 0;
    while (i + 2 < w->mesh->cell_count && position[i + 1] < x)
        i++;
    double share = (x - position[i]) / (position[i + 1] - position[i]);
    return state[2 * i + unknown] + share * (state[2 * i + 2 + unknown] - state[2 * i + unknown]);
}

double wall_temperature(const wall *w, double x)
{
    return at(w, x, 0);
}

double wall_water(const wall *w, double x)
{
    return at(w, x, 1);
}

double wall_surface_temperature(wall *w, sw_side side)
{
    double flows[SW_FLOW_COUNT];
    if (sw_transport_flows(w->transport, w->time, sw_integrator_state(w->integrator), flows) != 0)
        die("the surface of the wall finds no balance");
    return w->transport->balances[face_of(w, side)].temperature;
}
