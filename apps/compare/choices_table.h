/* SPDX-License-Identifier: BSD-3-Clause */
/* The figures of a comparison on the terminal, side by side. */
#ifndef SW_APPS_CHOICES_TABLE_H
#define SW_APPS_CHOICES_TABLE_H

#include "quantity.h"

#include <stallwright/everything.h>

/* Prints the choices under their labels, as many side by side as the screen holds. unwrapped_done is when the cook without
 * a wrap is done [s]; SW_ABSENT if it is not known. */
void choices_table_print(const sw_run *runs, const sw_band *const *bands, size_t count, double unwrapped_done, sw_unit_system units);

#endif
