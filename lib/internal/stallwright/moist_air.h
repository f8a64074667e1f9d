/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Moist air and water: what the pit's air can carry off. Theory: docs/theory/moist-air.md.
 * Pure functions; safe to call from any thread. Temperatures in kelvin, pressures in pascal, humidity ratio in
 * kg of water vapour per kg of dry air. */
#ifndef STALLWRIGHT_MOIST_AIR_H
#define STALLWRIGHT_MOIST_AIR_H

#include <stallwright/status.h>

SW_BEGIN_DECLARATIONS

/** Lowest and highest temperature the functions of this header accept [K]. */
#define SW_MOIST_AIR_TEMPERATURE_MIN 273.15
#define SW_MOIST_AIR_TEMPERATURE_MAX 573.15

/** Gas constant of water vapour [J kg-1 K-1]: 8.314462618 (CODATA 2018) / 0.018015268 (IAPWS). */
#define SW_VAPOUR_GAS_CONSTANT 461.5229

/** Molar mass of water over that of dry air [-]; ASHRAE Handbook Fundamentals 2017, chapter 1 (from memory). */
#define SW_WATER_AIR_MASS_RATIO 0.621945

/** Heat capacity of dry air, within 1 % from 0 to 150 C [J kg-1 K-1]; handbook tables give 1006 at 20 C, 1011 at 100 C
 * (from memory). */
#define SW_AIR_HEAT_CAPACITY 1008.0

/** Standard atmospheric pressure [Pa]; ISO 2533. */
#define SW_STANDARD_PRESSURE 101325.0

/** Saturation pressure over liquid water.
 * Source: W. Wagner and A. Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387, eq. 2.5.
 * @param temperature 273.15..573.15 [K]
 * @param pressure out [Pa]; unchanged on error
 * @return SW_OK, SW_ERR_RANGE */
SW_API sw_status sw_saturation_pressure(double temperature, double *pressure);

/** Temperature at which water boils, or vapour of this pressure condenses (dew point).
 * @param pressure 611.7 Pa .. 8.5 MPa [Pa]
 * @param temperature out [K]; unchanged on error
 * @return SW_OK, SW_ERR_RANGE */
SW_API sw_status sw_saturation_temperature(double pressure, double *temperature);

/** Latent heat of evaporation, from Clapeyron's equation with the IAPWS SR1-86 auxiliary densities.
 * @param temperature 273.15..573.15 [K]
 * @param latent_heat out [J kg-1]; unchanged on error
 * @return SW_OK, SW_ERR_RANGE */
SW_API sw_status sw_latent_heat(double temperature, double *latent_heat);

/** Humidity ratio of air whose vapour has this partial pressure.
 * @param vapour_pressure 0..< pressure [Pa]
 * @param pressure total pressure [Pa]
 * @param humidity_ratio out [kg per kg dry air]; unchanged on error
 * @return SW_OK, SW_ERR_RANGE */
SW_API sw_status sw_humidity_ratio(double vapour_pressure, double pressure, double *humidity_ratio);

/** Partial pressure of the vapour in air of this humidity ratio.
 * @param humidity_ratio >= 0 [kg per kg dry air]
 * @param pressure total pressure [Pa]
 * @param vapour_pressure out [Pa]; unchanged on error
 * @return SW_OK, SW_ERR_RANGE */
SW_API sw_status sw_vapour_pressure(double humidity_ratio, double pressure, double *vapour_pressure);

/** Thermodynamic wet-bulb temperature: adiabatic saturation, ASHRAE Fundamentals 2017 chapter 1 eq. 33 (from memory),
 * the root bracketed below boiling.
 * @param temperature dry-bulb, 273.15..573.15 [K]
 * @param humidity_ratio >= 0, at most saturated [kg per kg dry air]
 * @param pressure total pressure [Pa]
 * @param wet_bulb out [K]; unchanged on error
 * @return SW_OK, SW_ERR_RANGE (also when the air would be below 0 C wet-bulb or supersaturated) */
SW_API sw_status sw_wet_bulb(double temperature, double humidity_ratio, double pressure, double *wet_bulb);

/** Diffusivity of water vapour in air; W. J. Massman, Atmos. Environ. 32 (1998) 1111.
 * @param temperature 273.15..573.15 [K]
 * @param pressure total pressure > 0 [Pa]
 * @param diffusivity out [m2 s-1]; unchanged on error
 * @return SW_OK, SW_ERR_RANGE */
SW_API sw_status sw_vapour_diffusivity(double temperature, double pressure, double *diffusivity);

/** Pressure of the standard atmosphere at an altitude; ISO 2533 / ASHRAE Fundamentals 2017 chapter 1 eq. 3.
 * @param altitude -500..9000 [m]
 * @param pressure out [Pa]; unchanged on error
 * @return SW_OK, SW_ERR_RANGE */
SW_API sw_status sw_pressure_at_altitude(double altitude, double *pressure);

/** Transport properties of dry air. */
typedef struct sw_air_properties {
    double density;              /**< [kg m-3] */
    double viscosity;            /**< dynamic [Pa s] */
    double thermal_conductivity; /**< [W m-1 K-1] */
    double heat_capacity;        /**< [J kg-1 K-1] */
    double prandtl_number;       /**< [-] */
} sw_air_properties;

/** Transport properties of dry air: Sutherland's law for viscosity and conductivity, ideal gas for density.
 * Constants: F. M. White, Viscous Fluid Flow, table 1-2 and 1-3 (from memory).
 * @param temperature 200..600 [K]
 * @param pressure > 0 [Pa]
 * @param air out; unchanged on error
 * @return SW_OK, SW_ERR_RANGE */
SW_API sw_status sw_dry_air_properties(double temperature, double pressure, sw_air_properties *air);

SW_END_DECLARATIONS

#endif
