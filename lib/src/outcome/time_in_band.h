/* SPDX-License-Identifier: BSD-3-Clause */
/* How long places in the meat are between two temperatures. */
#ifndef SW_TIME_IN_BAND_H
#define SW_TIME_IN_BAND_H

#include <stallwright/safety.h>

/* Longest time any one cell spends inside a band between two times [s], from the cross-sections, straight between them;
 * 0 without cross-sections. The ends of phases have theirs. */
double sw_longest_in_band(const sw_history *history, sw_safety_band band, double from, double until);

/* Time the lowest temperature anywhere spends inside a band between two times [s], from the rows. */
double sw_lowest_in_band(const sw_history *history, sw_safety_band band, double from, double until);

#endif
