/* SPDX-License-Identifier: BSD-3-Clause */
#include "case.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void die(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    fputs("validation: ", stderr);
    vfprintf(stderr, format, arguments);
    fputc('\n', stderr);
    va_end(arguments);
    exit(2);
}

static void *grow(void *memory, size_t size)
{
    void *grown = realloc(memory, size);
    if (!grown)
        die("memory is short");
    return grown;
}

char *validation_path(const char *folder, const char *file)
{
    size_t size = sizeof SW_SOURCE_DIR + strlen(folder) + strlen(file) + 16;
    char *path = grow(NULL, size);
    snprintf(path, size, "%s/validation/%s/%s", SW_SOURCE_DIR, folder, file);
    return path;
}

void add_row(report_case *c, const report_row *row)
{
    c->rows = grow(c->rows, (c->row_count + 1) * sizeof *c->rows);
    c->rows[c->row_count++] = *row;
}

void add_near(report_case *c, const char *quantity, double reference, double computed, double tolerance, int decimals)
{
    report_row row = {.verdict = fabs(computed - reference) <= tolerance ? VERDICT_PASS : VERDICT_FAIL};
    snprintf(row.quantity, TEXT_SIZE, "%s", quantity);
    snprintf(row.reference, TEXT_SIZE, "%.*f", decimals, reference);
    snprintf(row.computed, TEXT_SIZE, "%.*f", decimals, computed);
    snprintf(row.error, TEXT_SIZE, "%+.*f", decimals, computed - reference);
    snprintf(row.tolerance, TEXT_SIZE, "%.3g", tolerance);
    add_row(c, &row);
}

void add_band(report_case *c, const char *quantity, double low, double high, double computed, int decimals, bool trade)
{
    const bool inside = computed >= low && computed <= high;
    report_row row = {.verdict = trade ? (inside ? VERDICT_WITHIN : VERDICT_OUTSIDE)
                                       : (inside ? VERDICT_PASS : VERDICT_FAIL)};
    double middle = 0.5 * (low + high);
    snprintf(row.quantity, TEXT_SIZE, "%s", quantity);
    snprintf(row.reference, TEXT_SIZE, "%g to %g", low, high);
    if (isnan(computed)) {
        snprintf(row.computed, TEXT_SIZE, "none");
        snprintf(row.error, TEXT_SIZE, "-");
    } else {
        snprintf(row.computed, TEXT_SIZE, "%.*f", decimals, computed);
        snprintf(row.error, TEXT_SIZE, "%+.*f", decimals, computed - middle);
    }
    snprintf(row.tolerance, TEXT_SIZE, "+-%.3g", 0.5 * (high - low));
    add_row(c, &row);
}

void add_not_assessed(report_case *c, const char *quantity, const char *reason)
{
    report_row row = {.reference = "-", .error = "-", .tolerance = "-", .verdict = VERDICT_NOT_ASSESSED};
    snprintf(row.quantity, TEXT_SIZE, "%s", quantity);
    snprintf(row.computed, TEXT_SIZE, "%s", reason);
    add_row(c, &row);
}

void add_note(report_case *c, const char *format, ...)
{
    char line[4 * TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(line, sizeof line, format, arguments);
    va_end(arguments);
    size_t before = c->notes ? strlen(c->notes) : 0;
    c->notes = grow(c->notes, before + strlen(line) + 3);
    sprintf(c->notes + before, "%s%s", before ? "\n\n" : "", line);
}

/* ---- CSV ---- */

enum { LINE_SIZE = 4096, COLUMNS_MAX = 32 };

/* Splits a line in place; returns the number of fields. */
static size_t split(char *line, char *fields[COLUMNS_MAX])
{
    size_t count = 0;
    for (char *at = line;;) {
        if (count == COLUMNS_MAX)
            die("a CSV line has more than %d fields", (int)COLUMNS_MAX);
        char *end;
        if (*at == '"') {
            fields[count++] = ++at;
            end = strchr(at, '"');
            if (!end)
                die("a quote is not closed in \"%s\"", at);
            *end++ = '\0';
        } else {
            fields[count++] = at;
            end = at + strcspn(at, ",");
        }
        if (*end == '\0')
            return count;
        *end = '\0';
        at = end + 1;
    }
}

static char *copy(const char *text)
{
    char *made = grow(NULL, strlen(text) + 1);
    return strcpy(made, text);
}

csv_table *csv_read_path(const char *path)
{
    FILE *file = fopen(path, "r");
    if (!file)
        die("%s cannot be read", path);
    csv_table *t = calloc(1, sizeof *t);
    char line[LINE_SIZE], *fields[COLUMNS_MAX];
    if (!t)
        die("memory is short");
    t->path = copy(path);
    while (fgets(line, sizeof line, file)) {
        line[strcspn(line, "\r\n")] = '\0';
        if (!line[0] || line[0] == '#')
            continue;
        size_t count = split(line, fields);
        char **row = grow(NULL, count * sizeof *row);
        for (size_t i = 0; i < count; i++)
            row[i] = copy(fields[i]);
        if (!t->heading) {
            t->heading = row;
            t->column_count = count;
            continue;
        }
        if (count != t->column_count)
            die("%s: row %zu has %zu fields, its heading %zu", path, t->row_count + 1, count, t->column_count);
        t->cell = grow(t->cell, (t->row_count + 1) * sizeof *t->cell);
        t->cell[t->row_count++] = row;
    }
    fclose(file);
    if (!t->heading)
        die("%s has no heading", path);
    return t;
}

csv_table *csv_read(const char *folder, const char *file)
{
    char *path = validation_path(folder, file);
    csv_table *table = csv_read_path(path);
    free(path);
    return table;
}

static void free_row(char **row, size_t count)
{
    for (size_t i = 0; i < count; i++)
        free(row[i]);
    free(row);
}

void csv_free(csv_table *t)
{
    for (size_t i = 0; i < t->row_count; i++)
        free_row(t->cell[i], t->column_count);
    free_row(t->heading, t->column_count);
    free(t->cell);
    free(t->path);
    free(t);
}

const char *csv_text(const csv_table *t, size_t row, const char *column)
{
    for (size_t i = 0; i < t->column_count; i++)
        if (strcmp(t->heading[i], column) == 0)
            return t->cell[row][i];
    die("%s has no column \"%s\"", t->path, column);
}

double csv_number(const csv_table *t, size_t row, const char *column)
{
    const char *text = csv_text(t, row, column);
    if (!*text)
        return NAN;
    char *end;
    double value = strtod(text, &end);
    if (*end)
        die("%s, row %zu: %s is \"%s\", no number", t->path, row + 1, column, text);
    return value;
}
