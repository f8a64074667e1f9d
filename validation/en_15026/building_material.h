/* SPDX-License-Identifier: BSD-3-Clause */
/* A porous building material for the library's solver: heat capacity, conductivity, water retention, liquid conductivity
 * and vapour permeability as functions of water content, in the form EN 15026 gives them. */
#ifndef SW_VALIDATION_BUILDING_MATERIAL_H
#define SW_VALIDATION_BUILDING_MATERIAL_H

#include "material.h"

/* w: water content [kg m-3]; each function writes its slope by w too. */
typedef struct building_material_laws {
    double heat_capacity;         /* dry [J m-3 K-1] */
    double reference_temperature; /* where enthalpies are zero [K] */
    double saturation;            /* most water it can hold [kg m-3] */
    double (*conductivity)(double w, double *slope);  /* [W m-1 K-1] */
    double (*suction)(double w, double *slope);       /* [Pa], positive */
    double (*liquid_diffusivity)(double w, double *slope); /* liquid flux per gradient of w [m2 s-1] */
    double (*vapour_share)(double w, double *slope);  /* permeability over that of air at rest [-] */
    double air_diffusivity;       /* of vapour in air at rest [m2 s-1] */
} building_material_laws;

/* laws are borrowed and stay. Returns SW_OK, SW_ERR_MEMORY; destroy with sw_material_destroy. */
sw_status building_material_create(const building_material_laws *laws, sw_material **material);

#endif
