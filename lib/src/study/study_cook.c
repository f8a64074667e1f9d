/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/study.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

sw_series sw_study_curve_series(sw_study_curve curve)
{
    return curve == SW_CURVE_PROBE ? SW_SERIES_probe_temperature : SW_SERIES_top_surface_temperature;
}

#define CLEAR(name, unit, long_name) figures->name = SW_ABSENT;

static void clear_budget(sw_budget *figures)
{
    SW_BUDGET_LIST(CLEAR)
}

static void clear_outcome(sw_outcome *figures)
{
    memset(figures, 0, sizeof *figures);
    SW_OUTCOME_LIST(CLEAR)
    clear_budget(&figures->at_pull);
    clear_budget(&figures->at_end);
}

/* A series at equal intervals, linearly between the rows of the history; in single precision as results files have it, so
 * that pictures of them are the same. */
static void sample(const sw_history *h, sw_series series, size_t count, double *points)
{
    const double *time = h->series[SW_SERIES_time], *value = h->series[series];
    size_t row = 0;
    for (size_t i = 0; i < count; i++) {
        double t = (double)i * SW_STUDY_CURVE_INTERVAL;
        while (row + 2 < h->row_count && time[row + 1] < t)
            row++;
        double length = time[row + 1] - time[row];
        double share = length > 0.0 ? fmin((t - time[row]) / length, 1.0) : 1.0;
        points[i] = (float)(value[row] + share * (value[row + 1] - value[row]));
    }
}

static sw_status take_curves(sw_context *context, const sw_history *h, sw_study_result *result)
{
    double end = h->series[SW_SERIES_time][h->row_count - 1];
    size_t count = h->row_count > 1 ? (size_t)(end / SW_STUDY_CURVE_INTERVAL) + 1 : 0;
    double *block = malloc((count ? count : 1) * SW_STUDY_CURVE_COUNT * sizeof *block);
    if (!block)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the curves of a cook could not be allocated");
    result->point_count = count;
    for (int i = 0; i < SW_STUDY_CURVE_COUNT; i++) {
        result->curves[i] = block + (size_t)i * count;
        if (count > 0)
            sample(h, sw_study_curve_series((sw_study_curve)i), count, result->curves[i]);
    }
    return SW_OK;
}

sw_status sw_study_cook(sw_context *context, const sw_study *study, size_t run, sw_branches *branches, sw_study_result *result)
{
    sw_scenario scenario;
    sw_history *history;
    sw_study_result made = {.run = run};
    sw_study_scenario(study, run, &scenario);
    clear_outcome(&made.outcome);
    made.status = sw_cook_run_branching(context, &scenario, NULL, NULL, branches, &history);
    if (made.status == SW_ERR_MEMORY)
        return made.status;
    if (made.status == SW_OK) {
        sw_outcome_evaluate(history, &made.outcome);
        sw_status status = take_curves(context, history, &made);
        sw_history_destroy(history);
        if (status != SW_OK)
            return status;
    } else {
        snprintf(made.failure, sizeof made.failure, "%s", sw_context_message(context));
    }
    *result = made;
    return SW_OK;
}

void sw_study_result_free(sw_study_result *result)
{
    free(result->curves[0]);
    memset(result->curves, 0, sizeof result->curves);
    result->point_count = 0;
}
