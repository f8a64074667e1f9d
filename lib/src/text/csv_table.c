/* SPDX-License-Identifier: BSD-3-Clause */
#include "csv_table.h"

#include "text_file.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIELDS_MAX = 256 };

static const char byte_order_mark[] = "\xef\xbb\xbf";

static sw_status refuse_at(const sw_csv_row *row, int column, const char *why)
{
    return sw_fail(row->context, SW_ERR_INPUT, "%.200s:%d:%d: %s", row->path, row->line, column, why);
}

sw_status sw_csv_refuse(const sw_csv_row *row, int column, const char *why)
{
    return refuse_at(row, row->columns[column], why);
}

sw_status sw_csv_refuse_heading(const sw_csv_row *row, const char *why)
{
    return sw_fail(row->context, SW_ERR_INPUT, "%.200s:%d:1: %s", row->path, row->heading_line, why);
}

/* Characters before a place in a line, so that a column counts letters, not bytes. */
static int column_at(const char *line, const char *place)
{
    int column = 1;
    for (; line < place; line++)
        column += ((unsigned char)*line & 0xc0) != 0x80;
    return column;
}

/* Copies a field without the blanks around it; false if it is too long. */
static bool copy_field(const char *from, size_t length, char field[SW_CSV_FIELD_SIZE])
{
    while (length > 0 && strchr(" \t", *from)) {
        from++;
        length--;
    }
    while (length > 0 && strchr(" \t\r", from[length - 1]))
        length--;
    if (length >= SW_CSV_FIELD_SIZE)
        return false;
    memcpy(field, from, length);
    field[length] = '\0';
    return true;
}

/* Where the fields of a line begin and how long they are. */
typedef struct line_fields {
    int count;
    const char *from[FIELDS_MAX];
    size_t length[FIELDS_MAX];
} line_fields;

/* Length of the field at text: up to the next comma, which inside of quotes is a part of it. */
static size_t field_length(const char *text, size_t length)
{
    bool quoted = false;
    size_t at = 0;
    for (; at < length && (quoted || text[at] != ','); at++)
        quoted = text[at] == '"' ? !quoted : quoted;
    return at;
}

static sw_status split(const char *line, size_t length, const sw_csv_row *row, line_fields *fields)
{
    const char *semicolon = memchr(line, ';', length), *comma = memchr(line, ',', length);
    if (semicolon && (!comma || semicolon < comma))
        return refuse_at(row, column_at(line, semicolon),
                         "a semicolon stands here, as where the decimal sign is a comma; save the file with commas between "
                         "the columns and decimal points in the numbers");
    fields->count = 0;
    for (size_t at = 0; at <= length;) {
        if (fields->count == FIELDS_MAX)
            return refuse_at(row, 1, "the line has far more fields than a table has columns");
        fields->from[fields->count] = line + at;
        fields->length[fields->count] = field_length(line + at, length - at);
        at += fields->length[fields->count++] + 1;
    }
    return SW_OK;
}

/* Copies a field without blanks and quotes around it. */
static sw_status take_field(const line_fields *fields, int number, const char *line, sw_csv_row *row, int column)
{
    char *field = row->fields[column];
    row->columns[column] = column_at(line, fields->from[number]);
    if (!copy_field(fields->from[number], fields->length[number], field))
        return refuse_at(row, row->columns[column], "a field is too long");
    size_t length = strlen(field);
    if (length >= 2 && field[0] == '"' && field[length - 1] == '"') {
        memmove(field, field + 1, length - 2);
        field[length - 2] = '\0';
    }
    return SW_OK;
}

/* Takes the unit of a column out of its heading; false if the heading is not of that column. */
static bool take_unit(const char *name, const char *field, char unit[SW_CSV_FIELD_SIZE])
{
    size_t length = strlen(name);
    if (strncmp(field, name, length) != 0 || (field[length] != ' ' && field[length] != '\0'))
        return false;
    const char *from = field + length + strspn(field + length, " \t");
    size_t size = strlen(from);
    if (size >= 2 && from[0] == '[' && from[size - 1] == ']') {
        from++;
        size -= 2;
    }
    memcpy(unit, from, size);
    unit[size] = '\0';
    return true;
}

/* Where the columns of the form stand in the file. */
typedef struct layout {
    int count;                     /* of columns in the file */
    int number[SW_CSV_COLUMNS_MAX]; /* in the file; -1 if there is none */
} layout;

static sw_status refuse_form(const sw_csv_form *form, const sw_csv_row *row, int column)
{
    char why[200];
    snprintf(why, sizeof why, "the first line names the columns with their unit, such as \"%s\"", form->heading);
    return refuse_at(row, column, why);
}

static sw_status find_column(const sw_csv_form *form, int column, const line_fields *fields, const char *line, sw_csv_row *row,
                             layout *l)
{
    const sw_csv_column *wanted = &form->columns[column];
    l->number[column] = -1;
    for (int i = 0; i < fields->count; i++) {
        char name[SW_CSV_FIELD_SIZE];
        if (!copy_field(fields->from[i], fields->length[i], name))
            continue; /* a long name is none of ours */
        sw_status status = take_field(fields, i, line, row, column);
        if (status != SW_OK || !take_unit(wanted->name, row->fields[column], row->units[column]))
            continue;
        if (l->number[column] >= 0) {
            snprintf(name, sizeof name, "two columns are called \"%.32s\"", wanted->name);
            return refuse_at(row, row->columns[column], name);
        }
        if (row->units[column][0] == '\0' && !wanted->needs_no_unit)
            return refuse_form(form, row, row->columns[column]);
        l->number[column] = i;
    }
    return SW_OK;
}

/* Where the first field begins that is no column of the form: there the missing one may stand under another name. */
static int first_other(const sw_csv_form *form, const line_fields *fields, const char *line, const layout *l)
{
    for (int i = 0; i < fields->count; i++) {
        bool known = false;
        for (int c = 0; c < form->count; c++)
            known = known || l->number[c] == i;
        if (!known)
            return column_at(line, fields->from[i]);
    }
    return 1;
}

static sw_status read_heading(const sw_csv_form *form, const char *line, size_t length, sw_csv_row *row, layout *l)
{
    line_fields fields;
    sw_status status = split(line, length, row, &fields);
    l->count = fields.count;
    row->heading_line = row->line;
    for (int i = 0; i < form->count && status == SW_OK; i++) {
        status = find_column(form, i, &fields, line, row, l);
        if (l->number[i] < 0)
            row->units[i][0] = '\0';
    }
    for (int i = 0; i < form->count && status == SW_OK; i++)
        if (l->number[i] < 0 && !form->columns[i].may_be_missing)
            status = refuse_form(form, row, first_other(form, &fields, line, l));
    return status;
}

static sw_status read_fields(const sw_csv_form *form, const char *line, size_t length, sw_csv_row *row, const layout *l)
{
    line_fields fields;
    sw_status status = split(line, length, row, &fields);
    if (status == SW_OK && fields.count != l->count) {
        char why[160];
        const bool many = fields.count > l->count;
        snprintf(why, sizeof why, "the heading names %d fields, this line has %d%s", l->count, fields.count,
                 many ? "; a number has a decimal point, never a comma" : "");
        return refuse_at(row, many ? column_at(line, fields.from[l->count] - 1) : 1, why);
    }
    for (int i = 0; i < form->count && status == SW_OK; i++) {
        row->columns[i] = 0;
        row->fields[i][0] = '\0';
        if (l->number[i] >= 0)
            status = take_field(&fields, l->number[i], line, row, i);
    }
    return status;
}

static sw_status read_lines(const char *text, size_t length, const sw_csv_form *form, sw_csv_row *row, sw_csv_take take,
                            void *data)
{
    size_t at = length >= 3 && memcmp(text, byte_order_mark, 3) == 0 ? 3 : 0;
    bool heading = true, empty = true;
    layout l;
    while (at < length) {
        const char *line = text + at, *end = memchr(line, '\n', length - at);
        size_t size = end ? (size_t)(end - line) : length - at;
        char field[SW_CSV_FIELD_SIZE];
        at += size + 1;
        row->line++;
        if (copy_field(line, size, field) && field[0] == '\0')
            continue;
        sw_status status = heading ? read_heading(form, line, size, row, &l) : read_fields(form, line, size, row, &l);
        if (status == SW_OK && !heading) {
            status = take(row, data);
            empty = false;
        }
        if (status != SW_OK)
            return status;
        heading = false;
    }
    if (row->line == 0)
        row->line = 1;
    if (empty)
        return refuse_at(row, 1, heading ? "the file is empty" : "the file has a heading but no rows under it");
    return SW_OK;
}

sw_status sw_csv_read(sw_context *context, const char *scenario_file, const char *path, const sw_csv_form *form,
                      sw_csv_take take, void *data)
{
    char full[SW_PATH_SIZE], *text;
    size_t length;
    sw_status status = sw_path_beside(context, scenario_file, path, full);
    if (status == SW_OK)
        status = sw_text_file_read(context, full, &text, &length);
    if (status != SW_OK)
        return status;
    sw_csv_row row = {.context = context, .path = full};
    status = sw_text_check(context, full, text, length);
    if (status == SW_OK)
        status = read_lines(text, length, form, &row, take, data);
    free(text);
    return status;
}
