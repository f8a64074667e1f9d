/* SPDX-License-Identifier: BSD-3-Clause */
/* From what a cook knows of a cut (mass, shape, some dimensions) to its section: proportions, outline, grid, regions and
 * usual probe places. Theory: docs/theory/section.md. */
#ifndef SW_CUT_GEOMETRY_H
#define SW_CUT_GEOMETRY_H

#include "section_mesh.h"

#include <stallwright/context.h>

/* Fills in thickness, width and end thickness that are 0 from the mass, the density [kg m-3] and the usual proportions of the
 * cut; not the thickness of a slab, which sw_scenario_settle knows. */
void sw_cut_fill_dimensions(sw_meat *meat, double density);

/* Surface of a slab with its ends over that of its two faces, of the cut's usual proportions seen from above. area: of one face [m2];
 * thickness [m]. */
double sw_slab_edge_factor(sw_cut cut, double area, double thickness);

/* The section's outline, counter-clockwise; corners has room for SW_OUTLINE_MAX. Returns the number of corners. */
size_t sw_cut_outline(const sw_meat *meat, sw_point *corners);

/* Meshes a section; fills in probe places that are left to the shape. The depth is 1 m, or one body when turned.
 * Returns SW_OK; SW_ERR_RANGE with a sentence (outline, fat cap or probe that cannot be); SW_ERR_MEMORY. */
sw_status sw_cut_section_mesh(sw_context *context, sw_scenario *scenario, sw_mesh **mesh);

#endif
