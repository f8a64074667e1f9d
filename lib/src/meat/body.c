/* SPDX-License-Identifier: BSD-3-Clause */
#include "body.h"

#include "cut_geometry.h"

#include "tissue.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Composition of a raw brisket's fat cap: handbook values of separable beef fat (from memory, +-0.05). */
static const sw_composition fat_cap_composition = {.water = 0.20, .protein = 0.06, .fat = 0.735, .ash = 0.005};

static sw_status create_materials(sw_context *context, sw_body *body, const sw_scenario *s)
{
    sw_tissue_parameters p;
    sw_lean_parameters(&p);
    p.composition = s->meat.composition;
    p.initial_temperature = s->meat.initial_temperature;
    p.pressure = body->pressure;
    p.permeability = s->meat.permeability;
    p.holding_temperature = s->meat.water_holding_temperature;
    p.holding_loss = s->meat.water_holding_loss;
    p.late_loss = s->meat.late_water_loss;
    p.late_temperature = s->meat.late_water_loss_temperature;
    p.runoff_time = s->meat.juice_runoff_time;
    p.vapour_openness = s->meat.bark_openness;
    p.diffusivity = s->meat.water_diffusivity;
    sw_status status = sw_tissue_create(context, &p, &body->materials[SW_REGION_LEAN]);
    if (status != SW_OK || (s->meat.fat_cap_thickness <= 0.0 && s->meat.seam_thickness <= 0.0))
        return status;
    sw_fat_cap_parameters(&p);
    p.holding_temperature = s->meat.water_holding_temperature;
    p.holding_loss = s->meat.water_holding_loss;
    p.late_loss = s->meat.late_water_loss;
    p.late_temperature = s->meat.late_water_loss_temperature;
    p.composition = fat_cap_composition;
    p.initial_temperature = s->meat.initial_temperature;
    p.pressure = body->pressure;
    return sw_tissue_create(context, &p, &body->materials[SW_REGION_FAT]);
}

/* A tenth of the cells, at least four, go to the fat cap. */
static size_t fat_cap_cells(const sw_scenario *s)
{
    size_t cells = (size_t)s->solver.cells / 10;
    return cells < 4 ? 4 : cells;
}

static void put_probe_in_the_middle(sw_body *body, double height)
{
    body->probe_count = 1;
    snprintf(body->probe_places[0].name, sizeof body->probe_places[0].name, "centre");
    body->probe_places[0].height = height;
}

static sw_status create_slab(sw_body *body, const sw_scenario *s)
{
    double cap = s->meat.fat_cap_thickness, lean = s->meat.thickness - cap, fine = s->solver.surface_cell;
    double mass_per_area = lean * sw_material_raw_density(body->materials[SW_REGION_LEAN]);
    sw_layer layers[2] = {{lean, (size_t)s->solver.cells, fine, fine, SW_REGION_LEAN}};
    size_t count = 1;
    double middle = 0.5 * lean;
    if (cap > 0.0) {
        bool below = s->meat.fat_cap_side == SW_SIDE_BOTTOM;
        sw_layer fat = {cap, fat_cap_cells(s), below ? fine : 0.0, below ? 0.0 : fine, SW_REGION_FAT};
        layers[0].cells -= fat.cells;
        if (below) {
            layers[0].low_cell = 0.0;
            layers[1] = layers[0];
            layers[0] = fat;
            middle += cap;
        } else {
            layers[0].high_cell = 0.0;
            layers[1] = fat;
        }
        count = 2;
        mass_per_area += cap * sw_material_raw_density(body->materials[SW_REGION_FAT]);
    }
    put_probe_in_the_middle(body, middle);
    const double area = s->meat.mass / mass_per_area;
    sw_status status = sw_mesh_create(SW_SHAPE_SLAB, area, false, count, layers, &body->mesh);
    for (size_t i = 0; status == SW_OK && s->meat.has_edges && i < body->mesh->boundary_face_count; i++)
        body->mesh->boundary_faces[i].area *= sw_slab_edge_factor(s->meat.cut, area, s->meat.thickness);
    return status;
}

static sw_status create_round(sw_body *body, const sw_scenario *s)
{
    double radius = 0.5 * s->meat.thickness;
    double section = s->meat.shape == SW_SHAPE_CYLINDER ? SW_PI * radius * radius : 4.0 / 3.0 * SW_PI * radius * radius * radius;
    double extent = s->meat.mass / (section * sw_material_raw_density(body->materials[SW_REGION_LEAN]));
    sw_layer layer = {radius, (size_t)s->solver.cells, 0.0, s->solver.surface_cell, SW_REGION_LEAN};
    put_probe_in_the_middle(body, 0.0);
    return sw_mesh_create(s->meat.shape, extent, false, 1, &layer, &body->mesh);
}

/* Densities of lean and fat decide how deep a section must be to have the cut's mass. */
static void set_depth_by_mass(sw_body *body, double mass)
{
    double modelled = 0.0;
    for (size_t i = 0; i < body->mesh->cell_count; i++)
        modelled += body->mesh->volume[i] * sw_material_raw_density(body->materials[body->mesh->region[i]]);
    double scale = mass / modelled;
    for (size_t i = 0; i < body->mesh->cell_count; i++)
        body->mesh->volume[i] *= scale;
    for (size_t i = 0; i < body->mesh->face_count; i++)
        body->mesh->faces[i].area *= scale;
    for (size_t i = 0; i < body->mesh->fibre_triangle_count; i++)
        for (int k = 0; k < 3; k++) {
            body->mesh->fibre_triangles[i].along[k] *= scale;
            body->mesh->fibre_triangles[i].across[k] *= scale;
        }
    for (size_t i = 0; i < body->mesh->boundary_face_count; i++)
        body->mesh->boundary_faces[i].area *= scale;
}

static sw_status create_section(sw_context *context, sw_body *body, sw_scenario *s)
{
    sw_status status = sw_cut_section_mesh(context, s, &body->mesh);
    if (status != SW_OK)
        return status;
    set_depth_by_mass(body, s->meat.mass);
    body->probe_count = s->meat.probe_count;
    memcpy(body->probe_places, s->meat.probes, sizeof body->probe_places);
    return SW_OK;
}

static sw_status create_mesh(sw_context *context, sw_body *body, sw_scenario *s)
{
    sw_cut_fill_dimensions(&s->meat, sw_material_raw_density(body->materials[SW_REGION_LEAN]));
    if (sw_shape_is_section(s->meat.shape))
        return create_section(context, body, s);
    sw_status status = s->meat.shape == SW_SHAPE_SLAB ? create_slab(body, s) : create_round(body, s);
    return status;
}

static void place_probes(sw_body *body)
{
    for (size_t i = 0; i < body->probe_count; i++) {
        const sw_probe_place *place = &body->probe_places[i];
        body->probes[i] = body->mesh->in_a_row
                              ? sw_mesh_probe(body->mesh, place->height)
                              : sw_section_probe(body->mesh, (sw_point){place->across, place->height});
    }
}

sw_status sw_body_init(sw_context *context, sw_scenario *scenario, sw_body *body)
{
    memset(body, 0, sizeof *body);
    sw_scenario_settle(scenario);
    sw_status status = sw_pressure_at_altitude(scenario->pit.altitude, &body->pressure);
    if (status == SW_OK && sw_water_table_init(context, &body->water, scenario->meat.initial_temperature) != 0)
        status = SW_ERR_MEMORY;
    if (status == SW_OK)
        status = create_materials(context, body, scenario);
    if (status != SW_OK)
        return sw_fail(context, status, "the cut \"%s\" could not be modelled: %s", scenario->meat.name,
                       sw_status_text(status));
    status = create_mesh(context, body, scenario);
    if (status == SW_ERR_MEMORY)
        return sw_fail(context, status, "memory for the cells of the cut could not be allocated");
    if (status != SW_OK)
        return status;
    place_probes(body);
    status = sw_transport_create(body->mesh, (const sw_material *const *)body->materials, &body->water,
                                 &body->transport);
    if (status != SW_OK)
        return sw_fail(context, status, "memory for the model of the cut could not be allocated");
    body->transport->fibre_conductivity = scenario->meat.fibre_conductivity;
    body->transport->fibre_permeability = scenario->meat.fibre_permeability;
    return SW_OK;
}

void sw_body_free(sw_body *body)
{
    sw_transport_destroy(body->transport);
    sw_mesh_destroy(body->mesh);
    for (int i = 0; i < SW_REGION_COUNT; i++)
        sw_material_destroy(body->materials[i]);
    sw_water_table_free(&body->water);
    memset(body, 0, sizeof *body);
}

void sw_body_raw_state(const sw_body *body, const sw_scenario *scenario, double *state)
{
    for (size_t i = 0; i < body->mesh->cell_count; i++) {
        state[2 * i] = scenario->meat.initial_temperature;
        state[2 * i + 1] = body->materials[body->mesh->region[i]]->initial_water;
    }
}
