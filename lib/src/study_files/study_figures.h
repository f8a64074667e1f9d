/* SPDX-License-Identifier: BSD-3-Clause */
/* The figures kept of every run of a study, in a fixed order: the outcome, and the budgets at the pull and at the end. */
#ifndef SW_IO_STUDY_FIGURES_H
#define SW_IO_STUDY_FIGURES_H

#include <stallwright/outcome.h>

typedef struct sw_study_figure {
    const char *name, *unit, *long_name;
    size_t offset; /* of a double in sw_outcome */
} sw_study_figure;

#define SW_STUDY_ONE_FIGURE(name, unit, long_name) +1
enum {
    SW_STUDY_FIGURE_COUNT =
        0 SW_OUTCOME_LIST(SW_STUDY_ONE_FIGURE) SW_BUDGET_LIST(SW_STUDY_ONE_FIGURE) SW_BUDGET_LIST(SW_STUDY_ONE_FIGURE)
};

const sw_study_figure *sw_study_figure_at(size_t number);

/* The figure itself. */
double *sw_study_figure_of(sw_outcome *outcome, size_t number);

#endif
