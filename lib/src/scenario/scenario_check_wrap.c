/* SPDX-License-Identifier: BSD-3-Clause */
#include "scenario_check_wrap.h"

#include "say.h"

#include <stallwright/wrap_traits.h>

typedef struct named_ending {
    const char *name;
    sw_ending ending;
} named_ending;

/* One ending before another, as far as that can be told beforehand: two probe temperatures or two durations. */
static sw_status check_order(sw_context *context, named_ending earlier, named_ending later, const named_ending *blamed)
{
    const double a = earlier.ending.value, b = later.ending.value;
    if (earlier.ending.kind != later.ending.kind || a < b)
        return SW_OK;
    const bool first = blamed->name == earlier.name;
    const char *other = first ? later.name : earlier.name, *side = first ? "below" : "above";
    const double value = first ? a : b, limit = first ? b : a;
    const bool by_probe = earlier.ending.kind == SW_ENDING_PROBE_TEMPERATURE;
    const sw_quantity quantity = by_probe ? SW_QUANTITY_TEMPERATURE : SW_QUANTITY_DURATION;
    char said[SW_SAY_SIZE], said_limit[SW_SAY_SIZE];
    if (!by_probe && earlier.ending.kind != SW_ENDING_DURATION)
        return SW_OK;
    return sw_fail(context, SW_ERR_RANGE, "%s is %s; allowed %s %s, %s", blamed->name, sw_say(context, quantity, value, said),
                   side, other, sw_say(context, quantity, limit, said_limit));
}

static sw_status check_between(sw_context *context, named_ending from, named_ending middle, named_ending to)
{
    sw_status status = check_order(context, from, middle, &middle);
    return status == SW_OK ? check_order(context, middle, to, &middle) : status;
}

/* Juice is poured while the tray is on. */
static sw_status check_pour(sw_context *context, const sw_scenario *s, named_ending on, named_ending off)
{
    if (s->wrap.pour == SW_POUR_NO)
        return SW_OK;
    if (s->wrap.pour_when.kind == SW_ENDING_NONE)
        return sw_fail(context, SW_ERR_RANGE,
                       "wrap.pour_when is none although wrap.pour is %s; give a probe temperature, a duration or a clock time",
                       s->wrap.pour == SW_POUR_OFF ? "off" : "over");
    return check_between(context, on, (named_ending){"wrap.pour_when", s->wrap.pour_when}, off);
}

sw_status sw_scenario_check_wraps(sw_context *context, const sw_scenario *s)
{
    const named_ending wrap = {"wrap.when", s->wrap.when}, rewrap = {"rewrap.when", s->rewrap.when}, pull = {"pull", s->pull};
    const bool rewraps = s->rewrap.when.kind != SW_ENDING_NONE && s->rewrap.kind != s->wrap.kind;
    sw_status status = SW_OK;
    if (s->wrap.kind == SW_WRAP_NONE)
        return SW_OK;
    status = check_order(context, wrap, pull, &wrap);
    if (status == SW_OK && rewraps)
        status = check_between(context, wrap, rewrap, pull);
    if (status == SW_OK && sw_wrap_traits_of(s->wrap.kind)->is_open)
        status = check_pour(context, s, wrap, rewraps ? rewrap : pull);
    if (status == SW_OK && rewraps && sw_wrap_traits_of(s->rewrap.kind)->is_open)
        status = check_pour(context, s, rewrap, pull);
    return status;
}
