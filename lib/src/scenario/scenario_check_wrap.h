/* SPDX-License-Identifier: BSD-3-Clause */
/* The part of sw_scenario_check that asks whether wrapping, wrapping anew and pouring come in an order that can be. */
#ifndef SW_SCENARIO_CHECK_WRAP_H
#define SW_SCENARIO_CHECK_WRAP_H

#include <stallwright/context.h>
#include <stallwright/scenario.h>

/* Each value is in its own range. What no wrap uses is not asked. Returns SW_OK, SW_ERR_RANGE with a sentence that begins with
 * the name of a key. */
sw_status sw_scenario_check_wraps(sw_context *context, const sw_scenario *scenario);

#endif
