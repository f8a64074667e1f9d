/* SPDX-License-Identifier: BSD-3-Clause */
#include "pool.h"

#include <stallwright/wrap_traits.h>

#include <math.h>

/* Heat capacity of tray or foil with what clings to it [J K-1]: 100 g of aluminium; keeps an empty pool's temperature
 * defined. From memory. */
static const double tray_capacity = 90.0;

/* Below this the pool no longer covers its floor, and evaporates less [kg]: a choice, 5..50 g. */
static const double covering_pool = 0.02;

/* Layer of fat that stops the pool's evaporation [kg m-2]: a millimetre, a guess, 0.3 to 3. */
static const double covering_fat = 0.9;

static const double fat_capacity = 2100.0; /* liquid, near 80 C, from memory [J kg-1 K-1] */

/* Share of its full vapour pressure that a pool of this much water keeps up. */
static double wetness(double water)
{
    return water > 0.0 ? water / (water + covering_pool) : 0.0;
}

double sw_pool_vapour_pressure(const sw_pool *p)
{
    return wetness(p->water) * sw_water_at(p->water_table, p->temperature, SW_WATER_SATURATION_PRESSURE);
}

/* What the pool gives to the air of the place: round the meat in a tray, through leaks of foil, as steam [kg s-1]. */
static double vapour_of(const sw_pool *p, const sw_surroundings *around)
{
    if (!p->evaporates)
        return 0.0;
    sw_surface top = sw_pool_top(around);
    double slope;
    const double pressure = sw_water_at(p->water_table, p->temperature, SW_WATER_SATURATION_PRESSURE);
    if (sw_wrap_traits_of(p->kind)->is_open) {
        const double ring = p->under_area * p->wrap->tray_ring;
        top.vapour_coefficient *= ring > 0.0 ? exp(-p->fat / (ring * covering_fat)) : 0.0;
        return ring * wetness(p->water) * sw_surface_evaporation(&top, pressure, &slope);
    }
    /* Foil leaks over all its surface and opens to steam. */
    top.vapour_coefficient *= p->wrap->foil_leak;
    return (p->under_area + p->over_area) * sw_surface_evaporation(&top, wetness(p->water) * pressure, &slope);
}

static double heat_from_outside(const sw_pool *p, const sw_surroundings *around)
{
    const sw_surface outside = sw_pool_outside(around, p->wrap);
    return p->under_area * (outside.convection * (outside.air_temperature - p->temperature) +
                            outside.emissivity * SW_STEFAN_BOLTZMANN *
                                (pow(outside.wall_temperature, 4.0) - pow(p->temperature, 4.0)));
}

/* All juice that drips, and in closed wraps what condenses, less what evaporates. */
sw_pool_rates sw_pool_rates_of(const sw_pool *p, const sw_surroundings *around, const double exchange[SW_EXCHANGE_COUNT])
{
    const double vapour = vapour_of(p, around), outside_heat = heat_from_outside(p, around);
    const double gained = exchange[SW_EXCHANGE_DRIP] + exchange[SW_EXCHANGE_INSIDE_VAPOUR];
    const sw_table_place place = sw_table_find(&p->water_table->table, p->temperature, 1);
    const double enthalpy = exchange[SW_EXCHANGE_DRIP_HEAT] + exchange[SW_EXCHANGE_INSIDE_HEAT] -
                            gained * sw_table_value(&place, SW_WATER_TABLE_WIDTH, SW_WATER_LIQUID_ENTHALPY);
    const double heat = outside_heat - exchange[SW_EXCHANGE_POOL_HEAT] + enthalpy -
                        vapour * sw_table_value(&place, SW_WATER_TABLE_WIDTH, SW_WATER_LATENT_HEAT);
    /* The slope of the enthalpies that come and go, so that no heat is lost. */
    const double capacity = sw_table_slope(&place, SW_WATER_TABLE_WIDTH, SW_WATER_LIQUID_ENTHALPY);
    return (sw_pool_rates){.water = gained - vapour,
                           .temperature = heat / (tray_capacity + fmax(p->water, 0.0) * capacity + p->fat * fat_capacity),
                           .vapour = vapour,
                           .outside_heat = outside_heat};
}
