/* SPDX-License-Identifier: BSD-3-Clause */
#include "log_table.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

sw_status sw_log_refuse(sw_context *context, const char *path, int line, size_t column, const char *format, ...)
{
    char why[400];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(why, sizeof why, format, arguments);
    va_end(arguments);
    return sw_fail(context, SW_ERR_INPUT, "%.200s:%d:%zu: %s", path, line, column, why);
}

void sw_log_doubt_add(sw_cook_log *log, int line, const char *format, ...)
{
    va_list arguments;
    if (log->doubt_count++ >= SW_LOG_DOUBTS_MAX)
        return;
    sw_log_doubt *d = &log->doubts[log->doubt_count - 1];
    d->line = line;
    va_start(arguments, format);
    vsnprintf(d->sentence, sizeof d->sentence, format, arguments);
    va_end(arguments);
}

/* Without blanks and quotes around it; false if it is too long. */
static bool copy_field(const char *text, size_t length, char *field)
{
    while (length > 0 && strchr(" \t\"\r", text[0])) {
        text++;
        length--;
    }
    while (length > 0 && strchr(" \t\"\r", text[length - 1]))
        length--;
    if (length >= SW_LOG_FIELD_SIZE)
        return false;
    /* A tab or carriage return that parts nothing is a space, in what is read and in what is said of it. */
    for (size_t i = 0; i < length; i++)
        field[i] = (unsigned char)text[i] < ' ' ? ' ' : text[i];
    field[length] = '\0';
    return true;
}

sw_status sw_log_split(sw_context *context, const char *path, const char *text, size_t length, char separator, int number,
                       sw_log_line *line)
{
    line->number = number;
    line->count = 0;
    for (size_t at = 0; at <= length;) {
        size_t end = at;
        for (bool quoted = false; end < length && (quoted || text[end] != separator); end++)
            quoted = text[end] == '"' ? !quoted : quoted;
        if (line->count == SW_LOG_FIELDS_MAX)
            return sw_log_refuse(context, path, number, at + 1, "the line has more than %d fields", SW_LOG_FIELDS_MAX);
        line->column[line->count] = at + 1;
        if (!copy_field(text + at, end - at, line->fields[line->count]))
            return sw_log_refuse(context, path, number, at + 1, "a field is longer than %d bytes", SW_LOG_FIELD_SIZE - 1);
        line->count++;
        at = end + 1;
    }
    return SW_OK;
}

bool sw_log_number(const char *field, char separator, double *number)
{
    char plain[SW_LOG_FIELD_SIZE], *end;
    snprintf(plain, sizeof plain, "%s", field);
    char *comma = strchr(plain, ',');
    if (comma && separator != ',' && !strchr(plain, '.'))
        *comma = '.';
    if (plain[0] == '\0' || plain[strspn(plain, "+-.0123456789eE")] != '\0')
        return false;
    *number = strtod(plain, &end);
    return *end == '\0' && isfinite(*number);
}

/* Words of a heading in small letters, apart: "Probe 2 (\xC2\xB0" "F)" is "probe", "2", "f". The unit is the last. */
enum { WORDS_MAX = 12, WORD_SIZE = 24 };
typedef struct words {
    size_t count;
    char list[WORDS_MAX][WORD_SIZE];
    size_t at[WORDS_MAX]; /* where they begin */
} words;

static void split_words(const char *text, words *w)
{
    size_t length = 0;
    w->count = 0;
    for (size_t i = 0;; i++) {
        const unsigned char c = (unsigned char)text[i];
        if (c < 0x80 && isalnum(c)) {
            if (length == 0 && w->count < WORDS_MAX)
                w->at[w->count] = i;
            if (w->count < WORDS_MAX && length + 1 < WORD_SIZE)
                w->list[w->count][length++] = (char)tolower(c);
        } else if (length > 0) {
            w->list[w->count++][length] = '\0';
            length = 0;
        }
        if (c == '\0')
            return;
    }
}

static bool has_word(const words *w, const char *const *any)
{
    for (size_t i = 0; i < w->count; i++)
        for (size_t k = 0; any[k]; k++)
            if (strncmp(w->list[i], any[k], strlen(any[k])) == 0)
                return true;
    return false;
}

static sw_log_role role_of(const words *w)
{
    static const char *const of_time[] = {"time", "date", "clock", "elapsed", "hours", "minutes", "seconds", NULL};
    static const char *const of_pit[] = {"pit", "ambient", "air", "chamber", "grate", "smoker", "grill", "oven", NULL};
    static const char *const of_meat[] = {"meat", "flat", "point", "probe", "food", "core", "internal", "temp", "brisket", NULL};
    static const char *const of_none[] = {"set", "target", "alarm", "fan", "battery", NULL};
    static const char *const of_events[] = {"event", "note", "comment", NULL};
    if (has_word(w, of_events))
        return SW_LOG_EVENTS;
    if (has_word(w, of_none))
        return SW_LOG_OTHER;
    if (has_word(w, of_time))
        return SW_LOG_TIME;
    return has_word(w, of_pit) ? SW_LOG_PIT : has_word(w, of_meat) ? SW_LOG_MEAT : SW_LOG_OTHER;
}

/* The unit that a heading ends with: 0 none, else the number of bytes before it. */
static size_t find_unit(const sw_units *units, sw_quantity quantity, const char *heading, double *scale, double *zero)
{
    static const char *const names[][2] = {{"fahrenheit", "F"}, {"celsius", "C"}, {"kelvin", "K"}, {"f", "F"}, {"c", "C"}, {"k", "K"},
                                           {"degf", "F"}, {"degc", "C"}, {"sec", "s"}, {"secs", "s"}, {"mins", "min"}, {"hr", "h"}, {"hrs", "h"}};
    words w;
    sw_unit unit;
    split_words(heading, &w);
    if (w.count == 0 || strspn(w.list[w.count - 1], "0123456789") == strlen(w.list[w.count - 1]))
        return 0;
    const char *word = w.list[w.count - 1];
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strcmp(w.list[w.count - 1], names[i][0]) == 0)
            word = names[i][1];
    if (sw_unit_find(units, quantity, word, &unit) != SW_UNIT_FOUND)
        return 0;
    *zero = sw_unit_to_si(&unit, 0.0);
    *scale = sw_unit_to_si(&unit, 1.0) - *zero;
    sw_unit_release(&unit);
    return w.at[w.count - 1];
}

/* A heading without its unit and what parts it from it. */
static void name_column(const char *heading, size_t unit_at, char *name)
{
    size_t length = unit_at > 0 ? unit_at : strlen(heading);
    while (unit_at > 0 && length > 0 && (heading[length - 1] & 0x80 || strchr(" \t_([", heading[length - 1])))
        length--;
    if (length >= SW_LOG_NAME_SIZE)
        length = SW_LOG_NAME_SIZE - 1;
    memcpy(name, heading, length);
    name[length] = '\0';
}

static char find_separator(const char *text, size_t length)
{
    return memchr(text, '\t', length) ? '\t' : memchr(text, ';', length) ? ';' : ',';
}

/* What --columns says of one column: "flat=Probe 2". */
static sw_status assign_columns(sw_context *context, const sw_cook_log_form *form, const sw_log_line *line,
                                char names[][SW_LOG_NAME_SIZE], sw_log_role *roles)
{
    for (size_t i = 0; i < line->count; i++)
        roles[i] = SW_LOG_OTHER;
    for (const char *at = form->columns; *at;) {
        const size_t length = strcspn(at, ",");
        char part[2 * SW_LOG_FIELD_SIZE], *equals;
        snprintf(part, sizeof part, "%.*s", (int)length, at);
        at += length + (at[length] == ',' ? 1 : 0);
        equals = strchr(part, '=');
        if (!equals || equals == part || equals[1] == '\0')
            return sw_fail(context, SW_ERR_INPUT, "--columns: \"%s\" is not of the form flat=HEADING; time, pit, event and names of probes "
                           "stand before the equals sign", part);
        *equals = '\0';
        size_t found = line->count;
        for (size_t i = 0; i < line->count; i++)
            if (strcmp(line->fields[i], equals + 1) == 0 || strcmp(names[i], equals + 1) == 0)
                found = i;
        if (found == line->count)
            return sw_log_refuse(context, form->path, line->number, 1, "--columns names a column \"%s\" that the heading does not have",
                                 equals + 1);
        roles[found] = strcmp(part, "time") == 0 ? SW_LOG_TIME : strcmp(part, "pit") == 0 ? SW_LOG_PIT
                       : strcmp(part, "event") == 0 ? SW_LOG_EVENTS : SW_LOG_MEAT;
        snprintf(names[found], SW_LOG_NAME_SIZE, "%.*s", SW_LOG_NAME_SIZE - 1, part);
    }
    return SW_OK;
}

static sw_status place_column(sw_context *context, const char *path, const sw_log_line *line, size_t i, sw_log_role role, const char *name,
                              sw_log_heading *h)
{
    switch (role) {
    case SW_LOG_TIME:
        if (h->time < 0)
            h->time = (int)i;
        return SW_OK;
    case SW_LOG_PIT:
        if (h->pit >= 0)
            return sw_log_refuse(context, path, line->number, line->column[i], "two columns are of the pit, \"%s\" and \"%s\"; "
                                 "--columns says which to read", h->pit_name, line->fields[i]);
        h->pit = (int)i;
        snprintf(h->pit_name, sizeof h->pit_name, "%s", name);
        return SW_OK;
    case SW_LOG_EVENTS:
        if (h->event >= 0)
            return sw_log_refuse(context, path, line->number, line->column[i], "two columns are of events, \"%s\" and \"%s\"; "
                                 "--columns says which to read", line->fields[h->event], line->fields[i]);
        h->event = (int)i;
        return SW_OK;
    case SW_LOG_MEAT:
        if (h->meat_count == SW_TRACK_PROBES_MAX)
            return sw_log_refuse(context, path, line->number, line->column[i], "more than %d columns are of the meat; --columns says "
                                 "which to read", SW_TRACK_PROBES_MAX);
        snprintf(h->meat_names[h->meat_count], SW_LOG_NAME_SIZE, "%s", name);
        h->meat[h->meat_count++] = (int)i;
        return SW_OK;
    default:
        return SW_OK;
    }
}

sw_status sw_log_heading_read(sw_context *context, const sw_units *units, const sw_cook_log_form *form, const char *text,
                              size_t length, int number, sw_log_heading *h)
{
    sw_log_line line;
    char names[SW_LOG_FIELDS_MAX][SW_LOG_NAME_SIZE];
    sw_log_role roles[SW_LOG_FIELDS_MAX];
    double unused;
    static const char *const elapsed[] = {"elapsed", "since", "after", NULL};
    *h = (sw_log_heading){.separator = find_separator(text, length), .time = -1, .pit = -1, .event = -1, .time_unit = 1.0};
    sw_status status = sw_log_split(context, form->path, text, length, h->separator, number, &line);
    if (status != SW_OK)
        return status;
    h->count = line.count;
    for (size_t i = 0; i < line.count; i++) {
        words w;
        split_words(line.fields[i], &w);
        const size_t at = find_unit(units, SW_QUANTITY_TEMPERATURE, line.fields[i], &h->scale[i], &h->zero[i]);
        h->has_unit[i] = at > 0;
        if (!h->has_unit[i]) {
            h->scale[i] = form->units == SW_UNITS_US ? 1.0 / 1.8 : 1.0;
            h->zero[i] = form->units == SW_UNITS_US ? 273.15 - 32.0 / 1.8 : 273.15;
        }
        name_column(line.fields[i], at, names[i]);
        roles[i] = role_of(&w);
    }
    if (form->columns)
        status = assign_columns(context, form, &line, names, roles);
    for (size_t i = 0; i < line.count && status == SW_OK; i++)
        status = place_column(context, form->path, &line, i, roles[i], names[i], h);
    if (status != SW_OK)
        return status;
    if (h->time < 0)
        return sw_log_refuse(context, form->path, number, 1, "no column has the time; the first line names the columns, such "
                                                             "as "
                             "\"time [min],pit [F],flat [F]\", or --columns does");
    if (h->meat_count == 0)
        return sw_log_refuse(context, form->path, number, 1, "no column is of the meat; call a column flat, point, meat or "
                                                             "probe, or say "
                             "--columns flat=HEADING");
    words w;
    split_words(line.fields[h->time], &w);
    h->is_elapsed = has_word(&w, elapsed);
    h->has_time_unit = find_unit(units, SW_QUANTITY_DURATION, line.fields[h->time], &h->time_unit, &unused) > 0;
    if (!h->has_time_unit)
        for (size_t i = 0; i < w.count; i++) {
            if (strcmp(w.list[i], "hours") == 0 || strcmp(w.list[i], "minutes") == 0 || strcmp(w.list[i], "seconds") == 0) {
                h->has_time_unit = true;
                h->time_unit = w.list[i][0] == 'h' ? 3600.0 : w.list[i][0] == 'm' ? 60.0 : 1.0;
            }
        }
    return SW_OK;
}
