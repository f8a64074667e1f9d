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

enum { MOST_DIGITS = 17, MOST_DECIMALS = 60, NUMBER_SIZE = 48 };

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

static void range_in_unit(const sw_unit *unit, const char *name, sw_range range, char text[SW_VALUE_TEXT_SIZE])
{
    char minimum[NUMBER_SIZE], maximum[NUMBER_SIZE];
    format_limit(sw_unit_from_si(unit, range.minimum), true, minimum);
    format_limit(sw_unit_from_si(unit, range.maximum), false, maximum);
    snprintf(text, SW_VALUE_TEXT_SIZE, "%.24s to %.24s%s%.24s", minimum, maximum, *name ? " " : "", name);
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
    range_in_unit(unit, unit_name, range, allowed);
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

static sw_status read_trimmed(const reading *r, const char *trimmed, sw_range range, double *value)
{
    if (r->quantity == SW_QUANTITY_CLOCK)
        return read_clock(r, trimmed, value);
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

sw_status sw_value_read_ending(sw_context *context, const sw_units *units, const char *where, const char *text,
                               const sw_ending_limits *limits, sw_ending *ending)
{
    reading r = {context, units, where, SW_QUANTITY_TEMPERATURE, text};
    char trimmed[LONGEST_VALUE];
    sw_status status = trim(&r, trimmed, sizeof trimmed);
    if (status != SW_OK)
        return status;
    if (strcmp(trimmed, "none") == 0) {
        if (!limits->may_be_none)
            return refuse_ending(&r, "is not possible here", false);
        *ending = (sw_ending){SW_ENDING_NONE, 0.0};
        return SW_OK;
    }
    if (strcmp(trimmed, "bark") == 0) {
        if (!limits->may_be_bark)
            return refuse_ending(&r, "is not possible here", limits->may_be_none);
        *ending = (sw_ending){SW_ENDING_BARK, 0.0};
        return SW_OK;
    }
    if (strcmp(trimmed, "usual") == 0) {
        if (!limits->may_be_usual)
            return refuse_ending(&r, "is not possible here", limits->may_be_none);
        *ending = (sw_ending){SW_ENDING_USUAL, SW_USUAL_PULL};
        return SW_OK;
    }
    sw_ending read = {SW_ENDING_CLOCK, 0.0};
    sw_range range = {0.0, 86400.0};
    int days;
    if (!cut_days(trimmed, &days))
        return refuse_ending(&r, "has no day that is understood: +1 day to +30 days", limits->may_be_none);
    char plain[SW_CLOCK_WORDS_SIZE];
    if (strchr(trimmed, ':') || sw_clock_words(trimmed, plain) > 0) {
        r.quantity = SW_QUANTITY_CLOCK;
    } else if (days >= 0) {
        return refuse_ending(&r, "has a day but no time of day", limits->may_be_none);
    } else {
        size_t number = number_length(trimmed);
        const char *unit_text = skip_blanks(trimmed + number);
        if (number == 0)
            return refuse_ending(&r, "is not an ending", limits->may_be_none);
        if (*unit_text == '\0')
            return refuse_ending(&r, "has no unit", limits->may_be_none);
        const sw_unit_answer answer = ending_quantity(units, unit_text, &r.quantity);
        if (answer == SW_UNIT_NO_MEMORY)
            return no_memory_for_unit(&r);
        if (answer != SW_UNIT_FOUND)
            return refuse_ending(&r, "is neither a temperature nor a duration", limits->may_be_none);
        bool is_temperature = r.quantity == SW_QUANTITY_TEMPERATURE;
        read.kind = is_temperature ? SW_ENDING_PROBE_TEMPERATURE : SW_ENDING_DURATION;
        range = is_temperature ? limits->temperature : limits->duration;
    }
    status = read_trimmed(&r, trimmed, range, &read.value);
    if (status == SW_OK && days >= 0)
        read = (sw_ending){SW_ENDING_CLOCK_ON_DAY, read.value + days * 86400.0};
    if (status == SW_OK)
        *ending = read;
    return status;
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
    if (quantity == SW_QUANTITY_CLOCK && value >= 0.0 && value < 86400.0) {
        write_clock(value, text);
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
    range_in_unit(&found, unit, range, text);
    sw_unit_release(&found);
    return SW_OK;
}
