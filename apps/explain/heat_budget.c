#include "heat_budget.h"

#define HEAT_NAME(name, long_name) #name,
#define HEAT_LONG_NAME(name, long_name) long_name,

const char *heat_item_name(heat_item item)
{
    static const char *const names[HEAT_ITEM_COUNT] = {HEAT_ITEM_LIST(HEAT_NAME)};
    return names[item];
}

const char *heat_item_long_name(heat_item item)
{
    static const char *const names[HEAT_ITEM_COUNT] = {HEAT_ITEM_LIST(HEAT_LONG_NAME)};
    return names[item];
}

double heat_received(const heat_budget *b)
{
    return b->item[HEAT_air] + b->item[HEAT_radiation];
}

heat_budget heat_in_row(const sw_history *h, size_t row)
{
    heat_budget b;
    const double melting = h->series[SW_SERIES_melting_heat][row];
    b.item[HEAT_air] = h->series[SW_SERIES_convection_heat][row];
    b.item[HEAT_radiation] = h->series[SW_SERIES_radiation_heat][row];
    b.item[HEAT_evaporation] = h->series[SW_SERIES_evaporation_heat][row];
    b.item[HEAT_vapour] = h->series[SW_SERIES_vapour_warming_heat][row];
    b.item[HEAT_drip] = h->series[SW_SERIES_drip_heat][row];
    b.item[HEAT_fat] = melting + h->series[SW_SERIES_rendered_fat_heat][row];
    b.item[HEAT_warming] = h->series[SW_SERIES_warming_heat][row] - melting;
    b.item[HEAT_rest] = heat_received(&b);
    for (int i = HEAT_evaporation; i < HEAT_rest; i++)
        b.item[HEAT_rest] -= b.item[i];
    return b;
}

heat_budget heat_until(const sw_history *h, double time)
{
    const double *t = h->series[SW_SERIES_time];
    size_t row = 0;
    while (row + 1 < h->row_count && t[row + 1] <= time)
        row++;
    heat_budget b = heat_in_row(h, row);
    if (row + 1 == h->row_count || time <= t[row])
        return b;
    const heat_budget next = heat_in_row(h, row + 1);
    const double share = (time - t[row]) / (t[row + 1] - t[row]);
    for (int i = 0; i < HEAT_ITEM_COUNT; i++)
        b.item[i] += share * (next.item[i] - b.item[i]);
    return b;
}

heat_budget heat_between(const sw_history *h, double from, double to)
{
    heat_budget b = heat_until(h, to);
    const heat_budget before = heat_until(h, from);
    for (int i = 0; i < HEAT_ITEM_COUNT; i++)
        b.item[i] -= before.item[i];
    return b;
}

double heat_evaporation_share(const heat_budget *b)
{
    const double received = heat_received(b);
    return received > 0.0 ? b->item[HEAT_evaporation] / received : SW_ABSENT;
}
