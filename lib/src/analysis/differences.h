/* SPDX-License-Identifier: BSD-3-Clause */
/* Two-sided differences of a figure over an input. */
#ifndef SW_ANALYSIS_DIFFERENCES_H
#define SW_ANALYSIS_DIFFERENCES_H

#include <stallwright/sensitivity.h>

/* Steps of the differences [standard deviations]. */
enum { SW_STEP_LOW, SW_STEP_HALF_LOW, SW_STEP_HALF_HIGH, SW_STEP_HIGH, SW_STEP_COUNT };
extern const double sw_difference_steps[SW_STEP_COUNT];

/* Of a figure as it is, and with the input moved by each step. */
sw_change sw_change_of(double base, const double at[SW_STEP_COUNT]);

#endif
