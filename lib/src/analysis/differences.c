/* SPDX-License-Identifier: BSD-3-Clause */
#include "differences.h"

#include <math.h>

const double sw_difference_steps[SW_STEP_COUNT] = {-1.0, -0.5, 0.5, 1.0};

sw_change sw_change_of(double base, const double at[SW_STEP_COUNT])
{
    return (sw_change){.low = at[SW_STEP_LOW] - base,
                       .high = at[SW_STEP_HIGH] - base,
                       .slope = 0.5 * (at[SW_STEP_HIGH] - at[SW_STEP_LOW]),
                       .half_slope = at[SW_STEP_HALF_HIGH] - at[SW_STEP_HALF_LOW]};
}

bool sw_change_is_straight(const sw_change *c, sw_sensitive figure)
{
#define NEGLIGIBLE(name, unit, field, negligible) negligible,
    static const double least[SW_SENSITIVE_COUNT] = {SW_SENSITIVE_LIST(NEGLIGIBLE)};
#undef NEGLIGIBLE
    const double difference = fabs(c->slope - c->half_slope);
    return difference <= fmax(0.2 * fabs(c->slope), least[figure]);
}
