/* SPDX-License-Identifier: BSD-3-Clause */
/* Cuts that are thicker or thinner than planned. */
#ifndef SW_ANALYSIS_CUT_THICKNESS_H
#define SW_ANALYSIS_CUT_THICKNESS_H

#include <stallwright/scenario.h>

/* Changes the thickness of the meat, and all that is measured across it. modelled has the sizes the scenario left open. */
void sw_scale_thickness(sw_scenario *scenario, const sw_scenario *modelled, double factor);

#endif
