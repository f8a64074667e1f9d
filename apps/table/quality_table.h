/* SPDX-License-Identifier: BSD-3-Clause */
/* What a cook cares about, as tables: is it tender, has it a bark, how many does it feed. */
#ifndef SW_APPS_QUALITY_TABLE_H
#define SW_APPS_QUALITY_TABLE_H

#include <stallwright/everything.h>

/* Prints the tables of one cook. */
void print_quality(const sw_run *run, sw_unit_system units);

/* Short cells for a table of choices, written into a text of QUANTITY_SIZE and returned. */
const char *show_tenderness(const sw_outcome *outcome, char *text);
const char *show_softening(double softening);
const char *show_kept(const sw_outcome *outcome, sw_unit_system units, char *text);
const char *show_servings(double servings, char *text);
const char *show_index(double index, char *text);

#endif
