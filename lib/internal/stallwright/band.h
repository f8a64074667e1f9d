/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * How far the figures of a cook may lie from what was computed, since no two cooks are alike: bands from draws of the
 * population (<stallwright/population.h>). docs/theory/population.md. */
#ifndef STALLWRIGHT_BAND_H
#define STALLWRIGHT_BAND_H

#include <stallwright/population.h>
#include <stallwright/sensitivity.h>

SW_BEGIN_DECLARATIONS

/** Draws that show the ends of an 80 % band well enough: docs/theory/population.md has how well. */
#define SW_BAND_DRAWS 100

/** One figure's band [unit of the figure]; SW_ABSENT where so many never come to it. */
typedef struct sw_interval {
    double low;    /**< one cook in ten lies below */
    double middle; /**< one in two */
    double high;   /**< one in ten lies above */
} sw_interval;

/** The bands of a cook: four cooks in five lie within each. */
typedef struct sw_band {
    size_t draws;
    size_t never_done;  /**< draws that never reach the pull */
    size_t without_stall; /**< draws that have no stall; they are not in its band */
    sw_interval of[SW_SENSITIVE_COUNT];
} sw_band;

/** What is asked. */
typedef struct sw_band_question {
    const sw_scenario *stated; /**< as its author left it, not settled */
    const sw_run *run;         /**< that scenario's cook; not asked for by sw_band_draw */
    size_t draws;              /**< 10 or more */
    uint64_t seed;
    size_t threads;            /**< 1..SW_THREADS_MAX; changes no digit */
    const sw_watch *watch;     /**< may be NULL; only is_cancelled is asked */
    /** Shown each draw that ends or never does, one at a time, in the order in which they finish, and as number `draws` the median
     * cook made as coarsely. A status other than SW_OK ends the work, its sentence in the context given. May be NULL. */
    sw_status (*see)(sw_context *context, size_t number, const sw_run *draw, void *data);
    void *data;                /**< for see */
} sw_band_question;

/** Makes the draws, up to the pull, coarsely. What is coarse in them is taken out by the median cook made both ways: by its
 * ratio of times, and by its difference of a share.
 * @param band out; unchanged on error. Bands are SW_ABSENT where the run lacks the figure.
 * @return SW_OK; SW_ERR_ARGUMENT (the run failed, its pull waits for no temperature, draws, threads); SW_ERR_CANCELLED;
 * SW_ERR_MEMORY; SW_ERR_SOLVER if a draw cannot be computed; what see returned */
SW_API sw_status sw_band_find(sw_context *context, const sw_band_question *question, sw_band *band);

/** The bands of several cooks, as sw_band_find has each. Draws of the same number that differ only in how they are wrapped are made
 * together, up to their wraps once for all.
 * @param count 1..SW_ALIKE_MAX
 * @param questions with the same draws, seed and threads
 * @param bands out: count; partly written on error
 * @return as sw_band_find; that of the first that fails */
SW_API sw_status sw_bands_find(sw_context *context, size_t count, const sw_band_question *questions, sw_band *bands);

/** The same in parts, which may be made in different places: first some of the draws, of which number `draws` is the median cook.
 * @param figures out: SW_SENSITIVE_COUNT of each draw from first on; partly written on error
 * @return as sw_band_find; SW_ERR_ARGUMENT (first and count go beyond the draws) */
SW_API sw_status sw_band_draw(sw_context *context, const sw_band_question *question, size_t first, size_t count, double *figures);

/** Then the bands of all of them.
 * @param figures SW_SENSITIVE_COUNT of each draw and of the median cook
 * @param band out; unchanged on error
 * @return SW_OK; SW_ERR_ARGUMENT; SW_ERR_MEMORY */
SW_API sw_status sw_band_gather(sw_context *context, const sw_band_question *question, const double *figures, sw_band *band);

SW_END_DECLARATIONS

#endif
