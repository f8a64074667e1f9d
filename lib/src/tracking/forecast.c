/* SPDX-License-Identifier: BSD-3-Clause */
#include "forecast.h"

#include "dense.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Draws spread a little wider than the normal distribution about a mode, so that their weights have no long tail; a choice. */
static const double wider = 1.15;

/* So far under the boiling point, or the pit, a shifted target may lie: nearer a cook creeps. */
static const double least_below_air = 3.0; /* [K] */

/* A draw whose probe reads low creeps to its pull; it is followed for so long from now, and never gets there if it takes longer; a choice. */
static const double longest_creep = 24.0 * 3600.0; /* [s] */

typedef struct making {
    sw_forecast *f;
    sw_population population; /* of the way to go on */
    size_t *creeping;         /* draws that were followed without a pull, to be cooked once more up to it */
    size_t creeping_count;
} making;

static const sw_track_question *question_of(const sw_forecast *f)
{
    return f->estimate->question;
}

/* Normal coordinates of a draw: those of the population's draws, narrowed to a mode by its root. The modes take turns by their
 * shares. */
static void draw_normal(const sw_forecast *f, size_t number, double *normal)
{
    const sw_estimate *e = f->estimate;
    const size_t count = e->population->count;
    const double turn = ((double)number + 0.5) / (double)f->draws;
    const sw_mode *m = &e->modes[e->mode_count == 2 && turn > e->modes[0].share ? 1 : 0];
    sw_population_draw(e->population, question_of(f)->seed, number, normal);
    if (e->knots->count == 0)
        return;
    sw_backward_solve(count, m->root, normal);
    for (size_t k = 0; k < count; k++)
        normal[k] = m->normal[k] + wider * normal[k];
}

/* Logarithm of the density that draws come from, up to a constant. */
static double log_density(const sw_estimate *e, const double *normal)
{
    const size_t count = e->population->count;
    double logs[SW_MODES_MAX], most = -INFINITY, sum = 0.0;
    for (size_t i = 0; i < e->mode_count; i++) {
        const sw_mode *m = &e->modes[i];
        double square = 0.0;
        for (size_t j = 0; j < count; j++) {
            double y = 0.0; /* of root' (normal - mode) */
            for (size_t k = j; k < count; k++)
                y += m->root[k * count + j] * (normal[k] - m->normal[k]);
            square += y * y;
        }
        logs[i] = log(m->share) + sw_log_root(count, m->root) - 0.5 * square / (wider * wider);
        most = fmax(most, logs[i]);
    }
    for (size_t i = 0; i < e->mode_count; i++)
        sum += exp(logs[i] - most);
    return most + log(sum);
}

/* What the mode nearest to a point has at the knots, straight from there. */
static void straight_curve(const sw_estimate *e, const double *normal, double *curve)
{
    const size_t count = e->population->count;
    double distance[SW_MODES_MAX] = {0.0};
    for (size_t i = 0; i < e->mode_count; i++)
        for (size_t k = 0; k < count; k++)
            distance[i] += pow(normal[k] - e->modes[i].normal[k], 2.0);
    const sw_mode *m = &e->modes[e->mode_count == 2 && distance[1] < distance[0] ? 1 : 0];
    for (size_t i = 0; i < e->knots->count; i++) {
        curve[i] = m->curve[i];
        for (size_t k = 0; k < count; k++)
            curve[i] += m->slope[k][i] * (normal[k] - m->normal[k]);
    }
}

/* Offsets at the knots and ahead of one draw, not knowing the readings. order: knots by time. */
static void prior_path(const sw_forecast *f, const size_t *order, size_t number, double *at_knots, double *ahead)
{
    const sw_estimate *e = f->estimate;
    const size_t n = e->knots->count, all = n + SW_TRACK_MOMENTS;
    enum { ALL_MAX = SW_KNOTS_MAX + SW_TRACK_MOMENTS };
    double time[ALL_MAX], temperature[ALL_MAX], numbers[ALL_MAX + 1], path[ALL_MAX];
    for (size_t i = 0; i < n; i++) {
        time[i] = e->knots->list[order[i]].time;
        temperature[i] = e->knots->list[order[i]].temperature;
    }
    memcpy(time + n, f->ahead->moments, sizeof f->ahead->moments);
    memcpy(temperature + n, f->ahead->temperatures, sizeof f->ahead->temperatures);
    for (size_t i = 0; i <= all; i++)
        numbers[i] = sw_random_normal(question_of(f)->seed, number, i);
    sw_offset_path(all, time, temperature, numbers, path);
    memcpy(ahead, path + n, SW_TRACK_MOMENTS * sizeof *ahead);
    for (size_t i = 0; i < n; i++)
        at_knots[order[i]] = path[i];
    /* The other probe has a bias of its own. */
    numbers[0] = sw_random_normal(question_of(f)->seed, number, all + 1);
    sw_offset_path(all, time, temperature, numbers, path);
    for (size_t i = 0; i < n; i++)
        if (e->knots->list[order[i]].probe != f->deciding)
            at_knots[order[i]] = path[i];
}

static void order_by_time(const sw_knots *knots, size_t *order)
{
    for (size_t i = 0; i < knots->count; i++) {
        size_t at = i;
        for (; at > 0 && knots->list[order[at - 1]].time > knots->list[i].time; at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
}

/* A path that agrees with the readings: a path of the prior, moved by what its readings, noise included, lack of the measured
 * ones (Matheron's rule). */
static void condition_path(const sw_forecast *f, const size_t *order, size_t number, const double *normal, double *ahead)
{
    const sw_estimate *e = f->estimate;
    const size_t n = e->knots->count;
    double curve[SW_KNOTS_MAX], lack[SW_KNOTS_MAX];
    straight_curve(e, normal, curve);
    prior_path(f, order, number, lack, ahead);
    for (size_t i = 0; i < n; i++) {
        const sw_knot *k = &e->knots->list[i];
        const double noise = k->noise * sqrt(e->noise_factors[i]) *
                             sw_random_normal(question_of(f)->seed, number, 1000 + i);
        lack[i] = k->temperature - curve[i] - lack[i] - noise;
    }
    sw_forward_solve(n, e->root, lack);
    sw_backward_solve(n, e->root, lack);
    for (size_t j = 0; j < SW_TRACK_MOMENTS; j++) {
        const sw_knot then = {.time = f->ahead->moments[j], .temperature = f->ahead->temperatures[j], .probe = f->deciding};
        for (size_t i = 0; i < n; i++)
            ahead[j] += lack[i] * sw_offset_covariance(&sw_usual_errors, &then, &e->knots->list[i]);
    }
}

static double offset_at(const sw_forecast *f, size_t number, double time)
{
    const double *m = f->ahead->moments, *path = f->paths + number * SW_TRACK_MOMENTS;
    size_t i = 1;
    while (i + 1 < SW_TRACK_MOMENTS && m[i] < time)
        i++;
    const double share = m[i] > m[i - 1] ? fmin(fmax((time - m[i - 1]) / (m[i] - m[i - 1]), 0.0), 1.0) : 0.0;
    return path[i - 1] + share * (path[i] - path[i - 1]);
}

/* Waits for a temperature of the curve, or has come. start: of the phase that it ends [s]. */
static void set_ahead(double now, double level, double offset, double start, double least, sw_ending *when)
{
    const double target = when->value - offset;
    if (when->kind != SW_ENDING_PROBE_TEMPERATURE)
        return;
    if (level >= target - 0.5)
        *when = (sw_ending){SW_ENDING_DURATION, fmax(now - start, least)};
    else
        when->value = target;
}

void sw_wraps_ahead(double now, double level, double offset, sw_scenario *s)
{
    const bool is_wrapped = s->wrap.when.kind == SW_ENDING_DURATION && s->wrap.when.value <= now;
    if (s->wrap.kind == SW_WRAP_NONE)
        return;
    set_ahead(now, is_wrapped ? level : -INFINITY, offset, s->wrap.when.value, 0.0, &s->rewrap.when);
    set_ahead(now, level, offset, 0.0, 60.0, &s->wrap.when);
}

/* The curve of a draw at the last knot. */
static double level_of(const sw_forecast *f, size_t number)
{
    const sw_knots *knots = f->estimate->knots;
    double curve[SW_KNOTS_MAX];
    straight_curve(f->estimate, f->normal + number * f->estimate->population->count, curve);
    return curve[sw_latest_knot(knots)];
}

/* The hottest that a cook is followed to. */
static double hottest_pull(const sw_scenario *s)
{
    double hottest = 0.0, pressure, boiling;
    for (size_t i = 0; i < s->pit.step_count; i++)
        hottest = fmax(hottest, s->pit.steps[i].temperature);
    /* Cannot fail for an altitude that a scenario may have. */
    if (sw_pressure_at_altitude(s->pit.altitude, &pressure) == SW_OK && sw_saturation_temperature(pressure, &boiling) == SW_OK)
        hottest = fmin(hottest, boiling);
    return hottest - least_below_air;
}

/* The curve's temperature when the probe reads that of the pull. */
static double shifted_pull(const making *m, size_t number)
{
    const sw_forecast *f = m->f;
    return f->estimate->population->stated.pull.value - offset_at(f, number, f->ahead->done);
}

/* Whether the curve has to come nearer to boiling, or to the pit, than cooks do before long, and than the pull itself. */
static bool creeps(const making *m, size_t number, const sw_scenario *s)
{
    return m->f->estimate->knots->count > 0 && shifted_pull(m, number) > fmax(hottest_pull(s), m->f->estimate->population->stated.pull.value);
}

static void prepare_draw(const making *m, size_t number, sw_scenario *s)
{
    const sw_forecast *f = m->f;
    sw_population_scenario(&m->population, f->normal + number * m->population.count, s);
    sw_population_coarsen(s);
    s->rest.until.kind = s->hold.until.kind = s->cooling.until.kind = SW_ENDING_NONE;
    if (f->estimate->knots->count > 0) {
        const double now = question_of(f)->now;
        sw_wraps_ahead(now, level_of(f, number), offset_at(f, number, now), s);
    }
}

static void draw_scenario(size_t number, sw_scenario *s, void *data)
{
    const making *m = data;
    prepare_draw(m, number, s);
    if (creeps(m, number, s))
        s->pull = (sw_ending){SW_ENDING_DURATION, question_of(m->f)->now + longest_creep};
    else if (m->f->estimate->knots->count > 0)
        s->pull.value = shifted_pull(m, number);
}

/* One that crept, up to the moment at which its probe reads the pull temperature. */
static void crept_scenario(size_t number, sw_scenario *s, void *data)
{
    const making *m = data;
    prepare_draw(m, m->creeping[number], s);
    s->pull = (sw_ending){SW_ENDING_DURATION, fmax(m->f->done[m->creeping[number]], 60.0)};
}

/* When curve and offset together first reach the pull temperature, from now on, or so long past the end of the curve [s]. */
static double find_done(const sw_forecast *f, size_t number, const sw_history *h, double past_end)
{
    const sw_track_question *q = question_of(f);
    const double pull = f->estimate->population->stated.pull.value, *time = h->series[SW_SERIES_time];
    const double *curve = h->series[SW_SERIES_probe_temperature];
    const double end = time[h->row_count - 1], limit = end + past_end;
    double at = q->now, before = SW_ABSENT;
    if (f->estimate->knots->count == 0)
        return end;
    for (; at < limit; at += 60.0) {
        const double value = sw_curve_at(h->row_count, time, curve, at) + offset_at(f, number, at);
        if (value >= pull)
            return SW_IS_ABSENT(before) || value - before <= 0.0 ? at : at - 60.0 * (value - pull) / (value - before);
        before = value;
    }
    return INFINITY;
}

static void keep_rest(sw_forecast *f, size_t number, const sw_run *run)
{
    const sw_outcome *o = &run->outcome;
    const sw_history *h = run->history;
    const double pull = f->estimate->population->stated.pull.value, now = question_of(f)->now;
    const bool has_readings = f->estimate->knots->count > 0;
    f->stall_start[number] = o->stall_start;
    f->stall_end[number] = o->stall_end;
    f->wrap[number] = !SW_IS_ABSENT(o->wrap_time) && o->wrap_time >= now ? o->wrap_time : SW_ABSENT;
    f->offset[number] = has_readings ? offset_at(f, number, now) : 0.0;
    for (size_t j = 0; j < SW_TRACK_MOMENTS; j++) {
        const double at = f->ahead->moments[j];
        const double value = sw_curve_at(h->row_count, h->series[SW_SERIES_time], h->series[SW_SERIES_probe_temperature], at) +
                             (has_readings ? f->paths[number * SW_TRACK_MOMENTS + j] : 0.0);
        f->fan[number * SW_TRACK_MOMENTS + j] = at >= f->done[number] ? pull : fmin(value, pull);
    }
    f->level[number] = f->fan[number * SW_TRACK_MOMENTS];
}

static void keep_result(sw_forecast *f, size_t number, const sw_run *run)
{
    f->yield[number] = run->outcome.yield_at_pull;
    f->bark[number] = run->outcome.bark;
}

static sw_status take_draw(sw_context *context, size_t number, const sw_run *run, void *data)
{
    making *m = data;
    sw_forecast *f = m->f;
    const sw_estimate *e = f->estimate;
    const double *normal = f->normal + number * m->population.count;
    double curve[SW_KNOTS_MAX];
    (void)context;
    if (run->status == SW_OK) {
        sw_curve_at_knots(e, run->history, curve);
        const bool crept = creeps(m, number, &run->scenario);
        f->done[number] = find_done(f, number, run->history, crept ? 0.0 : 12.0 * 3600.0);
        if (!crept)
            keep_result(f, number, run);
        else if (isfinite(f->done[number]))
            m->creeping[m->creeping_count++] = number;
        if (f->keeps_all)
            keep_rest(f, number, run);
    } else if (run->status == SW_ERR_NEVER_ENDS) {
        straight_curve(e, normal, curve);
        f->done[number] = INFINITY;
    } else {
        f->failed++;
        return SW_OK;
    }
    f->weight[number] = e->knots->count == 0 ? 0.0 : sw_log_posterior(e, normal, curve) - log_density(e, normal);
    return SW_OK;
}

static sw_status take_crept(sw_context *context, size_t number, const sw_run *run, void *data)
{
    const making *m = data;
    (void)context;
    if (run->status == SW_OK)
        keep_result(m->f, m->creeping[number], run);
    else
        m->f->failed++;
    return SW_OK;
}

static sw_status allocate(sw_context *context, sw_forecast *f)
{
    const size_t count = f->estimate->population->count, columns = count + 9 + 2 * SW_TRACK_MOMENTS;
    double *next = f->room = malloc(f->draws * columns * sizeof *f->room);
    if (!f->room)
        return sw_fail(context, SW_ERR_MEMORY, "memory for %zu draws could not be allocated", f->draws);
    for (size_t i = 0; i < f->draws * columns; i++)
        next[i] = SW_ABSENT;
    double **const fields[] = {&f->weight, &f->done, &f->yield, &f->bark, &f->stall_start, &f->stall_end, &f->wrap, &f->offset,
                               &f->level};
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++, next += f->draws)
        *fields[i] = next;
    f->normal = next;
    f->fan = f->normal + f->draws * count;
    f->paths = f->fan + f->draws * SW_TRACK_MOMENTS;
    for (size_t i = 0; i < f->draws; i++)
        f->weight[i] = -INFINITY;
    return SW_OK;
}

static bool is_cancelled(void *data)
{
    const sw_track_question *q = question_of(((making *)data)->f);
    return q->is_cancelled && q->is_cancelled(q->data);
}

static sw_status cook_draws(sw_context *context, making *m, size_t count, void (*scenario)(size_t, sw_scenario *, void *),
                            sw_status (*take)(sw_context *, size_t, const sw_run *, void *))
{
    const size_t threads = question_of(m->f)->threads;
    const sw_side_by_side work = {.count = count,
                                  .threads = threads < count ? threads : count,
                                  .scenario = scenario,
                                  .take = take,
                                  .is_cancelled = is_cancelled,
                                  .data = m};
    return sw_cook_side_by_side(context, &work);
}

sw_status sw_forecast_make(sw_context *context, sw_forecast *f)
{
    const sw_estimate *e = f->estimate;
    const sw_track_question *q = question_of(f);
    making m = {.f = f, .population = *e->population};
    size_t order[SW_KNOTS_MAX];
    sw_scenario way;
    sw_status status = allocate(context, f);
    if (status != SW_OK)
        return status;
    sw_choice_scenario(f->kind, q, &way);
    sw_scenario_settle(&way);
    m.population.stated = way;
    order_by_time(e->knots, order);
    for (size_t i = 0; i < f->draws; i++) {
        draw_normal(f, i, f->normal + i * e->population->count);
        if (e->knots->count > 0)
            condition_path(f, order, i, f->normal + i * e->population->count, f->paths + i * SW_TRACK_MOMENTS);
    }
    m.creeping = malloc(f->draws * sizeof *m.creeping);
    if (!m.creeping)
        return sw_fail(context, SW_ERR_MEMORY, "memory for %zu draws could not be allocated", f->draws);
    status = cook_draws(context, &m, f->draws, draw_scenario, take_draw);
    if (status == SW_OK && m.creeping_count > 0)
        status = cook_draws(context, &m, m.creeping_count, crept_scenario, take_crept);
    free(m.creeping);
    if (status == SW_OK && !sw_weights_from_logarithms(f->weight, f->draws))
        status = sw_fail(context, SW_ERR_SOLVER, "none of %zu cooks that agree with the readings can be computed", f->draws);
    return status;
}

void sw_forecast_free(sw_forecast *f)
{
    free(f->room);
    f->room = NULL;
}
