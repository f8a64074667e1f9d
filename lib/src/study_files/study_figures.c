/* SPDX-License-Identifier: BSD-3-Clause */
#include "study_figures.h"

#define OF_OUTCOME(name, unit, long_name) {#name, unit, long_name, offsetof(sw_outcome, name)},
#define AT_PULL(name, unit, long_name)                                                                                 \
    {#name "_at_pull", unit, long_name ", at the pull", offsetof(sw_outcome, at_pull) + offsetof(sw_budget, name)},
#define AT_END(name, unit, long_name)                                                                                  \
    {#name "_at_end", unit, long_name ", at the end", offsetof(sw_outcome, at_end) + offsetof(sw_budget, name)},

static const sw_study_figure figures[SW_STUDY_FIGURE_COUNT] = {SW_OUTCOME_LIST(OF_OUTCOME) SW_BUDGET_LIST(AT_PULL) SW_BUDGET_LIST(AT_END)};

const sw_study_figure *sw_study_figure_at(size_t number)
{
    return &figures[number];
}

double *sw_study_figure_of(sw_outcome *outcome, size_t number)
{
    return (double *)(void *)((char *)outcome + figures[number].offset);
}
