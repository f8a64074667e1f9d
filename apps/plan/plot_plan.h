/* SPDX-License-Identifier: BSD-3-Clause */
/* The picture of a plan: odds against the start. */
#ifndef SW_APPS_PLOT_PLAN_H
#define SW_APPS_PLOT_PLAN_H

#include "options.h"
#include "plan_view.h"

/* Draws it to the path of --plot: of one piece a panel for each pit, of several one for each of them. Prints the reason if it fails;
 * returns an exit status. */
int plot_plan(const command_options *options, const plan_view *views, size_t pieces);

#endif
