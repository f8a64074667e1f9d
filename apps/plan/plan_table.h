/* SPDX-License-Identifier: BSD-3-Clause */
/* A plan on the terminal, of one piece or of several. */
#ifndef SW_APPS_PLAN_TABLE_H
#define SW_APPS_PLAN_TABLE_H

#include "food_safety.h"
#include "options.h"
#include "plan_view.h"

/* Prints all of it; returns an exit status. */
int print_plan(const plan_view *view, const command_options *options);
int print_plan_of_pieces(const plan_party *party, const command_options *options);

/* Starts for which odds are told, from early to late: leads; at most PLAN_STARTS_MAX. */
enum { PLAN_STARTS_MAX = 24 };
size_t plan_told_starts(const plan_view *view, double *leads);

/* The odds of a choice from a start. */
sw_odds plan_choice_in_time(const plan_view *view, const sw_plan_choice *choice, double lead);

/* The cooks of a plan that went well: the median one, the longest hold, the early one, and what is done with the late one. */
enum { PLAN_COOKS_MAX = 7 };
typedef struct plan_cook {
    const char *label;
    const sw_run *run;
} plan_cook;
size_t plan_cooks(const plan_view *view, plan_cook cooks[PLAN_COOKS_MAX]);

/* The same for verdicts of food safety. */
size_t plan_judged(const plan_view *view, judged_cook judged[PLAN_COOKS_MAX]);

#endif
