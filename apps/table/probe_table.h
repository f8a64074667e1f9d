/* SPDX-License-Identifier: BSD-3-Clause */
/* What each of several probes told, as tables; nothing of a single one, whose figures are the cook's. */
#ifndef SW_APPS_PROBE_TABLE_H
#define SW_APPS_PROBE_TABLE_H

#include "table.h"

#include <stallwright/everything.h>

/* Reading of the probe that decides at the end of a phase [s]: "point at 95.0 C", of a single one "probe at 95.0 C". */
enum { PROBE_NAME_COLUMNS = 20, READING_SIZE = 80 };
const char *show_reading(const sw_history *history, double time, sw_unit_system units, char text[READING_SIZE]);

/* Name of the probe whose temperature ended the time on the pit; NULL for a single probe and if something else ended it. */
const char *pulling_probe(const sw_run *run);

/* Temperatures of a probe worth a line: 60 to 90 C, through the stall; and when it first reads one, absent if never [s]. */
enum { PROBE_MILESTONE_COUNT = 4 };
extern const double probe_milestones[PROBE_MILESTONE_COUNT];
double first_reading(const sw_probe_outcome *probe, double temperature);

/* Adds a row for each figure of each probe, a column for each of some runs; those of the first that did not fail give the
 * names. Returns the next row. */
size_t add_probe_rows(table *table, size_t row, const sw_run *runs, size_t count, sw_unit_system units);

/* Prints the rows of one cook, and which probe ended the time on the pit. */
void print_probes(const sw_run *run, sw_unit_system units);

#endif
