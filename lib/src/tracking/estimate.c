/* SPDX-License-Identifier: BSD-3-Clause */
#include "estimate.h"

#include "dense.h"
#include "least_squares.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Of differences in a normal coordinate: above the noise of a coarse cook, small against a deviation. */
static const double step = 0.15;

/* Where the second search begins: a probe in the thicker part. */
static const double thick_start = 2.0;

/* Two results are one if no coordinate differs by more. */
static const double same_mode = 0.5;

/* Of the time integration: differences need smoother cooks than draws do, and every one of them must balance. */
static const double fit_tolerance = 1e-4;

/* Of the searches, each with the noise factors of the one before. */
enum { ROUNDS = 3 };

/* One round of cooks at several points. */
typedef struct points {
    sw_estimate *estimate;
    const double *normal; /* of the first; the k-th has coordinate k - 1 moved by a step */
    double *curves;       /* at the knots, one cook after another */
    char failure[SW_RUN_FAILURE_SIZE];
} points;

typedef struct fit {
    sw_context *context;
    sw_estimate *estimate;
} fit;

double sw_curve_at(size_t count, const double *time, const double *curve, double at)
{
    size_t i = 1;
    if (count < 2)
        return count == 1 ? curve[0] : SW_ABSENT;
    while (i + 1 < count && time[i] < at)
        i++;
    /* Phases end in rows of their own, so the last two may be near each other. */
    size_t before = i - 1;
    while (at > time[i] && before > 0 && time[i] - time[before] < 240.0)
        before--;
    if (!(time[i] > time[before]))
        return curve[i];
    const double share = fmax((at - time[before]) / (time[i] - time[before]), 0.0);
    return curve[before] + share * (curve[i] - curve[before]);
}

void sw_curve_at_knots(const sw_estimate *e, const sw_history *h, double *curve)
{
    for (size_t i = 0; i < e->knots->count; i++) {
        const int probe = e->history_probe[e->knots->list[i].probe];
        const double *series = probe >= 0 && (size_t)probe < h->probe_count ? h->probe_series[probe] : h->series[SW_SERIES_probe_temperature];
        curve[i] = sw_curve_at(h->row_count, h->series[SW_SERIES_time], series, e->knots->list[i].time);
    }
}

/* A cook up to the last knot. */
static void point_scenario(size_t number, sw_scenario *scenario, void *data)
{
    const points *p = data;
    double normal[SW_POPULATION_INPUTS_MAX];
    double last = 0.0;
    memcpy(normal, p->normal, sizeof normal);
    if (number > 0)
        normal[number - 1] += step;
    sw_population_scenario(p->estimate->population, normal, scenario);
    sw_population_coarsen(scenario);
    scenario->solver.relative_tolerance = fmin(scenario->solver.relative_tolerance, fit_tolerance);
    for (size_t i = 0; i < p->estimate->knots->count; i++)
        last = fmax(last, p->estimate->knots->list[i].time);
    const double end = fmax(last, 900.0) + 60.0;
    scenario->pull = (sw_ending){SW_ENDING_DURATION, end};
    /* What waits for a temperature has not happened; what comes after the last reading has nothing to tell. */
    if (scenario->wrap.when.kind != SW_ENDING_DURATION || scenario->wrap.when.value >= end)
        scenario->wrap.kind = SW_WRAP_NONE;
    if (scenario->rewrap.when.kind != SW_ENDING_DURATION || scenario->wrap.when.value + scenario->rewrap.when.value >= end)
        scenario->rewrap.when.kind = SW_ENDING_NONE;
    scenario->rest.until.kind = scenario->hold.until.kind = scenario->cooling.until.kind = SW_ENDING_NONE;
}

static sw_status take_point(sw_context *context, size_t number, const sw_run *run, void *data)
{
    points *p = data;
    if (run->status != SW_OK)
        return sw_fail(context, SW_ERR_SOLVER, "a cook like this one cannot be computed: %s", run->failure);
    sw_curve_at_knots(p->estimate, run->history, p->curves + number * p->estimate->knots->count);
    return SW_OK;
}

static bool is_cancelled(void *data)
{
    const sw_track_question *q = ((points *)data)->estimate->question;
    return q->is_cancelled && q->is_cancelled(q->data);
}

static sw_status cook_points(sw_context *context, sw_estimate *e, const double *normal, size_t count, double *curves)
{
    points p = {.estimate = e, .normal = normal, .curves = curves};
    const sw_side_by_side work = {.count = count,
                                  .threads = e->question->threads < count ? e->question->threads : count,
                                  .scenario = point_scenario,
                                  .take = take_point,
                                  .is_cancelled = is_cancelled,
                                  .data = &p};
    return sw_cook_side_by_side(context, &work);
}

/* The curve and its slopes at a point. */
static sw_status linearise(sw_context *context, sw_estimate *e, const double *normal, double *curve,
                           double slope[SW_POPULATION_INPUTS_MAX][SW_KNOTS_MAX])
{
    const size_t n = e->knots->count, count = e->population->count;
    double *curves = malloc((count + 1) * n * sizeof *curves);
    if (!curves)
        return sw_fail(context, SW_ERR_MEMORY, "memory for %zu curves could not be allocated", count + 1);
    const sw_status status = cook_points(context, e, normal, count + 1, curves);
    for (size_t i = 0; status == SW_OK && i < n; i++) {
        curve[i] = curves[i];
        for (size_t k = 0; k < count; k++)
            slope[k][i] = (curves[(k + 1) * n + i] - curves[i]) / step;
    }
    free(curves);
    return status;
}

/* Residuals: readings less curve, made independent with deviation one; then the coordinates, whose prior is that. */
static sw_status evaluate(const double *normal, double *residuals, void *data)
{
    const fit *f = data;
    sw_estimate *e = f->estimate;
    const size_t n = e->knots->count;
    const sw_status status = cook_points(f->context, e, normal, 1, residuals);
    if (status != SW_OK)
        return status;
    for (size_t i = 0; i < n; i++)
        residuals[i] = e->knots->list[i].temperature - residuals[i];
    sw_forward_solve(n, e->root, residuals);
    memcpy(residuals + n, normal, e->population->count * sizeof *normal);
    return SW_OK;
}

static sw_status differentiate(const double *normal, double *jacobian, void *data)
{
    const fit *f = data;
    sw_estimate *e = f->estimate;
    const size_t n = e->knots->count, count = e->population->count;
    sw_mode *room = malloc(sizeof *room);
    if (!room)
        return sw_fail(f->context, SW_ERR_MEMORY, "memory for slopes could not be allocated");
    const sw_status status = linearise(f->context, e, normal, room->curve, room->slope);
    for (size_t k = 0; status == SW_OK && k < count; k++) {
        double *column = jacobian + k * (n + count);
        for (size_t i = 0; i < n; i++)
            column[i] = -room->slope[k][i];
        sw_forward_solve(n, e->root, column);
        for (size_t i = 0; i < count; i++)
            column[n + i] = i == k ? 1.0 : 0.0;
    }
    free(room);
    return status;
}

/* Readings less curve, made independent. */
static double half_squares(const sw_estimate *e, const double *curve)
{
    double residuals[SW_KNOTS_MAX], sum = 0.0;
    for (size_t i = 0; i < e->knots->count; i++)
        residuals[i] = e->knots->list[i].temperature - curve[i];
    sw_forward_solve(e->knots->count, e->root, residuals);
    for (size_t i = 0; i < e->knots->count; i++)
        sum += residuals[i] * residuals[i];
    return 0.5 * sum;
}

double sw_log_posterior(const sw_estimate *e, const double *normal, const double *curve)
{
    double sum = 0.0;
    for (size_t i = 0; i < e->population->count; i++)
        sum += normal[i] * normal[i];
    return -0.5 * sum - half_squares(e, curve);
}

/* Cost and Hessian, that of Gauss and Newton, of a mode whose coordinates are known. */
static sw_status describe(sw_context *context, sw_estimate *e, sw_mode *m)
{
    const size_t n = e->knots->count, count = e->population->count;
    const sw_status status = linearise(context, e, m->normal, m->curve, m->slope);
    if (status != SW_OK)
        return status;
    double white[SW_POPULATION_INPUTS_MAX][SW_KNOTS_MAX];
    for (size_t k = 0; k < count; k++) {
        memcpy(white[k], m->slope[k], sizeof white[k]);
        sw_forward_solve(n, e->root, white[k]);
        for (size_t j = 0; j <= k; j++) {
            double sum = j == k ? 1.0 : 0.0;
            for (size_t i = 0; i < n; i++)
                sum += white[k][i] * white[j][i];
            m->root[k * count + j] = sum;
        }
    }
    m->cost = -sw_log_posterior(e, m->normal, m->curve);
    return sw_cholesky(count, m->root) ? SW_OK : sw_fail(context, SW_ERR_SOLVER, "the readings do not narrow a cook to a normal distribution");
}

/* Noise factors from what the last fit leaves over: the part of it that is not drift or bias. */
static sw_status reweigh(sw_context *context, sw_estimate *e, const double *curve)
{
    const size_t n = e->knots->count;
    double left[SW_KNOTS_MAX];
    for (size_t i = 0; i < n; i++)
        left[i] = e->knots->list[i].temperature - curve[i];
    sw_forward_solve(n, e->root, left);
    sw_backward_solve(n, e->root, left);
    for (size_t i = 0; i < n; i++)
        e->noise_factors[i] = sw_noise_factor(e->knots->list[i].noise * e->noise_factors[i] * left[i]);
    return sw_knot_root(context, e->knots, e->noise_factors, e->root);
}

static sw_status search_from(sw_context *context, sw_estimate *e, sw_mode *m)
{
    fit f = {context, e};
    const sw_least_squares problem = {.parameters = e->population->count,
                                      .residuals = e->knots->count + e->population->count,
                                      .evaluate = evaluate,
                                      .differentiate = differentiate,
                                      .data = &f};
    return sw_least_squares_find(context, &problem, m->normal);
}

static bool are_same(const sw_estimate *e)
{
    for (size_t k = 0; k < e->population->count; k++)
        if (fabs(e->modes[0].normal[k] - e->modes[1].normal[k]) > same_mode)
            return false;
    return true;
}

void sw_weigh_modes(sw_estimate *e)
{
    sw_mode *m = e->modes;
    m[0].share = 1.0;
    e->mode_count = 1;
    if (are_same(e))
        return;
    const size_t count = e->population->count;
    const double ratio = exp(fmin(m[0].cost - m[1].cost + sw_log_root(count, m[0].root) - sw_log_root(count, m[1].root), 50.0));
    m[1].share = ratio / (1.0 + ratio);
    m[0].share = 1.0 - m[1].share;
    if (m[1].share > m[0].share) {
        const sw_mode kept = m[0];
        m[0] = m[1];
        m[1] = kept;
    }
    if (m[1].share > 0.02)
        e->mode_count = 2;
    else
        m[0].share = 1.0;
}

/* The search that knows least begins at the population's middle; the second where the probe is in a thick part. */
static sw_status search_twice(sw_context *context, sw_estimate *e)
{
    sw_mode *m = e->modes;
    sw_status status = SW_OK;
    for (int round = 0; round < ROUNDS && status == SW_OK; round++) {
        status = search_from(context, e, &m[0]);
        if (status == SW_OK)
            status = cook_points(context, e, m[0].normal, 1, m[0].curve);
        if (status == SW_OK)
            status = reweigh(context, e, m[0].curve);
    }
    for (size_t k = 0; k < e->population->count; k++)
        m[1].normal[k] = strcmp(e->population->inputs[k].key->name, "meat.thickness") == 0 ? thick_start : 0.0;
    if (status == SW_OK)
        status = search_from(context, e, &m[1]);
    for (size_t i = 0; i < SW_MODES_MAX && status == SW_OK; i++)
        status = describe(context, e, &m[i]);
    if (status == SW_OK)
        sw_weigh_modes(e);
    return status;
}

sw_status sw_estimate_find(sw_context *context, sw_estimate *e)
{
    const size_t n = e->knots->count, count = e->population->count;
    memset(e->modes, 0, sizeof e->modes);
    for (size_t i = 0; i < n; i++)
        e->noise_factors[i] = 1.0;
    if (n == 0 || count == 0) {
        for (size_t k = 0; k < count; k++)
            e->modes[0].root[k * count + k] = 1.0;
        e->modes[0].share = 1.0;
        e->mode_count = 1;
        return n == 0 ? SW_OK : sw_fail(context, SW_ERR_ARGUMENT, "nothing about this cook is unknown, so readings change "
                                                                  "nothing");
    }
    const sw_status status = sw_knot_root(context, e->knots, e->noise_factors, e->root);
    return status == SW_OK ? search_twice(context, e) : status;
}
