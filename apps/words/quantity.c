/* SPDX-License-Identifier: BSD-3-Clause */
#include "quantity.h"

#include <math.h>
#include <stdio.h>

static const char *dash(char *text)
{
    snprintf(text, QUANTITY_SIZE, "-");
    return text;
}

double axis_temperature(double kelvin, sw_unit_system units)
{
    double celsius = kelvin - 273.15;
    return units == SW_UNITS_US ? 1.8 * celsius + 32.0 : celsius;
}

const char *show_temperature(double kelvin, sw_unit_system units, char *text)
{
    if (SW_IS_ABSENT(kelvin))
        return dash(text);
    snprintf(text, QUANTITY_SIZE, "%.1f %s", axis_temperature(kelvin, units), units == SW_UNITS_US ? "F" : "C");
    return text;
}

/* Tenths; what is a tenth but for the last digits of a double is left alone. */
static double tenths_down(double value)
{
    return floor(10.0 * value + 1e-6) / 10.0;
}

static double tenths_up(double value)
{
    return ceil(10.0 * value - 1e-6) / 10.0;
}

static const char *show_tenths(double value, const char *unit, char *text)
{
    if (SW_IS_ABSENT(value))
        return dash(text);
    snprintf(text, QUANTITY_SIZE, "%.1f%s", value == 0.0 ? 0.0 : value, unit); /* never -0.0 */
    return text;
}

static const char *degree(sw_unit_system units)
{
    return units == SW_UNITS_US ? " F" : " C";
}

const char *show_temperature_rounded_down(double kelvin, sw_unit_system units, char *text)
{
    return show_tenths(tenths_down(axis_temperature(kelvin, units)), degree(units), text);
}

const char *show_temperature_rounded_up(double kelvin, sw_unit_system units, char *text)
{
    return show_tenths(tenths_up(axis_temperature(kelvin, units)), degree(units), text);
}

static double difference(double kelvin, sw_unit_system units)
{
    return units == SW_UNITS_US ? 1.8 * kelvin : kelvin;
}

static const char *difference_unit(sw_unit_system units)
{
    return units == SW_UNITS_US ? " F" : " K";
}

const char *show_temperature_difference(double kelvin, sw_unit_system units, char *text)
{
    if (SW_IS_ABSENT(kelvin))
        return dash(text);
    snprintf(text, QUANTITY_SIZE, "%.1f%s", difference(kelvin, units), difference_unit(units));
    return text;
}

const char *show_temperature_difference_rounded_down(double kelvin, sw_unit_system units, char *text)
{
    return show_tenths(tenths_down(difference(kelvin, units)), difference_unit(units), text);
}

const char *show_temperature_difference_rounded_up(double kelvin, sw_unit_system units, char *text)
{
    return show_tenths(tenths_up(difference(kelvin, units)), difference_unit(units), text);
}

const char *show_number_rounded_down(double number, char *text)
{
    return show_tenths(tenths_down(number), "", text);
}

const char *show_number_rounded_up(double number, char *text)
{
    return show_tenths(tenths_up(number), "", text);
}

const char *show_heating_rate(double kelvin_per_second, sw_unit_system units, char *text)
{
    if (SW_IS_ABSENT(kelvin_per_second))
        return dash(text);
    double per_hour = 3600.0 * kelvin_per_second;
    snprintf(text, QUANTITY_SIZE, units == SW_UNITS_US ? "%.1f F/h" : "%.1f K/h",
             units == SW_UNITS_US ? 1.8 * per_hour : per_hour);
    return text;
}

const char *show_duration(double seconds, char *text)
{
    if (SW_IS_ABSENT(seconds))
        return dash(text);
    long minutes = lround(fabs(seconds) / 60.0);
    const char *sign = seconds < 0.0 && minutes > 0 ? "-" : "";
    if (minutes < 60)
        snprintf(text, QUANTITY_SIZE, "%s%ld min", sign, minutes);
    else
        snprintf(text, QUANTITY_SIZE, "%s%ld h %02ld min", sign, minutes / 60, minutes % 60);
    return text;
}

const char *show_duration_rounded_up(double seconds, char *text)
{
    return show_duration(60.0 * ceil(seconds / 60.0), text);
}

const char *show_duration_rounded_down(double seconds, char *text)
{
    return show_duration(60.0 * floor(seconds / 60.0), text);
}

const char *show_clock(double start_clock, double seconds, char *text)
{
    if (SW_IS_ABSENT(seconds))
        return dash(text);
    long minutes = lround((start_clock + seconds) / 60.0), day = minutes / 1440;
    minutes %= 1440;
    if (day > 0)
        snprintf(text, QUANTITY_SIZE, "%02ld:%02ld +%ld day%s", minutes / 60, minutes % 60, day, day > 1 ? "s" : "");
    else
        snprintf(text, QUANTITY_SIZE, "%02ld:%02ld", minutes / 60, minutes % 60);
    return text;
}

const char *show_mass(double kilograms, sw_unit_system units, char *text)
{
    if (SW_IS_ABSENT(kilograms))
        return dash(text);
    const double shown = units == SW_UNITS_US ? kilograms / SW_POUND : kilograms;
    snprintf(text, QUANTITY_SIZE, units == SW_UNITS_US ? "%.2f lb" : "%.2f kg", fabs(shown) < 0.005 ? 0.0 : shown);
    return text;
}

const char *show_length(double metres, sw_unit_system units, char *text)
{
    if (SW_IS_ABSENT(metres))
        return dash(text);
    snprintf(text, QUANTITY_SIZE, units == SW_UNITS_US ? "%.2f in" : "%.1f cm",
             units == SW_UNITS_US ? metres / SW_INCH : 100.0 * metres);
    return text;
}

const char *show_altitude(double metres, sw_unit_system units, char *text)
{
    if (SW_IS_ABSENT(metres))
        return dash(text);
    snprintf(text, QUANTITY_SIZE, units == SW_UNITS_US ? "%.0f ft" : "%.0f m", units == SW_UNITS_US ? metres / SW_FOOT : metres);
    return text;
}

const char *thickness_origin(const sw_meat *asked)
{
    return asked->shape == SW_SHAPE_OUTLINE ? "from its outline" : asked->thickness > 0.0 ? "as given" : "from its mass";
}

const char *show_cut(const sw_meat *asked, const sw_meat *modelled, sw_unit_system units, char text[CUT_TEXT_SIZE])
{
    char mass[QUANTITY_SIZE], thickness[QUANTITY_SIZE];
    show_mass(modelled->mass, units, mass);
    if (modelled->thickness > 0.0)
        snprintf(text, CUT_TEXT_SIZE, "%s, %s thick (%s)", mass, show_length(modelled->thickness, units, thickness),
                 thickness_origin(asked));
    else
        snprintf(text, CUT_TEXT_SIZE, "%s", mass);
    return text;
}

const char *show_share(double share, char *text)
{
    if (SW_IS_ABSENT(share))
        return dash(text);
    snprintf(text, QUANTITY_SIZE, "%.1f %%", 100.0 * share);
    return text;
}

const char *show_chance(double share, char *text)
{
    if (SW_IS_ABSENT(share))
        return dash(text);
    if ((share > 0.0 && share < 0.01) || (share > 0.99 && share < 1.0 - 1e-9))
        snprintf(text, QUANTITY_SIZE, share < 0.01 ? "under 1 %%" : "over 99 %%");
    else
        snprintf(text, QUANTITY_SIZE, "%.0f %%", 100.0 * share);
    return text;
}

const char *show_heat(double joules, sw_unit_system units, char *text)
{
    if (SW_IS_ABSENT(joules))
        return dash(text);
    const double btu = joules / SW_BTU;
    if (units == SW_UNITS_US)
        snprintf(text, QUANTITY_SIZE, "%.0f BTU", fabs(btu) < 0.5 ? 0.0 : btu);
    else
        snprintf(text, QUANTITY_SIZE, "%.2f MJ", fabs(joules) < 5e3 ? 0.0 : 1e-6 * joules);
    return text;
}

const char *show_stall_definition(const sw_stall_definition *stall, sw_unit_system units, char text[STALL_TEXT_SIZE])
{
    char above[QUANTITY_SIZE], below[QUANTITY_SIZE], rate[QUANTITY_SIZE], duration[QUANTITY_SIZE];
    snprintf(text, STALL_TEXT_SIZE, "from %s to %s, %.3g h mean under %s for at least %s",
             show_temperature(stall->above, units, above), show_temperature(stall->below, units, below),
             stall->window / 3600.0, show_heating_rate(stall->rate, units, rate),
             show_duration(stall->duration, duration));
    return text;
}
