/* SPDX-License-Identifier: BSD-3-Clause */
/* The single cooks of a plan, made finely: the median one, a fast one, and a slow one with what may be done about it. */
#ifndef SW_PLAN_COOKS_H
#define SW_PLAN_COOKS_H

#include "plan_draws.h"

/* Fills in what the recommended start has; plan->starts and plan->draws are there. */
sw_status sw_plan_cooks_make(sw_context *context, const sw_plan_question *question, const sw_plan_draws *draws, sw_plan *plan);

#endif
