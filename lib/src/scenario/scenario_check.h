/* SPDX-License-Identifier: BSD-3-Clause */
/* The checks of a scenario that need no physics. sw_scenario_check joins them with the one that does, in surroundings. All return
 * SW_OK, SW_ERR_RANGE or SW_ERR_ARGUMENT with a sentence that begins with the name of a key. */
#ifndef SW_SCENARIO_CHECK_H
#define SW_SCENARIO_CHECK_H

#include <stallwright/context.h>
#include <stallwright/scenario_keys.h>

/* Each value on its own, then meat and pit. settled: out, what the scenario becomes with nothing left open. */
sw_status sw_scenario_check_things(sw_context *context, const sw_scenario *scenario, sw_scenario *settled);

/* Whether what happens can come in the order it is to; the scenario is settled. */
sw_status sw_scenario_check_course(sw_context *context, const sw_scenario *scenario);

/* One value of a quantity; NaN is refused. */
sw_status sw_check_range(sw_context *context, const char *name, sw_quantity quantity, sw_range range, double value);

sw_status sw_check_ending(sw_context *context, const sw_scenario_key *key, const sw_ending *ending);

/* The value of a key, whatever the others are. */
sw_status sw_check_key(sw_context *context, const sw_scenario *scenario, const sw_scenario_key *key);

/* One way to say the mass, and not too little of it. asked: as it was given; settled: with the mass that follows. */
sw_status sw_check_mass(sw_context *context, const sw_scenario *asked, const sw_scenario *settled);

/* Sizes, composition, outline and probes. */
sw_status sw_check_meat(sw_context *context, const sw_meat *meat);

/* Steps, swings and lid. */
sw_status sw_check_pit(sw_context *context, const sw_pit *pit);

#endif
