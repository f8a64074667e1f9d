/* SPDX-License-Identifier: BSD-3-Clause */
/* Fat that renders: melts out of its cells and leaves as drip, as the reaction of that name goes on.
 * Theory: docs/theory/fat.md. */
#ifndef SW_RENDERING_H
#define SW_RENDERING_H

#include "reactions.h"

typedef struct sw_rendering {
    const sw_reactions *reactions;
    double *remaining;          /* share of each cell's raw fat still there at the last update */
    double *next;               /* room for that of a later time */
    double *warmth;             /* room for the mean temperature of each cell up to then [K] */
    double mass;                /* rendered so far [kg] */
    double cap_mass;            /* of that, from fat cap and seam [kg] */
    double heat;                /* it has carried off [J] */
    double reference_temperature; /* [K] */
} sw_rendering;

/* reactions: borrowed, at time 0. Returns 0 or -1 if memory is short. */
int sw_rendering_init(sw_rendering *rendering, const sw_reactions *reactions, double reference_temperature);
void sw_rendering_free(sw_rendering *rendering);

/* Takes over how far that of the same body has got. */
void sw_rendering_copy(sw_rendering *rendering, const sw_rendering *from);

/* Takes account of the fat that reacted in the last update of the reactions. */
void sw_rendering_advance(sw_rendering *rendering);

/* The rendering of a time after the last update of the reactions, for a row in between: as sw_reactions_remaining. at borrows
 * from rendering until that is used again. */
void sw_rendering_at(const sw_rendering *rendering, double time, const double *halfway, const double *state,
                     sw_rendering *at);

/* Heat that has melted fat which is still in the meat [J]. */
double sw_rendering_melting_heat(const sw_rendering *rendering, const double *state);

#endif
