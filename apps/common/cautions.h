/* Warnings about the safety of a cook, each with its rule, and the cautions that go with every result. */
#ifndef SW_APPS_CAUTIONS_H
#define SW_APPS_CAUTIONS_H

#include "cook_run.h"

/* Lowest temperature at which hot food may be held: FDA Food Code 3-501.16, 135 F [K]. */
#define HOT_HOLDING_LIMIT (273.15 + (135.0 - 32.0) / 1.8)

/* That limit as shown, never below it: 57.22 C is rounded up. */
const char *hot_holding_limit_text(sw_unit_system units);

/* Prints a line or two for each rule the cook breaks, each beginning with WARNING and the label if there is one; returns
 * how many. */
int print_warnings(const cook_run *run, const char *label, sw_unit_system units);

#endif
