/* SPDX-License-Identifier: BSD-3-Clause */
#include "transport.h"

#include "lanes.h"

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

/* Columns of cells and of faces, in one piece. Returns -1 without memory. */
static int create_columns(sw_transport *t)
{
    const size_t n = t->room, faces = SW_LANES * t->faces.group_count;
    double **const of_cells[] = {&t->temperature, &t->content, &t->volume, &t->per_dry_mass, &t->per_capacity, &t->water_gain,
                                 &t->heat_gain, &t->boundary_water, &t->boundary_heat};
    enum { OF_CELLS = sizeof of_cells / sizeof *of_cells };
    double *at = t->columns = calloc((3 * SW_PROPERTY_COUNT + OF_CELLS) * n + 2 * faces, sizeof *at);
    if (!at)
        return -1;
    sw_property_columns *const properties[] = {&t->value, &t->by_temperature, &t->by_water};
    for (int i = 0; i < 3; i++, at += SW_PROPERTY_COUNT * n)
        *properties[i] = sw_columns_in(at, n);
    for (int i = 0; i < OF_CELLS; i++, at += n)
        *of_cells[i] = at;
    t->through_water = at;
    t->through_heat = at + faces;
    return 0;
}

static void fill_columns(sw_transport *t)
{
    const sw_mesh *mesh = t->mesh;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        t->volume[i] = mesh->volume[i];
        t->per_dry_mass[i] = 1.0 / (mesh->volume[i] * t->materials[mesh->region[i]]->dry_density);
    }
    for (size_t i = mesh->cell_count; i < t->room; i++)
        t->value.heat_capacity[i] = t->volume[i] = 1.0; /* nothing divides by 0 */
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
    t->room = (n + SW_LANES - 1) / SW_LANES * SW_LANES;
    t->surfaces = calloc(m, sizeof *t->surfaces);
    t->surface_guess = calloc(m, sizeof *t->surface_guess);
    t->balances = calloc(m, sizeof *t->balances);
    t->other_guess = calloc(m, sizeof *t->other_guess);
    t->other_balances = calloc(m, sizeof *t->other_balances);
    t->run_start = calloc(t->run_count + 1, sizeof *t->run_start);
    t->triangle_blocks = calloc(mesh->fibre_triangle_count + 1, sizeof *t->triangle_blocks);
    t->cell_block = calloc(n, sizeof *t->cell_block);
    t->face_water = calloc(m, sizeof *t->face_water);
    t->face_heat = calloc(m, sizeof *t->face_heat);
    const bool has_faces = sw_face_columns_init(&t->faces, mesh) == 0;
    t->face_blocks = calloc(SW_LANES * t->faces.group_count + 1, sizeof *t->face_blocks);
    if (!has_faces || !t->surfaces || !t->surface_guess || !t->balances || !t->other_guess || !t->other_balances ||
        !t->run_start || !t->face_blocks || !t->triangle_blocks || !t->cell_block || !t->face_water || !t->face_heat ||
        create_columns(t) != 0) {
        sw_transport_destroy(t);
        return SW_ERR_MEMORY;
    }
    count_runs(mesh, t->run_start);
    fill_columns(t);
    *transport = t;
    return SW_OK;
}

void sw_transport_destroy(sw_transport *t)
{
    if (!t)
        return;
    sw_face_columns_free(&t->faces);
    free(t->columns);
    free(t->surfaces);
    free(t->surface_guess);
    free(t->balances);
    free(t->other_guess);
    free(t->other_balances);
    free(t->run_start);
    free(t->face_blocks);
    free(t->triangle_blocks);
    free(t->cell_block);
    free(t->face_water);
    free(t->face_heat);
    free(t->exchange_by);
    free(t);
}
