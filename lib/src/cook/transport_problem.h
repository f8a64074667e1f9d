/* SPDX-License-Identifier: BSD-3-Clause */
/* Heat and moisture on a mesh as a problem for the integrator, and what ends a segment of it. */
#ifndef SW_TRANSPORT_PROBLEM_H
#define SW_TRANSPORT_PROBLEM_H

#include "integrator.h"
#include "transport.h"

/* An integrator for a transport, which is borrowed and keeps its lumped model from now on; it sums the SW_FLOW_COUNT flows
 * over the boundary. Returns SW_OK, SW_ERR_MEMORY, SW_ERR_SOLVER. */
sw_status sw_transport_integrator(sw_context *context, sw_transport *transport, double relative_tolerance,
                                  sw_integrator **integrator);

/* A moment that is looked for within a segment and does not end it. */
typedef struct sw_mark {
    bool is_bark; /* by the water activity below, else by the deciding probe's temperature */
    double value; /* [-], [K] */
} sw_mark;

/* What ends a segment besides its end time. */
typedef struct sw_segment_end {
    sw_transport *transport;
    bool by_bark;            /* the water activity of a boundary face falls to a value */
    size_t bark_face;
    double bark_activity;    /* [-] */
    bool by_probe;
    size_t probe_count;      /* 1 or more */
    const sw_probe *probes;
    bool by_last;            /* the last probe to get there decides, not the first */
    double temperature;      /* [K] */
    size_t mark_count;
    const sw_mark *marks;
} sw_segment_end;

/* The same as roots; end is borrowed for the segment. */
sw_roots sw_segment_roots(const sw_segment_end *end);

/* The probe that decides: the coldest if the last one counts, else the hottest. */
const sw_probe *sw_deciding_probe(const sw_segment_end *end, const double *state);

#endif
