/* Where the heat goes, hour by hour: the cumulative series of a history, cut into spells. */
#ifndef SW_APPS_HEAT_BUDGET_H
#define SW_APPS_HEAT_BUDGET_H

#include <stallwright/stallwright.h>

/* Heat by where it came from and where it went: name, long name. The first two add up to the others and the rest. */
#define HEAT_ITEM_LIST(X)                                                                                              \
    X(air, "from hot air")                                                                                             \
    X(radiation, "from hot walls, by radiation")                                                                       \
    X(evaporation, "evaporating water")                                                                                \
    X(vapour, "warmth leaving with that vapour")                                                                       \
    X(drip, "warmth leaving with drip")                                                                                \
    X(fat, "melting and rendering fat")                                                                                \
    X(warming, "warming the meat")                                                                                     \
    X(rest, "not accounted for")

#define HEAT_ENUMERATOR(name, long_name) HEAT_##name,
typedef enum heat_item { HEAT_ITEM_LIST(HEAT_ENUMERATOR) HEAT_ITEM_COUNT } heat_item;
#undef HEAT_ENUMERATOR

/* Heat of a spell, or since the meat went on [J]. */
typedef struct heat_budget {
    double item[HEAT_ITEM_COUNT];
} heat_budget;

const char *heat_item_name(heat_item item);
const char *heat_item_long_name(heat_item item);

/* Since the meat went on, in a row of the history. */
heat_budget heat_in_row(const sw_history *history, size_t row);

/* Since the meat went on, until a moment; between two rows by straight interpolation. */
heat_budget heat_until(const sw_history *history, double time);

/* From one moment to another. */
heat_budget heat_between(const sw_history *history, double from, double to);

double heat_received(const heat_budget *budget);

/* Share of the heat received that evaporating takes; SW_ABSENT if none is received. The warmth that leaves with the vapour
 * is not counted: it was taken up when the water was warmed. */
double heat_evaporation_share(const heat_budget *budget);

#endif
