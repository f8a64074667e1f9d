/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * The plateau of a stall: what holds the probe there, and what ends it. docs/theory/stall.md. */
#ifndef STALLWRIGHT_PLATEAU_H
#define STALLWRIGHT_PLATEAU_H

#include <stallwright/outcome.h>

SW_BEGIN_DECLARATIONS

/** What ends a stall. */
typedef enum sw_stall_ending {
    SW_STALL_ENDING_NONE,  /**< no stall */
    SW_STALL_ENDING_WRAP,  /**< the wrap goes on */
    SW_STALL_ENDING_PULL,  /**< the meat is pulled in it */
    SW_STALL_ENDING_PIT,   /**< the pit is made hotter */
    SW_STALL_ENDING_DRY,   /**< the surface dries, and no film wets it */
    SW_STALL_ENDING_SHORT, /**< less and less water comes out from within */
    SW_STALL_ENDING_RANGE, /**< the probe leaves the range in which a stall is looked for */
    SW_STALL_ENDING_HEAT,  /**< evaporation takes as much as before, but more heat comes in */
    SW_STALL_ENDING_COUNT
} sw_stall_ending;

/** "none", "wrap", "pull", "pit", "dry", "short", "range", "heat". */
SW_API const char *sw_stall_ending_name(sw_stall_ending ending);

/** The plateau: name, unit, long name. Means over the stall unless another moment is named. SW_ABSENT without a stall. */
#define SW_PLATEAU_LIST(X)                                                                                             \
    X(probe_at_start, "K", "probe when the stall begins")                                                              \
    X(probe_at_end, "K", "probe when it ends")                                                                         \
    X(surface, "K", "temperature of the top surface")                                                                  \
    X(air, "K", "temperature of the air around the meat")                                                              \
    X(wet_bulb, "K", "wet-bulb temperature of the pit's air")                                                          \
    X(heat_received, "J", "heat received")                                                                             \
    X(heat_an_hour, "J", "heat received an hour")                                                                      \
    X(evaporation_share, "1", "share of it that evaporation takes")                                                    \
    X(evaporated_an_hour, "kg", "water that evaporates an hour")                                                       \
    X(could_evaporate_an_hour, "kg", "water that all the heat received could evaporate in an hour")                    \
    X(evaporation_at_most, "kg", "water an hour when most evaporates")                                                 \
    X(evaporation_at_end, "kg", "water an hour when the stall ends")                                                   \
    X(lost_before, "kg", "water lost before the stall")                                                                \
    X(lost_after, "kg", "water lost when it ends")                                                                     \
    X(middle_at_start, "1", "water at the probe when it begins, over raw")                                             \
    X(middle_at_end, "1", "water at the probe when it ends, over raw")                                                 \
    X(dry_depth_at_start, "m", "depth to which half of the raw water is gone, when it begins; one dimension only")     \
    X(dry_depth_at_end, "m", "the same when it ends")                                                                  \
    X(activity_at_start, "1", "water activity of the top surface when it begins")                                      \
    X(activity_at_end, "1", "water activity of the top surface when it ends")                                          \
    X(film_at_start, "1", "share of the top surface that a film of juice or spray wets when it begins")                \
    X(film_at_end, "1", "the same when it ends")

#define SW_PLATEAU_FIELD(name, unit, long_name) double name;
typedef struct sw_plateau {
    SW_PLATEAU_LIST(SW_PLATEAU_FIELD)
} sw_plateau;
#undef SW_PLATEAU_FIELD

/** Measures the plateau of a cook.
 * @param history borrowed
 * @param outcome of that history
 * @param plateau out */
SW_API void sw_plateau_evaluate(const sw_history *history, const sw_outcome *outcome, sw_plateau *plateau);

/** What ends the stall: the first in the order pull, wrap, pit that falls into it, else what its evaporation says.
 * @param history borrowed
 * @param outcome of that history
 * @param plateau of that history */
SW_API sw_stall_ending sw_stall_ending_find(const sw_history *history, const sw_outcome *outcome, const sw_plateau *plateau);

SW_END_DECLARATIONS

#endif
