/* SPDX-License-Identifier: BSD-3-Clause */
/* Counting: what sorted times of draws say of starts. */
#include <stallwright/plan.h>

#include <math.h>

sw_odds sw_odds_of(size_t met, size_t draws)
{
    const double n = (double)draws + 4.0, middle = ((double)met + 2.0) / n;
    return (sw_odds){draws > 0 ? (double)met / (double)draws : SW_ABSENT, sqrt(middle * (1.0 - middle) / n)};
}

sw_odds sw_odds_in_time(const double *ready, size_t count, double hold_at_least, double lead)
{
    size_t met = 0;
    for (size_t i = 0; i < count; i++)
        met += ready[i] + hold_at_least <= lead;
    return sw_odds_of(met, count);
}

sw_odds sw_odds_held_too_long(const double *ready, size_t count, double hold_at_most, double lead)
{
    size_t met = 0;
    for (size_t i = 0; i < count; i++)
        met += lead - ready[i] > hold_at_most;
    return sw_odds_of(met, count);
}

/* How many of so many make a share; a hair less than a whole number is that number. */
static size_t least_of(double share, size_t count)
{
    const double least = ceil(share * (double)count - 1e-9);
    return least < 1.0 ? 1 : least > (double)count ? count : (size_t)least;
}

double sw_time_reached_by(const double *sorted, size_t count, double share)
{
    return count > 0 ? sorted[least_of(share, count) - 1] : SW_ABSENT;
}

/* A hair more than a step is that step. */
static double steps_up(double lead)
{
    return SW_PLAN_STEP * ceil(lead / SW_PLAN_STEP - 1e-9);
}

static double steps_down(double lead)
{
    return SW_PLAN_STEP * floor(lead / SW_PLAN_STEP + 1e-9);
}

static size_t served_well(const double *ready, size_t count, double least, double most, double lead)
{
    size_t well = 0;
    for (size_t i = 0; i < count; i++)
        well += ready[i] + least <= lead && lead - ready[i] <= most;
    return well;
}

/* The middle of the leads between that serve most draws well. */
static double recommend(const double *sorted, size_t count, double least, double most, const sw_plan_starts *s)
{
    const double earliest = isfinite(s->earliest) ? s->earliest : s->latest;
    size_t best = 0;
    double first = s->latest, last = s->latest;
    for (double lead = s->latest; lead <= earliest; lead += SW_PLAN_STEP) {
        const size_t well = served_well(sorted, count, least, most, lead);
        if (well > best)
            first = lead;
        if (well >= best) {
            best = well;
            last = lead;
        }
    }
    return steps_up(0.5 * (first + last));
}

void sw_plan_starts_find(const double *sorted, size_t count, double hold_at_least, double hold_at_most, double odds,
                         sw_plan_starts *starts)
{
    const double slow = sw_time_reached_by(sorted, count, odds);
    /* So many draws must not be ready before this one. */
    const double fast = count > 0 ? sorted[count - least_of(odds, count)] : SW_ABSENT;
    *starts = (sw_plan_starts){SW_ABSENT, steps_down(fast + hold_at_most), SW_ABSENT};
    if (!isfinite(slow))
        return;
    starts->latest = steps_up(slow + hold_at_least);
    starts->recommended = recommend(sorted, count, hold_at_least, hold_at_most, starts);
}
