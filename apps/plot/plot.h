/* SPDX-License-Identifier: BSD-3-Clause */
/* Pictures of cooks: the face of the plot_*.c files. The kind of file follows from its ending: .svg, .png, .pdf.
 * Every function prints the reason if it fails and returns an exit status. */
#ifndef SW_APPS_PLOT_H
#define SW_APPS_PLOT_H

#include "options.h"

/* Whether --hours can be obeyed: some moments, for a picture of a section; prints the reason if not. */
bool plot_hours_are_good(const command_options *options, sw_shape shape);

/* Probe, surface and air temperature of one cook; for a section also maps of temperature and water at the moments of
 * --hours, or after each third of the time on the pit. */
int plot_cook(const command_options *options, const sw_run *run);

/* The probe curves of several cooks. Those that failed are left out. */
int plot_compare(const command_options *options, const sw_run *runs, size_t count);

#endif
