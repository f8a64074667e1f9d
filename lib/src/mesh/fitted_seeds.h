/* SPDX-License-Identifier: BSD-3-Clause */
/* Seeds of a fitted mesh: in layers along an outline and, if there is one, along a seam. Theory: docs/theory/section.md. */
#ifndef SW_FITTED_SEEDS_H
#define SW_FITTED_SEEDS_H

#include "fitted_feet.h"

typedef struct sw_seed {
    sw_point at;
    int region;
    size_t foot;   /* outermost seeds: the foot below; SIZE_MAX for all others */
    double across; /* of its column's foot, by which columns are numbered [m] */
    size_t column, layer;
} sw_seed;

/* Seeds column by column along the section, inwards within each. Release with free. Returns SW_OK, SW_ERR_MEMORY. */
sw_status sw_fitted_seeds(const sw_fitted_section *section, size_t foot_count, const sw_foot *feet, size_t *seed_count,
                          sw_seed **seeds);

#endif
