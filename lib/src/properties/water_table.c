/* SPDX-License-Identifier: BSD-3-Clause */
#include "water_table.h"

#include "choi_okos.h"
#include "saturation.h"

double sw_liquid_enthalpy(double temperature, double reference_temperature)
{
    sw_quadratic c = sw_choi_okos_table[SW_COMPONENT_WATER].heat_capacity;
    return sw_quadratic_integral(c, temperature - 273.15) - sw_quadratic_integral(c, reference_temperature - 273.15);
}

static void water_functions(const void *parameters, double temperature, double *values)
{
    const sw_water_table *water = parameters;
    double slope;
    sw_saturation(temperature, &values[SW_WATER_SATURATION_PRESSURE], &slope);
    values[SW_WATER_LATENT_HEAT] = sw_latent_heat_unchecked(temperature);
    values[SW_WATER_LIQUID_ENTHALPY] = sw_liquid_enthalpy(temperature, water->reference_temperature);
}

int sw_water_table_init(sw_context *context, sw_water_table *water, double reference_temperature)
{
    water->reference_temperature = reference_temperature;
    return sw_table_init(context, &water->table, sw_temperature_range, SW_WATER_TABLE_WIDTH, water_functions, water,
                         &water->reference_temperature, sizeof water->reference_temperature);
}

void sw_water_table_free(sw_water_table *water)
{
    sw_table_free(&water->table);
}
