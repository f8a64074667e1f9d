/* SPDX-License-Identifier: BSD-3-Clause */
/* Feet on an outline: where the columns of cells of a fitted mesh stand. Between two feet lies a node, at a corner or half-way;
 * both are equally far from it, so that two seeds above them at one depth, and their images beyond the outline, lie on one
 * circle about the node. If no other seed lies in any of these circles, the cells' faces between seeds and images are
 * exactly the pieces of the outline between nodes. Theory: docs/theory/section.md. */
#ifndef SW_FITTED_FEET_H
#define SW_FITTED_FEET_H

#include "section_mesh.h"

typedef struct sw_foot {
    sw_point at;
    sw_point normal; /* inwards, of length 1 */
    sw_point node;   /* between this foot and the next */
    double radius;   /* of the circle about that node through the outermost seeds [m] */
    double spacing;  /* length of the piece of outline that it stands on [m] */
    size_t edge;     /* from this corner of the outline to the next */
} sw_foot;

/* Feet counter-clockwise along an outline, about facet apart [m], nearer at corners and where the section is narrow, for
 * outermost seeds at a depth [m]. Release with free.
 * Returns SW_OK, SW_ERR_RANGE with the misfit (a corner too sharp, a place too narrow for such seeds), SW_ERR_MEMORY. */
sw_status sw_fitted_feet(size_t vertex_count, const sw_point *vertices, double facet, double depth, size_t *foot_count,
                         sw_foot **feet, sw_misfit *misfit);

#endif
