/* SPDX-License-Identifier: BSD-3-Clause */
#include "transport.h"

#include <stdlib.h>

static size_t count_runs(const sw_mesh *mesh, size_t *starts)
{
    size_t runs = 0;
    for (size_t i = 0; i < mesh->cell_count; i++)
        if (i == 0 || mesh->region[i] != mesh->region[i - 1]) {
            if (starts)
                starts[runs] = i;
            runs++;
        }
    if (starts)
        starts[runs] = mesh->cell_count;
    return runs;
}

sw_status sw_transport_create(const sw_mesh *mesh, const sw_material *const *materials, const sw_water_table *water,
                              sw_transport **transport)
{
    sw_transport *t = calloc(1, sizeof *t);
    if (!t)
        return SW_ERR_MEMORY;
    size_t n = mesh->cell_count, m = mesh->boundary_face_count;
    t->mesh = mesh;
    t->water = water;
    t->meat_scale = (sw_meat_scale){1.0, 1.0};
    t->fibre_conductivity = t->fibre_permeability = 1.0;
    for (int i = 0; i < SW_REGION_COUNT; i++)
        t->materials[i] = materials[i];
    t->run_count = count_runs(mesh, NULL);
    t->surfaces = calloc(m, sizeof *t->surfaces);
    t->value = calloc(n, sizeof *t->value);
    t->by_temperature = calloc(n, sizeof *t->by_temperature);
    t->by_water = calloc(n, sizeof *t->by_water);
    t->per_dry_mass = calloc(n, sizeof *t->per_dry_mass);
    t->per_capacity = calloc(n, sizeof *t->per_capacity);
    t->water_gain = calloc(n, sizeof *t->water_gain);
    t->heat_gain = calloc(n, sizeof *t->heat_gain);
    t->surface_guess = calloc(m, sizeof *t->surface_guess);
    t->balances = calloc(m, sizeof *t->balances);
    t->other_guess = calloc(m, sizeof *t->other_guess);
    t->other_balances = calloc(m, sizeof *t->other_balances);
    t->run_start = calloc(t->run_count + 1, sizeof *t->run_start);
    t->face_entries = calloc(mesh->face_count + 1, sizeof *t->face_entries);
    t->triangle_entries = calloc(mesh->fibre_triangle_count + 1, sizeof *t->triangle_entries);
    t->cell_entries = calloc(n, sizeof *t->cell_entries);
    t->face_water = calloc(m, sizeof *t->face_water);
    t->face_heat = calloc(m, sizeof *t->face_heat);
    t->boundary_water = calloc(n, sizeof *t->boundary_water);
    t->boundary_heat = calloc(n, sizeof *t->boundary_heat);
    if (!t->surfaces || !t->value || !t->by_temperature || !t->by_water || !t->per_dry_mass || !t->per_capacity ||
        !t->water_gain || !t->heat_gain || !t->surface_guess || !t->balances || !t->other_guess || !t->other_balances ||
        !t->run_start || !t->face_entries || !t->triangle_entries || !t->cell_entries || !t->face_water || !t->face_heat || !t->boundary_water ||
        !t->boundary_heat) {
        sw_transport_destroy(t);
        return SW_ERR_MEMORY;
    }
    count_runs(mesh, t->run_start);
    for (size_t i = 0; i < n; i++)
        t->per_dry_mass[i] = 1.0 / (mesh->volume[i] * materials[mesh->region[i]]->dry_density);
    *transport = t;
    return SW_OK;
}

void sw_transport_destroy(sw_transport *t)
{
    if (!t)
        return;
    free(t->surfaces);
    free(t->value);
    free(t->by_temperature);
    free(t->by_water);
    free(t->per_dry_mass);
    free(t->per_capacity);
    free(t->water_gain);
    free(t->heat_gain);
    free(t->surface_guess);
    free(t->balances);
    free(t->other_guess);
    free(t->other_balances);
    free(t->run_start);
    free(t->face_entries);
    free(t->triangle_entries);
    free(t->cell_entries);
    free(t->face_water);
    free(t->face_heat);
    free(t->boundary_water);
    free(t->boundary_heat);
    free(t->exchange_by);
    free(t);
}
