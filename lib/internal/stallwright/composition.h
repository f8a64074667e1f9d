/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Thermophysical properties of food from its composition. Theory: docs/theory/meat-properties.md.
 * Source of all coefficients: Y. Choi and M. R. Okos (1986), as printed in the ASHRAE Handbook Refrigeration,
 * chapter "Thermal properties of foods" and in handbooks; valid for -40..150 C. */
#ifndef STALLWRIGHT_COMPOSITION_H
#define STALLWRIGHT_COMPOSITION_H

#include <stallwright/status.h>

SW_BEGIN_DECLARATIONS

typedef enum sw_component {
    SW_COMPONENT_WATER,
    SW_COMPONENT_PROTEIN,
    SW_COMPONENT_FAT,
    SW_COMPONENT_CARBOHYDRATE,
    SW_COMPONENT_ASH,
    SW_COMPONENT_COUNT
} sw_component;

/** Mass fractions of a food [kg per kg of food]; the mixing rules divide by their sum. */
typedef struct sw_composition {
    double water;
    double protein;
    double fat;
    double carbohydrate;
    double ash;
} sw_composition;

/** Properties of one component or of a mixture. */
typedef struct sw_food_properties {
    double density;               /**< [kg m-3] */
    double heat_capacity;         /**< [J kg-1 K-1] */
    double conductivity_parallel; /**< components side by side: the upper bound [W m-1 K-1] */
    double conductivity_series;   /**< components in layers: the lower bound [W m-1 K-1] */
} sw_food_properties;

/** Properties of a pure component (both conductivities are the component's own).
 * @param temperature 233.15..423.15 [K]
 * @param properties out; unchanged on error
 * @return SW_OK, SW_ERR_ARGUMENT (no such component), SW_ERR_RANGE */
SW_API sw_status sw_component_properties(sw_component component, double temperature, sw_food_properties *properties);

/** Properties of a mixture: volumes add, heat capacities add by mass, conductivities by volume.
 * @param composition fractions >= 0, sum > 0
 * @param temperature 233.15..423.15 [K]
 * @param properties out; unchanged on error
 * @return SW_OK, SW_ERR_RANGE */
SW_API sw_status sw_mixture_properties(const sw_composition *composition, double temperature,
                                       sw_food_properties *properties);

SW_END_DECLARATIONS

#endif
