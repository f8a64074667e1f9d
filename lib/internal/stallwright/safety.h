/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Whether a cook keeps the published rules of food safety, drawn from its history: warnings, never promises. Local food
 * codes and licensed practice come first. docs/theory/safety.md explains each rule. */
#ifndef STALLWRIGHT_SAFETY_H
#define STALLWRIGHT_SAFETY_H

#include <stallwright/cook.h>

SW_BEGIN_DECLARATIONS

typedef enum sw_verdict { SW_VERDICT_NOT_ASSESSED, SW_VERDICT_NOT_MET, SW_VERDICT_MET } sw_verdict;

/** "not assessed", "not met", "met". */
SW_API const char *sw_verdict_name(sw_verdict verdict);

/** The rules, in the order of a cook: name, unit of figure, limit and margin, source with its section. */
#define SW_SAFETY_RULE_LIST(X)                                                                                         \
    X(raw_storage, "K", "FDA Food Code 3-501.16(A)(2)")                                                                \
    X(pit_heat, "K", "FDA Food Code 3-401.11(B)(1)")                                                                   \
    X(come_up, "s", "FSIS-GD-2021-14, come-up time")                                                                   \
    X(warm_hours, "s", "no rule sets a limit")                                                                         \
    X(lethality_6_5_log, "s", "FSIS Appendix A, 6.5-log column")                                                       \
    X(lethality_7_log, "s", "FSIS Appendix A, 7-log column")                                                           \
    X(lethality_roast, "s", "FDA Food Code 3-401.11(B)(2)")                                                            \
    X(lethality_check, "1", "D and z fitted to FSIS Appendix A")                                                       \
    X(fall_back, "K", "FDA Food Code 3-501.16(A)(1), applied to the pit")                                              \
    X(hot_holding, "K", "FDA Food Code 3-501.16(A)(1)")                                                                \
    X(hot_holding_roast, "K", "FDA Food Code 3-501.16(A)(1), roasts")                                                  \
    X(hot_holding_fsis, "K", "FSIS, hot holding")                                                                      \
    X(holding_place, "K", "FDA Food Code 3-501.16(A)(1)")                                                              \
    X(cooling_first, "s", "FDA Food Code 3-501.14(A)(1)")                                                              \
    X(cooling_whole, "s", "FDA Food Code 3-501.14(A)")                                                                 \
    X(cooling_first_fsis, "s", "FSIS Appendix B, option 1")                                                            \
    X(cooling_second_fsis, "s", "FSIS Appendix B, option 1")

#define SW_SAFETY_ENUMERATOR(name, unit, source) SW_SAFETY_##name,
typedef enum sw_safety_rule { SW_SAFETY_RULE_LIST(SW_SAFETY_ENUMERATOR) SW_SAFETY_RULE_COUNT } sw_safety_rule;
#undef SW_SAFETY_ENUMERATOR

SW_API const char *sw_safety_rule_name(sw_safety_rule rule);
SW_API const char *sw_safety_rule_unit(sw_safety_rule rule);
SW_API const char *sw_safety_rule_source(sw_safety_rule rule);

/** Temperatures the rules speak of [K]. */
typedef struct sw_safety_band {
    double low, high;
} sw_safety_band;

/** Band of a rule that limits the time between two temperatures (come_up, warm_hours, the coolings); for the others both
 * are SW_ABSENT. */
SW_API sw_safety_band sw_safety_rule_band(sw_safety_rule rule);

/** What was found about one rule. Figure, limit and margin are in the unit of the rule; what does not exist is SW_ABSENT.
 * Figures are those of the worst place, and where they cannot be exact they err to the safe side. */
typedef struct sw_safety_finding {
    sw_verdict verdict;
    double figure;
    double limit;
    double margin;      /**< what is to spare; negative if the rule is not met */
    double temperature; /**< of the dwell tables: the row that figure and limit belong to [K] */
    double below;       /**< of the lowest temperatures: how long some of the meat was below the limit [s] */
    bool beyond_fit;    /**< kinetics met temperatures outside their fitted range and counted none or the nearest */
    bool lacks_phase;   /**< not assessed because a rest, hold or cooling is missing (sw_history_missing) */
    const char *reason; /**< why it is not assessed, for a sentence; else NULL */
} sw_safety_finding;

typedef struct sw_safety {
    sw_safety_finding findings[SW_SAFETY_RULE_COUNT];
} sw_safety;

/** Judges a history.
 * @param history borrowed; of at least one phase and one row
 * @param safety out */
/** Least temperature of food that is kept hot: FDA Food Code 3-501.16(A)(1), 135 F [K]. */
SW_API double sw_hot_holding_limit(void);

/** How long meat may take through the band of the rule come_up: FSIS-GD-2021-14, six hours [s]. */
SW_API double sw_come_up_limit(void);

SW_API void sw_safety_evaluate(const sw_history *history, sw_safety *safety);

SW_END_DECLARATIONS

#endif
