/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
  * What values measure, and the two systems of units in which they are shown. */
#ifndef STALLWRIGHT_QUANTITY_H
#define STALLWRIGHT_QUANTITY_H

#include <stallwright/export.h>

SW_BEGIN_DECLARATIONS

/** What a value measures; decides which units it may be written in. */
typedef enum sw_quantity {
    SW_QUANTITY_NUMBER,                 /**< no unit; 5 % is 0.05 [-] */
    SW_QUANTITY_TEMPERATURE,            /**< 121 C, 250 F [K] */
    SW_QUANTITY_TEMPERATURE_DIFFERENCE, /**< 10 F is 5.56 K [K] */
    SW_QUANTITY_HEATING_RATE,           /**< 3 K/h, 5 F/h [K s-1] */
    SW_QUANTITY_MASS,                   /**< 6.4 kg, 14 lb 6 oz [kg] */
    SW_QUANTITY_LENGTH,                 /**< 8 cm, 3 in [m] */
    SW_QUANTITY_DURATION,               /**< 2 h 30 min; m is minutes [s] */
    SW_QUANTITY_CLOCK,                  /**< 17:30 [s after midnight] */
    SW_QUANTITY_AREA,                   /**< 1e-16 m2 [m2] */
    SW_QUANTITY_DIFFUSIVITY,            /**< [m2 s-1] */
    SW_QUANTITY_HEAT_TRANSFER,          /**< 8 W/m2/K [W m-2 K-1] */
    SW_QUANTITY_THERMAL_RESISTANCE,     /**< [m2 K W-1] */
    SW_QUANTITY_PERMEANCE,              /**< [kg s-1 m-2 Pa-1] */
    SW_QUANTITY_HUMIDITY_RATIO,         /**< no unit, or 20 g/kg [kg per kg dry air] */
    SW_QUANTITY_SURFACE,                /**< 600 cm2, 93 in2 [m2] */
    SW_QUANTITY_SPEED,                  /**< 0.3 m/s, 60 ft/min [m s-1] */
    SW_QUANTITY_HEAT_CAPACITY,          /**< 5 kJ/K [J K-1] */
    SW_QUANTITY_HEAT_LOSS,              /**< 0.8 W/K [W K-1] */
    SW_QUANTITY_MASS_PER_AREA,          /**< 150 g/m2 [kg m-2] */
    SW_QUANTITY_MASS_FLOW,              /**< 60 kg/h [kg s-1] */
    SW_QUANTITY_COUNT
} sw_quantity;

typedef enum sw_unit_system { SW_UNITS_SI, SW_UNITS_US } sw_unit_system;

/** US units in SI units, exact by definition, except the BTU, which is that of the International Table (NIST SP 811). */
#define SW_POUND 0.45359237  /**< [kg] */
#define SW_OUNCE (SW_POUND / 16.0) /**< [kg] */
#define SW_INCH 0.0254       /**< [m] */
#define SW_FOOT 0.3048       /**< [m] */
#define SW_BTU 1055.05585262 /**< [J] */

/** The SI unit of a quantity as UDUNITS reads it, for example "K" or "W/m2/K"; "1" for a plain number. */
SW_API const char *sw_quantity_si_unit(sw_quantity quantity);

SW_END_DECLARATIONS

#endif
