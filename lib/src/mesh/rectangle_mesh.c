/* SPDX-License-Identifier: BSD-3-Clause */
#include "section_mesh.h"

#include <math.h>
#include <stdlib.h>

static double middle(const double *lines, size_t i)
{
    return 0.5 * (lines[i] + lines[i + 1]);
}

/* Length in the third dimension at a distance along the section. */
static double depth_at(const sw_rectangle *r, double x)
{
    return r->is_turned ? 2.0 * SW_PI * x * r->depth : r->depth;
}

static void fill_cell(const sw_rectangle *r, sw_mesh *m, size_t i, size_t j)
{
    size_t cell = i * (r->line_count_y - 1) + j;
    double left = r->lines_x[i], right = r->lines_x[i + 1], low = r->lines_y[j], high = r->lines_y[j + 1];
    m->across[cell] = middle(r->lines_x, i);
    m->position[cell] = middle(r->lines_y, j);
    /* By Pappus the volume of a turned cell is its area times the path of its centre. */
    m->volume[cell] = (right - left) * (high - low) * depth_at(r, m->across[cell]);
    if (r->region)
        m->region[cell] = r->region((sw_point){m->across[cell], m->position[cell]}, r->region_data);
    const sw_point corners[4] = {{left, low}, {right, low}, {right, high}, {left, high}};
    m->first_corner[cell] = 4 * cell;
    for (size_t k = 0; k < 4; k++)
        m->corners[4 * cell + k] = corners[k];
}

static void add_face(sw_mesh *m, size_t a, size_t b, double area, double distance_a, double distance_b, bool along_fibres)
{
    m->faces[m->face_count++] = (sw_face){a, b, area, distance_a, distance_b, along_fibres ? 1.0 : 0.0, 0.0};
}

static void add_outer_face(const sw_rectangle *r, sw_mesh *m, size_t cell, sw_point at, double length, double distance, sw_side side)
{
    bool is_end = side == SW_SIDE_END;
    m->boundary_faces[m->boundary_face_count++] = (sw_boundary_face){
        .cell = cell,
        .area = length * depth_at(r, at.x),
        .distance = distance,
        .height = at.y - r->lines_y[0],
        .across = at.x,
        .facing = is_end ? 0.0 : side == SW_SIDE_TOP ? 1.0 : -1.0,
        .along_fibres = is_end && r->fibres_along ? 1.0 : 0.0,
        .side = side,
    };
}

/* To the next cell along the section. */
static void add_face_along(const sw_rectangle *r, sw_mesh *m, size_t i, size_t j)
{
    const double *x = r->lines_x, *y = r->lines_y;
    const size_t ny = r->line_count_y - 1, cell = i * ny + j;
    add_face(m, cell, cell + ny, (y[j + 1] - y[j]) * depth_at(r, x[i + 1]), 0.5 * (x[i + 1] - x[i]), 0.5 * (x[i + 2] - x[i + 1]),
             r->fibres_along);
}

static void add_faces_of_cell(const sw_rectangle *r, sw_mesh *m, size_t i, size_t j)
{
    const double *x = r->lines_x, *y = r->lines_y;
    const size_t nx = r->line_count_x - 1, ny = r->line_count_y - 1, cell = i * ny + j;
    const double half_width = 0.5 * (x[i + 1] - x[i]), half_height = 0.5 * (y[j + 1] - y[j]);
    const double at_x = middle(x, i), at_y = middle(y, j);
    if (i + 1 == nx)
        add_outer_face(r, m, cell, (sw_point){x[nx], at_y}, 2.0 * half_height, half_width, SW_SIDE_END);
    if (i == 0 && !r->insulated_left && !r->is_turned)
        add_outer_face(r, m, cell, (sw_point){x[0], at_y}, 2.0 * half_height, half_width, SW_SIDE_END);
    if (j + 1 < ny)
        add_face(m, cell, cell + 1, 2.0 * half_width * depth_at(r, at_x), half_height, 0.5 * (y[j + 2] - y[j + 1]), false);
    else
        add_outer_face(r, m, cell, (sw_point){at_x, y[ny]}, 2.0 * half_width, half_height, SW_SIDE_TOP);
    if (j == 0)
        add_outer_face(r, m, cell, (sw_point){at_x, y[0]}, 2.0 * half_width, half_height, SW_SIDE_BOTTOM);
}

static sw_mesh *allocate(size_t nx, size_t ny)
{
    sw_mesh *m = calloc(1, sizeof *m);
    if (!m)
        return NULL;
    size_t cells = m->cell_count = nx * ny;
    m->volume = calloc(cells, sizeof *m->volume);
    m->position = calloc(cells, sizeof *m->position);
    m->across = calloc(cells, sizeof *m->across);
    m->region = calloc(cells, sizeof *m->region);
    m->faces = calloc(2 * cells, sizeof *m->faces);
    m->boundary_faces = calloc(2 * (nx + ny), sizeof *m->boundary_faces);
    m->first_corner = calloc(cells + 1, sizeof *m->first_corner);
    m->corners = calloc(4 * cells, sizeof *m->corners);
    if (!m->volume || !m->position || !m->across || !m->region || !m->faces || !m->boundary_faces || !m->first_corner ||
        !m->corners) {
        sw_mesh_destroy(m);
        return NULL;
    }
    return m;
}

sw_status sw_rectangle_mesh_create(const sw_rectangle *r, sw_mesh **mesh)
{
    if (r->line_count_x < 2 || r->line_count_y < 2)
        return SW_ERR_ARGUMENT;
    const size_t nx = r->line_count_x - 1, ny = r->line_count_y - 1;
    sw_mesh *m = allocate(nx, ny);
    if (!m)
        return SW_ERR_MEMORY;
    m->mirrored_left = r->insulated_left || r->is_turned;
    /* Faces that join cells next to each other in the numbering, one after the other, are worked on side by side (face_columns.h). */
    for (size_t i = 0; i + 1 < nx; i++)
        for (size_t j = 0; j < ny; j++)
            add_face_along(r, m, i, j);
    for (size_t i = 0; i < nx; i++)
        for (size_t j = 0; j < ny; j++) {
            fill_cell(r, m, i, j);
            add_faces_of_cell(r, m, i, j);
        }
    m->first_corner[m->cell_count] = 4 * m->cell_count;
    *mesh = m;
    return SW_OK;
}
