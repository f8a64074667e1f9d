/* SPDX-License-Identifier: BSD-3-Clause */
#include "cook_fit.h"

#include "processors.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Width of the one-sided differences, in standard deviations: well above the noise of a coarse cook. */
static const double difference = 0.25;

static void scenario_of(size_t number, sw_scenario *scenario, void *data)
{
    const simulation *s = (const simulation *)data + number;
    sw_population_scenario(s->population, s->at, scenario);
    sw_population_coarsen(scenario);
}

static sw_status take(sw_context *context, size_t number, const sw_run *run, void *data)
{
    simulation *s = (simulation *)data + number;
    double done;
    if (run->status != SW_OK)
        return sw_fail(context, run->status, "%s: %s", s->cook->id, run->failure);
    measured_cook_follow(s->cook, run->history, s->computed, &done);
    s->computed[s->cook->reading_count] = log(done);
    return SW_OK;
}

void simulate(simulation *simulations, size_t count)
{
    sw_context *context;
    const sw_side_by_side work = {.count = count,
                                  .threads = count_processors(),
                                  .scenario = scenario_of,
                                  .take = take,
                                  .data = simulations};
    if (sw_context_create(&context) != SW_OK)
        die("memory is short");
    if (sw_cook_side_by_side(context, &work) != SW_OK)
        die("a measured cook could not be computed: %s", sw_context_message(context));
    sw_context_destroy(context);
}

double observed_value(const measured_cook *cook, size_t number)
{
    return number < cook->reading_count ? cook->temperature[number] : log(cook->done);
}

double observed_error(const measured_cook *cook, const reading_error *error, size_t number)
{
    return number < cook->reading_count ? error->noise : error->end;
}

/* Slope of what is observed by the bias of the probe, in its standard deviations; an end comes by another's word. */
static double slope_of_bias(const cook_fit *f, const reading_error *error, size_t number)
{
    return number < f->cook->reading_count ? error->bias : 0.0;
}

/* The point and, one by one, each own unknown a little up. */
static void differentiate(cook_fit *fits, size_t count, const reading_error *error)
{
    size_t total = 0, next = 0;
    for (size_t c = 0; c < count; c++)
        total += fits[c].population.count + 1;
    simulation *all = calloc(total, sizeof *all);
    double(*points)[OWN_MAX] = calloc(total, sizeof *points);
    if (!all || !points)
        die("memory is short");
    for (size_t c = 0; c < count; c++)
        for (size_t u = 0; u <= fits[c].population.count; u++, next++) {
            memcpy(points[next], fits[c].at, sizeof *points);
            if (u > 0)
                points[next][u - 1] += difference;
            all[next] = (simulation){.cook = fits[c].cook, .population = &fits[c].population, .at = points[next]};
        }
    simulate(all, total);
    next = 0;
    for (size_t c = 0; c < count; c++) {
        cook_fit *f = &fits[c];
        const simulation *base = &all[next];
        memcpy(f->computed, base->computed, sizeof f->computed);
        for (size_t u = 0; u < f->population.count; u++)
            for (size_t i = 0; i < f->observed; i++)
                f->slopes[i][u] = (base[u + 1].computed[i] - base->computed[i]) / difference;
        for (size_t i = 0; i < f->observed; i++)
            f->slopes[i][f->own - 1] = slope_of_bias(f, error, i);
        next += f->population.count + 1;
    }
    free(all);
    free(points);
}

static double residual(const cook_fit *f, size_t i)
{
    return observed_value(f->cook, i) - f->computed[i] - f->slopes[i][f->own - 1] * f->at[f->own - 1];
}

/* Student's weights: what is far off counts less. */
static void weigh(cook_fit *f, const reading_error *error)
{
    for (size_t i = 0; i < f->observed; i++) {
        const double off = residual(f, i) / observed_error(f->cook, error, i);
        f->weight[i] = (error->freedom + 1.0) / (error->freedom + off * off);
    }
}

/* Lower Cholesky root in place, of the lower triangle; n at most `stride`. */
static void cholesky(size_t n, size_t stride, double *a)
{
    for (size_t j = 0; j < n; j++)
        for (size_t i = j; i < n; i++) {
            double sum = a[i * stride + j];
            for (size_t k = 0; k < j; k++)
                sum -= a[i * stride + k] * a[j * stride + k];
            a[i * stride + j] = i == j ? sqrt(sum) : sum / a[j * stride + j];
        }
}

static void solve_lower(size_t n, size_t stride, const double *root, double *x)
{
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < i; k++)
            x[i] -= root[i * stride + k] * x[k];
        x[i] /= root[i * stride + i];
    }
}

static void solve_upper(size_t n, size_t stride, const double *root, double *x)
{
    for (size_t i = n; i-- > 0;) {
        for (size_t k = i + 1; k < n; k++)
            x[i] -= root[k * stride + i] * x[k];
        x[i] /= root[i * stride + i];
    }
}

/* Covariance of the own unknowns, the prior's being 1, and a step towards the most likely point, at most one deviation long. */
static void step(cook_fit *f, const reading_error *error, bool move)
{
    double normal[OWN_MAX][OWN_MAX] = {{0.0}}, x[OWN_MAX];
    for (size_t u = 0; u < f->own; u++) {
        x[u] = -f->at[u];
        normal[u][u] = 1.0;
        for (size_t i = 0; i < f->observed; i++) {
            const double sd = observed_error(f->cook, error, i), w = f->weight[i] / (sd * sd);
            x[u] += f->slopes[i][u] * w * residual(f, i);
            for (size_t v = 0; v < f->own; v++)
                normal[u][v] += f->slopes[i][u] * w * f->slopes[i][v];
        }
    }
    cholesky(f->own, OWN_MAX, normal[0]);
    for (size_t u = 0; u < f->own; u++) {
        double column[OWN_MAX] = {0.0};
        column[u] = 1.0;
        solve_lower(f->own, OWN_MAX, normal[0], column);
        solve_upper(f->own, OWN_MAX, normal[0], column);
        for (size_t v = 0; v < f->own; v++)
            f->covariance[v][u] = column[v];
    }
    if (!move)
        return;
    solve_lower(f->own, OWN_MAX, normal[0], x);
    solve_upper(f->own, OWN_MAX, normal[0], x);
    double longest = 1.0;
    for (size_t u = 0; u < f->own; u++)
        longest = fmax(longest, fabs(x[u]));
    for (size_t u = 0; u < f->own; u++)
        f->at[u] += x[u] / longest;
}

static void find_root(cook_fit *f, const reading_error *error)
{
    for (size_t i = 0; i < f->observed; i++)
        for (size_t k = 0; k <= i; k++) {
            const double sd = observed_error(f->cook, error, i);
            f->root[i][k] = i == k ? sd * sd / f->weight[i] : 0.0;
            for (size_t u = 0; u < f->own; u++)
                f->root[i][k] += f->slopes[i][u] * f->slopes[k][u];
        }
    cholesky(f->observed, OBSERVED_MAX, f->root[0]);
}

void fit_own_unknowns(cook_fit *fits, size_t count, const reading_error *error, int steps)
{
    for (int s = 0; s <= steps; s++) {
        differentiate(fits, count, error);
        for (size_t c = 0; c < count; c++) {
            weigh(&fits[c], error);
            step(&fits[c], error, s < steps);
        }
    }
    for (size_t c = 0; c < count; c++)
        find_root(&fits[c], error);
}

void whiten(const cook_fit *f, const double *computed, double *whitened)
{
    for (size_t i = 0; i < f->observed; i++) {
        whitened[i] = computed[i] - observed_value(f->cook, i);
        for (size_t u = 0; u < f->population.count; u++)
            whitened[i] -= f->slopes[i][u] * f->at[u];
    }
    solve_lower(f->observed, OBSERVED_MAX, f->root[0], whitened);
}
