/* SPDX-License-Identifier: BSD-3-Clause */
#include "outlines.h"

#include "close.h"

#include "brisket_outlines.h"
#include "cuts.h"

#include <math.h>
#include <string.h>

static void set_corners(test_outline *o, const char *name, size_t count, const sw_point *corners, double width, double height)
{
    o->name = name;
    o->count = count;
    for (size_t i = 0; i < count; i++)
        o->v[i] = (sw_point){corners[i].x * width, corners[i].y * height};
}

test_outline round_outline(size_t count, double radius, bool of_equal_area)
{
    test_outline o = {.name = "circle", .count = count};
    double angle = 2.0 * SW_PI / (double)count;
    double r = of_equal_area ? radius * sqrt(angle / sin(angle)) : radius;
    for (size_t i = 0; i < count; i++) {
        double at = angle * ((double)i + 0.5);
        o.v[i] = (sw_point){r * cos(at), r * sin(at)};
    }
    return o;
}

test_outline drawn_outline(int kind)
{
    static const sw_point rectangle[] = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
    static const sw_point slanted[] = {{0.1, 0.0}, {1.0, 0.31}, {0.83, 1.0}, {0.0, 0.57}};
    static const sw_point notched[] = {{0.0, 0.0}, {1.0, 0.05}, {0.95, 0.9}, {0.63, 0.97}, {0.5, 0.24}, {0.36, 1.0}, {0.03, 0.8}};
    static const sw_point stepped[] = {{0.0, 0.0}, {1.0, 0.0}, {1.0, 1.0}, {0.8, 1.0}, {0.8, 0.25}, {0.3, 0.25}, {0.3, 0.75}, {0.0, 0.75}};
    static const sw_point thin[] = {{0.0, 0.0}, {1.0, 0.02}, {1.0, 0.06}, {0.0, 0.10}};
    static const sw_shape built_in[] = {SW_SHAPE_FLAT, SW_SHAPE_POINT, SW_SHAPE_PACKER};
    test_outline o = {.count = 0};
    switch (kind) {
    case 0:
        set_corners(&o, "rectangle", 4, rectangle, 0.25, 0.08);
        break;
    case 1:
        set_corners(&o, "slanted", 4, slanted, 0.25, 0.08);
        break;
    case 2:
        set_corners(&o, "notched", 7, notched, 0.3, 0.1);
        break;
    case 3:
        set_corners(&o, "stepped", 8, stepped, 0.24, 0.12);
        break;
    case 4:
        set_corners(&o, "thin", 4, thin, 0.25, 0.25);
        break;
    case 5:
        return round_outline(200, 0.06, false);
    default: {
        size_t count;
        const sw_point *corners = sw_brisket_outline(built_in[kind - 6], &count);
        set_corners(&o, sw_shape_name(built_in[kind - 6]), count, corners, 0.42, 0.083);
    }
    }
    return o;
}

test_outline random_outline(unsigned number)
{
    unsigned long long seed = 1000003ULL * (number + 1);
    for (int i = 0; i < 5; i++)
        random_share(&seed);
    test_outline o = {.name = number % 2 ? "random with a bay" : "random star"};
    o.count = 6 + (size_t)(24.999 * random_share(&seed));
    double width = 0.06 + 0.34 * random_share(&seed), height = width * (0.25 + 0.6 * random_share(&seed));
    double phase = 2.0 * SW_PI * random_share(&seed), depth = number % 2 ? 0.55 : 0.0;
    for (size_t i = 0; i < o.count; i++) {
        /* Star-shaped: rising angles, any distance. A bay: shorter ones towards one direction. */
        double angle = 2.0 * SW_PI * ((double)i + 0.6 * (random_share(&seed) - 0.5)) / (double)o.count;
        double radius = 0.65 + 0.35 * random_share(&seed), towards = cos(angle - phase);
        if (towards > 0.0)
            radius *= 1.0 - depth * pow(towards, 6.0);
        o.v[i] = (sw_point){0.5 * width * (1.0 + radius * cos(angle)), 0.5 * height * (1.0 + radius * sin(angle))};
    }
    return o;
}

void fit_section(const test_outline *o, size_t rows, size_t columns, double surface_cell, sw_fitted_section *f)
{
    sw_point low = o->v[0], high = o->v[0];
    for (size_t i = 1; i < o->count; i++) {
        low = (sw_point){fmin(low.x, o->v[i].x), fmin(low.y, o->v[i].y)};
        high = (sw_point){fmax(high.x, o->v[i].x), fmax(high.y, o->v[i].y)};
    }
    memset(f, 0, sizeof *f);
    f->vertex_count = o->count;
    f->vertices = o->v;
    f->facet = fmax(high.x - low.x, high.y - low.y) / (double)columns;
    f->depth = 1.0;
    double widths[SW_LAYERS_MAX], edge = 0.0;
    f->bare.count = (rows + 1) / 2;
    sw_grade_cells(0.5 * fmin(high.x - low.x, high.y - low.y), f->bare.count, surface_cell, 0.0, widths);
    for (size_t i = 0; i < f->bare.count; i++) {
        f->bare.depth[i] = edge + 0.5 * widths[i];
        edge += widths[i];
    }
}

sw_mesh *fitted_mesh(const sw_fitted_section *f)
{
    sw_mesh *mesh = NULL;
    sw_misfit misfit = {.kind = SW_MISFIT_MISSED};
    char reason[SW_MISFIT_SIZE];
    if (sw_fitted_mesh_create(f, &mesh, &misfit) != SW_OK)
        fail_msg("%s", sw_say_misfit(NULL, &misfit, reason));
    return mesh;
}
