/* SPDX-License-Identifier: BSD-3-Clause */
/* What the meat and its surroundings have to do with each other: the meat sums what it exchanges with them, they set its
 * surfaces and may have unknowns of their own, which follow the cells' in the state. */
#ifndef SW_EXCHANGE_H
#define SW_EXCHANGE_H

#include "jacobian_layout.h"
#include "surface.h"

/* What meat and surroundings exchange, summed over faces. */
enum {
    SW_EXCHANGE_AIR_HEAT,      /* received from air and walls by faces in contact with air [W] */
    SW_EXCHANGE_AIR_VAPOUR,    /* given to the air by those faces, film included [kg s-1] */
    SW_EXCHANGE_FILM_VAPOUR,   /* the film's part of it [kg s-1] */
    SW_EXCHANGE_POOL_HEAT,     /* received from the pool by the faces in it [W] */
    SW_EXCHANGE_INSIDE_VAPOUR, /* given to the gas inside a closed wrap [kg s-1] */
    SW_EXCHANGE_INSIDE_HEAT,   /* enthalpy of that vapour [W] */
    SW_EXCHANGE_DRIP,          /* juice that leaves the meat, runoff included [kg s-1]; those before are of boundary faces only */
    SW_EXCHANGE_DRIP_HEAT,     /* its enthalpy [W] */
    SW_EXCHANGE_COUNT
};

/* Lumped unknowns around the meat (air of a box, humidity of the pit, a pool of juice, a film): small in number, and coupled
 * to every boundary face. Flows are what the model wants summed over time. */
enum { SW_LUMPED_MAX = SW_BORDERED_MAX, SW_LUMPED_FLOWS = 8 };

/* Size of the meat now over that of raw meat: areas, and distances between cells and to the surface [-]. */
typedef struct sw_meat_scale {
    double area, distance;
} sw_meat_scale;

typedef struct sw_lumped_model {
    size_t count; /* 0..SW_LUMPED_MAX */
    double scale[SW_LUMPED_MAX]; /* size of each unknown, for tolerances and difference steps */
    const bool *in_use;          /* whether each counts now: one that does not stands still and nothing depends on it */
    /* Sets the surfaces, one a boundary face, for a time and values of the unknowns; NULL if others set them. */
    void (*surround)(double time, const double *lumped, sw_surface *surfaces, void *data);
    /* Rates of the unknowns, and the lumped flows unless NULL; may be NULL if count is 0. Returns 0, or nonzero to have a
     * smaller step tried. */
    int (*rate)(double time, const double *lumped, const double exchange[SW_EXCHANGE_COUNT], double *rate,
                double flows[SW_LUMPED_FLOWS], void *data);
    /* Size of the meat for values of the unknowns; NULL: as raw. */
    sw_meat_scale (*scale_of_meat)(const double *lumped, void *data);
    /* The longest step from a time on that does not leap over what the surroundings do; NULL for any [s]. */
    double (*longest_step)(double time, void *data);
    void *data;
} sw_lumped_model;

#endif
