/* SPDX-License-Identifier: BSD-3-Clause */
#include "table.h"

#include <string.h>

void table_set(table *t, size_t row, size_t column, const char *text)
{
    if (row >= TABLE_ROWS_MAX || column >= TABLE_COLUMNS_MAX)
        return;
    snprintf(t->cell[row][column], TABLE_CELL_SIZE, "%s", text);
    if (row >= t->row_count)
        t->row_count = row + 1;
    if (column >= t->column_count)
        t->column_count = column + 1;
}

/* Characters of a UTF-8 text: bytes that do not continue one. */
static size_t width_of(const char *text)
{
    size_t width = 0;
    for (; *text; text++)
        width += ((unsigned char)*text & 0xC0) != 0x80;
    return width;
}

void table_print(const table *t, bool left, FILE *stream)
{
    size_t width[TABLE_COLUMNS_MAX] = {0};
    for (size_t r = 0; r < t->row_count; r++)
        for (size_t c = 0; c < t->column_count; c++) {
            size_t w = width_of(t->cell[r][c]);
            width[c] = w > width[c] ? w : width[c];
        }
    for (size_t r = 0; r < t->row_count; r++) {
        char line[TABLE_COLUMNS_MAX * (TABLE_CELL_SIZE + 2) + 1];
        size_t used = 0;
        for (size_t c = 0; c < t->column_count; c++) {
            const char *text = t->cell[r][c];
            int pad = (int)(width[c] - width_of(text));
            bool to_left = left || c == 0;
            used += (size_t)snprintf(line + used, sizeof line - used, "%s%*s%s%*s", c ? "  " : "", to_left ? 0 : pad, "",
                                     text, to_left ? pad : 0, "");
        }
        while (used > 0 && line[used - 1] == ' ')
            used--;
        fprintf(stream, "%.*s\n", (int)used, line);
        if (r == 0 && t->has_heading) {
            for (size_t c = 0; c < t->column_count; c++) {
                fputs(c ? "  " : "", stream);
                for (size_t i = 0; i < width[c]; i++)
                    fputc('-', stream);
            }
            fputc('\n', stream);
        }
    }
}
