/* SPDX-License-Identifier: BSD-3-Clause */
/* The picture of a sweep. */
#ifndef SW_APPS_PLOT_SWEEP_H
#define SW_APPS_PLOT_SWEEP_H

#include "sweep_view.h"

/* Of a grid: the curves of its cooks, and a map of the stall over two factors. Of a random design: the spread of the curve,
 * of the pull and of the stall.
 * Prints the reason if it fails and returns an exit status. */
int plot_sweep(const command_options *options, const sweep_view *view);

#endif
