/* SPDX-License-Identifier: BSD-3-Clause */
#include "prose.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

static const char *const kind_names[PROSE_COUNT] = {"text",  "temperature", "difference", "rate",   "duration", "mass",
                                                    "length", "share",      "points",     "heat",   "number",   "times", "whole", "chance"};

const char *prose_kind_name(prose_kind kind)
{
    return kind_names[kind];
}

static prose_kind kind_of(const char *name, size_t length)
{
    for (int i = 0; i < PROSE_COUNT; i++)
        if (strlen(kind_names[i]) == length && strncmp(kind_names[i], name, length) == 0)
            return (prose_kind)i;
    return PROSE_COUNT;
}

static void add_text(prose *p, const char *text, size_t length)
{
    if (p->count == PROSE_PIECES_MAX || length == 0)
        return;
    if (length >= PROSE_TEXT_SIZE - p->used)
        length = PROSE_TEXT_SIZE - p->used - 1;
    p->pieces[p->count++] = (prose_piece){.kind = PROSE_TEXT, .text = p->used};
    memcpy(p->texts + p->used, text, length);
    p->used += length;
    p->texts[p->used] = '\0';
    /* The zero is kept between texts, so that each is a string of its own. */
    if (p->used + 1 < PROSE_TEXT_SIZE)
        p->used++;
}

void prose_add(prose *p, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    for (const char *at = format; *at;) {
        size_t plain = strcspn(at, "{"), name = 0;
        add_text(p, at, plain);
        at += plain;
        if (!*at)
            break;
        name = strcspn(at, "}");
        prose_kind kind = kind_of(at + 1, name - 1);
        if (kind == PROSE_TEXT) {
            const char *text = va_arg(arguments, const char *);
            add_text(p, text, strlen(text));
        } else if (p->count < PROSE_PIECES_MAX) {
            p->pieces[p->count++] = (prose_piece){.kind = kind, .value = va_arg(arguments, double)};
        }
        at += name + (at[name] == '}');
    }
    va_end(arguments);
}

void prose_clear(prose *p)
{
    p->count = p->used = 0;
    p->texts[0] = '\0';
}

/* Heat from that of melting collagen to that of a whole cook. */
static const char *show_any_heat(double joules, sw_unit_system units, char *text)
{
    if (units == SW_UNITS_US || fabs(joules) >= 1e6)
        return show_heat(joules, units, text);
    snprintf(text, QUANTITY_SIZE, fabs(joules) >= 1e4 ? "%.0f kJ" : "%.1f kJ", 1e-3 * joules);
    return text;
}

/* Lengths from that of a dry layer to that of a cut. */
static const char *show_any_length(double metres, sw_unit_system units, char *text)
{
    if (units == SW_UNITS_US || !(metres < 0.01))
        return show_length(metres, units, text);
    snprintf(text, QUANTITY_SIZE, "%.1f mm", 1e3 * metres);
    return text;
}

const char *prose_show(const prose *p, const prose_piece *piece, sw_unit_system units, char *text)
{
    const double v = piece->value;
    switch (piece->kind) {
    case PROSE_TEXT:
        return p->texts + piece->text;
    case PROSE_TEMPERATURE:
        return show_temperature(v, units, text);
    case PROSE_DIFFERENCE:
        return show_temperature_difference(v, units, text);
    case PROSE_RATE:
        return show_heating_rate(v, units, text);
    case PROSE_DURATION:
        return show_duration(v, text);
    case PROSE_MASS:
        return show_mass(v, units, text);
    case PROSE_LENGTH:
        return show_any_length(v, units, text);
    case PROSE_SHARE:
        return show_share(v, text);
    case PROSE_POINTS:
        snprintf(text, QUANTITY_SIZE, "%.1f points", 100.0 * v);
        return text;
    case PROSE_HEAT:
        return SW_IS_ABSENT(v) ? "-" : show_any_heat(v, units, text);
    case PROSE_TIMES:
        snprintf(text, QUANTITY_SIZE, "%.3g", v);
        return text;
    case PROSE_CHANCE:
        return show_chance(v, text);
    case PROSE_WHOLE:
        snprintf(text, QUANTITY_SIZE, "%.0f", v);
        return text;
    default:
        snprintf(text, QUANTITY_SIZE, "%.2f", v);
        return text;
    }
}

const char *prose_plain(const prose *p, sw_unit_system units, char *text, size_t size)
{
    char quantity[QUANTITY_SIZE];
    size_t used = 0;
    text[0] = '\0';
    for (size_t i = 0; i < p->count && used + 1 < size; i++) {
        int length = snprintf(text + used, size - used, "%s", prose_show(p, &p->pieces[i], units, quantity));
        used += length > 0 ? (size_t)length : 0;
    }
    return text;
}

/* Characters of a UTF-8 word: bytes that do not continue one. */
static size_t width_of(const char *word, size_t length)
{
    size_t width = 0;
    for (size_t i = 0; i < length; i++)
        width += ((unsigned char)word[i] & 0xC0) != 0x80;
    return width;
}

/* Stands for a blank at which a line is not broken: within a quantity. */
static const char firm_blank = '\x1f';

static void put_word(const char *word, size_t length, FILE *stream)
{
    for (size_t i = 0; i < length; i++)
        fputc(word[i] == firm_blank ? ' ' : word[i], stream);
}

/* The text with the blanks of its quantities made firm. */
static void firm_text(const prose *p, sw_unit_system units, char *text, size_t size)
{
    char quantity[QUANTITY_SIZE];
    size_t used = 0;
    text[0] = '\0';
    for (size_t i = 0; i < p->count && used + 1 < size; i++) {
        const size_t from = used;
        int length = snprintf(text + used, size - used, "%s", prose_show(p, &p->pieces[i], units, quantity));
        used += length > 0 ? (size_t)length : 0;
        for (size_t k = from; p->pieces[i].kind != PROSE_TEXT && text[k]; k++)
            text[k] = text[k] == ' ' ? firm_blank : text[k];
    }
}

void print_wrapped(const char *text, size_t columns, const char *first, const char *indent, FILE *stream)
{
    size_t column = width_of(first, strlen(first));
    bool begins = true;
    fputs(first, stream);
    for (const char *at = text + strspn(text, " "); *at; at += strspn(at, " ")) {
        const size_t length = strcspn(at, " "), width = width_of(at, length);
        if (!begins && column + 1 + width > columns) {
            fprintf(stream, "\n%s", indent);
            column = strlen(indent);
        } else if (!begins) {
            fputc(' ', stream);
            column++;
        }
        put_word(at, length, stream);
        column += width;
        at += length;
        begins = false;
    }
    fputc('\n', stream);
}

void prose_print(const prose *p, sw_unit_system units, const char *first, const char *indent, FILE *stream)
{
    enum { COLUMNS = 80 };
    char text[2 * PROSE_TEXT_SIZE];
    firm_text(p, units, text, sizeof text);
    print_wrapped(text, COLUMNS, first, indent, stream);
}
