/* SPDX-License-Identifier: BSD-3-Clause */
/* When Newton's iteration of a step has gone far enough. Theory: docs/theory/numerics.md. */
#ifndef SW_NEWTON_H
#define SW_NEWTON_H

#include "sundials_names.h"

#include <sundials/sundials_nonlinearsolver.h>

#include <math.h>

/* How far the nonlinear iteration goes, as a share of the step's own error allowance. Dripping is stiff, and what the
 * iteration leaves over is missing from the boundary flows: the usual 0.1 leaves up to 1e-3 of the water, 0.01 up to 2e-4,
 * 0.003 under 1e-5, for a tenth more right-hand sides than 0.01. */
static const double sw_newton_share = 0.003;

/* Steps for which a Jacobian is kept. A fresh one saves iterations and failed ones, as the drying front moves on: in a
 * section every step pays for its own, in a row a right-hand side is cheaper beside it. */
static const long sw_jacobian_steps_section = 1, sw_jacobian_steps_row = 3;

/* What is known of the nonlinear iteration's contraction gets old: so much larger is it taken to be with every step that does
 * not measure it. Without growth, steps in which it has worsened go unseen; in sections less leaves balances open by a fifth more. */
static const double sw_contraction_growth_section = 1.5, sw_contraction_growth_row = 1.25;

/* What is known of an iteration; it begins with {.factor = 1}. */
typedef struct sw_contraction {
    double factor, last_correction;
} sw_contraction;

/* Each iteration shrinks the correction by the contraction. The integrator's own test forgets it with every new Jacobian, and
 * so iterates at least twice; here it is carried on from step to step, growing until it is measured again.
 * size: weighted norm of the correction. Returns as a convergence test of SUNDIALS does. */
static inline int sw_newton_judge(SUNNonlinearSolver solver, double size, double tolerance, double growth, sw_contraction *contraction)
{
    int iteration = 0;
    SUNNonlinSolGetCurIter(solver, &iteration);
    if (iteration > 0)
        contraction->factor = fmax(0.5 * contraction->factor, size / contraction->last_correction);
    if (size * fmin(1.0, contraction->factor) <= tolerance) {
        if (iteration == 0)
            contraction->factor *= growth;
        return SUN_NLS_SUCCESS;
    }
    if (iteration > 0 && size > 2.0 * contraction->last_correction)
        return SUN_NLS_CONV_RECVR;
    contraction->last_correction = size;
    return SUN_NLS_CONTINUE;
}

#endif
