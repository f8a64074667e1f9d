/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Why a cook goes as it goes: the hours of its heat, its plateau, and the same cook with one cause changed at a time.
 * docs/theory/stall.md. */
#ifndef STALLWRIGHT_EXPLANATION_H
#define STALLWRIGHT_EXPLANATION_H

#include <stallwright/heat_budget.h>
#include <stallwright/plateau.h>
#include <stallwright/run.h>

SW_BEGIN_DECLARATIONS

/** The causes that are removed or changed: name, long name. */
#define SW_CAUSE_LIST(X)                                                                                               \
    X(no_evaporation, "no evaporation")                                                                                \
    X(damp_pit, "damp pit")                                                                                            \
    X(twice_the_draught, "twice the draught")                                                                          \
    X(half_the_thickness, "half the thickness")                                                                        \
    X(wrapped_from_the_start, "wrapped from the start")                                                                \
    X(holds_its_water, "meat that holds its water")

#define SW_CAUSE_ENUMERATOR(name, long_name) SW_CAUSE_##name,
typedef enum sw_cause { SW_CAUSE_LIST(SW_CAUSE_ENUMERATOR) SW_CAUSE_COUNT } sw_cause;
#undef SW_CAUSE_ENUMERATOR

/** "no_evaporation", "damp_pit", ... */
SW_API const char *sw_cause_name(sw_cause cause);
SW_API const char *sw_cause_long_name(sw_cause cause);

/** Changes one cause in a scenario: no evaporation at all; a humidity ratio of 0.15 or twice the planned one if that is
 * more; twice the convection; half of all that is measured across the meat; the planned wrap, or closed foil, from the
 * start; meat whose protein lets no water go.
 * @param modelled the scenario with the sizes it left open, as the history of its cook has it
 * @param scenario changed; it may then be one that sw_scenario_check refuses
 * @return false if the cook is like that already; the scenario is then as it was */
SW_API bool sw_cause_change(sw_cause cause, const sw_scenario *modelled, sw_scenario *scenario);

/** The cook with one cause changed. */
typedef struct sw_changed_cook {
    sw_run run;         /**< its label is the name of the cause with '-' for '_' */
    bool is_no_change;  /**< the cook is like that already; then it was not run again */
    bool is_impossible; /**< no such cook can be computed; the run's failure says why */
} sw_changed_cook;

/** A common explanation of the stall, and the heat it would take in this cut [J]. */
typedef struct sw_common_explanation {
    const char *name, *source;
    double low, high;
} sw_common_explanation;

#define SW_COMMON_EXPLANATIONS 3

typedef struct sw_explanation {
    sw_run cook; /**< as planned; as far as it was followed if it never ends */
    bool never_ends;
    char never_ends_reason[SW_RUN_FAILURE_SIZE];
    sw_heat_hours heat; /**< until the pull */
    sw_plateau plateau;
    sw_stall_ending ending;
    double slowest_rate; /**< sw_slowest_mean_rate [K s-1] */
    sw_changed_cook changed[SW_CAUSE_COUNT];
    sw_common_explanation common[SW_COMMON_EXPLANATIONS];
} sw_explanation;

/** Runs a scenario and the same with each cause changed, and explains it. That a changed cook fails is told in its place;
 * a cook that never ends is followed and explained as far as that.
 * @param scenario copied
 * @param watch may be NULL
 * @param explanation out: owned by the caller, release with sw_explanation_destroy; unchanged on error
 * @return SW_OK; the status of the cook as planned if it cannot be run or followed; SW_ERR_CANCELLED; SW_ERR_MEMORY */
SW_API sw_status sw_explain(sw_context *context, const sw_scenario *scenario, const sw_watch *watch,
                            sw_explanation **explanation);

/** Destroys an explanation and its histories; NULL is allowed. */
SW_API void sw_explanation_destroy(sw_explanation *explanation);

SW_END_DECLARATIONS

#endif
