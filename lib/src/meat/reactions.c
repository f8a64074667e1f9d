/* SPDX-License-Identifier: BSD-3-Clause */
#include "reactions.h"

#include "vector_clones.h"

#include <stdlib.h>
#include <string.h>

/* The integrator's steps are often shorter than reactions need: these are taken on over so long at least, or to the end of a stretch
 * [s]. A choice: temperatures change by a kelvin or two in that time, and how they ran between is kept. */
static const double shortest_piece = 150.0;

/* parameters: how fast fat renders, over its law. */
static void tabulated_rates(const void *parameters, double temperature, double *value)
{
    for (int r = 0; r < SW_REACTION_LANES; r++)
        value[r] = r < SW_INNER_REACTION_COUNT ? sw_reaction_rate(sw_reaction_law_of((sw_reaction)r), temperature) : 0.0;
    value[SW_REACTION_RENDERING] *= *(const double *)parameters;
}

static void fill_lanes(sw_reaction_lanes *lanes)
{
    *lanes = (sw_reaction_lanes){{0.0}, {0.0}, {0.0}, {0.0}};
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++) {
        const sw_reaction_law *law = sw_reaction_law_of((sw_reaction)r);
        if (law->form == SW_RATE_ARRHENIUS)
            lanes->log_by_inverse[r] = 2.0 * sw_reaction_log_ratio(law, 1.0, 2.0);
        else
            lanes->log_by_temperature[r] = sw_reaction_log_ratio(law, 0.0, 1.0);
        lanes->lowest[r] = law->lowest_temperature;
        lanes->highest[r] = law->highest_temperature;
    }
}

static double place_temperature(const sw_body *body, size_t place, const double *state)
{
    size_t cells = body->mesh->cell_count;
    return place < cells ? state[2 * place] : sw_probe_reading(&body->probes[place - cells], state);
}

int sw_reactions_init(sw_context *context, sw_reactions *r, const sw_body *body, const double *state, double rendering)
{
    *r = (sw_reactions){.body = body, .place_count = body->mesh->cell_count + body->probe_count};
    fill_lanes(&r->laws);
    r->places = calloc(r->place_count, sizeof *r->places);
    r->seen = calloc(r->place_count, sizeof *r->seen);
    r->area = calloc(r->place_count, sizeof *r->area);
    if (!r->places || !r->seen || !r->area ||
        sw_table_init(context, &r->rates, sw_temperature_range, SW_REACTION_LANES, tabulated_rates, &rendering, &rendering, sizeof rendering) != 0) {
        sw_reactions_free(r);
        return -1;
    }
    for (size_t i = 0; i < r->place_count; i++) {
        sw_reacting_place *p = &r->places[i];
        p->temperature = p->mean = r->seen[i] = place_temperature(body, i, state);
        tabulated_rates(&rendering, p->temperature, p->rate);
        for (int k = 0; k < SW_REACTION_LANES; k++)
            p->remaining[k] = 1.0;
    }
    return 0;
}

void sw_reactions_free(sw_reactions *r)
{
    free(r->places);
    free(r->seen);
    free(r->area);
    sw_table_free(&r->rates);
    *r = (sw_reactions){0};
}

void sw_reactions_copy(sw_reactions *r, const sw_reactions *from)
{
    memcpy(r->places, from->places, r->place_count * sizeof *r->places);
    memcpy(r->seen, from->seen, r->place_count * sizeof *r->seen);
    memcpy(r->area, from->area, r->place_count * sizeof *r->area);
    r->last_time = from->last_time;
    r->seen_time = from->seen_time;
}

/* tanh(x)/x by its continued fraction: to 1e-9 up to x = 1, to 1e-3 up to 5, and never below 0. */
static inline double tanh_quotient(double x)
{
    const double y = x * x;
    return (10395.0 + y * (1260.0 + y * 21.0)) / (10395.0 + y * (4725.0 + y * (210.0 + y)));
}

/* exp(-x) of x >= 0 to 3e-8, as a power of a fraction: unlike the library's it becomes vector instructions. */
static inline double decay(double x)
{
    /* Beyond 60 it is 0 whichever way. */
    const double y = (x < 60.0 ? x : 60.0) * (1.0 / 32.0);
    const double even = 12.0 + y * y, odd = 6.0 * y, root = (even - odd) / (even + odd);
    const double p2 = root * root, p4 = p2 * p2, p8 = p4 * p4, p16 = p8 * p8;
    return p16 * p16;
}

/* How temperature ran from the last update to a later time. */
typedef struct piece {
    double duration, rise, inverse_square; /* inverse_square: 1 over the product of both temperatures */
    double bend; /* mean height above the chord [K] */
} piece;

static inline piece piece_of(double before, double mean, double temperature, double duration)
{
    return (piece){duration, temperature - before, 1.0 / (before * temperature), mean - 0.5 * (before + temperature)};
}

/* Integral of a parabola over time. */
static inline double area_of(double before, double halfway, double temperature, double duration)
{
    return duration * (1.0 / 6.0) * (before + 4.0 * halfway + temperature);
}

/* Share of what there was that a piece leaves of lane k. Along the chord as sw_reaction_exposure; the bend makes that exp(x) times as
 * much, to second order, x kept to where that holds. */
static inline double share_left(const sw_reaction_lanes *laws, int k, double rate_before, double rate, const piece *p)
{
    const double by_temperature = laws->log_by_inverse[k] * p->inverse_square + laws->log_by_temperature[k];
    const double along = by_temperature * p->bend, most = along < 1.0 ? along : 1.0, x = most > -1.0 ? most : -1.0;
    const double mean = 0.5 * (rate_before + rate) * tanh_quotient(0.5 * by_temperature * p->rise);
    return decay(p->duration * mean * (1.0 + x + 0.5 * x * x));
}

/* As sw_reaction_exposure and sw_reaction_share_outside, all reactions at once. */
static SW_INTO_CLONES void advance_place(const sw_reactions *r, sw_reacting_place *p, double mean, double temperature,
                                         double step)
{
    const sw_table_place place = sw_table_find(&r->rates, temperature, 0);
    const double before = p->temperature, rise = temperature - before;
    const piece way = piece_of(before, mean, temperature, step);
    const double low = rise < 0.0 ? temperature : before, high = rise < 0.0 ? before : temperature;
    const double per_rise = high > low ? 1.0 / (high - low) : 0.0;
#pragma GCC unroll 1
    for (int k = 0; k < SW_REACTION_LANES; k++) {
        const double rate = sw_table_value(&place, SW_REACTION_LANES, (size_t)k);
        const double remaining = p->remaining[k] * share_left(&r->laws, k, p->rate[k], rate, &way);
        const double from = low > r->laws.lowest[k] ? low : r->laws.lowest[k];
        const double to = high < r->laws.highest[k] ? high : r->laws.highest[k];
        const double within = to - from, still = per_rise > 0.0 ? 0.0 : 1.0;
        const double share_outside = within < 0.0 ? 1.0 : 1.0 - still - within * per_rise;
        p->outside[k] += (p->remaining[k] - remaining) * (share_outside > 0.0 ? share_outside : 0.0);
        p->remaining[k] = remaining;
        p->rate[k] = rate;
    }
    p->temperature = temperature;
    p->mean = mean;
}

static void follow_place(sw_reactions *r, size_t place, double halfway, double temperature, double step)
{
    r->area[place] += area_of(r->seen[place], halfway, temperature, step);
    r->seen[place] = temperature;
}

void sw_reactions_follow(sw_reactions *r, double time, const double *halfway, const double *state)
{
    const size_t cells = r->body->mesh->cell_count;
    const double step = time - r->seen_time;
    for (size_t i = 0; i < cells; i++)
        follow_place(r, i, halfway[2 * i], state[2 * i], step);
    for (size_t i = cells; i < r->place_count; i++)
        follow_place(r, i, place_temperature(r->body, i, halfway), place_temperature(r->body, i, state), step);
    r->seen_time = time;
}

bool sw_reactions_are_due(const sw_reactions *r)
{
    return r->seen_time - r->last_time >= shortest_piece;
}

SW_VECTOR_CLONES
static void advance_places(sw_reactions *r, double step)
{
    for (size_t i = 0; i < r->place_count; i++)
        advance_place(r, &r->places[i], r->area[i] / step, r->seen[i], step);
}

void sw_reactions_advance(sw_reactions *r)
{
    const double step = r->seen_time - r->last_time;
    if (!(step > 0.0))
        return;
    advance_places(r, step);
    for (size_t i = 0; i < r->place_count; i++)
        r->area[i] = 0.0;
    r->last_time = r->seen_time;
}

static SW_INTO_CLONES double mean_temperature(const sw_reactions *r, size_t place, double time, double halfway, double temperature)
{
    const double area = r->area[place] + area_of(r->seen[place], halfway, temperature, time - r->seen_time);
    return time > r->last_time ? area / (time - r->last_time) : temperature;
}

static SW_INTO_CLONES double remaining_at(const sw_reactions *r, size_t place, sw_reaction reaction, double time, double mean,
                                          double temperature)
{
    const sw_reacting_place *p = &r->places[place];
    const piece way = piece_of(p->temperature, mean, temperature, time - r->last_time);
    const sw_table_place at = sw_table_find(&r->rates, temperature, 0);
    const double rate = sw_table_value(&at, SW_REACTION_LANES, reaction);
    return p->remaining[reaction] * share_left(&r->laws, (int)reaction, p->rate[reaction], rate, &way);
}

double sw_reactions_remaining(const sw_reactions *r, size_t place, sw_reaction reaction, double time,
                              const double *halfway, const double *state)
{
    const double temperature = place_temperature(r->body, place, state);
    const double mean = mean_temperature(r, place, time, place_temperature(r->body, place, halfway), temperature);
    return remaining_at(r, place, reaction, time, mean, temperature);
}

SW_VECTOR_CLONES
static void evaluate_cells(const sw_reactions *r, sw_reaction reaction, double time, const double *halfway, const double *state,
                           double *remaining, double *mean)
{
    for (size_t i = 0; i < r->body->mesh->cell_count; i++) {
        mean[i] = mean_temperature(r, i, time, halfway[2 * i], state[2 * i]);
        remaining[i] = remaining_at(r, i, reaction, time, mean[i], state[2 * i]);
    }
}

void sw_reactions_of_cells(const sw_reactions *r, sw_reaction reaction, double time, const double *halfway, const double *state,
                           double *remaining, double *mean)
{
    evaluate_cells(r, reaction, time, halfway, state, remaining, mean);
}

size_t sw_reactions_place_of_probe(const sw_reactions *r, size_t probe)
{
    return r->body->mesh->cell_count + probe;
}

const sw_reacting_place *sw_reactions_at_probe(const sw_reactions *r, size_t probe)
{
    return &r->places[sw_reactions_place_of_probe(r, probe)];
}

bool sw_reaction_belongs(sw_reaction reaction, int region)
{
    return region == SW_REGION_LEAN || reaction == SW_REACTION_RENDERING;
}

double sw_reactions_outside(const sw_reactions *r, sw_reaction reaction)
{
    const sw_mesh *mesh = r->body->mesh;
    double reacted = 0.0, outside = 0.0;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        if (!sw_reaction_belongs(reaction, mesh->region[i]))
            continue;
        reacted += mesh->volume[i] * (1.0 - r->places[i].remaining[reaction]);
        outside += mesh->volume[i] * r->places[i].outside[reaction];
    }
    return reacted > 0.0 ? outside / reacted : 0.0;
}
