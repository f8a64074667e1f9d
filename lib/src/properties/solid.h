/* SPDX-License-Identifier: BSD-3-Clause */
/* A constant-property solid: the material of the exact solutions the solver is checked against. */
#ifndef SW_SOLID_H
#define SW_SOLID_H

#include "material.h"

typedef struct sw_solid_parameters {
    double heat_capacity;          /* [J m-3 K-1] */
    double conductivity;           /* at the reference temperature [W m-1 K-1] */
    double conductivity_slope;     /* relative change of conductivity with temperature [K-1] */
    double reference_temperature;  /* [K] */
    double dry_density;            /* [kg m-3] */
    double diffusivity;            /* of water, times dry density [kg m-1 s-1] */
    double sorption_slope;         /* water activity per water content [kg kg-1] */
} sw_solid_parameters;

/* Returns SW_OK, SW_ERR_MEMORY; destroy with sw_material_destroy. */
sw_status sw_solid_create(const sw_solid_parameters *parameters, sw_material **material);

#endif
