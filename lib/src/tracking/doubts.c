/* SPDX-License-Identifier: BSD-3-Clause */
#include "forecast.h"

#include <math.h>
#include <string.h>

/* Choices: what a cook would look into. */
static const double pit_off = 2.0;                      /* deviations of the population */
static const double probe_off = 6.0;                    /* [K] */
static const double readings_off = 0.25;                /* share of readings */
static const double reading_off = 3.0;                  /* variance of a reading's noise over the usual */
static const double stuck_time = 2.5 * 3600.0;          /* longer than whole degrees stand in a stall [s] */
static const double falling = 3.0, falling_time = 3600.0; /* [K], [s] */
enum { STUCK_READINGS = 10 };

/* How long the last value of a probe has stood, to the last digit, and in how many readings. */
static bool is_stuck(const sw_readings *r, size_t probe)
{
    double last = -1.0, value = 0.0, since = -1.0;
    size_t same = 0;
    for (size_t i = 0; i < r->count; i++)
        if (r->list[i].probe == probe && r->list[i].time >= last) {
            last = r->list[i].time;
            value = r->list[i].temperature;
        }
    for (size_t i = 0; i < r->count; i++)
        if (r->list[i].probe == probe && fabs(r->list[i].temperature - value) > 1e-9)
            since = fmax(since, r->list[i].time);
    for (size_t i = 0; i < r->count; i++)
        same += r->list[i].probe == probe && r->list[i].time > since ? 1 : 0;
    return same >= STUCK_READINGS && last - fmax(since, 0.0) > stuck_time;
}

/* Whether the deciding probe has fallen for an hour; wet meat cools a little in a stall. */
static bool is_falling(const sw_knots *knots, size_t probe)
{
    double last = -1.0, value = 0.0, highest = 0.0;
    for (size_t i = 0; i < knots->count; i++)
        if (knots->list[i].probe == probe && knots->list[i].time > last) {
            last = knots->list[i].time;
            value = knots->list[i].temperature;
        }
    for (size_t i = 0; i < knots->count; i++)
        if (knots->list[i].probe == probe && knots->list[i].time > last - 2.0 * falling_time && knots->list[i].time <= last - falling_time)
            highest = fmax(highest, knots->list[i].temperature);
    return highest > value + falling;
}

void sw_find_doubts(const sw_estimate *e, sw_track *t)
{
    const sw_readings *r = &e->question->readings;
    size_t off = 0;
    for (size_t i = 0; i < e->knots->count; i++)
        off += e->noise_factors[i] > reading_off ? 1 : 0;
    t->off_readings = e->knots->count > 0 ? (double)off / (double)e->knots->count : 0.0;
    for (size_t k = 0; k < t->population.count; k++)
        if (strcmp(t->population.inputs[k].key->name, "pit.temperature") == 0)
            t->is_doubted[SW_TRACK_PIT_COLDER] =
                t->values[k].middle < t->population.inputs[k].middle - pit_off * t->population.inputs[k].spread;
    t->is_doubted[SW_TRACK_PROBE_OFF] =
        (t->used > 0 && fabs(t->offset.middle) > probe_off) || (t->used > 3 && t->off_readings > readings_off);
    t->is_doubted[SW_TRACK_STUCK] = is_stuck(r, t->deciding);
    t->is_doubted[SW_TRACK_FALLING] = is_falling(e->knots, t->deciding);
}
