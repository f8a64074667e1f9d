/* SPDX-License-Identifier: BSD-3-Clause */
/* What a cook's answer owes to each uncertain input, as a table. */
#ifndef SW_APPS_SENSITIVITY_TABLE_H
#define SW_APPS_SENSITIVITY_TABLE_H

#include <stallwright/quantity.h>
#include <stallwright/sensitivity.h>

void print_sensitivity(const sw_sensitivity *s, sw_unit_system units);

#endif
