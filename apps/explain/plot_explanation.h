/* SPDX-License-Identifier: BSD-3-Clause */
/* The picture of an explanation. */
#ifndef SW_APPS_PLOT_EXPLANATION_H
#define SW_APPS_PLOT_EXPLANATION_H

#include "options.h"

#include <stallwright/explanation.h>

/* Where the heat of each hour goes, stacked, with the probe curve. Prints the reason if it fails and returns an exit
 * status. */
int plot_explanation(const command_options *options, const sw_explanation *explanation);

#endif
