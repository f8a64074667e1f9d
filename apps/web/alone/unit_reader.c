/* SPDX-License-Identifier: BSD-3-Clause */
#include "unit_reader.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

struct ut_system {
    int one;
};

ut_error_message_handler ut_set_error_message_handler(ut_error_message_handler handler)
{
    return handler;
}

int ut_ignore(const char *format, va_list arguments)
{
    (void)format, (void)arguments;
    return 0;
}

ut_system *ut_read_xml(const char *path)
{
    (void)path;
    return calloc(1, sizeof(ut_system));
}

void ut_free_system(ut_system *system)
{
    free(system);
}

static const ut_unit one = {{1.0, 0.0, {0}}};

/* A product has no origin: that of 20 C / m is lost, as in UDUNITS. */
static void multiply(ut_unit *unit, const ut_unit *by, int power)
{
    unit->is.scale *= pow(by->is.scale, power);
    unit->is.origin = 0.0;
    for (int i = 0; i < UNIT_BASES; i++)
        unit->is.powers[i] += power * by->is.powers[i];
}

/* ---- names, symbols and prefixes ---- */

static bool is_called(const char *text, int is_symbol, const char *word)
{
    return is_symbol ? strcmp(text, word) == 0 : strcasecmp(text, word) == 0;
}

static bool find_row(const char *word, ut_unit *unit)
{
    for (int symbols = 0; symbols <= 1; symbols++)
        for (const unit_row *row = unit_rows; row->text; row++)
            if (row->is_symbol == symbols && is_called(row->text, symbols, word)) {
                *unit = (ut_unit){{row->scale, row->origin, {0}}};
                for (int i = 0; i < UNIT_BASES; i++)
                    unit->is.powers[i] = row->powers[i];
                return true;
            }
    return false;
}

/* The longest prefix of a kind that a word begins with. */
static const prefix_row *find_prefix(const char *word, int symbols)
{
    const prefix_row *found = NULL;
    for (const prefix_row *row = prefix_rows; row->text; row++) {
        const size_t length = strlen(row->text);
        const bool begins = symbols ? strncmp(row->text, word, length) == 0 : strncasecmp(row->text, word, length) == 0;
        if (row->is_symbol == symbols && begins && (!found || length > strlen(found->text)))
            found = row;
    }
    return found;
}

/* A name or symbol, perhaps behind a prefix that is a name and one that is a symbol. */
static bool find_word(const char *word, ut_unit *unit)
{
    double factor = 1.0;
    bool had[2] = {false, false};
    while (*word && !find_row(word, unit)) {
        int kind = 0;
        const prefix_row *prefix = had[0] ? NULL : find_prefix(word, 0);
        if (!prefix && !had[1]) {
            kind = 1;
            prefix = find_prefix(word, 1);
        }
        if (!prefix)
            return false;
        had[kind] = true;
        factor *= prefix->value;
        word += strlen(prefix->text);
    }
    if (*word == '\0')
        return false;
    unit->is.scale *= factor;
    return true;
}

/* ---- products ---- */

static bool read_product(const char **text, bool is_inner, ut_unit *unit);

static const char *skip(const char *text)
{
    return text + strspn(text, " ");
}

/* The power behind a factor: 2, -2, ^2, **2; 1 if there is none. */
static int read_power(const char **text)
{
    const char *at = *text + (strncmp(*text, "**", 2) == 0 ? 2 : **text == '^' ? 1 : 0);
    char *end;
    if (!isdigit((unsigned char)*at) && !((*at == '-' || *at == '+') && isdigit((unsigned char)at[1])))
        return 1;
    const long power = strtol(at, &end, 10);
    *text = end;
    return (int)power;
}

static bool read_factor(const char **text, ut_unit *unit)
{
    const char *at = *text;
    if (isdigit((unsigned char)*at) || *at == '.') {
        char *end;
        *unit = one;
        unit->is.scale = strtod(at, &end);
        *text = end;
        return end != at && unit->is.scale > 0.0;
    }
    if (*at == '(') {
        *text = skip(at + 1);
        if (!read_product(text, true, unit) || **text != ')')
            return false;
        ++*text;
    } else {
        char word[256];
        size_t length = 0;
        while (isalnum((unsigned char)at[length]) || at[length] == '_')
            length++;
        /* Digits inside belong to a name (perm_0C), those at its end are a power. */
        while (length > 0 && isdigit((unsigned char)at[length - 1]))
            length--;
        if (*at == '%')
            length = 1;
        if (length == 0 || length >= sizeof word)
            return false;
        memcpy(word, at, length);
        word[length] = '\0';
        *text += length;
        if (!find_word(word, unit))
            return false;
    }
    const int power = read_power(text);
    if (power != 1) {
        const ut_unit base = *unit;
        *unit = one;
        multiply(unit, &base, power);
    }
    return true;
}

static bool read_product(const char **text, bool is_inner, ut_unit *unit)
{
    if (!read_factor(text, unit))
        return false;
    for (;;) {
        ut_unit next;
        const char *at = skip(*text);
        const bool divides = *at == '/';
        if (*at == '\0' || (is_inner && *at == ')')) {
            *text = at;
            return true;
        }
        if (divides || *at == '.' || *at == '*')
            at = skip(at + 1);
        *text = at;
        if (!read_factor(text, &next))
            return false;
        multiply(unit, &next, divides ? -1 : 1);
    }
}

ut_unit *ut_parse(const ut_system *system, const char *text, ut_encoding encoding)
{
    (void)system, (void)encoding;
    ut_unit *unit = malloc(sizeof *unit);
    if (unit && read_product(&text, false, unit))
        return unit;
    free(unit);
    return NULL;
}

char *ut_trim(char *text, ut_encoding encoding)
{
    (void)encoding;
    size_t blanks = strspn(text, " "), length = strlen(text);
    while (length > blanks && text[length - 1] == ' ')
        length--;
    memmove(text, text + blanks, length - blanks);
    text[length - blanks] = '\0';
    return text;
}

void ut_free(ut_unit *unit)
{
    free(unit);
}

/* ---- what is asked of units ---- */

ut_unit *ut_divide(const ut_unit *numerator, const ut_unit *denominator)
{
    ut_unit *ratio = malloc(sizeof *ratio);
    if (ratio) {
        *ratio = *numerator;
        multiply(ratio, denominator, -1);
    }
    return ratio;
}

int ut_is_dimensionless(const ut_unit *unit)
{
    for (int i = 0; i < UNIT_BASES; i++)
        if (unit->is.powers[i] != 0)
            return 0;
    return 1;
}

int ut_are_convertible(const ut_unit *unit, const ut_unit *other)
{
    return memcmp(unit->is.powers, other->is.powers, sizeof unit->is.powers) == 0;
}

cv_converter *ut_get_converter(const ut_unit *from, const ut_unit *to)
{
    cv_converter *made = malloc(sizeof *made);
    if (made)
        *made = (cv_converter){{from->is.scale / to->is.scale, (from->is.origin - to->is.origin) / to->is.scale}};
    return made;
}

double cv_convert_double(const cv_converter *converter, double value)
{
    return converter->is.factor * value + converter->is.offset;
}

void cv_free(cv_converter *converter)
{
    free(converter);
}
