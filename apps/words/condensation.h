/* SPDX-License-Identifier: BSD-3-Clause */
/* Vapour that condenses on cold meat makes it heavier: said where more of it does than evaporates. */
#ifndef SW_APPS_CONDENSATION_H
#define SW_APPS_CONDENSATION_H

#include "prose.h"

#include <stallwright/everything.h>

#include <stdbool.h>

/* Whether more has condensed on the meat at the end than has evaporated, so much that it is seen in the mass. */
bool has_condensed(const sw_outcome *outcome);

/* One sentence, that begins with the label; NULL for none. Clears the prose first. */
void say_condensation(const sw_outcome *outcome, const char *label, prose *prose);

#endif
