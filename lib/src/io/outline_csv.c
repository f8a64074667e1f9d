#include "outline_csv.h"

#include "text_file.h"
#include "typed_text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PATH_SIZE = 1024, FIELD_SIZE = 64 };

typedef struct csv {
    sw_context *context;
    const sw_units *units;
    const char *path;
    int line;
    char unit[2][FIELD_SIZE];
} csv;

static sw_status refuse(const csv *c, int column, const char *why)
{
    return sw_fail(c->context, SW_ERR_INPUT, "%.200s:%d:%d: %s", c->path, c->line, column, why);
}

/* Copies a field without the blanks around it; false if it is too long. */
static bool copy_field(const char *from, size_t length, char field[FIELD_SIZE])
{
    while (length > 0 && strchr(" \t", *from)) {
        from++;
        length--;
    }
    while (length > 0 && strchr(" \t\r", from[length - 1]))
        length--;
    if (length >= FIELD_SIZE)
        return false;
    memcpy(field, from, length);
    field[length] = '\0';
    return true;
}

/* Splits a line into its two fields. */
static sw_status split(const csv *c, const char *line, size_t length, char fields[2][FIELD_SIZE])
{
    const char *comma = memchr(line, ',', length);
    size_t first = comma ? (size_t)(comma - line) : length;
    if (!comma || memchr(comma + 1, ',', length - first - 1))
        return refuse(c, 1, "a line has two fields, x and y, with a comma between");
    if (!copy_field(line, first, fields[0]) || !copy_field(comma + 1, length - first - 1, fields[1]))
        return refuse(c, 1, "a field is too long");
    return SW_OK;
}

static sw_status read_heading(csv *c, const char *line, size_t length)
{
    char fields[2][FIELD_SIZE];
    static const char names[2] = {'x', 'y'};
    sw_status status = split(c, line, length, fields);
    for (int i = 0; i < 2 && status == SW_OK; i++) {
        if (fields[i][0] != names[i] || fields[i][1] != ' ')
            return refuse(c, 1, "the first line names the columns with their unit, such as \"x cm,y cm\"");
        memmove(c->unit[i], fields[i] + 2, strlen(fields[i] + 2) + 1);
    }
    return status;
}

static sw_status read_corner(const csv *c, const char *line, size_t length, sw_range range, double corner[2])
{
    char fields[2][FIELD_SIZE], where[PATH_SIZE + 64], value[2 * FIELD_SIZE + 1];
    sw_status status = split(c, line, length, fields);
    int column = 1;
    for (int i = 0; i < 2 && status == SW_OK; i++) {
        snprintf(where, sizeof where, "%.200s:%d:%d: %s", c->path, c->line, column, i == 0 ? "x" : "y");
        snprintf(value, sizeof value, "%s %s", fields[i], c->unit[i]);
        status = sw_value_read(c->context, c->units, where, SW_QUANTITY_LENGTH, value, range, &corner[i]);
        column += (int)strcspn(line, ",") + 1;
    }
    return status;
}

static sw_status read_lines(csv *c, const char *text, size_t length, sw_range range, double (*corners)[2], size_t most,
                            size_t *count)
{
    size_t at = 0;
    bool heading = true;
    *count = 0;
    while (at < length) {
        const char *line = text + at, *end = memchr(line, '\n', length - at);
        size_t size = end ? (size_t)(end - line) : length - at;
        char field[FIELD_SIZE];
        at += size + 1;
        c->line++;
        if (copy_field(line, size, field) && field[0] == '\0')
            continue;
        if (!heading && *count == most) {
            char why[64];
            snprintf(why, sizeof why, "at most %zu corners are allowed", most - 1);
            return refuse(c, 1, why);
        }
        sw_status status = heading ? read_heading(c, line, size) : read_corner(c, line, size, range, corners[(*count)++]);
        if (status != SW_OK)
            return status;
        heading = false;
    }
    return heading ? refuse(c, 1, "the file is empty") : SW_OK;
}

static sw_status full_path(sw_context *context, const char *scenario_file, const char *path, char full[PATH_SIZE])
{
    const char *slash = scenario_file && path[0] != '/' ? strrchr(scenario_file, '/') : NULL;
    int folder = slash ? (int)(slash - scenario_file) + 1 : 0;
    int length = snprintf(full, PATH_SIZE, "%.*s%s", folder, slash ? scenario_file : "", path);
    return length < PATH_SIZE ? SW_OK : sw_fail(context, SW_ERR_FILE, "the path \"%.200s...\" is too long", path);
}

sw_status sw_outline_csv_read(sw_context *context, const sw_units *units, const char *scenario_file, const char *path,
                              sw_range range, double (*corners)[2], size_t most, size_t *count)
{
    char full[PATH_SIZE], *text;
    size_t length;
    sw_status status = full_path(context, scenario_file, path, full);
    if (status == SW_OK)
        status = sw_text_file_read(context, full, &text, &length);
    if (status != SW_OK)
        return status;
    csv c = {.context = context, .units = units, .path = full};
    status = sw_text_check(context, full, text, length);
    if (status == SW_OK) {
        c.line = 0;
        status = read_lines(&c, text, length, range, corners, most, count);
    }
    free(text);
    return status;
}
