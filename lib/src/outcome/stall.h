/* SPDX-License-Identifier: BSD-3-Clause */
/* The stall of a probe: where its mean rate over a window is low. */
#ifndef SW_STALL_H
#define SW_STALL_H

#include "course.h"

#include <stallwright/outcome.h>

typedef struct sw_stall {
    double start, end;   /* [s] */
    double probe;        /* at the start [K] */
    double depth;        /* most by which it fell below its highest so far [K] */
    double slowest_rate; /* least mean over a window with its middle in the stall [K s-1] */
} sw_stall;

/* The first stall of a course; returns false, and leaves it alone, if there is none. */
bool sw_find_stall(const sw_course *course, const sw_stall_definition *definition, sw_stall *stall);

#endif
