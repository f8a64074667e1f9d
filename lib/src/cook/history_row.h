/* SPDX-License-Identifier: BSD-3-Clause */
/* A history at a moment. */
#ifndef SW_HISTORY_ROW_H
#define SW_HISTORY_ROW_H

#include <stallwright/cook.h>

/* The last row that is not after a moment [s], but for a microsecond: the ends of phases have rows. */
size_t sw_row_at(const sw_history *history, double time);

/* Probe temperature at a moment, between rows by straight interpolation [K]. */
double sw_probe_at(const sw_history *history, double time);

#endif
