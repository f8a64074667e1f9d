/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/track.h>

#include <math.h>

/* How exact a thermometer for food must be: FDA Food Code 4-203.11(A), 1 C (from memory). Meat was hot once it reads so much above the
 * limit; a fall below the limit counts at once. */
static const double thermometer_error = 1.0; /* [K] */

/* A reading that rose to a limit may have been a spike: only what stays above counts, and what fell below counts at once. */
void sw_track_judge(const sw_readings *r, size_t probe, double now, sw_track_safety *safety)
{
    const sw_safety_band band = sw_safety_rule_band(SW_SAFETY_come_up);
    double last_cold = 0.0, last_below = -1.0, first_past = INFINITY, first_after = INFINITY, hot_at = INFINITY;
    bool any = false, was_past_cold = false;
    *safety = (sw_track_safety){.come_up = SW_VERDICT_NOT_ASSESSED, .come_up_time = SW_ABSENT, .lowest_after = SW_ABSENT};
    for (size_t i = 0; i < r->count; i++) {
        const sw_reading *x = &r->list[i];
        if (x->probe != probe)
            continue;
        any = true;
        last_cold = x->temperature <= band.low ? fmax(last_cold, x->time) : last_cold;
        last_below = x->temperature < band.high ? fmax(last_below, x->time) : last_below;
        first_past = x->temperature > band.low ? fmin(first_past, x->time) : first_past;
        was_past_cold = was_past_cold || x->temperature > band.low;
        hot_at = x->temperature >= sw_hot_holding_limit() + thermometer_error ? fmin(hot_at, x->time) : hot_at;
    }
    for (size_t i = 0; i < r->count; i++) {
        const sw_reading *x = &r->list[i];
        if (x->probe == probe && x->time > last_below)
            first_after = fmin(first_after, x->time);
        if (x->probe == probe && x->time >= hot_at)
            safety->lowest_after = SW_IS_ABSENT(safety->lowest_after) ? x->temperature : fmin(safety->lowest_after, x->temperature);
    }
    if (!SW_IS_ABSENT(safety->lowest_after))
        safety->fall_back = safety->lowest_after >= sw_hot_holding_limit() ? SW_VERDICT_MET : SW_VERDICT_NOT_MET;
    if (!any || !was_past_cold)
        return;
    safety->is_through = isfinite(first_after);
    safety->come_up_least = fmax(last_below - fmax(first_past, last_cold), 0.0);
    safety->come_up_time = (safety->is_through ? first_after : now) - last_cold;
    if (safety->come_up_time > sw_come_up_limit())
        safety->come_up = SW_VERDICT_NOT_MET;
    else if (safety->is_through)
        safety->come_up = SW_VERDICT_MET;
}
