/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * What a cook's answer owes to each uncertain input, by two-sided differences. docs/theory/sensitivity.md. */
#ifndef STALLWRIGHT_SENSITIVITY_H
#define STALLWRIGHT_SENSITIVITY_H

#include <stallwright/run.h>
#include <stallwright/uncertain_input.h>

SW_BEGIN_DECLARATIONS

/** Figures of an outcome whose change is found: name, unit, which of the outcome, the least change that matters. */
#define SW_SENSITIVE_LIST(X)                                                                                           \
    X(done, "s", done_time, 120.0)                                                                                     \
    X(stall, "s", stall_length, 120.0)                                                                                 \
    X(yield, "1", yield_at_pull, 0.001)

#define SW_SENSITIVE_ENUMERATOR(name, unit, field, negligible) SW_SENSITIVE_##name,
typedef enum sw_sensitive { SW_SENSITIVE_LIST(SW_SENSITIVE_ENUMERATOR) SW_SENSITIVE_COUNT } sw_sensitive;
#undef SW_SENSITIVE_ENUMERATOR

/** Change of one figure for one standard deviation of an input [unit of the figure]; SW_ABSENT where a cook fails or lacks the
 * figure. */
typedef struct sw_change {
    double low, high;  /**< with the input one deviation lower, higher, less the figure itself */
    double slope;      /**< half of high less low */
    double half_slope; /**< the same from steps half as wide, doubled: near the slope where the answer is straight */
} sw_change;

/** One input. */
typedef struct sw_sensitivity_row {
    const sw_scenario_key *input;
    const sw_uncertainty *known; /**< how well, given what the scenario states */
    double value, low, high; /**< as planned, one deviation lower and higher [SI unit of the key] */
    sw_change changes[SW_SENSITIVE_COUNT];
} sw_sensitivity_row;

#define SW_SENSITIVITY_ROWS_MAX 32

typedef struct sw_sensitivity {
    size_t row_count; /**< inputs that play a part, in the order of their table */
    sw_sensitivity_row rows[SW_SENSITIVITY_ROWS_MAX];
    double together[SW_SENSITIVE_COUNT]; /**< root of the sum of squared slopes, absent ones left out; inputs taken as
                                              independent [unit of the figure] */
} sw_sensitivity;

/** Runs four cooks an input, with rest and hold left out. A cook that fails leaves its figures absent.
 * @param base the cook as it is; its scenario is settled first (sw_scenario_settle), so that each input moves alone
 * @param watch may be NULL; the label of each cook is the input's key
 * @param sensitivity out; unchanged on error
 * @return SW_OK; SW_ERR_ARGUMENT (base failed or was not run); SW_ERR_CANCELLED; SW_ERR_MEMORY */
SW_API sw_status sw_sensitivity_find(sw_context *context, const sw_run *base, const sw_watch *watch,
                                     sw_sensitivity *sensitivity);

/** Whether the answer is straight over the range: slopes of both steps agree within a fifth, or within the least change that
 * matters (2 min; 0.1 % of the raw mass). False if a slope is absent. */
SW_API bool sw_change_is_straight(const sw_change *change, sw_sensitive figure);

SW_END_DECLARATIONS

#endif
