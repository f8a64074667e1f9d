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

static void place_blocks(const sw_jacobian_layout *layout, const size_t *cell, size_t count, size_t *block)
{
    for (size_t r = 0; r < count; r++)
        for (size_t c = 0; c < count; c++)
            block[count * r + c] = layout->offset(2 * cell[r], 2 * cell[c], layout->layout);
}

void sw_transport_set_layout(sw_transport *t, const sw_jacobian_layout *layout)
{
    for (size_t i = 0; i < SW_LANES * t->faces.group_count; i++) {
        const size_t cells[2] = {t->faces.a[i], t->faces.b[i]};
        place_blocks(layout, cells, 2, t->face_blocks[i]);
    }
    for (size_t i = 0; i < t->mesh->fibre_triangle_count; i++)
        place_blocks(layout, t->mesh->fibre_triangles[i].cell, 3, t->triangle_blocks[i]);
    for (size_t i = 0; i < t->mesh->cell_count; i++)
        place_blocks(layout, &i, 1, &t->cell_block[i]);
}

/* Temperatures and water contents each for themselves. Returns false if one is out of range. */
static SW_INTO_CLONES bool take_state(sw_transport *t, const double *state)
{
    const size_t n = t->mesh->cell_count;
    double *restrict temperature = t->temperature, *restrict content = t->content;
    int bad = 0;
    for (size_t i = 0; i < n; i++) {
        temperature[i] = state[2 * i];
        content[i] = state[2 * i + 1];
        /* Written so that NaN fails too. */
        bad |= !(state[2 * i] > SW_TEMPERATURE_MIN) | !(state[2 * i] < SW_TEMPERATURE_MAX) | !(state[2 * i + 1] > -0.01);
    }
    for (size_t i = n; bad && i-- > 0;)
        if (!(temperature[i] > SW_TEMPERATURE_MIN && temperature[i] < SW_TEMPERATURE_MAX && content[i] > -0.01))
            t->bad_cell = i;
    return !bad;
}

static SW_INTO_CLONES void evaluate_materials(sw_transport *t, const double *state, const int derivatives)
{
    for (size_t r = 0; r < t->run_count; r++) {
        const size_t first = t->run_start[r], count = t->run_start[r + 1] - first;
        const sw_material *material = t->materials[t->mesh->region[first]];
        material->functions->evaluate(material, first, count, state, &t->value, derivatives ? &t->by_temperature : NULL,
                                      derivatives ? &t->by_water : NULL);
    }
    for (size_t i = 0; i < t->room; i += SW_LANES)
        sw_store(1.0 / (sw_load(t->volume + i) * sw_load(t->value.heat_capacity + i)), t->per_capacity + i);
}

static int region_behind(const sw_transport *t, size_t face)
{
    return t->mesh->region[t->mesh->boundary_faces[face].cell];
}

/* Cells behind up to four boundary faces, all of one material, side by side. */
static void evaluate_behind(sw_transport *t, size_t first, size_t count, const double *state)
{
    double at[2 * SW_LANES], room[SW_PROPERTY_COUNT * SW_LANES];
    const sw_property_columns value = sw_columns_in(room, SW_LANES);
    const sw_material *material = t->materials[region_behind(t, first)];
    for (size_t i = 0; i < count; i++)
        memcpy(at + 2 * i, state + 2 * t->mesh->boundary_faces[first + i].cell, 2 * sizeof *at);
    material->functions->evaluate(material, 0, count, at, &value, NULL, NULL);
    for (size_t i = 0; i < count; i++)
        sw_set_cell(&t->value, t->mesh->boundary_faces[first + i].cell, sw_cell_of(&value, i));
}

/* Only what crosses the boundary depends on: runoff everywhere, all properties of the cells behind the boundary. */
static void evaluate_for_boundary(sw_transport *t, const double *state)
{
    for (size_t r = 0; r < t->run_count; r++) {
        const size_t first = t->run_start[r], count = t->run_start[r + 1] - first;
        const sw_material *material = t->materials[t->mesh->region[first]];
        if (material->functions->evaluate_runoff)
            material->functions->evaluate_runoff(material, first, count, state, &t->value);
        for (size_t i = first; !material->functions->evaluate_runoff && i < first + count; i++)
            t->value.runoff[i] = t->value.water_enthalpy[i] = 0.0;
    }
    const size_t faces = t->mesh->boundary_face_count;
    for (size_t first = 0, count; first < faces; first += count) {
        count = 1;
        while (count < SW_LANES && first + count < faces && region_behind(t, first + count) == region_behind(t, first))
            count++;
        evaluate_behind(t, first, count, state);
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

static SW_INTO_CLONES void set_runoff_derivatives(sw_transport *t)
{
    const size_t n = 2 * t->mesh->cell_count;
    double *restrict drip = t->exchange_by + SW_EXCHANGE_DRIP * n, *restrict heat = t->exchange_by + SW_EXCHANGE_DRIP_HEAT * n;
    for (size_t v = 0; v < 2; v++) {
        const sw_property_columns *by = v == 0 ? &t->by_temperature : &t->by_water;
        const double *restrict runoff = t->value.runoff, *restrict enthalpy = t->value.water_enthalpy, *restrict volume = t->volume;
        const double *restrict runoff_by = by->runoff, *restrict enthalpy_by = by->water_enthalpy;
        for (size_t i = 0; i < t->mesh->cell_count; i++) {
            drip[2 * i + v] = volume[i] * runoff_by[i];
            heat[2 * i + v] = volume[i] * (runoff_by[i] * enthalpy[i] + runoff[i] * enthalpy_by[i]);
        }
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

/* Adds to four blocks, given as the four entries of each of them side by side. */
SW_IN_LINE void add_blocks(sw_lanes a, sw_lanes b, sw_lanes c, sw_lanes d, double *const to[SW_LANES], size_t count)
{
    sw_lanes block[SW_LANES];
    sw_transpose(&a, &b, &c, &d);
    block[0] = a;
    block[1] = b;
    block[2] = c;
    block[3] = d;
    for (size_t k = 0; k < count; k++)
        sw_store(sw_load(to[k]) + block[k], to[k]);
}

/* On side 0, a, or 1, b, of the faces. */
SW_IN_LINE void add_face_derivatives(const sw_transport *t, const four_faces *faces, const face_flux *f, double *values, const int side)
{
    const size_t *cell = (side == 0 ? t->faces.a : t->faces.b) + faces->first;
    const double sign = side == 0 ? -1.0 : 1.0;
    const sw_lanes per_heat = sign * of_cells(t->per_capacity, cell, faces->in_a_row);
    const sw_lanes per_water = sign * of_cells(t->per_dry_mass, cell, faces->in_a_row);
    const sw_lanes enthalpy = of_cells(t->value.water_enthalpy, cell, faces->in_a_row);
    sw_lanes by_t[4], by_x[4];
    for (int v = 0; v < 4; v++) {
        by_t[v] = (f->heat_by[v] - enthalpy * f->water_by[v]) * per_heat;
        by_x[v] = f->water_by[v] * per_water;
    }
    for (int other = 0; other < 2; other++) {
        double *to[SW_LANES];
        for (size_t k = 0; k < SW_LANES; k++)
            to[k] = values + t->face_blocks[faces->first + k][2 * side + other];
        add_blocks(by_t[2 * other], by_t[2 * other + 1], by_x[2 * other], by_x[2 * other + 1], to, SW_LANES);
    }
}

SW_IN_LINE void cross_faces(sw_transport *t, size_t first, double *values, const int in_a_row, const int is_alike, const int derivatives)
{
    const four_faces faces = {first, in_a_row, is_alike};
    const face_flux f = flux_through(t, &faces, derivatives);
    sw_store(f.water, t->through_water + first);
    sw_store(f.heat, t->through_heat + first);
    if (!derivatives)
        return;
    add_face_derivatives(t, &faces, &f, values, 0);
    add_face_derivatives(t, &faces, &f, values, 1);
}

/* What the cells gain through the faces between them. */
static SW_INTO_CLONES void cross_all_faces(sw_transport *t, double *values, const int derivatives)
{
    const sw_mesh *mesh = t->mesh;
    for (size_t g = 0; g < t->faces.group_count; g++) {
        const sw_face_group group = t->faces.group[g];
        if (group.in_a_row && group.is_alike)
            cross_faces(t, SW_LANES * g, values, 1, 1, derivatives);
        else
            cross_faces(t, SW_LANES * g, values, 0, 0, derivatives);
    }
    double *restrict water = t->water_gain, *restrict heat = t->heat_gain;
    const double *restrict through_water = t->through_water, *restrict through_heat = t->through_heat;
    if (mesh->in_a_row && mesh->face_count > 0) {
        const size_t last = mesh->face_count;
        water[0] -= through_water[0];
        heat[0] -= through_heat[0];
        for (size_t i = 1; i < last; i++) {
            water[i] += through_water[i - 1] - through_water[i];
            heat[i] += through_heat[i - 1] - through_heat[i];
        }
        water[last] += through_water[last - 1];
        heat[last] += through_heat[last - 1];
        return;
    }
    for (size_t i = 0; i < mesh->face_count; i++) {
        water[t->faces.a[i]] -= through_water[i];
        water[t->faces.b[i]] += through_water[i];
        heat[t->faces.a[i]] -= through_heat[i];
        heat[t->faces.b[i]] += through_heat[i];
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
        for (int v = 0; derivatives && v < 6; v++) {
            double *block = values + t->triangle_blocks[index][3 * k + v / 2] + v % 2;
            block[0] += (f.heat_by[k][v] - t->value.water_enthalpy[i] * f.water_by[k][v]) * t->per_capacity[i];
            block[2] += f.water_by[k][v] * t->per_dry_mass[i];
        }
    }
}

static void add_boundary_derivatives(const sw_transport *t, size_t cell, const boundary_flux *f, double *values)
{
    double *block = values + t->cell_block[cell];
    const double per_heat = -t->per_capacity[cell], per_water = -t->per_dry_mass[cell];
    for (int v = 0; v < 2; v++) {
        block[v] += (f->heat_by[v] - t->value.water_enthalpy[cell] * f->water_by[v]) * per_heat;
        block[2 + v] += f->water_by[v] * per_water;
    }
}

/* Rates of up to four cells from their gains, and the derivatives that come from their own heat capacity and water enthalpy. */
SW_IN_LINE void finish_cells(sw_transport *t, size_t first, size_t count, double *rate, double *values, const int derivatives)
{
    const sw_lanes per_capacity = sw_load(t->per_capacity + first), per_dry_mass = sw_load(t->per_dry_mass + first);
    const sw_lanes volume = sw_load(t->volume + first), water = sw_load(t->water_gain + first);
    const sw_lanes volume_per_dry_mass = volume * per_dry_mass;
    const sw_lanes warming = (sw_load(t->heat_gain + first) - sw_load(t->value.water_enthalpy + first) * water) * per_capacity;
    /* Juice let go into channels leaves with its own enthalpy: it takes water, and no heat from what stays. */
    const sw_lanes wetting = water * per_dry_mass - volume_per_dry_mass * sw_load(t->value.runoff + first);
    for (size_t k = 0; k < count; k++) {
        rate[2 * (first + k)] = warming[k];
        rate[2 * (first + k) + 1] = wetting[k];
    }
    if (!derivatives)
        return;
    double *to[SW_LANES] = {NULL};
    for (size_t k = 0; k < count; k++)
        to[k] = values + t->cell_block[first + k];
    const sw_lanes per_heating = -warming * (volume * per_capacity);
    add_blocks(per_heating * sw_load(t->by_temperature.heat_capacity + first) -
                   sw_load(t->by_temperature.water_enthalpy + first) * water * per_capacity,
               per_heating * sw_load(t->by_water.heat_capacity + first),
               -volume_per_dry_mass * sw_load(t->by_temperature.runoff + first),
               -volume_per_dry_mass * sw_load(t->by_water.runoff + first), to, count);
}

static SW_INTO_CLONES void finish_all_cells(sw_transport *t, double *rate, double *values, const int derivatives)
{
    const size_t n = t->mesh->cell_count;
    size_t i = 0;
    for (; i + SW_LANES <= n; i += SW_LANES)
        finish_cells(t, i, SW_LANES, rate, values, derivatives);
    if (i < n)
        finish_cells(t, i, n - i, rate, values, derivatives);
}

/* What cells gain before anything crosses a face. */
static SW_INTO_CLONES void begin_gains(sw_transport *t, double time)
{
    const sw_mesh *mesh = t->mesh;
    memset(t->water_gain, 0, mesh->cell_count * sizeof *t->water_gain);
    memset(t->heat_gain, 0, mesh->cell_count * sizeof *t->heat_gain);
    for (size_t i = 0; t->heat_source && i < mesh->cell_count; i++)
        t->heat_gain[i] = mesh->volume[i] * t->heat_source(time, mesh->position[i], mesh->across[i], t->heat_source_data);
}

static SW_INTO_CLONES int assemble(sw_transport *t, double time, const double *state, double *rate, double *values,
                                   double exchange[SW_EXCHANGE_COUNT], const int derivatives)
{
    const sw_mesh *mesh = t->mesh;
    const int with_lumped = t->lumped.count > 0;
    if (!take_state(t, state))
        return 1;
    surround(t, time, state + 2 * mesh->cell_count);
    evaluate_materials(t, state, derivatives);
    begin_gains(t, time);
    for (int i = 0; i < SW_EXCHANGE_COUNT; i++)
        exchange[i] = 0.0;
    if (with_lumped)
        add_runoff(t, exchange);
    if (derivatives && with_lumped) {
        clear_exchange_derivatives(t);
        set_runoff_derivatives(t);
    }
    cross_all_faces(t, values, derivatives);
    for (size_t i = 0; i < mesh->fibre_triangle_count; i++)
        add_fibre_flux(t, i, state, values, derivatives);
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const size_t cell = mesh->boundary_faces[i].cell;
        boundary_flux f;
        if (flux_out(t, i, state, &f, derivatives, FIND_BALANCE) != 0)
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
    finish_all_cells(t, rate, values, derivatives);
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
    add_runoff(t, exchange);
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        boundary_flux f;
        if (flux_out(t, i, state, &f, 0, FIND_BALANCE) != 0)
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
    if (material->functions->activity)
        return material->functions->activity(material, state[2 * cell], state[2 * cell + 1]);
    sw_material_at(material, state + 2 * cell, &properties, NULL, NULL);
    return properties.water_activity;
}

double sw_transport_film_share(const sw_transport *t, size_t boundary_face)
{
    return t->surfaces[boundary_face].film_share;
}

double sw_transport_surface_activity(sw_transport *t, size_t boundary_face, double time, const double *state)
{
    surround(t, time, state + 2 * t->mesh->cell_count);
    return sw_transport_activity_outside(t, boundary_face, state);
}

double sw_transport_activity_outside(const sw_transport *t, size_t boundary_face, const double *state)
{
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
