/* SPDX-License-Identifier: BSD-3-Clause */
/* Choi and Okos (1986): a quadratic in degrees Celsius for each property of each component. */
#ifndef SW_CHOI_OKOS_H
#define SW_CHOI_OKOS_H

#include <stallwright/composition.h>

typedef struct sw_quadratic {
    double constant, linear, square;
} sw_quadratic;

typedef struct sw_choi_okos {
    sw_quadratic conductivity;  /* [W m-1 K-1] */
    sw_quadratic density;       /* [kg m-3] */
    sw_quadratic heat_capacity; /* [J kg-1 K-1] */
} sw_choi_okos;

extern const sw_choi_okos sw_choi_okos_table[SW_COMPONENT_COUNT];

static inline double sw_quadratic_value(sw_quadratic q, double celsius)
{
    return q.constant + celsius * (q.linear + celsius * q.square);
}

/* Integral from 0 C: for a heat capacity, the enthalpy. */
static inline double sw_quadratic_integral(sw_quadratic q, double celsius)
{
    return celsius * (q.constant + celsius * (q.linear / 2.0 + celsius * q.square / 3.0));
}

#endif
