/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Where the heat goes, hour by hour: the cumulative series of a history, cut into spells. docs/theory/stall.md. */
#ifndef STALLWRIGHT_HEAT_BUDGET_H
#define STALLWRIGHT_HEAT_BUDGET_H

#include <stallwright/cook.h>

SW_BEGIN_DECLARATIONS

/** Heat by where it came from and where it went: name, long name. The first two add up to the others and the rest, which is
 * the error of the balance. */
#define SW_HEAT_LIST(X)                                                                                                \
    X(air, "from hot air")                                                                                             \
    X(radiation, "from hot walls, by radiation")                                                                       \
    X(evaporation, "evaporating water")                                                                                \
    X(vapour, "warmth leaving with that vapour")                                                                       \
    X(drip, "warmth leaving with drip")                                                                                \
    X(fat, "melting and rendering fat")                                                                                \
    X(warming, "warming the meat")                                                                                     \
    X(rest, "not accounted for")

#define SW_HEAT_ENUMERATOR(name, long_name) SW_HEAT_##name,
typedef enum sw_heat_item { SW_HEAT_LIST(SW_HEAT_ENUMERATOR) SW_HEAT_ITEM_COUNT } sw_heat_item;
#undef SW_HEAT_ENUMERATOR

/** "air", "radiation", ... */
SW_API const char *sw_heat_name(sw_heat_item item);
SW_API const char *sw_heat_long_name(sw_heat_item item);

/** Heat of a spell, or since the meat went on [J]. */
typedef struct sw_heat_budget {
    double item[SW_HEAT_ITEM_COUNT];
} sw_heat_budget;

/** Since the meat went on, in a row of the history, 0..row_count - 1. */
SW_API sw_heat_budget sw_heat_in_row(const sw_history *history, size_t row);

/** Since the meat went on, until a time [s]; between two rows by straight interpolation, after the last as in the last. */
SW_API sw_heat_budget sw_heat_until(const sw_history *history, double time);

/** From one time to another [s]. */
SW_API sw_heat_budget sw_heat_between(const sw_history *history, double from, double to);

/** From air and walls together [J]. */
SW_API double sw_heat_received(const sw_heat_budget *budget);

/** Share of the heat received that evaporating takes; SW_ABSENT if none is received. The warmth that leaves with the vapour
 * is not counted: it was taken up when the water was warmed. */
SW_API double sw_heat_evaporation_share(const sw_heat_budget *budget);

#define SW_HEAT_HOURS_MAX 48

/** Share of the heat received that counts as nearly all: a choice of this project. */
#define SW_NEARLY_ALL_HEAT 0.9

/** The heat of each hour of a cook, or of each few hours of a long one. */
typedef struct sw_heat_hours {
    double step;                       /**< 1 h, or 2, 3, 4, 6 or 12 h so that SW_HEAT_HOURS_MAX are enough [s] */
    size_t count;                      /**< spells until the end */
    double start[SW_HEAT_HOURS_MAX];   /**< of each [s] */
    double end[SW_HEAT_HOURS_MAX];     /**< of each; the last may be shorter than a step [s] */
    double probe[SW_HEAT_HOURS_MAX];   /**< probe temperature at its end [K] */
    sw_heat_budget heat[SW_HEAT_HOURS_MAX];
    sw_heat_budget total; /**< until the end */
    size_t nearly_all;    /**< the first in which evaporation takes SW_NEARLY_ALL_HEAT or more; count if there is none */
    size_t largest_share; /**< the one in which it takes the largest share; count if it takes none */
} sw_heat_hours;

/** Cuts a cook into hours.
 * @param history borrowed
 * @param end until when, up to SW_HEAT_HOURS_MAX times 12 h; the pull for example [s]
 * @param hours out */
SW_API void sw_heat_by_hour(const sw_history *history, double end, sw_heat_hours *hours);

SW_END_DECLARATIONS

#endif
