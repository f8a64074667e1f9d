/* SPDX-License-Identifier: BSD-3-Clause */
/* Runs a scenario and evaluates it; a failure fails the test with the library's own sentence. */
#ifndef SW_TESTS_RUN_COOK_H
#define SW_TESTS_RUN_COOK_H

#include <stallwright/everything.h>

/* The default scenario with nothing left open, in the pit and with the cut that tests were written for: 7.5 cm whatever shape
 * and mass, 6.5 W/m2K, a humidity ratio of 0.02, pulled at 95 C, wrapped in no time. */
sw_scenario reference_scenario(void);

/* The same up to the pull: no rest, no hold. */
sw_scenario pit_only_scenario(void);

/* Outcome of a cook; the history goes to *history if that is not NULL (destroy it), else it is destroyed here. */
sw_outcome run_cook(const sw_scenario *scenario, sw_history **history);

#endif
