/* SPDX-License-Identifier: BSD-3-Clause */
/* Plain text tables with aligned columns. */
#ifndef SW_APPS_TABLE_H
#define SW_APPS_TABLE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { TABLE_COLUMNS_MAX = 16, TABLE_ROWS_MAX = 128, TABLE_CELL_SIZE = 64 };

typedef struct table {
    size_t column_count, row_count;
    bool has_heading; /* the first row is underlined */
    char cell[TABLE_ROWS_MAX][TABLE_COLUMNS_MAX][TABLE_CELL_SIZE];
} table;

/* Sets a cell; rows and columns grow as needed, at most to the limits. */
void table_set(table *table, size_t row, size_t column, const char *text);

/* Prints it; the first column is left-aligned, the others are right-aligned unless left is true. */
void table_print(const table *table, bool left, FILE *stream);

#endif
