/* SPDX-License-Identifier: BSD-3-Clause */
#include "log_table.h"

#include <math.h>

/* Meat, 5 cm of it or more, does not change so fast in its middle; choices [K], [s]. */
static const double jump = 12.0, back_within = 6.0, out_at_most = 5400.0, quick = 1200.0;

/* The next row from one on that has a reading; row_count if there is none. */
static size_t next_reading(const sw_cook_log *log, const double *values, size_t from)
{
    while (from < log->row_count && SW_IS_ABSENT(values[from]))
        from++;
    return from;
}

/* Where readings come back to a level after a jump away from it; row_count if they do not in time. Meat warms meanwhile. */
static size_t find_return(const sw_cook_log *log, const double *values, size_t before, size_t from)
{
    for (size_t i = from; i < log->row_count && log->time[i] <= log->time[before] + out_at_most; i++) {
        const double allowed = back_within + (log->time[i] - log->time[before]) / 3600.0 * 8.0;
        if (!SW_IS_ABSENT(values[i]) && fabs(values[i] - values[before]) <= allowed)
            return i;
    }
    return log->row_count;
}

static void leave_out(sw_cook_log *log, double *values, const char *name, size_t from, size_t to)
{
    size_t count = 0;
    for (size_t i = from; i < to; i++) {
        count += SW_IS_ABSENT(values[i]) ? 0 : 1;
        values[i] = SW_ABSENT;
    }
    if (count == 1)
        sw_log_doubt_add(log, log->line[from], "a spike of %s: left out", name);
    else
        sw_log_doubt_add(log, log->line[from], "%s jumps and comes back in line %d, as a probe pulled out and put back does: left out", name,
                         log->line[to]);
}

static void clean_column(sw_cook_log *log, sw_log_column *column)
{
    double *v = column->values;
    size_t first = 0;
    while (first < log->row_count && log->time[first] < log->start)
        first++;
    for (size_t i = next_reading(log, v, first); i < log->row_count;) {
        const size_t next = next_reading(log, v, i + 1);
        if (next < log->row_count && log->time[next] - log->time[i] <= quick && fabs(v[next] - v[i]) > jump) {
            const size_t back = find_return(log, v, i, next + 1);
            if (back < log->row_count)
                leave_out(log, v, column->name, next, back);
            else if (v[next] > 313.15 || v[i] > 313.15)
                sw_log_doubt_add(log, log->line[next], "%s jumps by %.0f K and stays there: read as it is", column->name, v[next] - v[i]);
        }
        i = next_reading(log, v, i + 1);
    }
}

void sw_log_clean(sw_cook_log *log)
{
    for (size_t i = 0; i < log->meat_count; i++)
        clean_column(log, &log->meat[i]);
}

/* When a probe last fell from above 10 C into something cold, in the first half of the log. */
static double find_fall(const sw_cook_log *log, const double *v)
{
    double found = SW_ABSENT;
    const double end = log->row_count > 0 ? log->time[log->row_count - 1] : 0.0;
    for (size_t i = next_reading(log, v, 0); i < log->row_count;) {
        const size_t next = next_reading(log, v, i + 1);
        if (next < log->row_count && log->time[next] <= 0.5 * end && log->time[next] - log->time[i] <= quick && v[i] - v[next] > 8.0 &&
            v[next] < 303.15)
            found = log->time[next];
        i = next;
    }
    return found;
}

/* When cold meat that stood still for a while began to warm: the pit's heat takes about a quarter of an hour to its middle. */
static double find_rise(const sw_cook_log *log, const double *v)
{
    const size_t first = next_reading(log, v, 0);
    double still = 0.0;
    size_t i = first;
    for (; i < log->row_count && (SW_IS_ABSENT(v[i]) || fabs(v[i] - v[first]) <= 1.0); i++)
        still = log->time[i];
    return i < log->row_count && still > 3600.0 && v[first] < 303.15 ? still - 900.0 : SW_ABSENT;
}

void sw_log_find_start(sw_cook_log *log)
{
    const double *v = log->meat[0].values;
    if (!SW_IS_ABSENT(log->start))
        return;
    const char *how = "its probe falls into cold meat then";
    log->start = v ? find_fall(log, v) : SW_ABSENT;
    if (SW_IS_ABSENT(log->start)) {
        how = "the meat begins to warm a quarter of an hour later";
        log->start = v ? find_rise(log, v) : SW_ABSENT;
    }
    if (SW_IS_ABSENT(log->start)) {
        how = "the log begins then, and no jump shows another time";
        log->start = 0.0;
    }
    snprintf(log->start_sentence, sizeof log->start_sentence, "%s", how);
}
