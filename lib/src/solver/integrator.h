/* Time integration of a transport problem: with vectors, block_tridiagonal and block_sparse the only place
 * that sees SUNDIALS.
 * A run is a row of segments; within a segment nothing jumps. Each segment ends at a time or when the probe reaches a
 * temperature, found by root finding on the integrator's own polynomial. */
#ifndef SW_INTEGRATOR_H
#define SW_INTEGRATOR_H

#include "transport.h"

#include <stallwright/context.h>
#include <stallwright/cook.h>

typedef struct sw_integrator sw_integrator;

/* transport is borrowed; its layout is set. Tolerances: relative; absolute ones follow from it.
 * Returns SW_OK, SW_ERR_MEMORY, SW_ERR_SOLVER. */
sw_status sw_integrator_create(sw_context *context, sw_transport *transport, double relative_tolerance,
                               sw_integrator **integrator);
void sw_integrator_destroy(sw_integrator *integrator);

/* The state, to be filled before the first segment: T0, X0, T1, X1, ... */
double *sw_integrator_state(sw_integrator *integrator);

/* Boundary flows summed since the start; kept over segments. */
const double *sw_integrator_flows(const sw_integrator *integrator);

/* What ends a segment besides its end time. */
typedef struct sw_segment_end {
    bool by_bark;            /* the water activity of a cell falls to a value */
    size_t bark_cell;
    double bark_activity;    /* [-] */
    bool by_probe;
    size_t probe_count;      /* 1 or more */
    const sw_probe *probes;
    bool by_last;            /* the last probe to get there decides, not the first */
    double temperature;      /* [K] */
} sw_segment_end;

/* The probe that decides: the coldest if the last one counts, else the hottest. */
static inline const sw_probe *sw_deciding_probe(const sw_segment_end *end, const double *state)
{
    const sw_probe *deciding = &end->probes[0];
    double reading = sw_probe_reading(deciding, state);
    for (size_t i = 1; i < end->probe_count; i++) {
        double other = sw_probe_reading(&end->probes[i], state);
        if (end->by_last ? other < reading : other > reading) {
            reading = other;
            deciding = &end->probes[i];
        }
    }
    return deciding;
}

/* Starts a segment at a time from the current state; to be called again whenever the surroundings jump.
 * Returns SW_OK, SW_ERR_SOLVER. */
sw_status sw_integrator_start(sw_integrator *integrator, double time, double end_time, const sw_segment_end *end);

/* One internal step. *time is the time reached; *ended tells that the segment ended there (state and flows are those of
 * the end). Returns SW_OK, SW_ERR_SOLVER. */
sw_status sw_integrator_step(sw_integrator *integrator, double *time, bool *ended);

/* State (order 0) or its time derivative (order 1) at a time within the last step; written to values. */
sw_status sw_integrator_interpolate(sw_integrator *integrator, double time, int order, double *values);

/* Boundary flows since the start, at a time within the last step. */
sw_status sw_integrator_interpolate_flows(sw_integrator *integrator, double time, double values[SW_FLOW_COUNT]);

/* Adds the work done since the last start of a segment. */
void sw_integrator_add_statistics(const sw_integrator *integrator, sw_solver_statistics *statistics);

#endif
