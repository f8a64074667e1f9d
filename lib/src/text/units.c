/* SPDX-License-Identifier: BSD-3-Clause */
#include "units.h"

#include "memory_at_hand.h"

#include <ctype.h>
#include <errno.h>
#include <float.h>
#include <math.h>
#include <pthread.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <udunits2.h>

enum { LONGEST_UNIT = 128 };

struct sw_units {
    ut_system *system;
    ut_unit *si[SW_QUANTITY_COUNT];
};

/* UDUNITS crashes or ends the program where its allocations fail. The unit database in memory, and one unit while it is parsed and converted [bytes]: some times what they take. */
static const size_t database_room = (size_t)16 << 20, unit_room = (size_t)256 << 10;

static sw_status no_database(sw_context *context)
{
    if (errno == ENOMEM)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the unit database could not be allocated");
    return sw_fail(context, SW_ERR_FILE,
                   "the unit database of UDUNITS-2 cannot be read; if the environment sets UDUNITS2_XML_PATH, it must name a "
                   "complete udunits2.xml");
}

/* UDUNITS has one handler of messages for the whole process, which prints: it is silent while any units live. */
static pthread_mutex_t handler_lock = PTHREAD_MUTEX_INITIALIZER;
static size_t silent_for;
static ut_error_message_handler callers_handler;

static void silence(void)
{
    pthread_mutex_lock(&handler_lock);
    if (silent_for++ == 0)
        callers_handler = ut_set_error_message_handler(ut_ignore);
    pthread_mutex_unlock(&handler_lock);
}

static void restore(void)
{
    pthread_mutex_lock(&handler_lock);
    if (--silent_for == 0)
        ut_set_error_message_handler(callers_handler);
    pthread_mutex_unlock(&handler_lock);
}

sw_status sw_units_create(sw_context *context, sw_units **units)
{
    sw_units *created = calloc(1, sizeof *created);
    if (!created || !sw_memory_is_at_hand(database_room)) {
        free(created);
        return sw_fail(context, SW_ERR_MEMORY, "memory for the unit database could not be allocated");
    }
    silence();
    errno = 0;
    created->system = ut_read_xml(NULL);
    bool complete = created->system != NULL;
    for (int i = 0; complete && i < SW_QUANTITY_COUNT; i++) {
        created->si[i] = ut_parse(created->system, sw_quantity_si_unit((sw_quantity)i), UT_ASCII);
        complete = created->si[i] != NULL;
    }
    if (!complete) {
        sw_status status = no_database(context);
        sw_units_destroy(created);
        return status;
    }
    *units = created;
    return SW_OK;
}

void sw_units_destroy(sw_units *units)
{
    if (!units)
        return;
    for (int i = 0; i < SW_QUANTITY_COUNT; i++)
        ut_free(units->si[i]);
    if (units->system)
        ut_free_system(units->system);
    free(units);
    restore();
}

/* Signs outside ASCII that people and keyboards put into units, and what they stand for. */
static const struct {
    const char *sign;
    const char *meaning;
} signs[] = {
    {"\u00b0", "deg"}, {"\u00ba", "deg"}, {"\u2103", "degC"}, {"\u2109", "degF"}, {"\u00b9", "1"},
    {"\u00b2", "2"},   {"\u00b3", "3"},   {"\u207b", "-"},    {"\u2212", "-"},    {"\u00b7", "."},
    {"\u22c5", "."},   {"\u00b5", "u"},   {"\u03bc", "u"},    {"\u00a0", " "},    {"\u202f", " "},
};

/* Copies text with those signs spelled in ASCII; false if another sign stands there, or it is too long. */
static bool spell_in_ascii(const char *text, char *spelled, size_t size)
{
    size_t written = 0;
    while (*text) {
        char letter[2] = {*text, '\0'};
        const char *piece = letter;
        size_t read = 1;
        if ((unsigned char)*text >= 0x80) {
            piece = NULL;
            for (size_t i = 0; i < sizeof signs / sizeof *signs && !piece; i++) {
                read = strlen(signs[i].sign);
                if (strncmp(text, signs[i].sign, read) == 0)
                    piece = signs[i].meaning;
            }
            if (!piece)
                return false;
        }
        size_t length = strlen(piece);
        if (written + length + 1 > size)
            return false;
        memcpy(spelled + written, piece, length);
        written += length;
        text += read;
    }
    spelled[written] = '\0';
    return true;
}

/* Short forms that UDUNITS reads as something else or not at all. An ounce is spelled out because the database's own
 * has only seven digits. "perm" is the permeance of building papers, at 0 C as NIST SP 811 (2008) lists it first. */
static const struct {
    const char *typed;
    const char *meaning;
} short_forms[] = {
    {"lb", "lb"},  {"lbs", "lb"},  {"oz", "(0.0625 lb)"}, {"ounce", "(0.0625 lb)"}, {"ounces", "(0.0625 lb)"},
    {"kg", "kg"},  {"hr", "h"},    {"hrs", "h"},          {"min", "min"},           {"mins", "min"},
    {"secs", "s"}, {"btu", "BTU"}, {"perm", "perm_0C"},   {"perms", "perm_0C"},
};

/* Words of the UDUNITS grammar that are no units here: offsets, dates, logarithms and degrees of an angle. */
static const char *const grammar_words[] = {"since", "from", "after", "ref",    "re",
                                            "lg",    "ln",   "deg",   "degree", "degrees"};

static const char *const percent_words[] = {"%", "percent"};

static bool is_word(const char *word, const char *const *words, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (strcasecmp(word, words[i]) == 0)
            return true;
    return false;
}

#define IS_ONE_OF(word, words) is_word(word, words, sizeof words / sizeof *words)

static const char *const celsius_words[] = {"degC", "deg_C", "degreeC", "degreesC", "celsius", "centigrade"};
static const char *const fahrenheit_words[] = {"degF", "deg_F", "degreeF", "degreesF", "fahrenheit"};

static bool is_temperature_like(sw_quantity quantity)
{
    return quantity == SW_QUANTITY_TEMPERATURE || quantity == SW_QUANTITY_TEMPERATURE_DIFFERENCE ||
           quantity == SW_QUANTITY_HEATING_RATE;
}

/* What to hand to UDUNITS for one word; NULL if it is not to see it. */
static const char *translate(const char *word, sw_quantity quantity)
{
    bool absolute = quantity == SW_QUANTITY_TEMPERATURE, degrees = is_temperature_like(quantity);
    if (IS_ONE_OF(word, grammar_words))
        return NULL;
    /* Plain numbers know no unit but the percent sign. A humidity ratio in percent would be a relative humidity. */
    bool percent = IS_ONE_OF(word, percent_words);
    if ((quantity == SW_QUANTITY_NUMBER && !percent) || (quantity == SW_QUANTITY_HUMIDITY_RATIO && percent))
        return NULL;
    if (strcmp(word, "F") == 0 || (degrees && strcmp(word, "f") == 0) || IS_ONE_OF(word, fahrenheit_words))
        return absolute ? "degF" : "degR";
    if (strcmp(word, "C") == 0 || (degrees && strcmp(word, "c") == 0) || IS_ONE_OF(word, celsius_words))
        return absolute ? "degC" : "K";
    if (quantity == SW_QUANTITY_DURATION && strcmp(word, "m") == 0)
        return "min";
    for (size_t i = 0; i < sizeof short_forms / sizeof *short_forms; i++)
        if (strcasecmp(word, short_forms[i].typed) == 0)
            return short_forms[i].meaning;
    return word;
}

/* Reads a word and joins "deg C" to "degC"; returns the end of what was read. */
static const char *read_word(const char *text, char *word)
{
    size_t length = strspn(text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ_%");
    memcpy(word, text, length);
    word[length] = '\0';
    text += length;
    const char *next = text + strspn(text, " ");
    bool is_degree =
        strcasecmp(word, "deg") == 0 || strcasecmp(word, "degree") == 0 || strcasecmp(word, "degrees") == 0;
    if (is_degree && *next && strchr("CFKcfk", *next) && !isalpha((unsigned char)next[1])) {
        char scale = (char)toupper((unsigned char)*next);
        strcpy(word, scale == 'K' ? "K" : scale == 'C' ? "degC" : "degF");
        text = next + 1;
    }
    return text;
}

/* Reads the power behind a word: 2, -2, ^2, **2. */
static size_t power_length(const char *text)
{
    size_t mark = strncmp(text, "**", 2) == 0 ? 2 : *text == '^' ? 1 : 0;
    size_t sign = text[mark] == '-' || text[mark] == '+' ? 1 : 0;
    size_t digits = strspn(text + mark + sign, "0123456789");
    return digits == 1 ? mark + sign + 1 : 0;
}

/* Rewrites a unit in the words of UDUNITS; false if it is not made of words, powers, products and quotients only. A
 * number in it is refused: UDUNITS would multiply by it. */
static bool rewrite(const char *text, sw_quantity quantity, char *rewritten, size_t size)
{
    size_t written = 0;
    bool any_word = false;
    while (*text) {
        char word[LONGEST_UNIT], piece[2 * LONGEST_UNIT];
        if (isalpha((unsigned char)*text) || *text == '%') {
            text = read_word(text, word);
            const char *translated = translate(word, quantity);
            if (!translated)
                return false;
            size_t power = power_length(text), length = strlen(translated);
            memcpy(piece, translated, length);
            memcpy(piece + length, text, power);
            piece[length + power] = '\0';
            text += power;
            any_word = true;
        } else if (strchr(" ./*()", *text)) {
            piece[0] = *text++;
            piece[1] = '\0';
        } else {
            return false;
        }
        size_t length = strlen(piece);
        if (written + length + 1 > size)
            return false;
        memcpy(rewritten + written, piece, length + 1);
        written += length;
    }
    return any_word;
}

/* UDUNITS also converts a unit to its reciprocal (s to Hz), which is never meant here: the ratio must be a number. */
static bool measures_the_same(const ut_unit *one, const ut_unit *other)
{
    ut_unit *ratio = ut_divide(one, other);
    bool same = ratio && ut_is_dimensionless(ratio) && ut_are_convertible(one, other);
    ut_free(ratio);
    return same;
}

static double to_three_decimals(double value)
{
    return round(value * 1000.0) / 1000.0;
}

/* Where the unit is a short decimal part of the SI unit its conversion is written with that decimal, so that 8.5 cm is
 * the double nearest to 0.085 and 41 F the same double as 5 C: dividing by 100 or 1.8 does that, multiplying by the
 * doubles nearest to 0.01 and 5/9 may not. */
static sw_unit_answer make_unit(ut_unit *parsed, ut_unit *si, sw_unit *unit)
{
    if (!measures_the_same(parsed, si))
        return SW_UNIT_OF_OTHER_QUANTITY;
    sw_unit made = {.to_si = ut_get_converter(parsed, si), .from_si = ut_get_converter(si, parsed)};
    if (!made.to_si || !made.from_si) {
        sw_unit_release(&made);
        return SW_UNIT_NO_MEMORY;
    }
    double zero = cv_convert_double(made.from_si, 0.0), per_si = cv_convert_double(made.from_si, 1.0) - zero;
    double decimal = to_three_decimals(per_si);
    if (decimal >= 1.0 && fabs(per_si - decimal) <= 1e-12 + 4.0 * DBL_EPSILON * decimal) {
        made.per_si = decimal;
        made.reference_si = zero == 0.0 ? 0.0 : 273.15;
        made.reference = to_three_decimals(cv_convert_double(made.from_si, made.reference_si));
    }
    *unit = made;
    return SW_UNIT_FOUND;
}

static sw_unit_answer find_unit(const sw_units *units, sw_quantity quantity, const char *text, sw_unit *unit)
{
    char spelled[LONGEST_UNIT], rewritten[2 * LONGEST_UNIT];
    if (strcmp(text, sw_quantity_si_unit(quantity)) == 0)
        return make_unit(units->si[quantity], units->si[quantity], unit);
    if (!spell_in_ascii(text, spelled, sizeof spelled) || !rewrite(spelled, quantity, rewritten, sizeof rewritten))
        return SW_UNIT_UNKNOWN;
    ut_unit *parsed = ut_parse(units->system, ut_trim(rewritten, UT_ASCII), UT_ASCII);
    sw_unit_answer answer = parsed ? make_unit(parsed, units->si[quantity], unit) : SW_UNIT_UNKNOWN;
    ut_free(parsed);
    return answer;
}

sw_unit_answer sw_unit_find(const sw_units *units, sw_quantity quantity, const char *text, sw_unit *unit)
{
    if (!sw_memory_is_at_hand(unit_room))
        return SW_UNIT_NO_MEMORY;
    /* Without memory UDUNITS calls a good unit unknown, or of another quantity. */
    errno = 0;
    sw_unit_answer answer = find_unit(units, quantity, text, unit);
    return answer != SW_UNIT_FOUND && errno == ENOMEM ? SW_UNIT_NO_MEMORY : answer;
}

void sw_unit_release(sw_unit *unit)
{
    if (unit->to_si)
        cv_free(unit->to_si);
    if (unit->from_si)
        cv_free(unit->from_si);
    *unit = (sw_unit){0};
}

double sw_unit_to_si(const sw_unit *unit, double value)
{
    if (unit->per_si > 0.0)
        return (value - unit->reference) / unit->per_si + unit->reference_si;
    return cv_convert_double(unit->to_si, value);
}

double sw_unit_from_si(const sw_unit *unit, double value)
{
    if (unit->per_si > 0.0)
        return (value - unit->reference_si) * unit->per_si + unit->reference;
    return cv_convert_double(unit->from_si, value);
}
