/* SPDX-License-Identifier: BSD-3-Clause */
/* Parts of the evaluation of a history, one file each. They fill figures of an outcome whose figures are absent, and rely on
 * those filled by sw_outcome_evaluate itself. */
#ifndef SW_OUTCOME_PARTS_H
#define SW_OUTCOME_PARTS_H

#include <stallwright/outcome.h>

/* pull: row of the history at the pull. */
void sw_evaluate_doneness(const sw_history *history, size_t pull, sw_outcome *outcome);
void sw_evaluate_probes(const sw_history *history, sw_outcome *outcome);
void sw_evaluate_bark(const sw_history *history, sw_outcome *outcome);
/* slice: row at slicing. */
void sw_evaluate_rest(const sw_history *history, size_t pull, size_t slice, sw_outcome *outcome);
void sw_evaluate_servings(const sw_history *history, sw_outcome *outcome);

#endif
