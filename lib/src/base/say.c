/* SPDX-License-Identifier: BSD-3-Clause */
#include "say.h"

#include "told_unit.h"

#include <stdio.h>

static const char *put(const sw_told_unit *unit, double value, char text[SW_SAY_SIZE])
{
    snprintf(text, SW_SAY_SIZE, unit->form, (value - unit->zero) * unit->per_si + unit->offset);
    return text;
}

const char *sw_say(const sw_context *context, sw_quantity quantity, double value, char text[SW_SAY_SIZE])
{
    return put(sw_told_unit_of(quantity, sw_context_units(context)), value, text);
}

const char *sw_say_altitude(const sw_context *context, double metres, char text[SW_SAY_SIZE])
{
    static const sw_told_unit feet = {"%.0f ft", 1.0 / SW_FOOT, 0.0, 0.0}, plain = {"%.0f m", 1.0, 0.0, 0.0};
    return put(sw_context_units(context) == SW_UNITS_US ? &feet : &plain, metres, text);
}
