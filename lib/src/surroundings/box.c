/* SPDX-License-Identifier: BSD-3-Clause */
#include "box.h"

#include <math.h>

/* Volume of air in an insulated box beside the meat [m3], and its inner wall [m2]: a guess, 0.02..0.1 and 0.5..1.5. The air
 * is damp within minutes whatever its volume. */
static const double box_volume = 0.05, box_wall = 1.0;

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
        const double saturation = sw_water_at(water, temperature, SW_WATER_SATURATION_PRESSURE);
        rates.condensed = fmax(0.0, -box_wall * sw_surface_evaporation(&wall, saturation, &slope));
        rates.humidity = (vapour - rates.condensed) / sw_pit_dry_air(&box, temperature, humidity);
    }
    rates.temperature = (place->loss * (place->room_temperature - temperature) - meat_heat - pool_heat +
                         rates.condensed * sw_water_at(water, temperature, SW_WATER_LATENT_HEAT)) /
                        place->heat_capacity;
    return rates;
}
