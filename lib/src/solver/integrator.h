/* SPDX-License-Identifier: BSD-3-Clause */
/* Integration in time. A run is a row of segments; within a segment nothing jumps. Each segment ends at a time or at the
 * first root of functions of the state, found on the integrator's own polynomial. This room alone sees SUNDIALS. */
#ifndef SW_INTEGRATOR_H
#define SW_INTEGRATOR_H

#include "problem.h"

#include <stallwright/context.h>

typedef struct sw_integrator sw_integrator;

/* What the problem's data points to is borrowed; its layout is set. Tolerances: relative; absolute ones follow from it.
 * Returns SW_OK, SW_ERR_MEMORY, SW_ERR_SOLVER. */
sw_status sw_integrator_create(sw_context *context, const sw_problem *problem, double relative_tolerance,
                               sw_integrator **integrator);
void sw_integrator_destroy(sw_integrator *integrator);

/* The state, to be filled before the first segment: T0, X0, T1, X1, ... */
double *sw_integrator_state(sw_integrator *integrator);

/* What the problem sums, since the start; kept over segments. */
const double *sw_integrator_sums(const sw_integrator *integrator);

/* Takes over state and sums of another integrator of as many of them. */
void sw_integrator_take_over(sw_integrator *integrator, const sw_integrator *from);

/* Starts a segment at a time from the current state; to be called again whenever the surroundings jump.
 * Returns SW_OK, SW_ERR_SOLVER. */
sw_status sw_integrator_start(sw_integrator *integrator, double time, double end_time, const sw_roots *roots);

/* Starts the next segment where the last one ended at its end time, with the same roots, the state untouched: what the rates depend on may jump.
 * Order and step go on, and where the rates do jump the error test makes the steps small; sooner than a start from nothing does
 * they are large again. Returns as sw_integrator_start. */
sw_status sw_integrator_go_on(sw_integrator *integrator, double time, double end_time, const sw_roots *roots);

/* How a step came to its end. */
typedef struct sw_step_end {
    bool ended;        /* the segment ended there: state and sums are those of the end */
    size_t mark_count; /* marks passed in the step, up to its end; in no order */
    struct {
        int number;    /* among the marks */
        double time;   /* [s] */
    } marks[SW_ROOTS_MAX];
} sw_step_end;

/* One internal step. *time is the time reached. Each root is found as if it were the only one. Returns SW_OK, SW_ERR_SOLVER. */
sw_status sw_integrator_step(sw_integrator *integrator, double *time, sw_step_end *end);

/* Makes state and sums those of a time within the last step. The integration goes on from its end all the same.
 * Returns SW_OK, SW_ERR_SOLVER. */
sw_status sw_integrator_visit(sw_integrator *integrator, double time);

/* State (order 0) or its time derivative (order 1) at a time within the last step; written to values. */
sw_status sw_integrator_interpolate(sw_integrator *integrator, double time, int order, double *values);

/* The sums at a time within the last step. */
sw_status sw_integrator_interpolate_sums(sw_integrator *integrator, double time, double *values);

/* Work of the integration. */
typedef struct sw_integration_work {
    long steps, right_hand_sides, jacobians, error_test_failures, convergence_failures;
} sw_integration_work;

/* Work since the last segment began. */
sw_integration_work sw_integrator_work(const sw_integrator *integrator);

#endif
