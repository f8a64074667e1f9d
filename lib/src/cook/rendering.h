/* Fat that renders: melts out of its cells and leaves as drip, by a first-order law of the local temperature.
 * Theory: docs/theory/fat.md. */
#ifndef SW_RENDERING_H
#define SW_RENDERING_H

#include "body.h"

typedef struct sw_rendering {
    const sw_body *body;
    sw_table rate;  /* [s-1] */
    double *remaining;          /* share of each cell's raw fat still there */
    double *last_rate;          /* of each cell at the last update [s-1] */
    double last_time;           /* [s] */
    double mass;                /* rendered so far [kg] */
    double heat;                /* it has carried off [J] */
    double reference_temperature; /* [K] */
} sw_rendering;

/* Returns 0 or -1 if memory is short. */
int sw_rendering_init(sw_rendering *rendering, const sw_body *body, double reference_temperature);
void sw_rendering_free(sw_rendering *rendering);

/* Takes the fat on to a time whose state is given, the rate varying linearly since the last update. */
void sw_rendering_advance(sw_rendering *rendering, double time, const double *state);

/* Heat that has melted fat which is still in the meat [J]. */
double sw_rendering_melting_heat(const sw_rendering *rendering, const double *state);

#endif
