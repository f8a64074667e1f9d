/* SPDX-License-Identifier: BSD-3-Clause */
/* How well an input is known, in words. */
#ifndef SW_APPS_INPUT_RANGE_H
#define SW_APPS_INPUT_RANGE_H

#include "quantity.h"

/* One standard range, such as "+- 6.0 K" or "x or / 1.22"; text: QUANTITY_SIZE. */
const char *show_input_range(const sw_sensitivity_row *row, sw_unit_system units, char *text);

#endif
