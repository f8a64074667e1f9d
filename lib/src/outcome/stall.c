/* SPDX-License-Identifier: BSD-3-Clause */
#include "stall.h"

#include <math.h>

/* Moments at which the course is looked at in one window. Slowness that lasts a fraction of this is not missed: the mean
 * over a window cannot turn faster. */
enum { LOOKS_A_WINDOW = 60 };

static double last_of(const sw_course *c)
{
    return c->time[c->count - 1];
}

/* Mean rate over the window whose middle is a time. */
static double mean_rate(const sw_course *c, double window, double middle)
{
    return (sw_course_at(c, middle + 0.5 * window) - sw_course_at(c, middle - 0.5 * window)) / window;
}

/* Time at which the mean rate passes a limit between two times, on one side of it at the first and on the other at the
 * second. */
static double passing(const sw_course *c, const sw_stall_definition *d, double low, double high)
{
    const bool slow_at_first = mean_rate(c, d->window, low) < d->rate;
    for (int i = 0; i < 50; i++) {
        const double middle = 0.5 * (low + high);
        if ((mean_rate(c, d->window, middle) < d->rate) == slow_at_first)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

/* How far the course lies above a line that rises at the limit, upside down if asked for. */
static double above_line(const sw_course *c, const sw_stall_definition *d, double sign, double time)
{
    return sign * (sw_course_at(c, time) - d->rate * time);
}

/* The moment between two at which the course is farthest above such a line (sign 1) or below it (sign -1). */
static double farthest(const sw_course *c, const sw_stall_definition *d, double sign, double from, double until)
{
    const double step = (until - from) / LOOKS_A_WINDOW;
    double best = from, most = above_line(c, d, sign, from);
    for (int i = 1; i <= LOOKS_A_WINDOW; i++) {
        const double value = above_line(c, d, sign, from + i * step);
        if (value > most) {
            most = value;
            best = from + i * step;
        }
    }
    double low = fmax(from, best - step), high = fmin(until, best + step);
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (low + high);
        if (sign * (sw_course_rate(c, middle) - d->rate) > 0.0)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

/* Middles of windows, from the first to the last that lie within the course. */
typedef struct middles {
    double first, last, step;
    size_t count;
} middles;

static middles middles_of(const sw_course *c, const sw_stall_definition *d)
{
    middles m = {c->time[0] + 0.5 * d->window, last_of(c) - 0.5 * d->window, d->window / LOOKS_A_WINDOW, 0};
    if (m.last >= m.first)
        m.count = (size_t)ceil((m.last - m.first) / m.step) + 1;
    return m;
}

static double middle_at(const middles *m, size_t i)
{
    return fmin(m->first + (double)i * m->step, m->last);
}

static bool is_slow(const sw_course *c, const sw_stall_definition *d, const middles *m, size_t i)
{
    return mean_rate(c, d->window, middle_at(m, i)) < d->rate;
}

/* The edges of the slowness between two middles: where the course bends away from the line, within the window of each. */
static void find_edges(const sw_course *c, const sw_stall_definition *d, double begins, double ends, sw_stall *s)
{
    const double half = 0.5 * d->window;
    s->start = farthest(c, d, 1.0, fmax(begins - half, c->time[0]), fmin(begins + half, last_of(c)));
    s->end = farthest(c, d, -1.0, fmax(ends - half, s->start), fmin(ends + half, last_of(c)));
    s->start = fmax(s->start, sw_course_reach(c, d->above));
    s->end = fmin(s->end, sw_course_reach(c, d->below));
}

static void describe(const sw_course *c, const sw_stall_definition *d, sw_stall *s)
{
    const middles m = middles_of(c, d);
    double highest = c->value[0];
    s->probe = sw_course_at(c, s->start);
    s->depth = 0.0;
    s->slowest_rate = mean_rate(c, d->window, fmin(fmax(s->start, m.first), m.last));
    for (double time = c->time[0]; time < s->end; time += m.step) {
        const double value = sw_course_at(c, time);
        highest = fmax(highest, value);
        if (time < s->start)
            continue;
        s->depth = fmax(s->depth, highest - value);
        if (time >= m.first && time <= m.last)
            s->slowest_rate = fmin(s->slowest_rate, mean_rate(c, d->window, time));
    }
    s->depth = fmax(s->depth, highest - sw_course_at(c, s->end));
}

bool sw_find_stall(const sw_course *c, const sw_stall_definition *d, sw_stall *stall)
{
    const middles m = middles_of(c, d);
    for (size_t i = 0; i < m.count; i++) {
        if (!is_slow(c, d, &m, i))
            continue;
        const double begins = i > 0 ? passing(c, d, middle_at(&m, i - 1), middle_at(&m, i)) : m.first;
        while (i + 1 < m.count && is_slow(c, d, &m, i + 1))
            i++;
        const double ends = i + 1 < m.count ? passing(c, d, middle_at(&m, i), middle_at(&m, i + 1)) : m.last;
        sw_stall found;
        find_edges(c, d, begins, ends, &found);
        if (found.end - found.start < d->duration)
            continue;
        describe(c, d, &found);
        *stall = found;
        return true;
    }
    return false;
}

double sw_slowest_mean_rate(const sw_history *history, double until)
{
    const sw_stall_definition *d = &history->scenario.stall;
    const sw_course c = sw_course_of(history, until);
    const middles m = middles_of(&c, d);
    double slowest = SW_ABSENT;
    for (size_t i = 0; i < m.count; i++) {
        const double probe = sw_course_at(&c, middle_at(&m, i));
        if (probe >= d->above && probe < d->below)
            slowest = fmin(slowest, mean_rate(&c, d->window, middle_at(&m, i))); /* fmin passes over what is absent */
    }
    return slowest;
}
