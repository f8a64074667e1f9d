/* SPDX-License-Identifier: BSD-3-Clause */
#include "pit_schedule.h"

#include <math.h>

static const double two_pi = 6.283185307179586;

/* Number of steps that have begun; at the end of a stretch those that begin there have not. */
static size_t steps_begun(const sw_pit *pit, double time, bool at_end)
{
    size_t low = 1, high = pit->step_count;
    while (low < high) {
        size_t middle = (low + high) / 2;
        double start = pit->steps[middle].start;
        if (at_end ? start < time : start <= time)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static double set_temperature(const sw_pit *pit, double time, bool at_end)
{
    const sw_pit_step *step = &pit->steps[steps_begun(pit, time, at_end) - 1];
    if (!step->ramp)
        return step->temperature;
    double share = (time - step->start) / (step[1].start - step->start);
    return step->temperature + share * (step[1].temperature - step->temperature);
}

static double swing(const sw_pit *pit, double time)
{
    return pit->cycle_swing > 0.0 ? pit->cycle_swing * sin(two_pi * time / pit->cycle_period) : 0.0;
}

/* Share of outside air: full while the lid is open, then falling; the last opening counts. */
static double outside_share(const sw_pit *pit, double time, bool at_end)
{
    double opened = -1.0;
    for (size_t i = 0; i < pit->opening_count; i++)
        if (at_end ? pit->openings[i] < time : pit->openings[i] <= time)
            opened = pit->openings[i];
    if (opened < 0.0)
        return 0.0;
    double shut = time - opened - pit->lid_duration;
    return shut <= 0.0 ? pit->lid_drop : pit->lid_drop * exp(-shut / pit->lid_recovery);
}

sw_pit_moment sw_pit_at(const sw_pit *pit, double time, double end)
{
    bool at_end = time >= end;
    double kept = set_temperature(pit, time, at_end) + swing(pit, time), share = outside_share(pit, time, at_end);
    return (sw_pit_moment){.air_temperature = kept + share * (pit->outside_temperature - kept),
                           .wall_temperature = kept + pit->wall_offset,
                           .outside_share = share};
}

static double earlier(double next, double candidate, double time)
{
    return candidate > time && candidate < next ? candidate : next;
}

double sw_pit_next_jump(const sw_pit *pit, double time)
{
    double next = INFINITY;
    for (size_t i = 1; i < pit->step_count; i++)
        if (!pit->steps[i - 1].ramp)
            next = earlier(next, pit->steps[i].start, time);
    for (size_t i = 0; i < pit->opening_count && pit->lid_drop > 0.0; i++)
        next = earlier(next, pit->openings[i], time);
    return next;
}

static double next_bend(const sw_pit *pit, double time)
{
    size_t begun = steps_begun(pit, time, false);
    double next = begun < pit->step_count ? pit->steps[begun].start : INFINITY;
    for (size_t i = 0; i < pit->opening_count; i++)
        next = earlier(next, pit->openings[i] + pit->lid_duration, time);
    return next;
}

double sw_pit_longest_step(const sw_pit *pit, double time)
{
    double longest = pit->cycle_swing > 0.0 ? 0.25 * pit->cycle_period : INFINITY, next = next_bend(pit, time);
    if (isinf(next))
        return longest;
    return fmin(longest, fmax(next - time, next_bend(pit, next) - next));
}
