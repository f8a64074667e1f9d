/* SPDX-License-Identifier: BSD-3-Clause */
/* Exact transient conduction in a slab, cylinder or sphere: uniform start, convection outside. Independent of the
 * library: the full eigenfunction series. Lengths are in half-thicknesses or radii, temperatures theta = (T - T_air)
 * / (T_start - T_air). The same functions describe drying with a surface resistance. */
#ifndef SW_TESTS_CONDUCTION_SERIES_H
#define SW_TESTS_CONDUCTION_SERIES_H

#include <stallwright/scenario.h>

enum { SERIES_TERMS = 80 };

typedef struct conduction_series {
    sw_shape shape;
    double zeta[SERIES_TERMS];        /* eigenvalues, rising */
    double coefficient[SERIES_TERMS]; /* of each eigenfunction */
} conduction_series;

/* biot: h L / k with the half-thickness, or h r / k with the radius. */
void conduction_series_init(conduction_series *series, sw_shape shape, double biot);

/* theta at x in 0 (centre) .. 1 (surface), and its volume mean. */
double conduction_series_at(const conduction_series *series, double fourier, double x);
double conduction_series_mean(const conduction_series *series, double fourier);

#endif
