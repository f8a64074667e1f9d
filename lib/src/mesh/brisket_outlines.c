/* SPDX-License-Identifier: BSD-3-Clause */
#include "brisket_outlines.h"

static const sw_point flat[] = {{0.00, 0.40}, {0.02, 0.16}, {0.08, 0.00}, {0.92, 0.00}, {0.98, 0.14}, {1.00, 0.42},
                                {0.98, 0.74}, {0.92, 0.92}, {0.75, 1.00}, {0.45, 0.99}, {0.20, 0.93}, {0.05, 0.74}};

static const sw_point point[] = {{0.00, 0.34}, {0.04, 0.12}, {0.14, 0.00}, {0.86, 0.00}, {0.96, 0.12}, {1.00, 0.36},
                                 {0.98, 0.62}, {0.90, 0.84}, {0.74, 0.97}, {0.52, 1.00}, {0.30, 0.92}, {0.12, 0.74},
                                 {0.03, 0.54}};

/* The flat's thin end on the left, the point on the right. */
static const sw_point packer[] = {{0.00, 0.14}, {0.02, 0.05}, {0.07, 0.00}, {0.92, 0.00}, {0.98, 0.10}, {1.00, 0.32},
                                  {0.98, 0.62}, {0.92, 0.86}, {0.83, 0.98}, {0.74, 1.00}, {0.64, 0.94}, {0.54, 0.80},
                                  {0.42, 0.63}, {0.28, 0.52}, {0.12, 0.42}, {0.03, 0.30}};

const sw_point *sw_brisket_outline(sw_shape shape, size_t *count)
{
    switch (shape) {
    case SW_SHAPE_FLAT:
        *count = sizeof flat / sizeof *flat;
        return flat;
    case SW_SHAPE_POINT:
        *count = sizeof point / sizeof *point;
        return point;
    case SW_SHAPE_PACKER:
        *count = sizeof packer / sizeof *packer;
        return packer;
    default:
        *count = 0;
        return NULL;
    }
}
