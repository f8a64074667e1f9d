/* Runs a scenario and evaluates it; a failure fails the test with the library's own sentence. */
#ifndef SW_TESTS_RUN_COOK_H
#define SW_TESTS_RUN_COOK_H

#include <stallwright/stallwright.h>

/* The default scenario up to the pull: no rest, no hold. */
sw_scenario pit_only_scenario(void);

/* Outcome of a cook; the history goes to *history if that is not NULL (destroy it), else it is destroyed here. */
sw_outcome run_cook(const sw_scenario *scenario, sw_history **history);

#endif
