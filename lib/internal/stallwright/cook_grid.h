/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * A scenario cooked at several pit temperatures, thicknesses, humidities and wraps: every combination, for someone who moves
 * between them and watches what each does. */
#ifndef STALLWRIGHT_COOK_GRID_H
#define STALLWRIGHT_COOK_GRID_H

#include <stallwright/run.h>

SW_BEGIN_DECLARATIONS

/** What is moved. */
typedef enum sw_grid_axis {
    SW_GRID_PIT,       /**< pit temperature of the first step; later ones move along [K] */
    SW_GRID_THICKNESS, /**< thickness of the meat; all that is measured across it moves along [m] */
    SW_GRID_HUMIDITY,  /**< humidity ratio of the pit [kg vapour per kg dry air] */
    SW_GRID_WRAP,      /**< the sw_wrap_kind as a number */
    SW_GRID_AXIS_COUNT
} sw_grid_axis;

#define SW_GRID_VALUES_MAX 8

/** The values of an axis. */
typedef struct sw_grid_values {
    size_t count;   /**< 1..SW_GRID_VALUES_MAX */
    size_t planned; /**< number of the one the scenario has */
    double values[SW_GRID_VALUES_MAX];
} sw_grid_values;

typedef struct sw_cook_grid {
    sw_grid_values axes[SW_GRID_AXIS_COUNT];
    size_t count;     /**< of cooks: the product of those of the axes */
    sw_run *runs;     /**< count, the last axis running fastest; what comes after the pull is left out */
    bool *never_ends; /**< count: whether it was followed only (sw_run_or_follow) */
    bool is_coarse;   /**< fewer cells or a wider tolerance than the scenario's were used */
} sw_cook_grid;

/** Runs the cooks, side by side in several threads. The pit 25 F lower, as planned and higher; the meat 30 % thinner, as
 * planned and thicker (a section only thinner: it takes longer); the planned humidity and those of a dry, damp or wet pit;
 * the wraps that are compared when none are named, and the planned one. At most 60 layers, or 10 rows and 14 columns. That a
 * cook fails is told by its run.
 * @param scenario copied
 * @param modelled the scenario with the sizes it left open, as the history of its cook has it
 * @param threads 1..SW_THREADS_MAX; one that the system does not grant only makes it slower
 * @param watch may be NULL; sees the cooks of the calling thread
 * @param grid out: owned by the caller, release with sw_cook_grid_destroy; unchanged on error
 * @return SW_OK; SW_ERR_ARGUMENT (threads); SW_ERR_CANCELLED; SW_ERR_MEMORY */
SW_API sw_status sw_cook_grid_make(sw_context *context, const sw_scenario *scenario, const sw_scenario *modelled,
                                   size_t threads, const sw_watch *watch, sw_cook_grid **grid);

/** Destroys a grid and its histories; NULL is allowed. */
SW_API void sw_cook_grid_destroy(sw_cook_grid *grid);

SW_END_DECLARATIONS

#endif
