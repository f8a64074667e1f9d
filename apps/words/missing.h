/* SPDX-License-Identifier: BSD-3-Clause */
/* What a cook was planned to do and did not: an hour that was missed, a phase that does not end. */
#ifndef SW_APPS_MISSING_H
#define SW_APPS_MISSING_H

#include "prose.h"

/* Says it, and what would mend it, by the keys of the phase itself. */
void say_missing(const sw_scenario *scenario, const sw_missing *missing, prose *prose);

/* "NOT READY at 13:00, late by 3 h 39 min", as the first words of what say_missing says; for a timeline. */
void say_missing_briefly(const sw_scenario *scenario, const sw_missing *missing, prose *prose);

/* Prints all that is missing of a cook, each in a paragraph; label may be NULL. Prints nothing if nothing is. */
void print_missing(const sw_run *run, const char *label, sw_unit_system units);

#endif
