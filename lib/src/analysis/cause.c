/* SPDX-License-Identifier: BSD-3-Clause */
#include "cut_thickness.h"

#include <stallwright/explanation.h>

#include <math.h>

#define CAUSE_NAME(name, long_name) #name,
#define CAUSE_LONG_NAME(name, long_name) long_name,

const char *sw_cause_name(sw_cause cause)
{
    static const char *const names[SW_CAUSE_COUNT] = {SW_CAUSE_LIST(CAUSE_NAME)};
    return names[cause];
}

const char *sw_cause_long_name(sw_cause cause)
{
    static const char *const names[SW_CAUSE_COUNT] = {SW_CAUSE_LIST(CAUSE_LONG_NAME)};
    return names[cause];
}

/* A pit with so much vapour is damp: the upper end of what a tight or watered pit has (common practice, no source). */
static const double damp_humidity_ratio = 0.15;

bool sw_cause_change(sw_cause cause, const sw_scenario *modelled, sw_scenario *s)
{
    const bool wrapped = s->wrap.kind != SW_WRAP_NONE;
    switch (cause) {
    case SW_CAUSE_no_evaporation:
        if (!s->solver.evaporation)
            return false;
        s->solver.evaporation = false;
        return true;
    case SW_CAUSE_damp_pit:
        s->pit.humidity_ratio = fmin(1.0, fmax(damp_humidity_ratio, 2.0 * modelled->pit.humidity_ratio));
        return true;
    case SW_CAUSE_twice_the_draught:
        s->pit.convection = 2.0 * modelled->pit.convection;
        return true;
    case SW_CAUSE_half_the_thickness:
        sw_scale_thickness(s, modelled, 0.5);
        return true;
    case SW_CAUSE_wrapped_from_the_start:
        if (wrapped && s->wrap.when.kind == SW_ENDING_DURATION && s->wrap.when.value == 0.0)
            return false;
        s->wrap.kind = wrapped ? s->wrap.kind : SW_WRAP_CLOSED_FOIL;
        s->wrap.when = (sw_ending){SW_ENDING_DURATION, 0.0};
        return true;
    default:
        if (s->meat.water_holding_loss == 0.0)
            return false;
        s->meat.water_holding_loss = 0.0;
        return true;
    }
}
