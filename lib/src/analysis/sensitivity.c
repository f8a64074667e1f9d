/* SPDX-License-Identifier: BSD-3-Clause */
#include "differences.h"

#include <math.h>
#include <stdio.h>

static void read_figures(const sw_run *run, double figures[SW_SENSITIVE_COUNT])
{
    const bool failed = run->status != SW_OK;
#define READ(name, unit, field, negligible) figures[SW_SENSITIVE_##name] = failed ? SW_ABSENT : run->outcome.field;
    SW_SENSITIVE_LIST(READ)
#undef READ
}

/* The figures with one input moved; absent if the scenario then makes no sense, as a share above 1. */
static sw_status figures_at(sw_context *context, const sw_scenario *base, const sw_sensitivity_row *row, double deviations,
                            const sw_watch *watch, double figures[SW_SENSITIVE_COUNT])
{
    sw_run run = {.scenario = *base};
    snprintf(run.label, sizeof run.label, "%.40s", row->input->name);
    /* Nothing after the pull matters here. */
    run.scenario.rest.until.kind = run.scenario.hold.until.kind = SW_ENDING_NONE;
    sw_uncertain_input_move(row->input, row->known, deviations, &run.scenario);
    const sw_status status = sw_run_cook(context, &run, watch);
    read_figures(&run, figures);
    sw_run_free(&run);
    return status == SW_ERR_CANCELLED || status == SW_ERR_MEMORY ? status : SW_OK;
}

static double value_at(const sw_sensitivity_row *row, double deviations, const sw_scenario *base)
{
    sw_scenario moved = *base;
    sw_uncertain_input_move(row->input, row->known, deviations, &moved);
    return sw_uncertain_input_value(row->input, &moved);
}

static sw_status find_row(sw_context *context, const sw_run *base, const sw_scenario *settled, const sw_watch *watch,
                          sw_sensitivity_row *row)
{
    double figures[SW_SENSITIVE_COUNT], at[SW_STEP_COUNT][SW_SENSITIVE_COUNT];
    row->value = sw_uncertain_input_value(row->input, settled);
    row->low = value_at(row, -1.0, settled);
    row->high = value_at(row, 1.0, settled);
    read_figures(base, figures);
    for (int step = 0; step < SW_STEP_COUNT; step++) {
        const sw_status status = figures_at(context, settled, row, sw_difference_steps[step], watch, at[step]);
        if (status != SW_OK)
            return status;
    }
    for (int f = 0; f < SW_SENSITIVE_COUNT; f++) {
        double of_figure[SW_STEP_COUNT];
        for (int step = 0; step < SW_STEP_COUNT; step++)
            of_figure[step] = at[step][f];
        row->changes[f] = sw_change_of(figures[f], of_figure);
    }
    return SW_OK;
}

static double together(const sw_sensitivity *s, int figure)
{
    double squares = 0.0;
    for (size_t i = 0; i < s->row_count; i++) {
        const double slope = s->rows[i].changes[figure].slope;
        squares += SW_IS_ABSENT(slope) ? 0.0 : slope * slope;
    }
    return sqrt(squares);
}

sw_status sw_sensitivity_find(sw_context *context, const sw_run *base, const sw_watch *watch, sw_sensitivity *sensitivity)
{
    if (base->status != SW_OK || !base->history)
        return sw_fail(context, SW_ERR_ARGUMENT, "the cook whose sensitivity is asked for has failed or was not run");
    /* Each input moves alone: a thickness that follows from the mass stays when the mass moves. */
    sw_scenario settled = base->scenario;
    sw_scenario_settle(&settled);
    sw_sensitivity made = {.row_count = 0};
    for (size_t i = 0; i < sw_uncertain_input_count() && made.row_count < SW_SENSITIVITY_ROWS_MAX; i++) {
        const sw_scenario_key *input = sw_uncertain_input_at(i);
        if (!sw_uncertain_input_counts(input, &settled))
            continue;
        sw_sensitivity_row *row = &made.rows[made.row_count++];
        row->input = input;
        row->known = sw_uncertain_input_given(input, &base->scenario);
        const sw_status status = find_row(context, base, &settled, watch, row);
        if (status != SW_OK)
            return status;
    }
    for (int f = 0; f < SW_SENSITIVE_COUNT; f++)
        made.together[f] = together(&made, f);
    *sensitivity = made;
    return SW_OK;
}
