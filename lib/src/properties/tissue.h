/* SPDX-License-Identifier: BSD-3-Clause */
/* Meat tissue as a material: lean meat and fat cap differ only in their numbers.
 * Theory: docs/theory/meat-properties.md and docs/theory/moisture.md; values and sources: docs/theory/parameters.md. */
#ifndef SW_TISSUE_H
#define SW_TISSUE_H

#include "material.h"

#include <stallwright/composition.h>
#include <stallwright/context.h>

typedef struct sw_tissue_parameters {
    sw_composition composition;       /* raw mass fractions, sum 1 */
    double initial_temperature;       /* raw meat is in equilibrium here; enthalpies are zero here [K] */
    double pressure;                  /* of the air [Pa] */
    double conductivity_mix;          /* 0: components in layers, 1: side by side [-] */
    double permeability;              /* raw, to juice [m2] */
    double holding_temperature;       /* middle of the loss of water holding [K] */
    double holding_steepness;         /* of the loss [K-1] */
    double holding_loss;              /* fraction of the raw water that fully cooked protein cannot hold [-] */
    double late_loss;                 /* fraction of the raw water let go besides, late in the cook [-] */
    double late_temperature;          /* middle of that loss, which is as steep [K] */
    double modulus_raw;               /* swelling modulus, raw [Pa] */
    double modulus_rise;              /* by cooking [Pa] */
    double modulus_temperature;       /* middle of the rise [K] */
    double modulus_steepness;         /* of the rise [K-1] */
    double runoff_time;               /* at 70 C, of water above equilibrium through channels that drip [s] */
    double runoff_energy;             /* activation energy of its rate [J mol-1] */
    double diffusivity;               /* of water at 60 C [m2 s-1] */
    double diffusivity_energy;        /* activation energy [J mol-1] */
    double diffusivity_half_water;    /* water content at which dryness has halved the diffusivity [kg kg-1] */
    double sorption_scale;            /* Oswin A [kg kg-1] */
    double sorption_exponent;         /* Oswin B [-] */
    double vapour_openness;           /* porosity over tortuosity of the dry tissue [-] */
    double vapour_water_limit;        /* water content above which no pores are open to vapour [kg kg-1] */
    double melting_start;             /* fat melts from [K] */
    double melting_end;               /* to [K] */
    double melting_heat;              /* [J per kg fat] */
} sw_tissue_parameters;

/* Defaults of lean meat and of a fat cap; composition, initial temperature and pressure are left to the caller. */
void sw_lean_parameters(sw_tissue_parameters *parameters);
void sw_fat_cap_parameters(sw_tissue_parameters *parameters);

/* Builds the material, from tables that the context, which may be NULL, keeps for others; destroy with sw_material_destroy.
 * Returns SW_OK, SW_ERR_MEMORY. */
sw_status sw_tissue_create(sw_context *context, const sw_tissue_parameters *parameters, sw_material **material);

/* Heat taken up by melting fat from far below its melting range to a temperature, as a share of the melting heat, and
 * its slope [K-1]: a smooth step. */
double sw_melted_fraction(const sw_tissue_parameters *parameters, double temperature, double *slope);

#endif
