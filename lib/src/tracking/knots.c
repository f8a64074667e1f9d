/* SPDX-License-Identifier: BSD-3-Clause */
#include "knots.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A single reading: one in ten is off by 8 K or more, in fat, moved, near an edge (measured cooks), which a Student distribution of 4
 * degrees of freedom has at a scale of 8 K / 2.13. The median of three or more of a logger has fewer of those: a guess, 1 to 3 K. */
static const double single_noise = 3.75, logged_noise = 1.5; /* [K] */
enum { ENOUGH_FOR_MEDIAN = 3, KNOTS_A_PROBE = SW_KNOTS_MAX / SW_TRACK_PROBES_MAX };
static const double knot_width = 900.0; /* readings nearer than this tell the same; a choice [s] */

static int by_probe_and_time(const void *a, const void *b)
{
    const sw_reading *one = a, *other = b;
    if (one->probe != other->probe)
        return one->probe < other->probe ? -1 : 1;
    return (one->time > other->time) - (one->time < other->time);
}

static int by_value(const void *a, const void *b)
{
    const double one = *(const double *)a, other = *(const double *)b;
    return (one > other) - (one < other);
}

static double median(double *values, size_t count)
{
    qsort(values, count, sizeof *values, by_value);
    return 0.5 * (values[(count - 1) / 2] + values[count / 2]);
}

static void add_knot(sw_knots *knots, const sw_reading *from, size_t count, double *room)
{
    sw_knot *k = &knots->list[knots->count++];
    for (size_t i = 0; i < count; i++)
        room[i] = from[i].time;
    k->time = median(room, count);
    for (size_t i = 0; i < count; i++)
        room[i] = from[i].temperature;
    k->temperature = median(room, count);
    k->noise = count >= ENOUGH_FOR_MEDIAN ? logged_noise : single_noise;
    k->probe = from->probe;
    knots->last[k->probe] = k->temperature;
}

/* The readings of one probe, by time. */
static void add_probe(sw_knots *knots, const sw_reading *list, size_t count, double *room)
{
    const double width = fmax(knot_width, (list[count - 1].time - list[0].time) / (KNOTS_A_PROBE - 2));
    for (size_t i = 0; i < count;) {
        size_t next = i + 1;
        while (next < count && list[next].time < list[i].time + width)
            next++;
        add_knot(knots, list + i, next - i, room);
        i = next;
    }
}

sw_status sw_knots_make(sw_context *context, const sw_readings *readings, sw_knots *knots)
{
    *knots = (sw_knots){.last = {SW_ABSENT, SW_ABSENT}};
    if (readings->count == 0)
        return SW_OK;
    sw_reading *sorted = malloc(readings->count * sizeof *sorted);
    double *room = malloc(readings->count * sizeof *room);
    if (sorted && room) {
        memcpy(sorted, readings->list, readings->count * sizeof *sorted);
        qsort(sorted, readings->count, sizeof *sorted, by_probe_and_time);
        for (size_t i = 0; i < readings->count;) {
            size_t next = i + 1;
            while (next < readings->count && sorted[next].probe == sorted[i].probe)
                next++;
            add_probe(knots, sorted + i, next - i, room);
            i = next;
        }
    }
    const bool good = sorted && room;
    free(sorted);
    free(room);
    return good ? SW_OK : sw_fail(context, SW_ERR_MEMORY, "memory for %zu readings could not be allocated", readings->count);
}

size_t sw_latest_knot(const sw_knots *knots)
{
    size_t latest = 0;
    for (size_t i = 1; i < knots->count; i++)
        if (knots->list[i].time > knots->list[latest].time)
            latest = i;
    return latest;
}
