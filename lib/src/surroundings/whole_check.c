/* SPDX-License-Identifier: BSD-3-Clause */
/* The check of a whole scenario: of its values, and of the pit's air, which takes physics. */
#include "pit_air_check.h"
#include "scenario_check.h"

sw_status sw_scenario_check(sw_context *context, const sw_scenario *scenario)
{
    sw_scenario settled;
    sw_status status = sw_scenario_check_things(context, scenario, &settled);
    if (status == SW_OK)
        status = sw_scenario_check_pit_air(context, &settled);
    return status == SW_OK ? sw_scenario_check_course(context, &settled) : status;
}
