/* SPDX-License-Identifier: BSD-3-Clause */
#include "mesh.h"

#include <math.h>
#include <stdlib.h>

/* Ratio of a geometric row of count cells whose first is first and whose sum is total; 1 if they would have to shrink. */
static double growth_ratio(double first, double total, size_t count)
{
    if (first * (double)count >= total)
        return 1.0;
    double low = 1.0, high = 2.0;
    for (int i = 0; i < 200; i++) {
        double ratio = 0.5 * (low + high);
        double sum = first * (pow(ratio, (double)count) - 1.0) / (ratio - 1.0);
        if (sum > total)
            high = ratio;
        else
            low = ratio;
    }
    return 0.5 * (low + high);
}

/* Widths of count cells growing away from the low end (or all alike), scaled to fill total exactly. */
static void grade(double total, size_t count, double first, double *widths, ptrdiff_t stride)
{
    double ratio = first > 0.0 ? growth_ratio(first, total, count) : 1.0, width = 1.0, sum = 0.0;
    for (size_t i = 0; i < count; i++, width *= ratio)
        sum += width;
    width = total / sum;
    for (size_t i = 0; i < count; i++, width *= ratio)
        widths[(ptrdiff_t)i * stride] = width;
}

void sw_grade_cells(double total, size_t count, double first_cell, double last_cell, double *widths)
{
    if (first_cell > 0.0 && last_cell > 0.0 && count >= 2) {
        size_t low = count / 2, high = count - low;
        double share = (double)low / (double)count;
        grade(total * share, low, first_cell, widths, 1);
        grade(total * (1.0 - share), high, last_cell, widths + count - 1, -1);
    } else if (last_cell > 0.0) {
        grade(total, count, last_cell, widths + count - 1, -1);
    } else {
        grade(total, count, first_cell, widths, 1);
    }
}

static double area_at(sw_shape shape, double extent, double x)
{
    switch (shape) {
    case SW_SHAPE_CYLINDER:
        return 2.0 * SW_PI * x * extent;
    case SW_SHAPE_SPHERE:
        return 4.0 * SW_PI * x * x * extent;
    default:
        return extent;
    }
}

static double volume_between(sw_shape shape, double extent, double low, double high)
{
    switch (shape) {
    case SW_SHAPE_CYLINDER:
        return SW_PI * (high - low) * (high + low) * extent;
    case SW_SHAPE_SPHERE:
        return 4.0 / 3.0 * SW_PI * (high - low) * (high * high + high * low + low * low) * extent;
    default:
        return extent * (high - low);
    }
}

void sw_mesh_destroy(sw_mesh *mesh)
{
    if (!mesh)
        return;
    free(mesh->volume);
    free(mesh->position);
    free(mesh->across);
    free(mesh->bounds);
    free(mesh->region);
    free(mesh->first_corner);
    free(mesh->corners);
    free(mesh->faces);
    free(mesh->boundary_faces);
    free(mesh->fibre_triangles);
    free(mesh);
}

static sw_mesh *allocate(size_t cells)
{
    sw_mesh *mesh = calloc(1, sizeof *mesh);
    if (!mesh)
        return NULL;
    mesh->cell_count = cells;
    mesh->volume = calloc(cells, sizeof *mesh->volume);
    mesh->position = calloc(cells, sizeof *mesh->position);
    mesh->across = calloc(cells, sizeof *mesh->across);
    mesh->bounds = calloc(cells + 1, sizeof *mesh->bounds);
    mesh->region = calloc(cells, sizeof *mesh->region);
    mesh->faces = calloc(cells, sizeof *mesh->faces);
    mesh->boundary_faces = calloc(2, sizeof *mesh->boundary_faces);
    if (!mesh->volume || !mesh->position || !mesh->across || !mesh->bounds || !mesh->region || !mesh->faces || !mesh->boundary_faces) {
        sw_mesh_destroy(mesh);
        return NULL;
    }
    return mesh;
}

static void add_boundary_face(sw_mesh *mesh, size_t cell, double area, double distance, sw_side side)
{
    mesh->boundary_faces[mesh->boundary_face_count++] =
        (sw_boundary_face){.cell = cell,
                           .area = area,
                           .distance = distance,
                           .height = side == SW_SIDE_BOTTOM ? 0.0 : mesh->bounds[mesh->cell_count],
                           .facing = side == SW_SIDE_BOTTOM ? -1.0 : 1.0,
                           .side = side};
}

sw_status sw_mesh_create(sw_shape shape, double extent, bool insulated_low, size_t layer_count, const sw_layer *layers,
                         sw_mesh **mesh)
{
    size_t cells = 0;
    for (size_t i = 0; i < layer_count; i++) {
        if (layers[i].cells == 0 || !(layers[i].thickness > 0.0))
            return SW_ERR_ARGUMENT;
        cells += layers[i].cells;
    }
    if (cells == 0 || !(extent > 0.0))
        return SW_ERR_ARGUMENT;
    sw_mesh *m = allocate(cells);
    double *widths = malloc(cells * sizeof *widths);
    if (!m || !widths) {
        sw_mesh_destroy(m);
        free(widths);
        return SW_ERR_MEMORY;
    }
    size_t cell = 0;
    for (size_t i = 0; i < layer_count; i++) {
        sw_grade_cells(layers[i].thickness, layers[i].cells, layers[i].low_cell, layers[i].high_cell, widths + cell);
        for (size_t j = 0; j < layers[i].cells; j++)
            m->region[cell++] = layers[i].region;
    }
    for (size_t i = 0; i < cells; i++)
        m->bounds[i + 1] = m->bounds[i] + widths[i];
    for (size_t i = 0; i < cells; i++) {
        m->position[i] = 0.5 * (m->bounds[i] + m->bounds[i + 1]);
        m->volume[i] = volume_between(shape, extent, m->bounds[i], m->bounds[i + 1]);
    }
    m->face_count = cells - 1;
    for (size_t i = 0; i + 1 < cells; i++)
        m->faces[i] = (sw_face){.a = i,
                                .b = i + 1,
                                .area = area_at(shape, extent, m->bounds[i + 1]),
                                .distance_a = 0.5 * widths[i],
                                .distance_b = 0.5 * widths[i + 1]};
    m->in_a_row = true;
    if (shape == SW_SHAPE_SLAB && !insulated_low)
        add_boundary_face(m, 0, extent, 0.5 * widths[0], SW_SIDE_BOTTOM);
    add_boundary_face(m, cells - 1, area_at(shape, extent, m->bounds[cells]), 0.5 * widths[cells - 1], SW_SIDE_TOP);
    free(widths);
    *mesh = m;
    return SW_OK;
}

sw_probe sw_mesh_probe(const sw_mesh *mesh, double position)
{
    size_t last = mesh->cell_count - 1, b = 1;
    if (position <= mesh->position[0] || last == 0)
        return (sw_probe){.count = 1, .cell = {0}, .weight = {1.0}};
    if (position >= mesh->position[last])
        return (sw_probe){.count = 1, .cell = {last}, .weight = {1.0}};
    while (mesh->position[b] < position)
        b++;
    double low = mesh->position[b - 1], high = mesh->position[b], share = (high - position) / (high - low);
    return (sw_probe){.count = 2, .cell = {b - 1, b}, .weight = {share, 1.0 - share}};
}
