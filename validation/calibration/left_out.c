/* SPDX-License-Identifier: BSD-3-Clause */
#include "left_out.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DRAWS = 100 };

static const double celsius_hour = 3600.0;

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Continuous ranked probability score of sorted draws (Gneiting and Raftery 2007, equation 21): mean distance to what came
 * less half the mean distance between draws. */
static double score_of(const double *sorted, double came)
{
    double to_it = 0.0, between = 0.0;
    for (int i = 0; i < DRAWS; i++) {
        to_it += fabs(sorted[i] - came) / DRAWS;
        between += (2.0 * i - DRAWS + 1.0) * sorted[i];
    }
    return to_it - between / ((double)DRAWS * DRAWS);
}

static void judge(left_out *sums, const population_fit *fit, const measured_cook *cook, const simulation *draws)
{
    const size_t observed = cook->reading_count + (SW_IS_ABSENT(cook->done) ? 0 : 1);
    for (size_t i = 0; i < observed; i++) {
        double sorted[DRAWS];
        const bool is_end = i == cook->reading_count;
        for (int d = 0; d < DRAWS; d++) {
            /* Bias and noise from dimensions of the sequence that no unknown has. */
            sw_population spare = {.count = SW_POPULATION_INPUTS_MAX};
            double normal[SW_POPULATION_INPUTS_MAX];
            sw_population_draw(&spare, 1, (size_t)d, normal);
            sorted[d] = draws[d].computed[i] + observed_error(cook, &fit->error, i) * normal[6] +
                        (is_end ? 0.0 : fit->error.bias * normal[7]);
        }
        qsort(sorted, DRAWS, sizeof *sorted, by_size);
        const double came = observed_value(cook, i);
        const bool within = came >= sorted[DRAWS / 10] && came <= sorted[DRAWS - DRAWS / 10 - 1];
        if (is_end) {
            sums->ends_within += within;
        } else {
            sums->within += within;
            sums->score += score_of(sorted, came);
        }
    }
}

void left_out_add(left_out *sums, const population_fit *fit, const measured_cook *cook)
{
    simulation draws[DRAWS + 1];
    double points[DRAWS + 1][OWN_MAX] = {{0.0}};
    cook_fit own;
    cook_fit_begin(fit, cook, &own);
    for (int d = 0; d <= DRAWS; d++) {
        if (d < DRAWS)
            sw_population_draw(&own.population, 1, (size_t)d, points[d]);
        draws[d] = (simulation){.cook = cook, .population = &own.population, .at = points[d]};
    }
    simulate(draws, DRAWS + 1);
    const simulation *middle = &draws[DRAWS];
    for (size_t i = 0; i < cook->reading_count; i++) {
        const double error = middle->computed[i] - cook->temperature[i];
        sums->sum += error;
        sums->squares += error * error;
        sums->early_sum += cook->time[i] <= 4.0 * celsius_hour ? error : 0.0;
        sums->early += cook->time[i] <= 4.0 * celsius_hour;
    }
    sums->readings += cook->reading_count;
    if (!SW_IS_ABSENT(cook->done))
        sums->ends_off[sums->ends++] = exp(middle->computed[cook->reading_count]) / cook->done - 1.0;
    judge(sums, fit, cook, draws);
    fit_own_unknowns(&own, 1, &fit->error, 6);
    for (size_t i = 0; i < cook->reading_count; i++)
        sums->own_squares += pow(own.computed[i] - cook->temperature[i], 2.0);
}

double left_out_median_end(const left_out *sums, bool signed_error)
{
    double sorted[COOKS_MAX];
    if (sums->ends == 0)
        return NAN;
    for (size_t i = 0; i < sums->ends; i++)
        sorted[i] = signed_error ? sums->ends_off[i] : fabs(sums->ends_off[i]);
    return sw_quantile(sorted, sums->ends, 0.5);
}
