/* SPDX-License-Identifier: BSD-3-Clause */
/* Curves of a history in a frame, which several pictures share. */
#ifndef SW_APPS_PLOT_CURVES_H
#define SW_APPS_PLOT_CURVES_H

#include "plot_canvas.h"

/* One series of a history, up to a time [h]; the frame is in use. */
void draw_series(const sw_history *h, const double *series, double until, sw_unit_system units, look l);

double highest_value(const sw_history *h, sw_series series);

/* The time of the stall as a band from top to bottom; the page is in use after it. */
void draw_stall_band(const picture *p, const frame *f, const sw_outcome *o);

#endif
