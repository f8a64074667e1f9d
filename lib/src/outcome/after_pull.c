#include "outcome_parts.h"

#include <stallwright/safety.h>

/* Time at which a series falls through a value between two rows. */
static double crossing(const sw_history *h, sw_series series, size_t row, double value)
{
    const double *time = h->series[SW_SERIES_time], *s = h->series[series];
    double fall = s[row - 1] - s[row];
    return fall > 0.0 ? time[row - 1] + (s[row - 1] - value) / fall * (time[row] - time[row - 1]) : time[row];
}

void sw_evaluate_rest(const sw_history *h, size_t pull, size_t slice, sw_outcome *o)
{
    const double *probe = h->series[SW_SERIES_probe_temperature], *coolest = h->series[SW_SERIES_lowest_temperature];
    const double slicing = h->scenario.serving.temperature, limit = sw_hot_holding_limit();
    size_t row = pull;
    while (row <= slice && probe[row] > slicing)
        row++;
    if (row <= slice)
        o->rest_to_slicing = row > pull ? crossing(h, SW_SERIES_probe_temperature, row, slicing) - o->done_time : 0.0;
    row = pull;
    while (row <= slice && coolest[row] >= limit)
        row++;
    if (row == pull)
        o->kept_hot = 0.0;
    else if (row <= slice || sw_history_is_ready(h))
        o->kept_hot = (row <= slice ? crossing(h, SW_SERIES_lowest_temperature, row, limit) : o->slice_time) - o->done_time;
}
