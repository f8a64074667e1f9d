/* SPDX-License-Identifier: BSD-3-Clause */
/* Heat transfer coefficients of air by published correlations. Theory: docs/theory/pit.md. */
#ifndef SW_CONVECTION_H
#define SW_CONVECTION_H

#include <stallwright/scenario.h>

/* Mean Nusselt numbers from Reynolds or Rayleigh and Prandtl numbers; pure functions, arguments 0 or more. */

/* Along a flat plate of the length in the Reynolds number, laminar up to 5e5, turbulent from there on. */
double sw_nusselt_along_plate(double reynolds, double prandtl);

/* Across a cylinder of the diameter in the Reynolds number; Reynolds times Prandtl 0.2 or more. */
double sw_nusselt_across_cylinder(double reynolds, double prandtl);

/* Natural: a vertical plate, by its height. */
double sw_nusselt_vertical_plate(double rayleigh, double prandtl);

/* Natural: a horizontal cylinder, by its diameter. */
double sw_nusselt_horizontal_cylinder(double rayleigh, double prandtl);

/* Natural: a horizontal plate, by area over perimeter; stirred: hot and facing up or cold and facing down, else the air
 * rests on it in layers. */
double sw_nusselt_horizontal_plate(double rayleigh, bool stirred);

/* A body in air. */
typedef struct sw_air_stream {
    double air_temperature;     /* [K] */
    double surface_temperature; /* [K] */
    double pressure;            /* [Pa] */
    double speed;               /* [m s-1] */
} sw_air_stream;

typedef struct sw_body_size {
    bool is_round;  /* a lying cylinder of this height across, or a sphere */
    double height;  /* [m] */
    double width;   /* along the stream [m] */
    double length;  /* across the stream [m] */
} sw_body_size;

/* Coefficient of one side [W m-2 K-1]: forced and natural by the sum of their cubes. SW_OK, SW_ERR_RANGE if the mean of
 * the temperatures is outside 200..600 K. */
sw_status sw_side_convection(const sw_air_stream *stream, const sw_body_size *size, sw_side side, double *coefficient);

#endif
