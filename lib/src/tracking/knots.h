/* SPDX-License-Identifier: BSD-3-Clause */
/* Readings put together: neighbours within a quarter of an hour tell one thing, once. */
#ifndef SW_KNOTS_H
#define SW_KNOTS_H

#include <stallwright/track.h>

enum { SW_KNOTS_MAX = 100 };

typedef struct sw_knot {
    double time, temperature; /* medians [s], [K] */
    double noise;             /* scale of its error [K] */
    size_t probe;
} sw_knot;

typedef struct sw_knots {
    size_t count;
    sw_knot list[SW_KNOTS_MAX]; /* of the first probe, then of the second, each by time */
    double last[SW_TRACK_PROBES_MAX]; /* temperature of each probe's last knot [K]; SW_ABSENT: it has none */
} sw_knots;

/* SW_OK or SW_ERR_MEMORY. */
sw_status sw_knots_make(sw_context *context, const sw_readings *readings, sw_knots *knots);

/* The number of the knot that is latest; of some knots. */
size_t sw_latest_knot(const sw_knots *knots);

#endif
