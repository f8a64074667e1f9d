/* SPDX-License-Identifier: BSD-3-Clause */
#include "forecast.h"

#include <math.h>

const char *sw_track_choice_name(sw_track_choice_kind kind)
{
    static const char *const names[] = {"as planned", "left unwrapped", "paper now", "open tray now", "foil now", "hotter pit"};
    return kind >= 0 && kind < SW_TRACK_CHOICE_COUNT ? names[kind] : "unknown choice";
}

/* Whether the meat lies open now, as far as the scenario tells its past. */
static bool is_open_now(const sw_scenario *s, double now)
{
    return s->wrap.kind == SW_WRAP_NONE || s->wrap.when.kind != SW_ENDING_DURATION || s->wrap.when.value > now;
}

static void wrap_now(sw_scenario *s, sw_wrap_kind kind, double now)
{
    s->wrap.kind = kind;
    s->wrap.when = (sw_ending){SW_ENDING_DURATION, fmax(now, 60.0)};
    s->wrap.pour = SW_POUR_NO;
    s->wrap.pour_when = (sw_ending){SW_ENDING_NONE, 0.0};
    s->rewrap.when = (sw_ending){SW_ENDING_NONE, 0.0};
}

/* The pit hotter from now on, as far as pits go. */
static bool make_hotter(sw_pit *pit, double now)
{
    const sw_range allowed = sw_scenario_key_find("pit.temperature")->range;
    size_t at = 0;
    while (at + 1 < pit->step_count && pit->steps[at + 1].start <= now)
        at++;
    if (pit->steps[at].temperature + SW_TRACK_HOTTER_BY > allowed.maximum || pit->step_count == SW_PIT_STEPS_MAX)
        return false;
    if (pit->steps[at].start < now) {
        for (size_t i = pit->step_count; i > at + 1; i--)
            pit->steps[i] = pit->steps[i - 1];
        pit->step_count++;
        pit->steps[at + 1] = (sw_pit_step){now, pit->steps[at].temperature, pit->steps[at].ramp};
        pit->steps[at].ramp = false;
        at++;
    }
    for (size_t i = at; i < pit->step_count; i++)
        pit->steps[i].temperature = fmin(pit->steps[i].temperature + SW_TRACK_HOTTER_BY, allowed.maximum);
    return true;
}

bool sw_choice_scenario(sw_track_choice_kind kind, const sw_track_question *q, sw_scenario *s)
{
    *s = q->scenario;
    const bool is_open = is_open_now(s, q->now);
    switch (kind) {
    case SW_TRACK_AS_PLANNED:
        return true;
    case SW_TRACK_UNWRAPPED:
        s->wrap.kind = SW_WRAP_NONE;
        return is_open && q->scenario.wrap.kind != SW_WRAP_NONE;
    case SW_TRACK_PAPER:
        wrap_now(s, SW_WRAP_PAPER, q->now);
        return is_open;
    case SW_TRACK_OPEN_TRAY:
        wrap_now(s, SW_WRAP_OPEN_TRAY, q->now);
        return is_open;
    case SW_TRACK_CLOSED_FOIL:
        wrap_now(s, SW_WRAP_CLOSED_FOIL, q->now);
        return is_open;
    default:
        return make_hotter(&s->pit, q->now);
    }
}
