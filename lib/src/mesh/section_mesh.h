/* A two-dimensional mesh: an outline clipped on a Cartesian grid into cut cells with exact areas and boundary segments.
 * A rectangle, a tapered section, a traced outline and, turned about its left edge, a short cylinder are all outlines.
 * Theory: docs/theory/section.md. */
#ifndef SW_SECTION_MESH_H
#define SW_SECTION_MESH_H

#include "mesh.h"

/* Most grid lines in either direction. */
#define SW_SECTION_LINES_MAX 512

typedef struct sw_point {
    double x, y; /* along the section, and up [m] */
} sw_point;

/* Material number of a place in the section. */
typedef int (*sw_region_at)(sw_point place, const void *data);

typedef struct sw_section {
    size_t vertex_count;
    const sw_point *vertices; /* counter-clockwise, the first not repeated */
    size_t line_count_x, line_count_y;
    const double *lines_x, *lines_y; /* grid lines, strictly rising, covering the outline [m] */
    double depth;                    /* of a plane section; times 2 pi x when turned: number of bodies [m or -] */
    bool is_turned;                  /* the section is turned about x = 0 */
    bool insulated_left;             /* the leftmost grid line is a plane of symmetry (always so when turned) */
    bool fibres_along;               /* fibres run along x; otherwise out of the plane */
    sw_region_at region;             /* NULL: all 0 */
    const void *region_data;
} sw_section;

/* Checks an outline: at least three vertices, finite, not self-crossing, with an area.
 * Returns SW_OK or SW_ERR_RANGE; *reason is then a clause such as "edges 2 and 5 cross". */
sw_status sw_outline_check(size_t vertex_count, const sw_point *vertices, char *reason, size_t reason_size);

/* Signed area: positive counter-clockwise [m2]. */
double sw_outline_area(size_t vertex_count, const sw_point *vertices);

/* Whether a place lies inside an outline. */
bool sw_outline_contains(size_t vertex_count, const sw_point *vertices, sw_point place);

/* Returns SW_OK, SW_ERR_ARGUMENT (a grid that does not cover the outline), SW_ERR_MEMORY; destroy with
 * sw_mesh_destroy. */
sw_status sw_section_mesh_create(const sw_section *section, sw_mesh **mesh);

/* The probe at a place of a section: the nearest cell's value and a gradient fitted to its neighbours, so that it reads a
 * linear temperature exactly. */
sw_probe sw_section_probe(const sw_mesh *mesh, sw_point place);

#endif
