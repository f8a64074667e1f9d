/* SPDX-License-Identifier: BSD-3-Clause */
#include "transport.h"

#include "boundary_flux.h"
#include "fibre_flux.h"
#include "interior_flux.h"
#include "transport_border.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

sw_status sw_transport_set_lumped(sw_transport *t, const sw_lumped_model *model)
{
    double *exchange_by = NULL;
    if (model->count > 0) {
        exchange_by = calloc(SW_EXCHANGE_COUNT * 2 * t->mesh->cell_count, sizeof *exchange_by);
        if (!exchange_by)
            return SW_ERR_MEMORY;
    }
    free(t->exchange_by);
    t->exchange_by = exchange_by;
    t->lumped = *model;
    return SW_OK;
}

void sw_transport_surround(sw_transport *t, double time, const double *lumped)
{
    t->follows = true;
    surround(t, time, lumped);
}

size_t sw_transport_unknowns(const sw_transport *t)
{
    return 2 * t->mesh->cell_count + t->lumped.count;
}

void sw_transport_set_layout(sw_transport *t, const sw_jacobian_layout *layout)
{
    for (size_t i = 0; i < t->mesh->face_count; i++) {
        const sw_face *face = &t->mesh->faces[i];
        const size_t unknown[4] = {2 * face->a, 2 * face->a + 1, 2 * face->b, 2 * face->b + 1};
        for (int r = 0; r < 4; r++)
            for (int c = 0; c < 4; c++)
                t->face_entries[i][4 * r + c] = layout->offset(unknown[r], unknown[c], layout->layout);
    }
    for (size_t i = 0; i < t->mesh->fibre_triangle_count; i++) {
        const size_t *cell = t->mesh->fibre_triangles[i].cell;
        for (size_t r = 0; r < 6; r++)
            for (size_t c = 0; c < 6; c++)
                t->triangle_entries[i][6 * r + c] =
                    layout->offset(2 * cell[r / 2] + r % 2, 2 * cell[c / 2] + c % 2, layout->layout);
    }
    for (size_t i = 0; i < t->mesh->cell_count; i++)
        for (size_t r = 0; r < 2; r++)
            for (size_t c = 0; c < 2; c++)
                t->cell_entries[i][2 * r + c] = layout->offset(2 * i + r, 2 * i + c, layout->layout);
}

static int state_is_in_range(sw_transport *t, const double *state)
{
    for (size_t i = 0; i < t->mesh->cell_count; i++) {
        double temperature = state[2 * i], water = state[2 * i + 1];
        /* Written so that NaN fails too. */
        if (!(temperature > SW_TEMPERATURE_MIN && temperature < SW_TEMPERATURE_MAX && water > -0.01)) {
            t->bad_cell = i;
            return 0;
        }
    }
    return 1;
}

static void evaluate_materials(sw_transport *t, const double *state, int derivatives)
{
    for (size_t r = 0; r < t->run_count; r++) {
        size_t first = t->run_start[r], count = t->run_start[r + 1] - first;
        const sw_material *material = t->materials[t->mesh->region[first]];
        material->functions->evaluate(material, count, state + 2 * first, t->value + first,
                                      derivatives ? t->by_temperature + first : NULL,
                                      derivatives ? t->by_water + first : NULL);
    }
    for (size_t i = 0; i < t->mesh->cell_count; i++)
        t->per_capacity[i] = 1.0 / (t->mesh->volume[i] * t->value[i].heat_capacity);
}

/* Only what crosses the boundary depends on: runoff everywhere, all properties of the cells behind the boundary. */
static void evaluate_for_boundary(sw_transport *t, const double *state)
{
    for (size_t r = 0; r < t->run_count; r++) {
        size_t first = t->run_start[r], count = t->run_start[r + 1] - first;
        const sw_material *material = t->materials[t->mesh->region[first]];
        if (material->functions->evaluate_runoff)
            material->functions->evaluate_runoff(material, count, state + 2 * first, t->value + first);
        for (size_t i = first; !material->functions->evaluate_runoff && i < first + count; i++)
            t->value[i].runoff = t->value[i].water_enthalpy = 0.0;
    }
    for (size_t i = 0; i < t->mesh->boundary_face_count; i++) {
        const size_t cell = t->mesh->boundary_faces[i].cell;
        const sw_material *material = t->materials[t->mesh->region[cell]];
        material->functions->evaluate(material, 1, state + 2 * cell, t->value + cell, NULL, NULL);
    }
}

static void add_exchange_derivatives(sw_transport *t, size_t index, const boundary_flux *f)
{
    const size_t cell = t->mesh->boundary_faces[index].cell, n = 2 * t->mesh->cell_count;
    const sw_contact contact = t->surfaces[index].contact;
    for (size_t v = 0; v < 2; v++) {
        double *by = t->exchange_by + 2 * cell + v;
        by[SW_EXCHANGE_DRIP * n] += f->drip_by[v];
        by[SW_EXCHANGE_DRIP_HEAT * n] += f->drip_by[v] * f->drip_enthalpy + f->drip * f->drip_enthalpy_by[v];
        by[(contact == SW_CONTACT_POOL ? SW_EXCHANGE_POOL_HEAT : SW_EXCHANGE_AIR_HEAT) * n] += f->outside_by[v];
        if (contact == SW_CONTACT_INSIDE) {
            by[SW_EXCHANGE_INSIDE_VAPOUR * n] += f->evaporation_by[v];
            by[SW_EXCHANGE_INSIDE_HEAT * n] += f->vapour_enthalpy_by[v];
        } else {
            by[SW_EXCHANGE_AIR_VAPOUR * n] += f->evaporation_by[v];
            by[SW_EXCHANGE_FILM_VAPOUR * n] += f->film_by[v];
        }
    }
}

static void set_runoff_derivatives(sw_transport *t, size_t i)
{
    const size_t n = 2 * t->mesh->cell_count;
    for (size_t v = 0; v < 2; v++) {
        const sw_properties *d = v == 0 ? &t->by_temperature[i] : &t->by_water[i];
        double runoff_by = t->mesh->volume[i] * d->runoff;
        double *by = t->exchange_by + 2 * i + v;
        by[SW_EXCHANGE_DRIP * n] = runoff_by;
        by[SW_EXCHANGE_DRIP_HEAT * n] = runoff_by * t->value[i].water_enthalpy +
                                        t->mesh->volume[i] * t->value[i].runoff * d->water_enthalpy;
    }
}

/* Only cells behind the boundary exchange anything but runoff, by which they begin. */
static void clear_exchange_derivatives(sw_transport *t)
{
    const size_t n = 2 * t->mesh->cell_count;
    for (size_t i = 0; i < t->mesh->boundary_face_count; i++)
        for (size_t e = 0; e < SW_EXCHANGE_DRIP; e++) {
            double *by = t->exchange_by + e * n + 2 * t->mesh->boundary_faces[i].cell;
            by[0] = by[1] = 0.0;
        }
}

static SW_INTO_CLONES void add_face_derivatives(sw_transport *t, size_t index, const face_flux *f, double *values)
{
    const sw_face *face = &t->mesh->faces[index];
    const size_t *entry = t->face_entries[index];
    const size_t cell[2] = {face->a, face->b};
    for (int side = 0; side < 2; side++) {
        const size_t i = cell[side];
        const double sign = side == 0 ? -1.0 : 1.0;
        const double per_heat = sign * t->per_capacity[i], per_water = sign * t->per_dry_mass[i];
        const double enthalpy = t->value[i].water_enthalpy;
        for (int v = 0; v < 4; v++) {
            values[entry[8 * side + v]] += (f->heat_by[v] - enthalpy * f->water_by[v]) * per_heat;
            values[entry[8 * side + 4 + v]] += f->water_by[v] * per_water;
        }
    }
}

static SW_INTO_CLONES void add_fibre_flux(sw_transport *t, size_t index, const double *state, double *values, const int derivatives)
{
    const sw_fibre_triangle *triangle = &t->mesh->fibre_triangles[index];
    const fibre_flux f = flux_along_fibres(t, triangle, state, derivatives);
    for (int k = 0; k < 3; k++) {
        const size_t i = triangle->cell[k];
        t->water_gain[i] += f.water[k];
        t->heat_gain[i] += f.heat[k];
        const size_t *entry = t->triangle_entries[index] + 12 * k;
        for (int v = 0; derivatives && v < 6; v++) {
            values[entry[v]] += (f.heat_by[k][v] - t->value[i].water_enthalpy * f.water_by[k][v]) * t->per_capacity[i];
            values[entry[6 + v]] += f.water_by[k][v] * t->per_dry_mass[i];
        }
    }
}

static void add_boundary_derivatives(sw_transport *t, size_t cell, const boundary_flux *f, double *values)
{
    const size_t *entry = t->cell_entries[cell];
    const double per_heat = -t->per_capacity[cell], per_water = -t->per_dry_mass[cell];
    for (int v = 0; v < 2; v++) {
        values[entry[v]] += (f->heat_by[v] - t->value[cell].water_enthalpy * f->water_by[v]) * per_heat;
        values[entry[2 + v]] += f->water_by[v] * per_water;
    }
}

/* The rate of a cell from its gains, and the derivatives that come from its own heat capacity and water enthalpy. */
static SW_INTO_CLONES void finish_cell(sw_transport *t, size_t i, double *rate, double *values, const int derivatives)
{
    const sw_properties *p = &t->value[i];
    const double per_capacity = t->per_capacity[i], per_volume_capacity = t->mesh->volume[i] * per_capacity;
    rate[2 * i] = (t->heat_gain[i] - p->water_enthalpy * t->water_gain[i]) * per_capacity;
    /* Juice let go into channels leaves with its own enthalpy: it takes water, and no heat from what stays. */
    const double volume_per_dry_mass = t->mesh->volume[i] * t->per_dry_mass[i];
    rate[2 * i + 1] = t->water_gain[i] * t->per_dry_mass[i] - volume_per_dry_mass * p->runoff;
    if (!derivatives)
        return;
    const size_t *entry = t->cell_entries[i];
    values[entry[0]] -= t->by_temperature[i].water_enthalpy * t->water_gain[i] * per_capacity +
                        rate[2 * i] * per_volume_capacity * t->by_temperature[i].heat_capacity;
    values[entry[2]] -= volume_per_dry_mass * t->by_temperature[i].runoff;
    values[entry[3]] -= volume_per_dry_mass * t->by_water[i].runoff;
    values[entry[1]] -= rate[2 * i] * per_volume_capacity * t->by_water[i].heat_capacity;
}

static SW_INTO_CLONES int assemble(sw_transport *t, double time, const double *state, double *rate, double *values,
                                   double exchange[SW_EXCHANGE_COUNT], const int derivatives)
{
    const sw_mesh *mesh = t->mesh;
    const int with_lumped = t->lumped.count > 0;
    if (!state_is_in_range(t, state))
        return 1;
    surround(t, time, state + 2 * mesh->cell_count);
    evaluate_materials(t, state, derivatives);
    for (int i = 0; i < SW_EXCHANGE_COUNT; i++)
        exchange[i] = 0.0;
    if (derivatives && with_lumped)
        clear_exchange_derivatives(t);
    for (size_t i = 0; i < mesh->cell_count; i++) {
        t->water_gain[i] = 0.0;
        t->heat_gain[i] =
            t->heat_source
                ? mesh->volume[i] * t->heat_source(time, mesh->position[i], mesh->across[i], t->heat_source_data)
                : 0.0;
        if (with_lumped) {
            add_runoff(t, i, exchange);
            if (derivatives)
                set_runoff_derivatives(t, i);
        }
    }
    for (size_t i = 0; i < mesh->face_count; i++) {
        const sw_face *face = &mesh->faces[i];
        face_flux f = flux_through(t, face, state, derivatives);
        t->water_gain[face->a] -= f.water;
        t->water_gain[face->b] += f.water;
        t->heat_gain[face->a] -= f.heat;
        t->heat_gain[face->b] += f.heat;
        if (derivatives)
            add_face_derivatives(t, i, &f, values);
    }
    for (size_t i = 0; i < mesh->fibre_triangle_count; i++)
        add_fibre_flux(t, i, state, values, derivatives);
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const size_t cell = mesh->boundary_faces[i].cell;
        boundary_flux f;
        if (flux_out(t, i, state, &f, derivatives) != 0)
            return 1;
        t->water_gain[cell] -= f.water;
        t->heat_gain[cell] -= f.heat;
        t->face_water[i] = f.water;
        t->face_heat[i] = f.heat;
        if (derivatives)
            add_boundary_derivatives(t, cell, &f, values);
        if (with_lumped) {
            add_exchange(&t->surfaces[i], &f, exchange);
            if (derivatives)
                add_exchange_derivatives(t, i, &f);
        }
    }
    for (size_t i = 0; i < mesh->cell_count; i++)
        finish_cell(t, i, rate, values, derivatives);
    if (!with_lumped)
        return 0;
    return t->lumped.rate(time, state + 2 * mesh->cell_count, exchange, rate + 2 * mesh->cell_count, NULL, t->lumped.data);
}

/* The clones are static: the compiler would export what picks one of them. */
SW_VECTOR_CLONES
static int evaluate_rate(sw_transport *transport, double time, const double *state, double *rate)
{
    double exchange[SW_EXCHANGE_COUNT];
    return assemble(transport, time, state, rate, NULL, exchange, 0);
}

int sw_transport_rate(sw_transport *transport, double time, const double *state, double *rate)
{
    return evaluate_rate(transport, time, state, rate);
}

SW_VECTOR_CLONES
static int evaluate_jacobian(sw_transport *t, double time, const double *state, double *rate, double *values,
                             const sw_border *border)
{
    double exchange[SW_EXCHANGE_COUNT];
    if (assemble(t, time, state, rate, values, exchange, 1) != 0)
        return 1;
    if (t->lumped.count == 0)
        return 0;
    return sw_transport_fill_border(t, time, state, exchange, rate, border);
}

int sw_transport_jacobian(sw_transport *t, double time, const double *state, double *rate, double *values,
                          const sw_border *border)
{
    return evaluate_jacobian(t, time, state, rate, values, border);
}

void sw_transport_swap_balances(sw_transport *t)
{
    sw_surface_balance *const balances = t->balances;
    sw_behind *const guess = t->surface_guess;
    t->balances = t->other_balances;
    t->surface_guess = t->other_guess;
    t->other_balances = balances;
    t->other_guess = guess;
}

void sw_transport_copy_surfaces(sw_transport *t, const sw_transport *from)
{
    const size_t n = t->mesh->boundary_face_count;
    t->meat_scale = from->meat_scale;
    t->follows = from->follows;
    memcpy(t->surfaces, from->surfaces, n * sizeof *t->surfaces);
    memcpy(t->balances, from->balances, n * sizeof *t->balances);
    memcpy(t->surface_guess, from->surface_guess, n * sizeof *t->surface_guess);
    memcpy(t->other_balances, from->other_balances, n * sizeof *t->other_balances);
    memcpy(t->other_guess, from->other_guess, n * sizeof *t->other_guess);
}

int sw_transport_flows(sw_transport *t, double time, const double *state, double flows[SW_FLOW_COUNT])
{
    const sw_mesh *mesh = t->mesh;
    const double *lumped = state + 2 * mesh->cell_count;
    double exchange[SW_EXCHANGE_COUNT] = {0.0};
    for (int i = 0; i < SW_FLOW_COUNT; i++)
        flows[i] = 0.0;
    surround(t, time, lumped);
    evaluate_for_boundary(t, state);
    for (size_t i = 0; i < mesh->cell_count; i++)
        add_runoff(t, i, exchange);
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        boundary_flux f;
        if (flux_out(t, i, state, &f, 0) != 0)
            return 1;
        add_exchange(&t->surfaces[i], &f, exchange);
        const sw_surface_balance *b = &t->balances[i];
        const double area = mesh->boundary_faces[i].area * t->meat_scale.area;
        flows[SW_FLOW_CONVECTION] += area * b->convection_heat;
        flows[SW_FLOW_RADIATION] += area * b->radiation_heat;
        flows[SW_FLOW_GIVEN_HEAT] += area * t->surfaces[i].heat_flux;
        flows[SW_FLOW_EVAPORATION_HEAT] += area * b->evaporation_heat;
        flows[SW_FLOW_VAPOUR_WARMING] += f.warming;
        flows[SW_FLOW_EVAPORATION] += f.evaporation - f.film;
        flows[SW_FLOW_FILM] += f.film;
    }
    flows[SW_FLOW_DRIP] = exchange[SW_EXCHANGE_DRIP];
    flows[SW_FLOW_DRIP_HEAT] = exchange[SW_EXCHANGE_DRIP_HEAT];
    if (t->lumped.count > 0) {
        double rate[SW_LUMPED_MAX];
        return t->lumped.rate(time, lumped, exchange, rate, flows + SW_FLOW_LUMPED, t->lumped.data);
    }
    return 0;
}

const sw_surface_balance *sw_transport_balance(const sw_transport *t, size_t boundary_face)
{
    return &t->balances[boundary_face];
}

double sw_transport_surface_temperature(const sw_transport *t)
{
    double sum = 0.0, area = 0.0;
    for (size_t i = 0; i < t->mesh->boundary_face_count; i++) {
        sum += t->mesh->boundary_faces[i].area * t->balances[i].temperature;
        area += t->mesh->boundary_faces[i].area;
    }
    return sum / area;
}

double sw_transport_activity(const sw_transport *t, size_t cell, const double *state)
{
    const sw_material *material = t->materials[t->mesh->region[cell]];
    sw_properties properties;
    material->functions->evaluate(material, 1, state + 2 * cell, &properties, NULL, NULL);
    return properties.water_activity;
}

double sw_transport_film_share(const sw_transport *t, size_t boundary_face)
{
    return t->surfaces[boundary_face].film_share;
}

double sw_transport_surface_activity(sw_transport *t, size_t boundary_face, double time, const double *state)
{
    surround(t, time, state + 2 * t->mesh->cell_count);
    return sw_surface_activity(t->surfaces[boundary_face].film_share,
                               sw_transport_activity(t, t->mesh->boundary_faces[boundary_face].cell, state));
}

double sw_transport_enthalpy(const sw_transport *t, const double *state)
{
    double sum = 0.0;
    for (size_t i = 0; i < t->mesh->cell_count; i++) {
        const sw_material *material = t->materials[t->mesh->region[i]];
        sum += t->mesh->volume[i] * material->functions->enthalpy(material, state[2 * i], state[2 * i + 1]);
    }
    return sum;
}

double sw_transport_water(const sw_transport *t, const double *state)
{
    double sum = 0.0;
    for (size_t i = 0; i < t->mesh->cell_count; i++)
        sum += t->mesh->volume[i] * t->materials[t->mesh->region[i]]->dry_density * state[2 * i + 1];
    return sum;
}
