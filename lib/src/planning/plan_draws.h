/* SPDX-License-Identifier: BSD-3-Clause */
/* The draws behind a plan: many coarse cooks up to the end of the rest. */
#ifndef SW_PLAN_DRAWS_H
#define SW_PLAN_DRAWS_H

#include <stallwright/plan.h>

typedef struct sw_plan_draws {
    sw_population population;
    size_t piece, piece_count; /* which of those in one pit: they share what is drawn of the pit, and each has what is drawn of its meat */
    size_t count;
    double *times[SW_PLAN_EVENT_COUNT]; /* count each, by number of draw [s]; INFINITY: never, SW_ABSENT: not in this cook */
    double *yield;                      /* mass left at the end of the rest over raw mass */
    double median_ready, median_yield;  /* of the cook of median inputs, as finely as the scenario asks; SW_ABSENT if it never is */
} sw_plan_draws;

/* Counts the cooks of several sets of draws. */
typedef struct sw_plan_count {
    const sw_plan_question *question;
    size_t done, total;
} sw_plan_count;

/* The scenario without what a plan decides: its hold and what comes after. */
void sw_plan_until_ready(sw_scenario *scenario);

/* Makes so many as draws->count says, of draws->piece of draws->piece_count, the rest being filled in; what is coarse in them is taken
 * out by the ratio of the median cook made both ways. Free in any case. */
sw_status sw_plan_draws_make(sw_context *context, const sw_scenario *stated, sw_plan_count *counter, sw_plan_draws *draws);

/* The same for several scenarios, which take so many draws each: draws of one number that differ only in how they are wrapped are made
 * together. count: 1..SW_ALIKE_MAX. */
sw_status sw_plan_draws_make_all(sw_context *context, size_t count, const sw_scenario *stated, sw_plan_count *counter, sw_plan_draws *draws);

/* The scenario of a draw; of number draws->count that of median inputs. */
void sw_plan_draws_scenario(const sw_plan_draws *draws, uint64_t seed, size_t number, sw_scenario *scenario);

void sw_plan_draws_free(sw_plan_draws *draws);

/* Copies the times of an event in rising order, of those of the first draws in which it may happen; returns how many. sorted: count. */
size_t sw_plan_draws_sort(const sw_plan_draws *draws, size_t count, sw_plan_event event, double *sorted);

#endif
