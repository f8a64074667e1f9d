/* SPDX-License-Identifier: BSD-3-Clause */
#include "pit_usual.h"
#include "scenario_check.h"

#include "say.h"

#include <stallwright/scenario_keys.h>

#include <math.h>

static sw_status check_pit_temperature(sw_context *context, const sw_pit *pit)
{
    double lowest = sw_pit_coolest_air(pit), highest = 0.0;
    const sw_range range = sw_scenario_key_find("pit.temperature")->range;
    for (size_t i = 0; i < pit->step_count; i++)
        highest = fmax(highest, pit->steps[i].temperature + pit->cycle_swing);
    if (lowest >= range.minimum && highest <= range.maximum)
        return SW_OK;
    char swing[SW_SAY_SIZE], a[SW_SAY_SIZE], b[SW_SAY_SIZE], c[SW_SAY_SIZE], d[SW_SAY_SIZE];
    return sw_fail(context, SW_ERR_RANGE, "pit.cycle.swing is %s, which takes pit.temperature to %s and %s; allowed %s to %s",
                   sw_say(context, SW_QUANTITY_TEMPERATURE_DIFFERENCE, pit->cycle_swing, swing),
                   sw_say(context, SW_QUANTITY_TEMPERATURE, lowest, a), sw_say(context, SW_QUANTITY_TEMPERATURE, highest, b),
                   sw_say(context, SW_QUANTITY_TEMPERATURE, range.minimum, c),
                   sw_say(context, SW_QUANTITY_TEMPERATURE, range.maximum, d));
}

static sw_status check_lid(sw_context *context, const sw_pit *pit)
{
    if (pit->opening_count > SW_PIT_OPENINGS_MAX)
        return sw_fail(context, SW_ERR_RANGE, "pit.lid.openings has %zu times; at most %d", pit->opening_count,
                       SW_PIT_OPENINGS_MAX);
    for (size_t i = 0; i < pit->opening_count; i++)
        if (!(pit->openings[i] >= 0.0 && (i == 0 || pit->openings[i] > pit->openings[i - 1])))
            return sw_fail(context, SW_ERR_RANGE,
                           "opening %zu of pit.lid.openings is at %.4g h; it must come at 0 h or later, after the one "
                           "before it",
                           i + 1, pit->openings[i] / 3600.0);
    return SW_OK;
}

sw_status sw_check_pit(sw_context *context, const sw_pit *pit)
{
    if (pit->step_count < 1 || pit->step_count > SW_PIT_STEPS_MAX)
        return sw_fail(context, SW_ERR_RANGE, "pit.temperature has %zu steps; allowed 1 to %d", pit->step_count,
                       SW_PIT_STEPS_MAX);
    if (pit->steps[0].start != 0.0)
        return sw_fail(context, SW_ERR_RANGE, "the first step of pit.temperature starts at %.4g h; it must start at 0 h",
                       pit->steps[0].start / 3600.0);
    for (size_t i = 1; i < pit->step_count; i++)
        if (!(pit->steps[i].start > pit->steps[i - 1].start))
            return sw_fail(context, SW_ERR_RANGE,
                           "step %zu of pit.temperature starts at %.4g h, not after the step before it (%.4g h)", i + 1,
                           pit->steps[i].start / 3600.0, pit->steps[i - 1].start / 3600.0);
    if (pit->steps[pit->step_count - 1].ramp)
        return sw_fail(context, SW_ERR_RANGE, "the last step of pit.temperature has no next one to ramp to");
    char a[SW_SAY_SIZE], b[SW_SAY_SIZE];
    if (pit->convection > 0.0 && pit->convection < 1.0)
        return sw_fail(context, SW_ERR_RANGE, "pit.convection is %s; allowed %s or more, or 0 to take it from pit.air_speed",
                       sw_say(context, SW_QUANTITY_HEAT_TRANSFER, pit->convection, a),
                       sw_say(context, SW_QUANTITY_HEAT_TRANSFER, 1.0, b));
    sw_status status = check_pit_temperature(context, pit);
    return status == SW_OK ? check_lid(context, pit) : status;
}
