/* SPDX-License-Identifier: BSD-3-Clause */
/* Outlines of sections through a brisket, drawn for this project: proportions of a trimmed cut as it lies on the grate,
 * common practice, no source. */
#ifndef SW_BRISKET_OUTLINES_H
#define SW_BRISKET_OUTLINES_H

#include "section_mesh.h"

/* Corners in a unit box, along and up, counter-clockwise; NULL if the shape has no built-in outline. */
const sw_point *sw_brisket_outline(sw_shape shape, size_t *count);

#endif
