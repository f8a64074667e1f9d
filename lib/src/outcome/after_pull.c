/* SPDX-License-Identifier: BSD-3-Clause */
#include "course.h"
#include "outcome_parts.h"

#include <stallwright/safety.h>

/* Time at which the coolest place falls through a value between two rows, along the straight line. */
static double coolest_crossing(const sw_history *h, size_t row, double value)
{
    const double *time = h->series[SW_SERIES_time], *s = h->series[SW_SERIES_lowest_temperature];
    double fall = s[row - 1] - s[row];
    return fall > 0.0 ? time[row - 1] + (s[row - 1] - value) / fall * (time[row] - time[row - 1]) : time[row];
}

/* Time at which the probe falls through a value between two rows: its mirror image rises. */
static double probe_crossing(const sw_history *h, size_t row, double value)
{
    const double *probe = h->series[SW_SERIES_probe_temperature] + row - 1;
    const double *rate = h->series[SW_SERIES_probe_heating_rate] + row - 1;
    const double mirrored[] = {-probe[0], -probe[1]}, slope[] = {-rate[0], -rate[1]};
    const sw_course piece = {2, h->series[SW_SERIES_time] + row - 1, mirrored, slope};
    return sw_course_reach(&piece, -value);
}

void sw_evaluate_rest(const sw_history *h, size_t pull, size_t slice, sw_outcome *o)
{
    const double *probe = h->series[SW_SERIES_probe_temperature], *coolest = h->series[SW_SERIES_lowest_temperature];
    const double slicing = h->scenario.serving.temperature, limit = sw_hot_holding_limit();
    size_t row = pull;
    while (row <= slice && probe[row] > slicing)
        row++;
    if (row <= slice)
        o->rest_to_slicing = row > pull ? probe_crossing(h, row, slicing) - o->done_time : 0.0;
    row = pull;
    while (row <= slice && coolest[row] >= limit)
        row++;
    if (row == pull)
        o->kept_hot = 0.0;
    else if (row <= slice || sw_history_is_ready(h))
        o->kept_hot = (row <= slice ? coolest_crossing(h, row, limit) : o->slice_time) - o->done_time;
}
