/* SPDX-License-Identifier: BSD-3-Clause */
#include "history_row.h"

size_t sw_row_at(const sw_history *h, double time)
{
    size_t row = 0;
    while (row + 1 < h->row_count && h->series[SW_SERIES_time][row + 1] <= time + 1e-6)
        row++;
    return row;
}

double sw_probe_at(const sw_history *h, double time)
{
    const double *t = h->series[SW_SERIES_time], *v = h->series[SW_SERIES_probe_temperature];
    const size_t row = sw_row_at(h, time);
    if (row + 1 == h->row_count || time <= t[row])
        return v[row];
    return v[row] + (time - t[row]) / (t[row + 1] - t[row]) * (v[row + 1] - v[row]);
}
