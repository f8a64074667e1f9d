/* SPDX-License-Identifier: BSD-3-Clause */
/* Two-dimensional meshes: of a rectangle, plane or turned about its left edge, on grid lines; and of any other outline, fitted
 * to it. Theory: docs/theory/section.md. */
#ifndef SW_SECTION_MESH_H
#define SW_SECTION_MESH_H

#include "outline_misfit.h"

/* Most cells of a rectangle in either direction. */
#define SW_SECTION_LINES_MAX 512

/* Material number of a place in the section. */
typedef int (*sw_region_at)(sw_point place, const void *data);

/* A rectangle on grid lines. */
typedef struct sw_rectangle {
    size_t line_count_x, line_count_y;
    const double *lines_x, *lines_y; /* strictly rising [m] */
    double depth;                    /* of a plane section; times 2 pi x when turned: number of bodies [m or -] */
    bool is_turned;                  /* the section is turned about x = 0, the first line */
    bool insulated_left;             /* the first line is a plane of symmetry (always so when turned) */
    bool fibres_along;               /* fibres run along x; otherwise out of the plane */
    sw_region_at region;             /* NULL: all 0 */
    const void *region_data;
} sw_rectangle;

/* Returns SW_OK, SW_ERR_ARGUMENT (fewer than two lines), SW_ERR_MEMORY; destroy with sw_mesh_destroy. */
sw_status sw_rectangle_mesh_create(const sw_rectangle *rectangle, sw_mesh **mesh);

/* Depths of the layers' seeds below the line that they follow, rising; the first fat_count are fat [m]. */
enum { SW_LAYERS_MAX = 256 };

typedef struct sw_layer_depths {
    size_t count, fat_count;
    double depth[SW_LAYERS_MAX];
} sw_layer_depths;

/* A straight band of fat inside. */
typedef struct sw_seam {
    sw_point from, to;
    double thickness; /* square to the line; 0 for none [m] */
} sw_seam;

/* Any outline, for cells that follow it. All depths begin with the same one, except those of the seam. */
typedef struct sw_fitted_section {
    size_t vertex_count;
    const sw_point *vertices; /* counter-clockwise, the first not repeated; checked by sw_outline_check */
    double facet;             /* longest piece of surface [m] */
    double depth;             /* in the third dimension [m] */
    bool fibres_along;        /* fibres run along x; otherwise out of the plane */
    bool has_slanted_flow;    /* heat or juice moves more easily along the fibres than across, or less: fibre triangles */
    sw_layer_depths bare;
    sw_layer_depths under_cap; /* of pieces of surface that face up by more than 30 degrees, or down; count 0 for none */
    bool cap_is_below;
    sw_seam seam;
    sw_layer_depths in_seam; /* below its middle line; the first is fat, the second its mirror image at the seam's side */
    int fat_region;          /* material number of fat; lean is 0 */
} sw_fitted_section;

/* Returns SW_OK; SW_ERR_RANGE with the misfit; SW_ERR_MEMORY; destroy with sw_mesh_destroy. */
sw_status sw_fitted_mesh_create(const sw_fitted_section *section, sw_mesh **mesh, sw_misfit *misfit);

/* Checks an outline: at least three vertices, finite, not self-crossing, with an area.
 * Returns SW_OK or SW_ERR_RANGE with the misfit. */
sw_status sw_outline_check(size_t vertex_count, const sw_point *vertices, sw_misfit *misfit);

/* Signed area: positive counter-clockwise [m2]. */
double sw_outline_area(size_t vertex_count, const sw_point *vertices);

/* Whether a place lies inside an outline. */
bool sw_outline_contains(size_t vertex_count, const sw_point *vertices, sw_point place);

/* The probe at a place of a section: the nearest cell's value and a gradient fitted to its neighbours, so that it reads a
 * linear temperature exactly. */
sw_probe sw_section_probe(const sw_mesh *mesh, sw_point place);

#endif
