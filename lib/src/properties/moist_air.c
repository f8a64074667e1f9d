/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/moist_air.h>

#include "saturation.h"

#include <math.h>

/* IAPWS reference constants (W. Wagner and A. Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387). */
static const double critical_temperature = 647.096; /* [K] */
static const double critical_pressure = 22.064e6;   /* [Pa] */
static const double critical_density = 322.0;       /* [kg m-3] */

static int temperature_is_allowed(double temperature)
{
    return temperature >= SW_MOIST_AIR_TEMPERATURE_MIN && temperature <= SW_MOIST_AIR_TEMPERATURE_MAX;
}

void sw_saturation(double temperature, double *pressure, double *slope)
{
    /* Wagner and Pruss (2002), eq. 2.5. */
    const double a1 = -7.85951783, a2 = 1.84408259, a3 = -11.7866497, a4 = 22.6807411, a5 = -15.9618719,
                 a6 = 1.80122502;
    double v = 1.0 - temperature / critical_temperature;
    double root = sqrt(v), v2 = v * v, v3 = v2 * v;
    double f = a1 * v + a2 * v * root + a3 * v3 + a4 * v3 * root + a5 * v2 * v2 + a6 * v3 * v3 * v * root;
    double f_slope = a1 + 1.5 * a2 * root + 3.0 * a3 * v2 + 3.5 * a4 * v2 * root + 4.0 * a5 * v3 +
                     7.5 * a6 * v3 * v3 * root;
    double log_ratio = f * critical_temperature / temperature;
    double p = critical_pressure * exp(log_ratio);
    *pressure = p;
    *slope = -p / temperature * (log_ratio + f_slope);
}

static double power(double base, int exponent)
{
    double result = 1.0;
    for (; exponent; exponent >>= 1, base *= base)
        if (exponent & 1)
            result *= base;
    return result;
}

double sw_latent_heat_unchecked(double temperature)
{
    /* Densities: IAPWS Supplementary Release SR1-86(1992), eqs. 2 and 3 (coefficients from memory, checked through the
     * latent heats of the steam tables). */
    double v = 1.0 - temperature / critical_temperature;
    double c = cbrt(v), s = sqrt(c);
    double liquid = critical_density * (1.0 + 1.99274064 * c + 1.09965342 * c * c - 0.510839303 * power(c, 5) -
                                        1.75493479 * power(c, 16) - 45.5170352 * power(c, 43) -
                                        6.74694450e5 * power(c, 110));
    double vapour = critical_density *
                    exp(-2.03150240 * power(s, 2) - 2.68302940 * power(s, 4) - 5.38626492 * power(s, 8) -
                        17.2991605 * power(s, 18) - 44.7586581 * power(s, 37) - 63.9201063 * power(s, 71));
    double pressure, slope;
    sw_saturation(temperature, &pressure, &slope);
    return temperature * slope * (1.0 / vapour - 1.0 / liquid);
}

sw_status sw_saturation_pressure(double temperature, double *pressure)
{
    if (!temperature_is_allowed(temperature))
        return SW_ERR_RANGE;
    double slope;
    sw_saturation(temperature, pressure, &slope);
    return SW_OK;
}

sw_status sw_saturation_temperature(double pressure, double *temperature)
{
    double low = SW_MOIST_AIR_TEMPERATURE_MIN, high = SW_MOIST_AIR_TEMPERATURE_MAX;
    double p_low, p_high, slope;
    sw_saturation(low, &p_low, &slope);
    sw_saturation(high, &p_high, &slope);
    if (!(pressure >= p_low && pressure <= p_high))
        return SW_ERR_RANGE;
    /* Newton on ln p, which is nearly linear in 1/T; starts from a straight line in 1/T. */
    double share = log(pressure / p_low) / log(p_high / p_low);
    double t = 1.0 / ((1.0 - share) / low + share / high);
    for (int i = 0; i < 50; i++) {
        double p;
        sw_saturation(t, &p, &slope);
        double step = log(pressure / p) * p / slope;
        t += step;
        if (fabs(step) < 1e-11 * t)
            break;
    }
    *temperature = t;
    return SW_OK;
}

sw_status sw_latent_heat(double temperature, double *latent_heat)
{
    if (!temperature_is_allowed(temperature))
        return SW_ERR_RANGE;
    *latent_heat = sw_latent_heat_unchecked(temperature);
    return SW_OK;
}

sw_status sw_humidity_ratio(double vapour_pressure, double pressure, double *humidity_ratio)
{
    if (!(vapour_pressure >= 0.0 && vapour_pressure < pressure))
        return SW_ERR_RANGE;
    *humidity_ratio = SW_WATER_AIR_MASS_RATIO * vapour_pressure / (pressure - vapour_pressure);
    return SW_OK;
}

sw_status sw_vapour_pressure(double humidity_ratio, double pressure, double *vapour_pressure)
{
    if (!(humidity_ratio >= 0.0 && isfinite(humidity_ratio) && pressure > 0.0))
        return SW_ERR_RANGE;
    *vapour_pressure = sw_vapour_pressure_unchecked(humidity_ratio, pressure);
    return SW_OK;
}

/* Humidity ratio of air of this dry-bulb temperature [C] if its wet-bulb temperature were wet [C]: ASHRAE Fundamentals
 * 2017, chapter 1, eq. 33 (from memory). */
static double humidity_ratio_of_wet_bulb(double dry, double wet, double pressure)
{
    double saturation, slope;
    sw_saturation(wet + 273.15, &saturation, &slope);
    double saturated = SW_WATER_AIR_MASS_RATIO * saturation / (pressure - saturation);
    return ((2501.0 - 2.326 * wet) * saturated - 1.006 * (dry - wet)) / (2501.0 + 1.86 * dry - 4.186 * wet);
}

sw_status sw_wet_bulb(double temperature, double humidity_ratio, double pressure, double *wet_bulb)
{
    double boiling;
    if (!temperature_is_allowed(temperature) || !(humidity_ratio >= 0.0))
        return SW_ERR_RANGE;
    if (sw_saturation_temperature(pressure, &boiling) != SW_OK)
        return SW_ERR_RANGE;
    double dry = temperature - 273.15, low = 0.0, high = fmin(dry, boiling - 273.15 - 1e-6);
    if (humidity_ratio_of_wet_bulb(dry, low, pressure) > humidity_ratio ||
        humidity_ratio_of_wet_bulb(dry, high, pressure) < humidity_ratio)
        return SW_ERR_RANGE;
    while (high - low > 1e-9) {
        double middle = 0.5 * (low + high);
        if (humidity_ratio_of_wet_bulb(dry, middle, pressure) > humidity_ratio)
            high = middle;
        else
            low = middle;
    }
    *wet_bulb = 0.5 * (low + high) + 273.15;
    return SW_OK;
}

sw_status sw_vapour_diffusivity(double temperature, double pressure, double *diffusivity)
{
    if (!temperature_is_allowed(temperature) || !(pressure > 0.0))
        return SW_ERR_RANGE;
    *diffusivity = 2.178e-5 * pow(temperature / 273.15, 1.81) * SW_STANDARD_PRESSURE / pressure;
    return SW_OK;
}

sw_status sw_pressure_at_altitude(double altitude, double *pressure)
{
    if (!(altitude >= -500.0 && altitude <= 9000.0))
        return SW_ERR_RANGE;
    *pressure = SW_STANDARD_PRESSURE * pow(1.0 - 2.25577e-5 * altitude, 5.2559);
    return SW_OK;
}

static double sutherland(double reference, double constant, double temperature)
{
    const double reference_temperature = 273.0;
    return reference * pow(temperature / reference_temperature, 1.5) * (reference_temperature + constant) /
           (temperature + constant);
}

sw_status sw_dry_air_properties(double temperature, double pressure, sw_air_properties *air)
{
    if (!(temperature >= 200.0 && temperature <= 600.0) || !(pressure > 0.0))
        return SW_ERR_RANGE;
    const double gas_constant = SW_VAPOUR_GAS_CONSTANT * SW_WATER_AIR_MASS_RATIO;
    air->density = pressure / (gas_constant * temperature);
    air->viscosity = sutherland(1.716e-5, 111.0, temperature);
    air->thermal_conductivity = sutherland(0.0241, 194.0, temperature);
    air->heat_capacity = SW_AIR_HEAT_CAPACITY;
    air->prandtl_number = air->viscosity * air->heat_capacity / air->thermal_conductivity;
    return SW_OK;
}
