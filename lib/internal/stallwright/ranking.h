/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Ranks cooks by what matters to the cook, and finds the numbers behind a recommendation. docs/theory/bark.md. */
#ifndef STALLWRIGHT_RANKING_H
#define STALLWRIGHT_RANKING_H

#include <stallwright/run.h>

SW_BEGIN_DECLARATIONS

/** What to rank by. */
typedef enum sw_criterion {
    SW_BY_TIME,   /**< done_time, less is better */
    SW_BY_YIELD,  /**< yield_fraction */
    SW_BY_BARK,   /**< bark */
    SW_BY_TENDER, /**< probe_collagen */
    SW_BY_COUNT
} sw_criterion;

/** "time", "yield", "bark", "tender". */
SW_API const char *sw_criterion_name(sw_criterion by);

/** The figure of a run that is ranked by, in the unit of that figure of the outcome; SW_ABSENT if the run failed or its meat
 * does not get ready to slice: that is not recommended. */
SW_API double sw_criterion_value(sw_criterion by, const sw_run *run);

/** Whether a run is better than another by more than the model can tell: 10 min of time; 0.005 of yield, 0.02 of bark and
 * collagen. These are guesses: well above the error of the computation, well below what its uncertain parameters do. */
SW_API bool sw_is_better(sw_criterion by, const sw_run *run, const sw_run *than);

#define SW_RANKED_MAX 16

/** Places of runs. */
typedef struct sw_ranking {
    sw_criterion by;
    size_t count;                /**< of those that have a place */
    size_t order[SW_RANKED_MAX]; /**< their numbers among the runs, best first */
    size_t place[SW_RANKED_MAX]; /**< of each in that order, from 1; those too close to tell apart share one */
} sw_ranking;

/** Ranks runs. A place is shared by all that are level with its best; of those, the one that is done first comes first.
 * @param count of the runs; only the first SW_RANKED_MAX that have a value get a place
 * @param ranking out */
SW_API void sw_rank(sw_criterion by, const sw_run *runs, size_t count, sw_ranking *ranking);

/** Place of a run by its number; 0 if it has none. */
SW_API size_t sw_ranking_place(const sw_ranking *ranking, size_t run);

/** What choosing the first gives up by another criterion. */
typedef struct sw_price {
    sw_criterion by;
    size_t best; /**< number of the run that is best by it */
} sw_price;

/** The numbers behind a recommendation: of runs, by their number. */
typedef struct sw_recommendation {
    sw_ranking ranking;
    size_t level;       /**< how many share the first place; 0 if none has one */
    bool has_contrast;  /**< whether the last has another place than the first, so that they tell where it comes from */
    size_t first, last; /**< the recommended one and the last in order; only if level is above 0 */
    size_t price_count;
    sw_price prices[SW_BY_COUNT]; /**< by criteria in which another is better (sw_is_better); more gelatin is no price where both
                                       are as tender */
} sw_recommendation;

/** Ranks runs and finds what the recommendation rests on.
 * @param recommendation out */
SW_API void sw_recommend(sw_criterion by, const sw_run *runs, size_t count, sw_recommendation *recommendation);

SW_END_DECLARATIONS

#endif
