/* SPDX-License-Identifier: BSD-3-Clause */
#include "physical_value.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_DIGITS = 17, MOST_DECIMALS = 60, NUMBER_SIZE = 48 };

/* Writes a number with so many significant digits, without a needless exponent: 60 rather than 6e+01. */
static void format_number(double number, int digits, char *text, size_t size)
{
    snprintf(text, size, "%.*e", digits - 1, number);
    char *mark = strchr(text, 'e');
    if (!mark)
        return;
    int exponent = atoi(mark + 1);
    if (exponent > -5 && exponent < 7) {
        int decimals = digits - 1 - exponent;
        snprintf(text, size, "%.*f", decimals > 0 ? decimals : 0, number);
        return;
    }
    snprintf(mark, size - (size_t)(mark - text), "e%d", exponent);
}

/* Writes a limit with at most four digits, rounded into the allowed range. */
static void format_limit(double limit, bool is_minimum, char text[NUMBER_SIZE])
{
    enum { LIMIT_DIGITS = 4 };
    double step = limit == 0.0 ? 1.0 : pow(10.0, floor(log10(fabs(limit))) + 1 - LIMIT_DIGITS), steps = limit / step;
    bool is_round = fabs(steps - round(steps)) < 1e-9 * fabs(steps);
    double rounded = step * (is_round ? round(steps) : is_minimum ? ceil(steps) : floor(steps));
    for (int digits = 1; digits <= LIMIT_DIGITS; digits++) {
        format_number(rounded, digits, text, NUMBER_SIZE);
        if (fabs(strtod(text, NULL) - rounded) <= 1e-9 * fabs(rounded))
            return;
    }
}

void sw_range_in_unit(const sw_unit *unit, const char *name, sw_range range, char text[SW_VALUE_TEXT_SIZE])
{
    char minimum[NUMBER_SIZE], maximum[NUMBER_SIZE];
    format_limit(sw_unit_from_si(unit, range.minimum), true, minimum);
    format_limit(sw_unit_from_si(unit, range.maximum), false, maximum);
    snprintf(text, SW_VALUE_TEXT_SIZE, "%.24s to %.24s%s%.24s", minimum, maximum, *name ? " " : "", name);
}

/* Finds the shortest number that the unit turns into exactly this value; false if there is none. */
static bool shortest_number(const sw_unit *unit, double value, char text[NUMBER_SIZE])
{
    double near = sw_unit_from_si(unit, value);
    for (int digits = 1; digits <= MOST_DIGITS; digits++) {
        format_number(near, digits, text, NUMBER_SIZE);
        if (sw_unit_to_si(unit, strtod(text, NULL)) == value)
            return true;
    }
    /* The way there and back may have lost the last bit: look beside. */
    double below = near, above = near;
    for (int step = 0; step < 4; step++) {
        below = nextafter(below, -INFINITY);
        above = nextafter(above, INFINITY);
        double beside[] = {below, above};
        for (int i = 0; i < 2; i++) {
            format_number(beside[i], MOST_DIGITS, text, NUMBER_SIZE);
            if (sw_unit_to_si(unit, strtod(text, NULL)) == value)
                return true;
        }
    }
    return false;
}

/* Writes whole seconds as hours, minutes and seconds. */
static void write_duration(double seconds, char *text, size_t size)
{
    long whole = (long)seconds, parts[] = {whole / 3600, whole / 60 % 60, whole % 60};
    static const char *const names[] = {"h", "min", "s"};
    int written = 0;
    for (int i = 0; i < 3; i++)
        if (parts[i] > 0)
            written +=
                snprintf(text + written, size - (size_t)written, "%s%ld %s", written ? " " : "", parts[i], names[i]);
    if (written == 0)
        snprintf(text, size, "0 h");
}

static void write_clock(double value, char text[SW_VALUE_TEXT_SIZE])
{
    int hours = (int)(value / 3600.0), minutes = (int)((value - hours * 3600.0) / 60.0);
    double seconds = value - hours * 3600.0 - minutes * 60.0;
    if (seconds == 0.0) {
        snprintf(text, SW_VALUE_TEXT_SIZE, "%02d:%02d", hours, minutes);
        return;
    }
    for (int decimals = 0; decimals <= MOST_DECIMALS; decimals++) {
        snprintf(text, SW_VALUE_TEXT_SIZE, "%02d:%02d:%0*.*f", hours, minutes, decimals ? decimals + 3 : 2, decimals,
                 seconds);
        if (hours * 3600.0 + minutes * 60.0 + strtod(text + 6, NULL) == value)
            return;
    }
}

static sw_status no_unit_for_writing(sw_context *context, const char *unit)
{
    return sw_fail(context, SW_ERR_MEMORY, "memory to write a value in %s could not be allocated", unit);
}

sw_status sw_value_write(sw_context *context, const sw_units *units, sw_quantity quantity, const char *unit,
                         double value, char text[SW_VALUE_TEXT_SIZE])
{
    if (quantity == SW_QUANTITY_CLOCK && value >= 0.0 && value < (SW_ENDING_DAYS_MAX + 1) * 86400.0) {
        const int days = (int)(value / 86400.0);
        write_clock(value - days * 86400.0, text);
        const size_t length = strlen(text);
        if (days > 0)
            snprintf(text + length, SW_VALUE_TEXT_SIZE - length, " +%d day%s", days, days > 1 ? "s" : "");
        return SW_OK;
    }
    if (quantity == SW_QUANTITY_DURATION && value >= 0.0 && value < 1e9 && value == floor(value)) {
        write_duration(value, text, SW_VALUE_TEXT_SIZE);
        return SW_OK;
    }
    const char *names[] = {unit, sw_quantity_si_unit(quantity)};
    char number[NUMBER_SIZE] = "";
    bool exact = false;
    const char *name = "";
    for (int i = 0; i < 2 && !exact; i++) {
        sw_unit found = {0};
        name = names[i];
        if (sw_unit_find(units, quantity, *name ? name : sw_quantity_si_unit(quantity), &found) != SW_UNIT_FOUND)
            return no_unit_for_writing(context, name);
        exact = shortest_number(&found, value, number);
        sw_unit_release(&found);
    }
    bool has_unit = strcmp(name, "1") != 0 && *name;
    snprintf(text, SW_VALUE_TEXT_SIZE, "%s%s%s", number, has_unit ? " " : "", has_unit ? name : "");
    return SW_OK;
}

int sw_value_digits(const char *text)
{
    int digits = 0;
    for (; *text && *text != ' ' && *text != 'e'; text++)
        digits += isdigit((unsigned char)*text) != 0;
    return digits;
}

sw_status sw_value_write_rounded(sw_context *context, const sw_units *units, sw_quantity quantity, const char *unit,
                                 double value, char text[SW_VALUE_TEXT_SIZE])
{
    sw_unit found = {0};
    if (sw_unit_find(units, quantity, *unit ? unit : sw_quantity_si_unit(quantity), &found) != SW_UNIT_FOUND)
        return no_unit_for_writing(context, unit);
    snprintf(text, SW_VALUE_TEXT_SIZE, "%.4g%s%s", sw_unit_from_si(&found, value), *unit ? " " : "", unit);
    sw_unit_release(&found);
    return SW_OK;
}

sw_status sw_range_write(sw_context *context, const sw_units *units, sw_quantity quantity, const char *unit,
                         sw_range range, char text[SW_VALUE_TEXT_SIZE])
{
    if (quantity == SW_QUANTITY_DURATION) {
        char shortest[SW_VALUE_TEXT_SIZE / 3], longest[SW_VALUE_TEXT_SIZE / 3];
        write_duration(range.minimum, shortest, sizeof shortest);
        write_duration(range.maximum, longest, sizeof longest);
        snprintf(text, SW_VALUE_TEXT_SIZE, "%s to %s", shortest, longest);
        return SW_OK;
    }
    sw_unit found = {0};
    if (sw_unit_find(units, quantity, *unit ? unit : sw_quantity_si_unit(quantity), &found) != SW_UNIT_FOUND)
        return no_unit_for_writing(context, unit);
    sw_range_in_unit(&found, unit, range, text);
    sw_unit_release(&found);
    return SW_OK;
}
