/* SPDX-License-Identifier: BSD-3-Clause */
#include "forecast.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A pull that readings have reached: so many of the last ones, so that a spike is none. */
enum { READINGS_TO_BE_DONE = 2 };

/* Everything a question needs while it is answered; too large for a stack. */
typedef struct work {
    sw_knots knots;
    sw_estimate estimate;
    sw_course_ahead ahead;
    sw_run likeliest;
    double root[SW_KNOTS_MAX * SW_KNOTS_MAX];
} work;

static sw_status check(sw_context *context, const sw_track_question *q)
{
    sw_scenario settled = q->scenario;
    double last = 0.0;
    sw_scenario_settle(&settled);
    if (settled.pull.kind != SW_ENDING_PROBE_TEMPERATURE)
        return sw_fail(context, SW_ERR_ARGUMENT, "pull is not a temperature; a cook is tracked until its probe reads one");
    if (q->draws < 10 || q->draws > SW_TRACK_DRAWS_MAX || q->choice_draws > q->draws)
        return sw_fail(context, SW_ERR_ARGUMENT, "draws is %zu and choice_draws %zu; 10 to %d are allowed, and no more for a choice", q->draws,
                       q->choice_draws, SW_TRACK_DRAWS_MAX);
    for (size_t i = 0; i < q->readings.count; i++) {
        const sw_reading *r = &q->readings.list[i];
        if (!(r->time >= 0.0) || !isfinite(r->temperature) || r->probe >= SW_TRACK_PROBES_MAX)
            return sw_fail(context, SW_ERR_ARGUMENT, "reading %zu is at %g s, %g K, of probe %zu; times from 0 and %d probes are allowed", i,
                           r->time, r->temperature, r->probe, SW_TRACK_PROBES_MAX);
        last = fmax(last, r->time);
    }
    if (!(q->now >= last) || q->now > SW_LONGEST_PHASE)
        return sw_fail(context, SW_ERR_ARGUMENT, "now is %g s; from the last reading, %g s, to %g s are allowed", q->now, last, SW_LONGEST_PHASE);
    return SW_OK;
}

double sw_track_wrap_due(const sw_readings *readings, double now, const sw_scenario *s)
{
    double lower = -INFINITY, crossed = INFINITY;
    if (s->wrap.kind == SW_WRAP_NONE || s->wrap.when.kind != SW_ENDING_PROBE_TEMPERATURE)
        return SW_ABSENT;
    /* After the last reading below its temperature; one at or above it that came before was a spike. */
    for (size_t i = 0; i < readings->count; i++)
        if (readings->list[i].temperature < s->wrap.when.value)
            lower = fmax(lower, readings->list[i].time);
    for (size_t i = 0; i < readings->count; i++)
        if (readings->list[i].temperature >= s->wrap.when.value && readings->list[i].time > lower)
            crossed = fmin(crossed, readings->list[i].time);
    return isfinite(crossed) && crossed <= now ? crossed : SW_ABSENT;
}

/* Of a scenario with several probes the column belongs to the one of its name. */
static void match_probes(const sw_track_question *q, int *history_probe)
{
    for (size_t i = 0; i < SW_TRACK_PROBES_MAX; i++) {
        history_probe[i] = -1;
        for (size_t k = 0; k < q->scenario.meat.probe_count; k++)
            if (strcmp(q->scenario.meat.probes[k].name, q->readings.probe_names[i]) == 0)
                history_probe[i] = (int)k;
    }
}

static size_t coolest(const sw_knots *knots)
{
    const double *last = knots->last;
    return !SW_IS_ABSENT(last[1]) && (SW_IS_ABSENT(last[0]) || last[1] < last[0]) ? 1 : 0;
}

/* The likeliest cook to its pull: how long and through what it still goes. */
static sw_status go_ahead(sw_context *context, const sw_estimate *e, sw_course_ahead *ahead, sw_run *run)
{
    bool never_ends;
    char reason[SW_RUN_FAILURE_SIZE];
    const double now = e->question->now;
    *run = (sw_run){.label = "likeliest"};
    sw_population_scenario(e->population, e->modes[0].normal, &run->scenario);
    sw_population_coarsen(&run->scenario);
    run->scenario.solver.relative_tolerance = fmin(run->scenario.solver.relative_tolerance, 1e-4);
    if (e->knots->count > 0) {
        const size_t latest = sw_latest_knot(e->knots);
        const double level = e->modes[0].curve[latest];
        sw_wraps_ahead(now, level, e->knots->list[latest].temperature - level, &run->scenario);
    }
    run->scenario.rest.until.kind = run->scenario.hold.until.kind = run->scenario.cooling.until.kind = SW_ENDING_NONE;
    const sw_status status = sw_run_or_follow(context, run, NULL, &never_ends, reason);
    if (status != SW_OK)
        return status;
    const sw_history *h = run->history;
    ahead->done = fmax(h->series[SW_SERIES_time][h->row_count - 1], now + 900.0);
    const double end = now + 1.6 * (ahead->done - now) + 3600.0;
    for (size_t i = 0; i < SW_TRACK_MOMENTS; i++) {
        ahead->moments[i] = now + (end - now) * (double)i / (SW_TRACK_MOMENTS - 1);
        ahead->temperatures[i] = fmin(sw_curve_at(h->row_count, h->series[SW_SERIES_time], h->series[SW_SERIES_probe_temperature],
                                                  ahead->moments[i]), run->scenario.pull.value);
    }
    return SW_OK;
}

static void describe_choice(const sw_forecast *f, double serve, sw_track_choice *c)
{
    double effective = 0.0;
    *c = (sw_track_choice){.kind = f->kind, .draws = f->draws, .odds = SW_ABSENT, .odds_error = SW_ABSENT};
    c->done = sw_weighted_band(f->done, f->weight, f->draws, 1);
    c->yield = sw_weighted_band(f->yield, f->weight, f->draws, 1);
    c->bark = sw_weighted_band(f->bark, f->weight, f->draws, 1);
    for (size_t i = 0; i < f->draws; i++) {
        c->never += isinf(f->done[i]) ? f->weight[i] : 0.0;
        effective += f->weight[i] * f->weight[i];
    }
    if (SW_IS_ABSENT(serve))
        return;
    double share = 0.0;
    for (size_t i = 0; i < f->draws; i++)
        share += f->done[i] <= serve ? f->weight[i] : 0.0;
    /* Mean and deviation by Jeffreys' prior: that none of some tens of draws is late does not make it certain. */
    const double draws = 1.0 / effective;
    c->odds = (share * draws + 0.5) / (draws + 1.0);
    c->odds_error = sqrt(c->odds * (1.0 - c->odds) / (draws + 2.0));
}

static sw_status keep_draws(sw_context *context, const sw_forecast *f, sw_track *t)
{
    const size_t count = t->population.count;
    double effective = 0.0, *values = malloc(f->draws * sizeof *values);
    t->draws = calloc(f->draws, sizeof *t->draws);
    if (!t->draws || !values) {
        free(values);
        return sw_fail(context, SW_ERR_MEMORY, "memory for %zu draws could not be allocated", f->draws);
    }
    t->draw_count = f->draws;
    for (size_t i = 0; i < f->draws; i++) {
        memcpy(t->draws[i].normal, f->normal + i * count, count * sizeof *f->normal);
        t->draws[i].weight = f->weight[i];
        t->draws[i].done = f->done[i];
        effective += f->weight[i] * f->weight[i];
    }
    for (size_t k = 0; k < count; k++) {
        for (size_t i = 0; i < f->draws; i++)
            values[i] = sw_population_value(&t->population, k, t->draws[i].normal);
        t->values[k] = sw_weighted_band(values, f->weight, f->draws, 1);
    }
    free(values);
    t->effective = 1.0 / effective;
    t->failed = f->failed;
    return SW_OK;
}

static void describe_ahead(const sw_forecast *f, sw_track *t)
{
    t->stall_start = sw_weighted_band(f->stall_start, f->weight, f->draws, 1);
    t->stall_end = sw_weighted_band(f->stall_end, f->weight, f->draws, 1);
    t->wrap = sw_weighted_band(f->wrap, f->weight, f->draws, 1);
    t->offset = sw_weighted_band(f->offset, f->weight, f->draws, 1);
    t->reading = sw_weighted_band(f->level, f->weight, f->draws, 1).middle;
    for (size_t i = 0; i < f->draws; i++) {
        const double start = f->stall_start[i], end = f->stall_end[i];
        t->stalls += SW_IS_ABSENT(start) ? 0.0 : f->weight[i];
        t->stalls_now += !SW_IS_ABSENT(start) && start <= t->now && (SW_IS_ABSENT(end) || end > t->now) ? f->weight[i] : 0.0;
    }
    memcpy(t->moments, f->ahead->moments, sizeof t->moments);
    for (size_t j = 0; j < SW_TRACK_MOMENTS; j++)
        t->fan[j] = sw_weighted_band(f->fan + j, f->weight, f->draws, SW_TRACK_MOMENTS);
}

static sw_status keep_curve(sw_context *context, const sw_history *h, sw_track *t)
{
    t->curve_time = malloc(2 * h->row_count * sizeof *t->curve_time);
    if (!t->curve_time)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a curve could not be allocated");
    t->curve = t->curve_time + h->row_count;
    t->curve_count = h->row_count;
    memcpy(t->curve_time, h->series[SW_SERIES_time], h->row_count * sizeof *t->curve);
    memcpy(t->curve, h->series[SW_SERIES_probe_temperature], h->row_count * sizeof *t->curve);
    return SW_OK;
}

static sw_status forecast_all(sw_context *context, const sw_track_question *q, work *w, sw_track *t)
{
    sw_status status = SW_OK;
    for (int kind = 0; kind < SW_TRACK_CHOICE_COUNT && status == SW_OK; kind++) {
        sw_scenario way;
        sw_forecast f = {.estimate = &w->estimate,
                         .kind = (sw_track_choice_kind)kind,
                         .deciding = t->deciding,
                         .draws = kind == SW_TRACK_AS_PLANNED ? q->draws : q->choice_draws,
                         .ahead = &w->ahead,
                         .keeps_all = kind == SW_TRACK_AS_PLANNED};
        if (f.draws == 0 || !sw_choice_scenario(f.kind, q, &way))
            continue;
        status = sw_forecast_make(context, &f);
        if (status == SW_OK)
            describe_choice(&f, q->serve, &t->choices[t->choice_count++]);
        if (status == SW_OK && f.keeps_all) {
            describe_ahead(&f, t);
            status = keep_draws(context, &f, t);
        }
        sw_forecast_free(&f);
    }
    return status;
}

static bool is_done(const sw_track_question *q, const sw_knots *knots, size_t deciding, double pull)
{
    size_t last = SW_READINGS_MAX, above = 0;
    double at = -1.0, before = INFINITY;
    if (knots->count == 0)
        return false;
    for (int round = 0; round < READINGS_TO_BE_DONE; round++) {
        at = -1.0;
        for (size_t i = 0; i < q->readings.count; i++)
            if (q->readings.list[i].probe == deciding && q->readings.list[i].time < before && q->readings.list[i].time > at) {
                at = q->readings.list[i].time;
                last = i;
            }
        above += at >= 0.0 && q->readings.list[last].temperature >= pull ? 1 : 0;
        before = at;
    }
    return above == READINGS_TO_BE_DONE;
}

/* Of the likeliest cook: its root times itself. */
static void keep_precision(const sw_estimate *e, sw_track *t)
{
    const size_t n = t->population.count;
    const double *root = e->modes[0].root;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) {
            t->precision[i * n + j] = 0.0;
            for (size_t k = 0; k <= (i < j ? i : j); k++)
                t->precision[i * n + j] += root[i * n + k] * root[j * n + k];
        }
}

static sw_status answer(sw_context *context, const sw_track_question *q, work *w, sw_track *t)
{
    w->estimate = (sw_estimate){.question = q, .population = &t->population, .knots = &w->knots, .root = w->root};
    match_probes(q, w->estimate.history_probe);
    sw_status status = sw_population_given(context, &q->scenario, &t->population);
    if (status == SW_OK)
        status = sw_knots_make(context, &q->readings, &w->knots);
    if (status == SW_OK)
        status = sw_estimate_find(context, &w->estimate);
    if (status != SW_OK)
        return status;
    t->now = q->now;
    t->used = w->knots.count;
    t->modes = w->estimate.mode_count;
    t->deciding = coolest(&w->knots);
    t->is_done = is_done(q, &w->knots, t->deciding, t->population.stated.pull.value);
    memcpy(t->best, w->estimate.modes[0].normal, sizeof t->best);
    keep_precision(&w->estimate, t);
    status = go_ahead(context, &w->estimate, &w->ahead, &w->likeliest);
    if (status == SW_OK)
        status = keep_curve(context, w->likeliest.history, t);
    if (status == SW_OK)
        status = forecast_all(context, q, w, t);
    if (status == SW_OK)
        sw_find_doubts(&w->estimate, t);
    return status;
}

sw_status sw_track_find(sw_context *context, const sw_track_question *question, sw_track **track)
{
    sw_status status = check(context, question);
    if (status != SW_OK)
        return status;
    sw_track *t = calloc(1, sizeof *t);
    work *w = calloc(1, sizeof *w);
    if (!t || !w)
        status = sw_fail(context, SW_ERR_MEMORY, "memory for a cook under way could not be allocated");
    else
        status = answer(context, question, w, t);
    if (w)
        sw_run_free(&w->likeliest);
    free(w);
    if (status == SW_OK)
        *track = t;
    else
        sw_track_destroy(t);
    return status;
}

void sw_track_destroy(sw_track *track)
{
    if (!track)
        return;
    free(track->curve_time);
    free(track->draws);
    free(track);
}
