/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/heat_budget.h>

#include "history_row.h"

#include <math.h>

#define HEAT_NAME(name, long_name) #name,
#define HEAT_LONG_NAME(name, long_name) long_name,

const char *sw_heat_name(sw_heat_item item)
{
    static const char *const names[SW_HEAT_ITEM_COUNT] = {SW_HEAT_LIST(HEAT_NAME)};
    return names[item];
}

const char *sw_heat_long_name(sw_heat_item item)
{
    static const char *const names[SW_HEAT_ITEM_COUNT] = {SW_HEAT_LIST(HEAT_LONG_NAME)};
    return names[item];
}

double sw_heat_received(const sw_heat_budget *b)
{
    return b->item[SW_HEAT_air] + b->item[SW_HEAT_radiation];
}

sw_heat_budget sw_heat_in_row(const sw_history *h, size_t row)
{
    sw_heat_budget b;
    const double melting = h->series[SW_SERIES_melting_heat][row];
    b.item[SW_HEAT_air] = h->series[SW_SERIES_convection_heat][row];
    b.item[SW_HEAT_radiation] = h->series[SW_SERIES_radiation_heat][row];
    b.item[SW_HEAT_evaporation] = h->series[SW_SERIES_evaporation_heat][row];
    b.item[SW_HEAT_vapour] = h->series[SW_SERIES_vapour_warming_heat][row];
    b.item[SW_HEAT_drip] = h->series[SW_SERIES_drip_heat][row];
    b.item[SW_HEAT_fat] = melting + h->series[SW_SERIES_rendered_fat_heat][row];
    b.item[SW_HEAT_warming] = h->series[SW_SERIES_warming_heat][row] - melting;
    b.item[SW_HEAT_rest] = sw_heat_received(&b);
    for (int i = SW_HEAT_evaporation; i < SW_HEAT_rest; i++)
        b.item[SW_HEAT_rest] -= b.item[i];
    return b;
}

sw_heat_budget sw_heat_until(const sw_history *h, double time)
{
    const double *t = h->series[SW_SERIES_time];
    size_t row = 0;
    while (row + 1 < h->row_count && t[row + 1] <= time)
        row++;
    sw_heat_budget b = sw_heat_in_row(h, row);
    if (row + 1 == h->row_count || time <= t[row])
        return b;
    const sw_heat_budget next = sw_heat_in_row(h, row + 1);
    const double share = (time - t[row]) / (t[row + 1] - t[row]);
    for (int i = 0; i < SW_HEAT_ITEM_COUNT; i++)
        b.item[i] += share * (next.item[i] - b.item[i]);
    return b;
}

sw_heat_budget sw_heat_between(const sw_history *h, double from, double to)
{
    sw_heat_budget b = sw_heat_until(h, to);
    const sw_heat_budget before = sw_heat_until(h, from);
    for (int i = 0; i < SW_HEAT_ITEM_COUNT; i++)
        b.item[i] -= before.item[i];
    return b;
}

double sw_heat_evaporation_share(const sw_heat_budget *b)
{
    const double received = sw_heat_received(b);
    return received > 0.0 ? b->item[SW_HEAT_evaporation] / received : SW_ABSENT;
}

static void cut(const sw_history *h, double end, sw_heat_hours *hours)
{
    hours->count = 0;
    for (double from = 0.0; from < end - 1.0 && hours->count < SW_HEAT_HOURS_MAX; from += hours->step) {
        const size_t i = hours->count++;
        hours->start[i] = from;
        hours->end[i] = fmin(from + hours->step, end);
        hours->probe[i] = sw_probe_at(h, hours->end[i]);
        hours->heat[i] = sw_heat_between(h, from, hours->end[i]);
    }
    hours->total = sw_heat_until(h, end);
}

static void find_shares(sw_heat_hours *hours)
{
    double largest = 0.0;
    hours->nearly_all = hours->largest_share = hours->count;
    for (size_t i = 0; i < hours->count; i++) {
        const double share = sw_heat_evaporation_share(&hours->heat[i]);
        if (share >= SW_NEARLY_ALL_HEAT && hours->nearly_all == hours->count)
            hours->nearly_all = i;
        if (share > largest) {
            largest = share;
            hours->largest_share = i;
        }
    }
}

void sw_heat_by_hour(const sw_history *h, double end, sw_heat_hours *hours)
{
    static const double steps[] = {1.0, 2.0, 3.0, 4.0, 6.0, 12.0};
    static const double hour = 3600.0;
    size_t k = 0;
    while (k + 1 < sizeof steps / sizeof *steps && end > SW_HEAT_HOURS_MAX * steps[k] * hour)
        k++;
    hours->step = steps[k] * hour;
    cut(h, end, hours);
    find_shares(hours);
}
