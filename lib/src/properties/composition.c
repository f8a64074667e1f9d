/* SPDX-License-Identifier: BSD-3-Clause */
#include "choi_okos.h"

/* Y. Choi and M. R. Okos, "Effects of temperature and composition on the thermal properties of foods", in Food
 * Engineering and Process Applications 1 (1986) 93; coefficients as printed in handbooks. The heat capacity of water has
 * 4.1762 as its constant: the 4.1289 of some printings is 1 % below the steam tables. */
const sw_choi_okos sw_choi_okos_table[SW_COMPONENT_COUNT] = {
    [SW_COMPONENT_WATER] = {{0.57109, 1.7625e-3, -6.7036e-6},
                            {997.18, 3.1439e-3, -3.7574e-3},
                            {4176.2, -9.0864e-2, 5.4731e-3}},
    [SW_COMPONENT_PROTEIN] = {{0.17881, 1.1958e-3, -2.7178e-6}, {1329.9, -0.5184, 0.0}, {2008.2, 1.2089, -1.3129e-3}},
    [SW_COMPONENT_FAT] = {{0.18071, -2.7604e-4, -1.7749e-7}, {925.59, -0.41757, 0.0}, {1984.2, 1.4733, -4.8008e-3}},
    [SW_COMPONENT_CARBOHYDRATE] = {{0.20141, 1.3874e-3, -4.3312e-6},
                                   {1599.1, -0.31046, 0.0},
                                   {1548.8, 1.9625, -5.9399e-3}},
    [SW_COMPONENT_ASH] = {{0.32962, 1.4011e-3, -2.9069e-6}, {2423.8, -0.28063, 0.0}, {1092.6, 1.8896, -3.6817e-3}},
};

static int temperature_is_allowed(double temperature)
{
    return temperature >= 233.15 && temperature <= 423.15;
}

sw_status sw_component_properties(sw_component component, double temperature, sw_food_properties *properties)
{
    if (component < 0 || component >= SW_COMPONENT_COUNT)
        return SW_ERR_ARGUMENT;
    if (!temperature_is_allowed(temperature))
        return SW_ERR_RANGE;
    const sw_choi_okos *c = &sw_choi_okos_table[component];
    double celsius = temperature - 273.15;
    properties->density = sw_quadratic_value(c->density, celsius);
    properties->heat_capacity = sw_quadratic_value(c->heat_capacity, celsius);
    properties->conductivity_parallel = sw_quadratic_value(c->conductivity, celsius);
    properties->conductivity_series = properties->conductivity_parallel;
    return SW_OK;
}

sw_status sw_mixture_properties(const sw_composition *composition, double temperature, sw_food_properties *properties)
{
    const double fraction[SW_COMPONENT_COUNT] = {
        [SW_COMPONENT_WATER] = composition->water,
        [SW_COMPONENT_PROTEIN] = composition->protein,
        [SW_COMPONENT_FAT] = composition->fat,
        [SW_COMPONENT_CARBOHYDRATE] = composition->carbohydrate,
        [SW_COMPONENT_ASH] = composition->ash,
    };
    if (!temperature_is_allowed(temperature))
        return SW_ERR_RANGE;
    double mass = 0.0, volume = 0.0, heat = 0.0, side_by_side = 0.0, layered = 0.0;
    for (int i = 0; i < SW_COMPONENT_COUNT; i++) {
        if (!(fraction[i] >= 0.0))
            return SW_ERR_RANGE;
        sw_food_properties pure;
        sw_component_properties((sw_component)i, temperature, &pure);
        double component_volume = fraction[i] / pure.density;
        mass += fraction[i];
        volume += component_volume;
        heat += fraction[i] * pure.heat_capacity;
        side_by_side += component_volume * pure.conductivity_parallel;
        layered += component_volume / pure.conductivity_parallel;
    }
    if (!(mass > 0.0))
        return SW_ERR_RANGE;
    properties->density = mass / volume;
    properties->heat_capacity = heat / mass;
    properties->conductivity_parallel = side_by_side / volume;
    properties->conductivity_series = volume / layered;
    return SW_OK;
}
