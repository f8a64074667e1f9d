#include "csv_table.h"

#include "text_file.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PATH_SIZE = 1024 };

static const char byte_order_mark[] = "\xef\xbb\xbf";

static sw_status refuse_at(const sw_csv_row *row, int column, const char *why)
{
    return sw_fail(row->context, SW_ERR_INPUT, "%.200s:%d:%d: %s", row->path, row->line, column, why);
}

sw_status sw_csv_refuse(const sw_csv_row *row, int column, const char *why)
{
    return refuse_at(row, row->columns[column], why);
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

/* Splits a line into its two fields. */
static sw_status split(const sw_csv_form *form, const char *line, size_t length, sw_csv_row *row)
{
    char why[160];
    const char *semicolon = memchr(line, ';', length);
    if (semicolon)
        return refuse_at(row, column_at(line, semicolon),
                         "a semicolon stands here, as where the decimal sign is a comma; save the file with commas between "
                         "the columns and decimal points in the numbers");
    const char *comma = memchr(line, ',', length);
    size_t first = comma ? (size_t)(comma - line) : length;
    const char *third = comma ? memchr(comma + 1, ',', length - first - 1) : NULL;
    if (!comma || third) {
        snprintf(why, sizeof why, "a line has two fields, %s and %s, with a comma between%s", form->names[0],
                 form->names[1], third ? "; a number has a decimal point, never a comma" : "");
        return refuse_at(row, third ? column_at(line, third) : 1, why);
    }
    row->columns[0] = 1;
    row->columns[1] = column_at(line, comma) + 1;
    if (!copy_field(line, first, row->fields[0]) || !copy_field(comma + 1, length - first - 1, row->fields[1]))
        return refuse_at(row, 1, "a field is too long");
    return SW_OK;
}

/* Takes the unit of a column out of its heading. */
static bool take_unit(const char *name, const char *field, char unit[SW_CSV_FIELD_SIZE])
{
    size_t length = strlen(name);
    if (strncmp(field, name, length) != 0 || field[length] != ' ')
        return false;
    const char *from = field + length + strspn(field + length, " \t");
    size_t size = strlen(from);
    if (size >= 2 && from[0] == '[' && from[size - 1] == ']') {
        from++;
        size -= 2;
    }
    memcpy(unit, from, size);
    unit[size] = '\0';
    return size > 0;
}

static sw_status read_heading(const sw_csv_form *form, const char *line, size_t length, sw_csv_row *row)
{
    char why[160];
    sw_status status = split(form, line, length, row);
    for (int i = 0; i < 2 && status == SW_OK; i++)
        if (!take_unit(form->names[i], row->fields[i], row->units[i])) {
            snprintf(why, sizeof why, "the first line names the columns with their unit, such as \"%s\"", form->heading);
            status = sw_csv_refuse(row, i, why);
        }
    return status;
}

static sw_status read_lines(const char *text, size_t length, const sw_csv_form *form, sw_csv_row *row, sw_csv_take take,
                            void *data)
{
    size_t at = length >= 3 && memcmp(text, byte_order_mark, 3) == 0 ? 3 : 0;
    bool heading = true, empty = true;
    while (at < length) {
        const char *line = text + at, *end = memchr(line, '\n', length - at);
        size_t size = end ? (size_t)(end - line) : length - at;
        char field[SW_CSV_FIELD_SIZE];
        at += size + 1;
        row->line++;
        if (copy_field(line, size, field) && field[0] == '\0')
            continue;
        sw_status status = heading ? read_heading(form, line, size, row) : split(form, line, size, row);
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

static sw_status full_path(sw_context *context, const char *scenario_file, const char *path, char full[PATH_SIZE])
{
    const char *slash = scenario_file && path[0] != '/' ? strrchr(scenario_file, '/') : NULL;
    int folder = slash ? (int)(slash - scenario_file) + 1 : 0;
    int length = snprintf(full, PATH_SIZE, "%.*s%s", folder, slash ? scenario_file : "", path);
    return length < PATH_SIZE ? SW_OK : sw_fail(context, SW_ERR_FILE, "the path \"%.200s...\" is too long", path);
}

sw_status sw_csv_read(sw_context *context, const char *scenario_file, const char *path, const sw_csv_form *form,
                      sw_csv_take take, void *data)
{
    char full[PATH_SIZE], *text;
    size_t length;
    sw_status status = full_path(context, scenario_file, path, full);
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
