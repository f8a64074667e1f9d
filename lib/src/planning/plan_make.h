/* SPDX-License-Identifier: BSD-3-Clause */
/* The steps of making a plan, of one piece or of several in one pit. */
#ifndef SW_PLAN_MAKE_H
#define SW_PLAN_MAKE_H

#include "plan_draws.h"

/* Whether the question can be answered. Returns what sw_plan_make does. */
sw_status sw_plan_question_check(sw_context *context, const sw_plan_question *question);

/* Cooks that the question takes, at most. */
size_t sw_plan_count_cooks(const sw_plan_question *question);

/* A plan from its draws: all of it but what to buy. Destroy with sw_plan_destroy, also if it fails; NULL if memory is short. */
sw_status sw_plan_from_draws(sw_context *context, const sw_plan_question *question, const sw_plan_draws *draws, sw_plan_count *counter,
                             sw_plan **plan);

/* Adds to meat eaten, one for each draw, what a share of the meat as bought gives [kg per kg as bought]. Of a plan with a median cook. */
void sw_plan_add_eaten(const sw_plan_question *question, const sw_plan_draws *draws, const sw_plan *plan, double share, double *eaten);

/* What to buy for the people, from what is eaten of a kilogram as bought in each draw: a tenth, half and nine tenths of draws need no
 * more [kg]. eaten is overwritten. */
void sw_plan_mass_to_buy(const sw_serving *serving, double *eaten, size_t count, double *low, double *middle, double *high);

#endif
