/* SPDX-License-Identifier: BSD-3-Clause */
#include "problem.h"

#include <stallwright/moist_air.h>

#include "close.h"

#include <string.h>

static const double zero_celsius = 273.15;

sw_solid_parameters reference_meat(void)
{
    return (sw_solid_parameters){.heat_capacity = 1050.0 * 3500.0,
                                 .conductivity = 0.45,
                                 .reference_temperature = 273.15,
                                 .dry_density = 300.0};
}

problem_setup reference_slab(double half_thickness, size_t cells)
{
    return (problem_setup){.shape = SW_SHAPE_SLAB,
                           .insulated_low = true,
                           .layer_count = 1,
                           .layers = {{.thickness = half_thickness, .cells = cells}},
                           .solids = {reference_meat()},
                           .initial_temperature = 5.0};
}

void problem_init_on(problem *p, const problem_setup *setup, sw_mesh *mesh)
{
    memset(p, 0, sizeof *p);
    p->mesh = mesh;
    for (size_t i = 0; i < setup->layer_count; i++)
        assert_int_equal(sw_solid_create(&setup->solids[i], &p->materials[i]), SW_OK);
    assert_int_equal(sw_context_create(&p->context), SW_OK);
    assert_int_equal(sw_water_table_init(NULL, &p->water, setup->water_reference + zero_celsius), 0);
    assert_int_equal(
        sw_transport_create(p->mesh, (const sw_material *const *)p->materials, &p->water, &p->transport), SW_OK);
    double tolerance = setup->tolerance > 0.0 ? setup->tolerance : 1e-8;
    assert_int_equal(sw_transport_integrator(p->context, p->transport, tolerance, &p->integrator), SW_OK);
    for (size_t i = 0; i < p->mesh->boundary_face_count; i++)
        p->transport->surfaces[i] = (sw_surface){.pressure = 101325.0};
    for (size_t i = 0; i < p->mesh->cell_count; i++) {
        problem_state(p)[2 * i] = setup->initial_temperature + zero_celsius;
        problem_state(p)[2 * i + 1] = setup->initial_water;
    }
}

void problem_init(problem *p, const problem_setup *setup)
{
    sw_layer layers[SW_REGION_COUNT];
    for (size_t i = 0; i < setup->layer_count; i++) {
        layers[i] = setup->layers[i];
        layers[i].region = (int)i;
    }
    sw_mesh *mesh;
    assert_int_equal(sw_mesh_create(setup->shape, 1.0, setup->insulated_low, setup->layer_count, layers, &mesh), SW_OK);
    problem_init_on(p, setup, mesh);
    p->symmetric_low = setup->insulated_low || setup->shape != SW_SHAPE_SLAB;
}

void problem_free(problem *p)
{
    sw_integrator_destroy(p->integrator);
    sw_transport_destroy(p->transport);
    sw_water_table_free(&p->water);
    sw_mesh_destroy(p->mesh);
    for (int i = 0; i < SW_REGION_COUNT; i++)
        sw_material_destroy(p->materials[i]);
    sw_context_destroy(p->context);
}

static size_t boundary_of(const problem *p, sw_side side)
{
    for (size_t i = 0; i < p->mesh->boundary_face_count; i++)
        if (p->mesh->boundary_faces[i].side == side)
            return i;
    fail_msg("the problem has no surface on side %d", (int)side);
    return 0;
}

sw_surface *problem_surface(problem *p, sw_side side)
{
    return &p->transport->surfaces[boundary_of(p, side)];
}

sw_surface convective_surface(double air_temperature, double coefficient)
{
    return (sw_surface){.air_temperature = air_temperature + zero_celsius,
                        .wall_temperature = air_temperature + zero_celsius,
                        .convection = coefficient,
                        .pressure = 101325.0};
}

sw_surface fixed_surface(double temperature)
{
    return (sw_surface){.is_fixed = true, .fixed_temperature = temperature + zero_celsius, .pressure = 101325.0};
}

sw_surface flux_surface(double flux)
{
    return (sw_surface){.heat_flux = flux, .pressure = 101325.0};
}

void problem_set_side(problem *p, sw_side side, sw_surface surface)
{
    for (size_t i = 0; i < p->mesh->boundary_face_count; i++)
        if (p->mesh->boundary_faces[i].side == side)
            p->transport->surfaces[i] = surface;
}

void problem_run_to(problem *p, double time)
{
    const sw_roots none = {.count = 0};
    if (sw_integrator_start(p->integrator, p->time, time, &none) != SW_OK)
        fail_msg("%s", sw_context_message(p->context));
    for (sw_step_end end = {.ended = false}; !end.ended;)
        if (sw_integrator_step(p->integrator, &p->time, &end) != SW_OK)
            fail_msg("%s", sw_context_message(p->context));
    assert_close_abs(p->time, time, 0.0);
}

double *problem_state(problem *p)
{
    return sw_integrator_state(p->integrator);
}

double problem_surface_temperature(problem *p, sw_side side)
{
    double flows[SW_FLOW_COUNT];
    assert_int_equal(sw_transport_flows(p->transport, p->time, problem_state(p), flows), 0);
    return p->transport->balances[boundary_of(p, side)].temperature - zero_celsius;
}

static double near_low_end(problem *p, double x)
{
    const double *at = p->mesh->position, *state = problem_state(p);
    if (!p->symmetric_low) {
        double surface = problem_surface_temperature(p, SW_SIDE_BOTTOM);
        return surface + (state[0] - zero_celsius - surface) * x / at[0];
    }
    double curvature = (state[2] - state[0]) / (at[1] * at[1] - at[0] * at[0]);
    return state[0] + curvature * (x * x - at[0] * at[0]) - zero_celsius;
}

double problem_temperature(problem *p, double x)
{
    const double *at = p->mesh->position, *state = problem_state(p);
    const size_t last = p->mesh->cell_count - 1;
    if (x < at[0])
        return near_low_end(p, x);
    if (x > at[last]) {
        double surface = problem_surface_temperature(p, SW_SIDE_TOP), end = p->mesh->bounds[last + 1];
        return surface + (state[2 * last] - zero_celsius - surface) * (end - x) / (end - at[last]);
    }
    sw_probe probe = sw_mesh_probe(p->mesh, x);
    return sw_probe_reading(&probe, state) - zero_celsius;
}

double problem_temperature_in_section(const problem *p, sw_point place)
{
    sw_probe probe = sw_section_probe(p->mesh, place);
    return sw_probe_reading(&probe, sw_integrator_state(p->integrator)) - zero_celsius;
}

double problem_mean_temperature(const problem *p)
{
    const double *state = sw_integrator_state(p->integrator);
    double sum = 0.0, volume = 0.0;
    for (size_t i = 0; i < p->mesh->cell_count; i++) {
        sum += p->mesh->volume[i] * state[2 * i];
        volume += p->mesh->volume[i];
    }
    return sum / volume - zero_celsius;
}

static const double drying_half = 0.01, drying_diffusivity = 1e-7, drying_dry_density = 300.0;

void problem_init_drying(problem *p, size_t cells, double surface_cell, double tolerance, double biot)
{
    const double sorption = 1e-3;
    double saturation;
    assert_int_equal(sw_saturation_pressure(323.15, &saturation), SW_OK);
    problem_setup setup = reference_slab(drying_half, cells);
    setup.layers[0].high_cell = surface_cell;
    setup.solids[0] = (sw_solid_parameters){.heat_capacity = 1e15,
                                            .conductivity = 1e6,
                                            .reference_temperature = 273.15,
                                            .dry_density = drying_dry_density,
                                            .diffusivity = drying_dry_density * drying_diffusivity,
                                            .sorption_slope = sorption};
    setup.initial_temperature = 50.0;
    setup.initial_water = 1.0;
    setup.tolerance = tolerance;
    problem_init(p, &setup);
    sw_surface *surface = problem_surface(p, SW_SIDE_TOP);
    surface->vapour_coefficient =
        biot * drying_diffusivity / drying_half * drying_dry_density * surface->pressure / (sorption * saturation);
}

double problem_drying_water(void)
{
    return drying_dry_density * drying_half;
}

double problem_dry_to(problem *p, double fourier)
{
    problem_run_to(p, fourier * drying_half * drying_half / drying_diffusivity);
    return 1.0 - sw_transport_water(p->transport, problem_state(p)) / problem_drying_water();
}
