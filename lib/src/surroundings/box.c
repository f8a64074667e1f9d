#include "box.h"

#include <math.h>

/* Volume of air in an insulated box beside the meat [m3], and its inner wall [m2]: a guess, 0.02..0.1 and 0.5..1.5. The air
 * is damp within minutes whatever its volume. */
static const double box_volume = 0.05, box_wall = 1.0;

static double of_water(const sw_water_table *water, double temperature, size_t column)
{
    const sw_table_place place = sw_table_find(&water->table, temperature, 0);
    return sw_table_value(&place, SW_WATER_TABLE_WIDTH, column);
}

/* Heat to the room, and what condenses on the walls. */
sw_box_rates sw_box_rates_of(const sw_place *place, const sw_pit_air *pit, const sw_water_table *water,
                             const sw_surroundings *around, bool is_damp, double humidity, double vapour, double meat_heat,
                             double pool_heat)
{
    const double temperature = around->air_temperature;
    sw_box_rates rates = {0};
    if (is_damp) {
        sw_pit_air box = *pit;
        box.volume = box_volume;
        const sw_surface wall = sw_pool_top(around);
        double slope;
        const double saturation = of_water(water, temperature, SW_WATER_SATURATION_PRESSURE);
        rates.condensed = fmax(0.0, -box_wall * sw_surface_evaporation(&wall, saturation, &slope));
        rates.humidity = (vapour - rates.condensed) / sw_pit_dry_air(&box, temperature, humidity);
    }
    rates.temperature = (place->loss * (place->room_temperature - temperature) - meat_heat - pool_heat +
                         rates.condensed * of_water(water, temperature, SW_WATER_LATENT_HEAT)) /
                        place->heat_capacity;
    return rates;
}
