/* SPDX-License-Identifier: BSD-3-Clause */
#include "pit_air_check.h"

#include "pit_air.h"
#include "pit_usual.h"
#include "scenario_check.h"

#include <stallwright/moist_air.h>

sw_status sw_scenario_check_pit_air(sw_context *context, const sw_scenario *s)
{
    double pressure = SW_STANDARD_PRESSURE;
    sw_pit_air air;
    sw_status status = sw_pressure_at_altitude(s->pit.altitude, &pressure);
    if (status != SW_OK || s->pit.step_count < 1)
        return SW_OK; /* refused with a sentence of its own */
    status = sw_pit_air_init(context, &s->pit, pressure, &air);
    if (status != SW_OK)
        return status;
    double coolest = sw_pit_coolest_air(&s->pit), used = sw_pit_air_used(&air, coolest);
    if (used > 1.0)
        return sw_fail(context, SW_ERR_RANGE,
                       "pit.air_heat_share is %.3g: so little of the heat would leave as warm air that the fire needs %.3g "
                       "times the air that flows; a larger share is allowed",
                       air.air_heat_share, used);
    if (s->pit.humidity == SW_HUMIDITY_GIVEN)
        status = sw_pit_air_check(context, "pit.humidity_ratio", coolest, s->pit.humidity_ratio, pressure);
    return status;
}
