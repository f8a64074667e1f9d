#include "cautions.h"

#include "quantity.h"

#include <math.h>

/* Whole cuts of beef: 145 F and 4 min, FSIS Appendix A [K]. */
static const double cooked_limit = 273.15 + (145.0 - 32.0) / 1.8;

/* Raw meat is kept at 41 F or less: FDA Food Code 3-501.16 [K]. */
static const double cold_limit = 273.15 + 5.0;

/* From 50 F to 130 F in at most 6 h: FSIS guideline on cooking meat, 2021 (from memory). */
static const double warm_up_from = 273.15 + 10.0, warm_up_to = 273.15 + (130.0 - 32.0) / 1.8;
static const double warm_up_limit = 6.0 * 3600.0;

const char *hot_holding_limit_text(sw_unit_system units)
{
    return units == SW_UNITS_US ? "135 F" : "57.3 C";
}

static size_t row_at(const sw_history *h, double time)
{
    size_t row = 0;
    while (row + 1 < h->row_count && h->series[SW_SERIES_time][row] < time)
        row++;
    return row;
}

/* How long some of the meat is below a temperature, counted by whole rows; never too short. */
static double time_below(const sw_history *h, double from, double temperature)
{
    double sum = 0.0;
    for (size_t i = row_at(h, from); i + 1 < h->row_count; i++)
        if (h->series[SW_SERIES_lowest_temperature][i] < temperature ||
            h->series[SW_SERIES_lowest_temperature][i + 1] < temperature)
            sum += h->series[SW_SERIES_time][i + 1] - h->series[SW_SERIES_time][i];
    return sum;
}

/* Time the coldest place spends on its way up; counted by whole rows. */
static double warm_up_time(const sw_history *h)
{
    const double *time = h->series[SW_SERIES_time], *lowest = h->series[SW_SERIES_lowest_temperature];
    size_t first = 0, last = 0;
    while (first + 1 < h->row_count && lowest[first + 1] < warm_up_from)
        first++;
    for (last = first; last + 1 < h->row_count && lowest[last] < warm_up_to;)
        last++;
    return time[last] - time[first];
}

static double highest_of_coldest(const sw_history *h)
{
    double highest = 0.0;
    for (size_t i = 0; i < h->row_count; i++)
        highest = fmax(highest, h->series[SW_SERIES_lowest_temperature][i]);
    return highest;
}

static void begin(const char *label)
{
    printf("WARNING%s%s: ", label ? ", " : "", label ? label : "");
}

int print_warnings(const cook_run *run, const char *label, sw_unit_system units)
{
    const sw_history *h = run->history;
    const sw_scenario *s = &run->scenario;
    const bool us = units == SW_UNITS_US;
    const char *limit = hot_holding_limit_text(units);
    char a[QUANTITY_SIZE], b[QUANTITY_SIZE];
    int count = 0;
    if (highest_of_coldest(h) < cooked_limit) {
        begin(label);
        printf("NOT COOKED. The coldest place reaches only %s; beef is\n"
               "  safe from %s held for 4 min (FSIS Appendix A).\n",
               show_temperature_rounded_down(highest_of_coldest(h), units, a), us ? "145 F" : "62.8 C");
        count++;
    }
    if (s->meat.initial_temperature > cold_limit) {
        begin(label);
        printf("the meat goes on at %s; raw meat is kept at %s or less.\n",
               show_temperature(s->meat.initial_temperature, units, a), us ? "41 F" : "5 C");
        count++;
    }
    if (warm_up_time(h) > warm_up_limit) {
        begin(label);
        printf("the coldest place takes %s from %s to %s;\n  at most 6 h are allowed (FSIS).\n",
               show_duration_rounded_up(warm_up_time(h), a), us ? "50 F" : "10 C", us ? "130 F" : "54.4 C");
        count++;
    }
    if (s->hold.until.kind != SW_ENDING_NONE && s->hold.temperature < HOT_HOLDING_LIMIT) {
        begin(label);
        printf("the hold at %s is below %s (FDA Food Code).\n",
               show_temperature_rounded_down(s->hold.temperature, units, a), limit);
        count++;
    }
    /* Meat that was never cooked has its warning already. */
    if (run->outcome.lowest_after_pull < HOT_HOLDING_LIMIT && highest_of_coldest(h) >= cooked_limit) {
        begin(label);
        printf("after the pull the coolest place falls to %s and is\n  below %s for %s (FDA Food Code).\n",
               show_temperature_rounded_down(run->outcome.lowest_after_pull, units, a), limit,
               show_duration_rounded_up(time_below(h, run->outcome.done_time, HOT_HOLDING_LIMIT), b));
        count++;
    }
    return count;
}
