/* SPDX-License-Identifier: BSD-3-Clause */
#include "time_in_band.h"

#include <math.h>

/* A course of temperatures in time: every stride-th value. */
typedef struct course {
    const double *time, *value;
    size_t count, stride;
} course;

/* Share of a straight line from a to b that lies inside the band. */
static double share_inside(sw_safety_band band, double a, double b)
{
    double low = fmin(a, b), high = fmax(a, b);
    if (high <= band.low || low >= band.high)
        return 0.0;
    return low == high ? 1.0 : (fmin(high, band.high) - fmax(low, band.low)) / (high - low);
}

static double time_inside(const course *c, sw_safety_band band, double from, double until)
{
    double sum = 0.0;
    for (size_t i = 0; i + 1 < c->count; i++)
        if (c->time[i + 1] > from && c->time[i] < until) /* a stretch over either end counts whole: never too short */
            sum += (c->time[i + 1] - c->time[i]) *
                   share_inside(band, c->value[i * c->stride], c->value[(i + 1) * c->stride]);
    return sum;
}

double sw_longest_in_band(const sw_history *history, sw_safety_band band, double from, double until)
{
    double longest = 0.0;
    for (size_t cell = 0; cell < history->cell_count; cell++) {
        course c = {history->field_time, history->field_temperature + cell, history->field_count, history->cell_count};
        longest = fmax(longest, time_inside(&c, band, from, until));
    }
    return longest;
}

double sw_lowest_in_band(const sw_history *history, sw_safety_band band, double from, double until)
{
    course c = {history->series[SW_SERIES_time], history->series[SW_SERIES_lowest_temperature], history->row_count, 1};
    return time_inside(&c, band, from, until);
}
