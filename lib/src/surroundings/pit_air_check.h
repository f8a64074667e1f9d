/* SPDX-License-Identifier: BSD-3-Clause */
/* The part of sw_scenario_check that asks whether the pit's air can be so and whether the pan fits: reading a file asks it too,
 * so as to say in which line the trouble stands. */
#ifndef SW_PIT_AIR_CHECK_H
#define SW_PIT_AIR_CHECK_H

#include <stallwright/context.h>
#include <stallwright/scenario.h>

/* Each value is in its own range. Returns SW_OK, SW_ERR_RANGE with a sentence that begins with the name of a key. */
sw_status sw_scenario_check_pit_air(sw_context *context, const sw_scenario *scenario);

#endif
