/* SPDX-License-Identifier: BSD-3-Clause */
/* Delaunay triangles of points in the plane. */
#ifndef SW_DELAUNAY_H
#define SW_DELAUNAY_H

#include "mesh.h"

/* Corners are numbers of points, in either sense of turning; a neighbour lies across from the corner of the same place. */
typedef struct sw_triangle {
    size_t corner[3];
    size_t neighbour[3]; /* SIZE_MAX at the rim */
} sw_triangle;

/* False where this library was built without Qhull: then the other function must not be called. */
bool sw_has_delaunay(void);

/* Points on one circle are joined in some way, without gaps or overlaps. Release the triangles with free.
 * Returns SW_OK, SW_ERR_ARGUMENT (points on one line, or too near to one another), SW_ERR_MEMORY. */
sw_status sw_delaunay(size_t count, const sw_point *points, size_t *triangle_count, sw_triangle **triangles);

#endif
