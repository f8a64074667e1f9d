/* SPDX-License-Identifier: BSD-3-Clause */
#include "course.h"

#include <math.h>

sw_course sw_course_of(const sw_history *h, double until)
{
    const double *time = h->series[SW_SERIES_time];
    size_t count = h->row_count;
    while (count > 1 && time[count - 1] > until)
        count--;
    return (sw_course){count, time, h->series[SW_SERIES_probe_temperature], h->series[SW_SERIES_probe_heating_rate]};
}

sw_course sw_course_of_probe(const sw_history *h, size_t probe, double until)
{
    sw_course c = sw_course_of(h, until);
    if (h->probe_count > 1) {
        c.value = h->probe_series[probe];
        c.slope = NULL;
    }
    return c;
}

/* Slope at a row: as recorded, or that of the parabola through it and its neighbours. */
static double slope_at(const sw_course *c, size_t row)
{
    if (c->slope)
        return c->slope[row];
    size_t middle = row == 0 ? 1 : row;
    if (middle + 1 >= c->count)
        middle = c->count - 2;
    if (middle == 0)
        return (c->value[1] - c->value[0]) / (c->time[1] - c->time[0]);
    const double *t = c->time + middle, *v = c->value + middle;
    const double before = (v[0] - v[-1]) / (t[0] - t[-1]), after = (v[1] - v[0]) / (t[1] - t[0]);
    const double bend = (after - before) / (t[1] - t[-1]);
    return before + bend * (2.0 * c->time[row] - t[0] - t[-1]);
}

/* The row before a time within the course, the last but one at most. Rows are about as far apart from each other, so that it is near
 * where the time's share of the whole says. */
static size_t row_before(const sw_course *c, double time)
{
    const size_t last = c->count - 2;
    const double share = (time - c->time[0]) / (c->time[c->count - 1] - c->time[0]);
    size_t i = (size_t)(fmin(fmax(share, 0.0), 1.0) * (double)last);
    while (i > 0 && c->time[i] > time)
        i--;
    while (i < last && c->time[i + 1] <= time)
        i++;
    return i;
}

double sw_course_at(const sw_course *c, double time)
{
    if (c->count < 2 || time <= c->time[0])
        return c->value[0];
    if (time >= c->time[c->count - 1])
        return c->value[c->count - 1];
    const size_t i = row_before(c, time), k = i + 1;
    const double length = c->time[k] - c->time[i], s = (time - c->time[i]) / length, s2 = s * s, s3 = s2 * s;
    return c->value[i] * (1.0 - 3.0 * s2 + 2.0 * s3) + c->value[k] * (3.0 * s2 - 2.0 * s3) +
           length * (slope_at(c, i) * (s3 - 2.0 * s2 + s) + slope_at(c, k) * (s3 - s2));
}

double sw_course_rate(const sw_course *c, double time)
{
    const size_t i = row_before(c, time), k = i + 1;
    const double length = c->time[k] - c->time[i], s = (time - c->time[i]) / length;
    return 6.0 * s * (1.0 - s) * (c->value[k] - c->value[i]) / length + (1.0 - s) * (1.0 - 3.0 * s) * slope_at(c, i) +
           s * (3.0 * s - 2.0) * slope_at(c, k);
}

/* Time between a row below a level and the next, that is not, at which it is reached. */
static double rise(const sw_course *c, size_t row, double level)
{
    double low = c->time[row], high = c->time[row + 1], middle = 0.5 * (low + high);
    while (middle > low && middle < high) {
        if (sw_course_at(c, middle) < level)
            low = middle;
        else
            high = middle;
        middle = 0.5 * (low + high);
    }
    return middle;
}

double sw_course_reach(const sw_course *c, double level)
{
    for (size_t i = 0; i < c->count; i++)
        if (c->value[i] >= level)
            return i == 0 ? c->time[0] : rise(c, i - 1, level);
    return INFINITY;
}

/* Highest point of the cubic from a row to the next. */
static double highest_after(const sw_course *c, size_t row)
{
    const double length = c->time[row + 1] - c->time[row], rise = c->value[row + 1] - c->value[row];
    const double first = length * slope_at(c, row), last = length * slope_at(c, row + 1);
    const double highest = fmax(c->value[row], c->value[row + 1]);
    /* Its slope, by shares s of the length, is p s^2 + q s + first; at a top that falls through 0. */
    const double p = 3.0 * (first + last - 2.0 * rise), q = 6.0 * rise - 2.0 * (2.0 * first + last);
    const double root = q * q - 4.0 * p * first;
    if (!(root >= 0.0))
        return highest;
    const double s = q < 0.0 ? 2.0 * first / (sqrt(root) - q) : p != 0.0 ? -(q + sqrt(root)) / (2.0 * p) : -1.0;
    return s > 0.0 && s < 1.0 ? fmax(highest, sw_course_at(c, c->time[row] + s * length)) : highest;
}

double sw_course_highest(const sw_course *c)
{
    double highest = c->value[0];
    for (size_t i = 0; i + 1 < c->count; i++)
        highest = fmax(highest, highest_after(c, i));
    return highest;
}

size_t sw_course_milestones(const sw_course *c, sw_unit_system units, sw_milestone *milestones)
{
    const bool us = units == SW_UNITS_US;
    const double step = us ? 10.0 / 1.8 : 10.0, zero = us ? 273.15 - 32.0 / 1.8 : 273.15;
    size_t count = 0;
    double number = floor((c->value[0] - zero) / step) + 1.0;
    for (size_t i = 0; i + 1 < c->count; i++)
        for (double next; count < SW_MILESTONES_MAX && c->value[i + 1] >= (next = number * step + zero); number += 1.0)
            milestones[count++] = (sw_milestone){next, rise(c, i, next)};
    return count;
}
