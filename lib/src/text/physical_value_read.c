/* SPDX-License-Identifier: BSD-3-Clause */
#include "physical_value.h"

#include "clock_words.h"
#include "typed_text.h"

#include <ctype.h>
#include <errno.h>
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* How each quantity is called and written, for error sentences. */
static const struct {
    const char *noun;
    const char *written;
    bool in_parts; /* whether "14 lb 6 oz" is one value */
    bool needs_a_unit;
} quantities[SW_QUANTITY_COUNT] = {
    [SW_QUANTITY_NUMBER] = {"a number", "write a plain number, or a percentage such as 5 %", false, false},
    [SW_QUANTITY_TEMPERATURE] = {"a temperature", "write it in F, C or K, such as 250 F or 121 C", false, true},
    [SW_QUANTITY_TEMPERATURE_DIFFERENCE] = {"a temperature difference", "write it in F, C or K, such as 10 F or 6 K",
                                            false, true},
    [SW_QUANTITY_HEATING_RATE] = {"a heating rate", "write it in F/h, C/h or K/h, such as 5 F/h or 3 K/h", false, true},
    [SW_QUANTITY_MASS] = {"a mass", "write it in lb, oz, kg or g, such as 14 lb 6 oz or 6.4 kg", true, true},
    [SW_QUANTITY_LENGTH] = {"a length", "write it in in, ft, mm, cm or m, such as 3 in or 8.5 cm", true, true},
    [SW_QUANTITY_DURATION] = {"a duration", "write it in h, min or s, such as 2 h 30 min or 2h30m", true, true},
    [SW_QUANTITY_CLOCK] = {"a time of day", "write one from 00:00 to 23:59, such as 17:30 or 5:30 pm", false, true},
    [SW_QUANTITY_AREA] = {"a permeability", "write it in m2, such as 1e-16 m2", false, true},
    [SW_QUANTITY_DIFFUSIVITY] = {"a diffusivity", "write it in m2/s, such as 1.2e-9 m2/s", false, true},
    [SW_QUANTITY_HEAT_TRANSFER] = {"a heat transfer coefficient",
                                   "write it in W/m2/K or BTU/h/ft2/F, such as 8 W/m2/K or 8 W m-2 K-1", false, true},
    [SW_QUANTITY_THERMAL_RESISTANCE] = {"a thermal resistance", "write it in m2 K/W, such as 0.006 m2 K/W", false,
                                        true},
    [SW_QUANTITY_PERMEANCE] = {"a permeance", "write it in kg/s/m2/Pa or perm, such as 1.8e-9 kg/s/m2/Pa or 30 perm",
                               false, true},
    [SW_QUANTITY_HUMIDITY_RATIO] = {"a humidity ratio",
                                    "write the mass of vapour over that of dry air, such as 0.02 or 20 g/kg (it is no "
                                    "relative humidity)",
                                    false, false},
    [SW_QUANTITY_SURFACE] = {"an area", "write it in cm2, m2 or in2, such as 600 cm2", false, true},
    [SW_QUANTITY_SPEED] = {"a speed", "write it in m/s or ft/min, such as 0.3 m/s", false, true},
    [SW_QUANTITY_HEAT_CAPACITY] = {"a heat capacity", "write it in kJ/K, J/K or BTU/F, such as 5 kJ/K", false, true},
    [SW_QUANTITY_HEAT_LOSS] = {"a heat loss", "write it in W/K or BTU/h/F, such as 0.8 W/K", false, true},
    [SW_QUANTITY_MASS_PER_AREA] = {"a mass per area", "write it in g/m2, kg/m2 or oz/ft2, such as 150 g/m2", false, true},
    [SW_QUANTITY_MASS_FLOW] = {"a mass flow", "write it in kg/h, kg/s or lb/h, such as 60 kg/h", false, true},
};

/* What is being read, for the sentences. */
typedef struct reading {
    sw_context *context;
    const sw_units *units;
    const char *where;
    sw_quantity quantity;
    const char *text;
} reading;

static sw_status refuse(const reading *r, const char *why)
{
    char typed[SW_QUOTE_SIZE];
    return sw_fail(r->context, SW_ERR_INPUT, "%s: %s %s; %s", r->where, sw_quote(r->text, typed), why,
                   quantities[r->quantity].written);
}

static sw_status refuse_kind(const reading *r)
{
    char why[64];
    snprintf(why, sizeof why, "is not %s", quantities[r->quantity].noun);
    return refuse(r, why);
}

static const char *skip_blanks(const char *text)
{
    return text + strspn(text, " \t");
}

static void remove_blanks_at_end(char *text)
{
    for (size_t length = strlen(text); length > 0 && strchr(" \t", text[length - 1]); length--)
        text[length - 1] = '\0';
}

/* Length of the number text begins with; 0 if it begins with none. Only plain decimal numbers: no hexadecimal, no
 * names such as inf. */
static size_t number_length(const char *text)
{
    static const char digits[] = "0123456789";
    size_t length = text[0] == '+' || text[0] == '-' ? 1 : 0;
    size_t whole = strspn(text + length, digits), fraction = 0;
    length += whole;
    if (text[length] == '.') {
        fraction = strspn(text + length + 1, digits);
        length += 1 + fraction;
    }
    if (whole + fraction == 0)
        return 0;
    if (text[length] == 'e' || text[length] == 'E') {
        size_t sign = text[length + 1] == '+' || text[length + 1] == '-' ? 1 : 0;
        size_t exponent = strspn(text + length + 1 + sign, digits);
        if (exponent > 0)
            length += 1 + sign + exponent;
    }
    return length;
}

/* Converts a number of this length; a caller makes sure that the numeric locale is "C". */
static sw_status convert_number(const reading *r, const char *text, size_t length, double *number)
{
    char copy[64];
    if (length >= sizeof copy)
        return refuse(r, "has a number of too many digits");
    memcpy(copy, text, length);
    copy[length] = '\0';
    char *end;
    errno = 0;
    double converted = strtod(copy, &end);
    if (*end != '\0')
        return refuse_kind(r);
    if (errno == ERANGE || !isfinite(converted))
        return refuse(r, "has a number too large or too small to compute with");
    *number = converted;
    return SW_OK;
}

/* Reads a number and moves text past it and the blanks behind it. */
static sw_status read_number(const reading *r, const char **text, double *number)
{
    size_t length = number_length(*text);
    if (length == 0)
        return refuse_kind(r);
    sw_status status = convert_number(r, *text, length, number);
    if (status != SW_OK)
        return status;
    *text += length;
    if (**text == ',' && isdigit((unsigned char)(*text)[1]))
        return refuse(r, "has a comma in a number, where only a decimal point is understood");
    *text = skip_blanks(*text);
    return SW_OK;
}

static sw_status no_memory_for_unit(const reading *r)
{
    return sw_fail(r->context, SW_ERR_MEMORY, "%s: memory to read a unit could not be allocated", r->where);
}

/* Finds a unit or says why not. */
static sw_status find_unit(const reading *r, const char *text, sw_unit *unit)
{
    char typed[SW_QUOTE_SIZE], why[SW_QUOTE_SIZE + 64];
    switch (sw_unit_find(r->units, r->quantity, text, unit)) {
    case SW_UNIT_FOUND:
        return SW_OK;
    case SW_UNIT_NO_MEMORY:
        return no_memory_for_unit(r);
    case SW_UNIT_OF_OTHER_QUANTITY:
        return refuse_kind(r);
    case SW_UNIT_UNKNOWN:
        break;
    }
    snprintf(why, sizeof why, "has %s where a unit is expected", sw_quote(text, typed));
    return refuse(r, why);
}

/* A limit typed in another unit may come out a rounding error beyond it: then it is the limit. */
static double snap_to_limits(double value, sw_range range)
{
    if (value < range.minimum && range.minimum - value <= 4.0 * DBL_EPSILON * fabs(range.minimum))
        return range.minimum;
    if (value > range.maximum && value - range.maximum <= 4.0 * DBL_EPSILON * fabs(range.maximum))
        return range.maximum;
    return value;
}

static sw_status check_range(const reading *r, const sw_unit *unit, const char *unit_name, sw_range range,
                             double *value)
{
    double snapped = snap_to_limits(*value, range);
    if (snapped >= range.minimum && snapped <= range.maximum) {
        *value = snapped;
        return SW_OK;
    }
    char typed[SW_QUOTE_SIZE], allowed[SW_VALUE_TEXT_SIZE];
    sw_range_in_unit(unit, unit_name, range, allowed);
    return sw_fail(r->context, SW_ERR_INPUT, "%s: %s is outside the allowed range, %s", r->where,
                   sw_quote(r->text, typed), allowed);
}

/* Reads "number unit". An empty unit is that of a plain number. */
static sw_status read_single(const reading *r, const char *text, sw_range range, double *value)
{
    double number = 0.0;
    sw_status status = read_number(r, &text, &number);
    if (status != SW_OK)
        return status;
    if (*text == '\0' && quantities[r->quantity].needs_a_unit)
        return refuse(r, "has no unit");
    sw_unit unit = {0};
    status = find_unit(r, *text ? text : sw_quantity_si_unit(r->quantity), &unit);
    if (status != SW_OK)
        return status;
    double si = sw_unit_to_si(&unit, number);
    status = check_range(r, &unit, text, range, &si);
    sw_unit_release(&unit);
    if (status == SW_OK)
        *value = si;
    return status;
}

static size_t letters_length(const char *text)
{
    size_t length = 0;
    while (isalpha((unsigned char)text[length]))
        length++;
    return length;
}

/* One part of a value such as "2 h 30 min". */
typedef struct value_part {
    double number;
    char name[64]; /* of the unit */
    sw_unit unit;
} value_part;

/* Reads a part and moves text past it and the blanks behind it. On success the part's unit is to be released. */
static sw_status read_part(const reading *r, const char **text, bool is_first, value_part *part)
{
    sw_status status = read_number(r, text, &part->number);
    if (status != SW_OK)
        return status;
    if (**text == '\0')
        return refuse(r, is_first ? "has no unit" : "has no unit behind its last number");
    size_t length = letters_length(*text);
    if (length == 0 || length >= sizeof part->name)
        return refuse_kind(r);
    memcpy(part->name, *text, length);
    part->name[length] = '\0';
    *text = skip_blanks(*text + length);
    return find_unit(r, part->name, &part->unit);
}

/* Adds up the parts of a value, each smaller in unit than the one before, none negative if there are several. first is
 * the first part, for the unit of the range; its unit is to be released in any case. */
static sw_status add_parts(const reading *r, const char *text, value_part *first, double *sum)
{
    sw_status status = read_part(r, &text, true, first);
    if (status != SW_OK)
        return status;
    double total = sw_unit_to_si(&first->unit, first->number), size_before = sw_unit_to_si(&first->unit, 1.0);
    bool any_negative = *text && signbit(first->number);
    while (*text) {
        value_part part = {0};
        status = read_part(r, &text, false, &part);
        if (status != SW_OK)
            return status;
        double size = sw_unit_to_si(&part.unit, 1.0);
        total += sw_unit_to_si(&part.unit, part.number);
        sw_unit_release(&part.unit);
        if (any_negative || signbit(part.number) || size >= size_before)
            return refuse(r, "has parts that do not add up to one value");
        size_before = size;
    }
    *sum = total;
    return SW_OK;
}

static sw_status read_parts(const reading *r, const char *text, sw_range range, double *value)
{
    value_part first = {0};
    double sum = 0.0;
    sw_status status = add_parts(r, text, &first, &sum);
    if (status == SW_OK)
        status = check_range(r, &first.unit, first.name, range, &sum);
    sw_unit_release(&first.unit);
    if (status == SW_OK)
        *value = sum;
    return status;
}

/* Reads H:MM, HH:MM or HH:MM:SS, the seconds with decimals or without, or the same in words. */
static sw_status read_clock(const reading *r, const char *text, double *value)
{
    char plain[SW_CLOCK_WORDS_SIZE];
    size_t words = sw_clock_words(text, plain);
    if (words > 0) {
        if (text[words] != '\0')
            return refuse_kind(r);
        text = plain;
    }
    size_t hour_digits = strspn(text, "0123456789");
    const char *minute = text + hour_digits + 1;
    if (hour_digits < 1 || hour_digits > 2 || text[hour_digits] != ':' || strspn(minute, "0123456789") != 2)
        return refuse_kind(r);
    int hours = atoi(text), minutes = atoi(minute);
    double seconds = 0.0;
    const char *second = minute + 2;
    if (*second == ':') {
        second++;
        if (strspn(second, "0123456789") != 2 || strspn(second, "0123456789.") != strlen(second) ||
            number_length(second) != strlen(second))
            return refuse_kind(r);
        sw_status status = convert_number(r, second, strlen(second), &seconds);
        if (status != SW_OK)
            return status;
    } else if (*second != '\0') {
        return refuse_kind(r);
    }
    if (hours > 23 || minutes > 59 || seconds >= 60.0)
        return refuse_kind(r);
    *value = hours * 3600.0 + minutes * 60.0 + seconds;
    return SW_OK;
}

/* Copies text without the blanks around it. */
static sw_status trim(const reading *r, char *trimmed, size_t size)
{
    const char *text = skip_blanks(r->text);
    if (strlen(text) >= size)
        return refuse(r, "is too long for one value");
    strcpy(trimmed, text);
    remove_blanks_at_end(trimmed);
    return SW_OK;
}

enum { LONGEST_VALUE = 200 };

/* Cuts "+1 day" off the end of a time of day; days is -1 if there is none. False if what is there is no such thing. */
static bool cut_days(char *trimmed, int *days)
{
    char *plus = strchr(trimmed, '+');
    *days = -1;
    if (!plus || plus == trimmed || plus[-1] == 'e' || plus[-1] == 'E') /* a sign, also of an exponent */
        return true;
    const char *digits = skip_blanks(plus + 1);
    const size_t length = strspn(digits, "0123456789");
    const char *unit = skip_blanks(digits + length);
    if (length == 0 || length > 2 || (strcmp(unit, "day") != 0 && strcmp(unit, "days") != 0))
        return false;
    *days = atoi(digits);
    *plus = '\0';
    remove_blanks_at_end(trimmed);
    return *days >= 1 && *days <= SW_ENDING_DAYS_MAX;
}

static const char no_such_day[] = "has no day that is understood: +1 day to +30 days";

/* A time of day, also on a later day where the range has room for one. */
static sw_status read_clock_on_day(const reading *r, const char *text, sw_range range, double *value)
{
    char trimmed[LONGEST_VALUE];
    int days = -1;
    double clock;
    strcpy(trimmed, text);
    if (range.maximum > 86400.0 && !cut_days(trimmed, &days))
        return refuse(r, no_such_day);
    sw_status status = read_clock(r, trimmed, &clock);
    if (status == SW_OK)
        *value = clock + (days > 0 ? days * 86400.0 : 0.0);
    return status;
}

static sw_status read_trimmed(const reading *r, const char *trimmed, sw_range range, double *value)
{
    if (r->quantity == SW_QUANTITY_CLOCK)
        return read_clock_on_day(r, trimmed, range, value);
    return quantities[r->quantity].in_parts ? read_parts(r, trimmed, range, value)
                                            : read_single(r, trimmed, range, value);
}

sw_status sw_value_read(sw_context *context, const sw_units *units, const char *where, sw_quantity quantity,
                        const char *text, sw_range range, double *value)
{
    reading r = {context, units, where, quantity, text};
    char trimmed[LONGEST_VALUE];
    sw_status status = trim(&r, trimmed, sizeof trimmed);
    return status == SW_OK ? read_trimmed(&r, trimmed, range, value) : status;
}

sw_status sw_value_read_whole(sw_context *context, const char *where, const char *text, int minimum, int maximum,
                              int *value)
{
    char typed[SW_QUOTE_SIZE];
    const char *digits = skip_blanks(text);
    size_t length = strspn(digits, "0123456789");
    if (length == 0 || length > 9 || *skip_blanks(digits + length) != '\0')
        return sw_fail(context, SW_ERR_INPUT, "%s: %s is not a whole number from %d to %d", where,
                       sw_quote(text, typed), minimum, maximum);
    int number = atoi(digits);
    if (number < minimum || number > maximum)
        return sw_fail(context, SW_ERR_INPUT, "%s: %s is outside the allowed range, %d to %d", where,
                       sw_quote(text, typed), minimum, maximum);
    *value = number;
    return SW_OK;
}

static sw_status refuse_ending(const reading *r, const char *why, bool may_be_none)
{
    char typed[SW_QUOTE_SIZE];
    return sw_fail(r->context, SW_ERR_INPUT,
                   "%s: %s %s; write a temperature such as 165 F or 74 C, a duration such as 3 h or a time of day such "
                   "as 17:30, 5:30 pm or 13:00 +1 day%s",
                   r->where, sw_quote(r->text, typed), why, may_be_none ? ", or none" : "");
}

/* The quantity an ending's unit measures: temperature or duration; SW_UNIT_UNKNOWN if neither. */
static sw_unit_answer ending_quantity(const sw_units *units, const char *unit_text, sw_quantity *quantity)
{
    static const sw_quantity possible[] = {SW_QUANTITY_TEMPERATURE, SW_QUANTITY_DURATION};
    char name[LONGEST_VALUE];
    strcpy(name, unit_text);
    for (size_t i = 0; i < sizeof possible / sizeof *possible; i++) {
        sw_unit unit = {0};
        if (possible[i] == SW_QUANTITY_DURATION)
            name[letters_length(name)] = '\0';
        const sw_unit_answer answer = sw_unit_find(units, possible[i], name, &unit);
        sw_unit_release(&unit);
        *quantity = possible[i];
        if (answer == SW_UNIT_FOUND || answer == SW_UNIT_NO_MEMORY)
            return answer;
    }
    return SW_UNIT_UNKNOWN;
}

/* An ending that is a word of its own. True if it is one, *ending then being what it stands for. */
static bool ending_of_word(const char *word, const sw_ending_limits *limits, sw_ending *ending, bool *is_possible)
{
    const struct {
        const char *word;
        bool is_possible;
        sw_ending ending;
    } words[] = {
        {"none", limits->may_be_none, {SW_ENDING_NONE, 0.0}},
        {"bark", limits->may_be_bark, {SW_ENDING_BARK, 0.0}},
        {"usual", limits->may_be_usual, {SW_ENDING_USUAL, 0.0}},
    };
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(word, words[i].word) == 0) {
            *is_possible = words[i].is_possible;
            *ending = words[i].ending;
            return true;
        }
    return false;
}

/* A time of day, on the day given if days is not -1. */
static sw_status read_clock_ending(const reading *r, const char *trimmed, int days, sw_ending *ending)
{
    reading of_clock = *r;
    double clock = 0.0;
    of_clock.quantity = SW_QUANTITY_CLOCK;
    sw_status status = read_trimmed(&of_clock, trimmed, (sw_range){0.0, 86400.0}, &clock);
    if (status == SW_OK)
        *ending = days >= 0 ? (sw_ending){SW_ENDING_CLOCK_ON_DAY, clock + days * 86400.0} : (sw_ending){SW_ENDING_CLOCK, clock};
    return status;
}

/* A temperature of the probe or a duration, as the unit says. */
static sw_status read_measured_ending(const reading *r, const char *trimmed, const sw_ending_limits *limits,
                                      sw_ending *ending)
{
    reading of_unit = *r;
    const size_t number = number_length(trimmed);
    const char *unit_text = skip_blanks(trimmed + number);
    if (number == 0)
        return refuse_ending(r, "is not an ending", limits->may_be_none);
    if (*unit_text == '\0')
        return refuse_ending(r, "has no unit", limits->may_be_none);
    const sw_unit_answer answer = ending_quantity(r->units, unit_text, &of_unit.quantity);
    if (answer == SW_UNIT_NO_MEMORY)
        return no_memory_for_unit(r);
    if (answer != SW_UNIT_FOUND)
        return refuse_ending(r, "is neither a temperature nor a duration", limits->may_be_none);
    const bool is_temperature = of_unit.quantity == SW_QUANTITY_TEMPERATURE;
    double value = 0.0;
    sw_status status = read_trimmed(&of_unit, trimmed, is_temperature ? limits->temperature : limits->duration, &value);
    if (status == SW_OK)
        *ending = (sw_ending){is_temperature ? SW_ENDING_PROBE_TEMPERATURE : SW_ENDING_DURATION, value};
    return status;
}

sw_status sw_value_read_ending(sw_context *context, const sw_units *units, const char *where, const char *text,
                               const sw_ending_limits *limits, sw_ending *ending)
{
    const reading r = {context, units, where, SW_QUANTITY_TEMPERATURE, text};
    char trimmed[LONGEST_VALUE], clock[SW_CLOCK_WORDS_SIZE];
    sw_status status = trim(&r, trimmed, sizeof trimmed);
    if (status != SW_OK)
        return status;
    sw_ending of_word;
    bool is_possible;
    if (ending_of_word(trimmed, limits, &of_word, &is_possible)) {
        if (!is_possible)
            return refuse_ending(&r, "is not possible here", limits->may_be_none);
        *ending = of_word;
        return SW_OK;
    }
    int days;
    if (!cut_days(trimmed, &days))
        return refuse_ending(&r, no_such_day, limits->may_be_none);
    if (strchr(trimmed, ':') || sw_clock_words(trimmed, clock) > 0)
        return read_clock_ending(&r, trimmed, days, ending);
    if (days >= 0)
        return refuse_ending(&r, "has a day but no time of day", limits->may_be_none);
    return read_measured_ending(&r, trimmed, limits, ending);
}
