/* SPDX-License-Identifier: BSD-3-Clause */
/* Builds a history row by row. */
#ifndef SW_HISTORY_BUILDER_H
#define SW_HISTORY_BUILDER_H

#include "mesh.h"

#include <stallwright/cook.h>

/* An empty history for a scenario on a mesh; NULL if memory is short. */
sw_history *sw_history_create(const sw_scenario *scenario, const sw_mesh *mesh, size_t probe_count,
                              const sw_probe_place *probes);

/* Appends a row of SW_SERIES_COUNT values and the readings of all probes; returns 0 or -1 if memory is short. */
int sw_history_append_row(sw_history *history, const double *row, const double *readings);

/* Appends a cross-section; state is T0, X0, T1, X1, ...; returns 0 or -1 if memory is short. */
int sw_history_append_field(sw_history *history, double time, const double *state);

/* Appends all rows and cross-sections of another history of the same body; returns 0 or -1 if memory is short. */
int sw_history_append_all(sw_history *history, const sw_history *from);

/* Fills the milestones: the first rise of the probe through each whole ten degrees Celsius. */
void sw_history_find_milestones(sw_history *history);

#endif
