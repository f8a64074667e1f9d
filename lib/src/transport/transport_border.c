/* SPDX-License-Identifier: BSD-3-Clause */
#include "transport_border.h"

#include "boundary_flux.h"

/* Rows of the border: rates of the lumped unknowns by the cells', through the exchanges, in which they are smooth. */
static int fill_border_rows(sw_transport *t, double time, const double *lumped, const double *exchange,
                             const double *rate, double *rows)
{
    const size_t n = 2 * t->mesh->cell_count, count = t->lumped.count;
    /* Sizes of the exchanges: watts, and kilograms per second. */
    static const double size[SW_EXCHANGE_COUNT] = {100.0, 1e-4, 1e-4, 100.0, 1e-4, 100.0, 1e-4, 100.0};
    for (size_t j = 0; j < count; j++)
        for (size_t i = 0; t->lumped.in_use[j] && i < n; i++)
            rows[j * n + i] = 0.0;
    for (int e = 0; e < SW_EXCHANGE_COUNT; e++) {
        double moved[SW_EXCHANGE_COUNT], moved_rate[SW_LUMPED_MAX];
        const double step = 1e-5 * size[e];
        for (int i = 0; i < SW_EXCHANGE_COUNT; i++)
            moved[i] = exchange[i];
        moved[e] += step;
        if (t->lumped.rate(time, lumped, moved, moved_rate, NULL, t->lumped.data) != 0)
            return 1;
        for (size_t j = 0; j < count; j++) {
            double by_exchange = (moved_rate[j] - rate[j]) / step;
            if (by_exchange == 0.0 || !t->lumped.in_use[j])
                continue;
            for (size_t i = 0; i < n; i++)
                rows[j * n + i] += by_exchange * t->exchange_by[(size_t)e * n + i];
        }
    }
    return 0;
}

/* Out of a cell through its boundary faces. */
static void sum_over_boundary(const sw_transport *t, double *water, double *heat)
{
    const sw_mesh *mesh = t->mesh;
    for (size_t i = 0; i < mesh->cell_count; i++)
        water[i] = heat[i] = 0.0;
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        water[mesh->boundary_faces[i].cell] += t->face_water[i];
        heat[mesh->boundary_faces[i].cell] += t->face_heat[i];
    }
}

/* The column's part by the meat's size, which all fluxes inside feel alike: growth, of area over distance by the unknown. */
static void add_growth(const sw_transport *t, double growth, double *column)
{
    for (size_t i = 0; i < t->mesh->cell_count; i++) {
        const double water = t->water_gain[i] + t->boundary_water[i], heat = t->heat_gain[i] + t->boundary_heat[i];
        column[2 * i] += growth * (heat - t->value.water_enthalpy[i] * water) * t->per_capacity[i];
        column[2 * i + 1] += growth * water * t->per_dry_mass[i];
    }
}

static double slenderness(const sw_transport *t)
{
    return t->meat_scale.area / t->meat_scale.distance;
}

/* What crosses a face beside the surroundings as they are. The balance of those stays, for the next evaluation to start from. */
static int moved_flux(sw_transport *t, size_t face, const double *state, boundary_flux *f)
{
    const sw_surface_balance balance = t->balances[face];
    const sw_behind guess = t->surface_guess[face];
    const int flag = flux_out(t, face, state, f, 0, FOLLOW_TANGENTS);
    t->balances[face] = balance;
    t->surface_guess[face] = guess;
    return flag;
}

/* Columns and corner of the border, by differences: boundary faces feel the lumped unknowns, and the meat's size all faces. */
static int fill_border_columns(sw_transport *t, double time, const double *state, const double *rate,
                               const sw_border *border)
{
    const sw_mesh *mesh = t->mesh;
    const size_t n = 2 * mesh->cell_count, count = t->lumped.count;
    double lumped[SW_LUMPED_MAX], cells_exchange[SW_EXCHANGE_COUNT] = {0.0};
    for (size_t j = 0; j < count; j++)
        lumped[j] = state[n + j];
    add_runoff(t, cells_exchange);
    const double now = slenderness(t);
    sum_over_boundary(t, t->boundary_water, t->boundary_heat);
    for (size_t i = 0; i < count * count; i++)
        border->corner[i] = 0.0;
    for (size_t j = 0; j < count; j++) {
        if (!t->lumped.in_use[j])
            continue;
        double *column = border->columns + j * n, moved_rate[SW_LUMPED_MAX], moved_exchange[SW_EXCHANGE_COUNT];
        for (size_t i = 0; i < n; i++)
            column[i] = 0.0;
        const double step = 1e-4 * t->lumped.scale[j]; /* large beside what the surfaces are solved to */
        for (int e = 0; e < SW_EXCHANGE_COUNT; e++)
            moved_exchange[e] = cells_exchange[e];
        lumped[j] += step;
        surround(t, time, lumped);
        const double growth = (slenderness(t) - now) / (now * step);
        if (growth != 0.0)
            add_growth(t, growth, column);
        for (size_t i = 0; i < mesh->boundary_face_count; i++) {
            const size_t cell = mesh->boundary_faces[i].cell;
            boundary_flux f = {0};
            if (moved_flux(t, i, state, &f) != 0)
                return 1;
            add_exchange(&t->surfaces[i], &f, moved_exchange);
            double water = (f.water - t->face_water[i]) / step, heat = (f.heat - t->face_heat[i]) / step;
            column[2 * cell] -= (heat - t->value.water_enthalpy[cell] * water) * t->per_capacity[cell];
            column[2 * cell + 1] -= water * t->per_dry_mass[cell];
        }
        if (t->lumped.rate(time, lumped, moved_exchange, moved_rate, NULL, t->lumped.data) != 0)
            return 1;
        for (size_t r = 0; r < count; r++)
            border->corner[r * count + j] = (moved_rate[r] - rate[n + r]) / step;
        lumped[j] = state[n + j];
    }
    surround(t, time, lumped);
    return 0;
}

int sw_transport_fill_border(sw_transport *t, double time, const double *state, const double exchange[SW_EXCHANGE_COUNT],
                             const double *rate, const sw_border *border)
{
    const size_t n = 2 * t->mesh->cell_count;
    if (fill_border_rows(t, time, state + n, exchange, rate + n, border->rows) != 0)
        return 1;
    return fill_border_columns(t, time, state, rate, border);
}
