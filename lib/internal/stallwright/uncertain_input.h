/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * The uncertain inputs of a cook: the keys of a scenario that the table of keys gives an uncertainty. */
#ifndef STALLWRIGHT_UNCERTAIN_INPUT_H
#define STALLWRIGHT_UNCERTAIN_INPUT_H

#include <stallwright/scenario_keys.h>

#include <stddef.h>

SW_BEGIN_DECLARATIONS

SW_API size_t sw_uncertain_input_count(void);

/** One of them by its number, 0..count - 1, in the order in which they are told. */
SW_API const sw_scenario_key *sw_uncertain_input_at(size_t number);

/** What the value measures: of an ending or schedule its temperature. */
SW_API sw_quantity sw_uncertain_input_quantity(const sw_scenario_key *input);

/** Whether its uncertainty plays a part in this cook: of a fat cap that is there, of the wrap that goes on, of an ending by
 * temperature. */
SW_API bool sw_uncertain_input_counts(const sw_scenario_key *input, const sw_scenario *scenario);

/** Its value; of a schedule that of the first step [SI unit of the key]. */
SW_API double sw_uncertain_input_value(const sw_scenario_key *input, const sw_scenario *scenario);

/** How well it is known, given what a scenario states: less well if that is left to what is usual. Of the pit's temperature: if
 * it is set and not logged.
 * @param stated as its author left it, not settled
 * @return a row of the table */
SW_API const sw_uncertainty *sw_uncertain_input_given(const sw_scenario_key *input, const sw_scenario *stated);

/** Moves it by so many standard deviations, up or down; the scenario may then be one that sw_scenario_check refuses. Fat takes
 * the place of water; every step of the pit's temperature moves alike, as with a thermometer that reads wrong. */
SW_API void sw_uncertain_input_move(const sw_scenario_key *input, const sw_uncertainty *by, double deviations,
                                    sw_scenario *scenario);

SW_END_DECLARATIONS

#endif
