/* SPDX-License-Identifier: BSD-3-Clause */
/* Reads a CSV file under a heading that names its columns with their units: "x cm,y cm" or "x [cm],y [cm]". Columns that are
 * not asked for are passed over. Commas between columns, decimal points, UTF-8; a byte order mark at the start and empty lines
 * are passed over. */
#ifndef SW_IO_CSV_TABLE_H
#define SW_IO_CSV_TABLE_H

#include <stallwright/context.h>

#include <stdbool.h>

enum { SW_CSV_FIELD_SIZE = 64, SW_CSV_COLUMNS_MAX = 4 };

/* A column a file may have. */
typedef struct sw_csv_column {
    const char *name;
    bool may_be_missing;
    bool needs_no_unit;
} sw_csv_column;

/* What a file must hold. */
typedef struct sw_csv_form {
    sw_csv_column columns[SW_CSV_COLUMNS_MAX];
    int count;
    const char *heading; /* an example of one, for error sentences */
} sw_csv_form;

/* A line under the heading; its parts stand in the order of the form. */
typedef struct sw_csv_row {
    sw_context *context;
    const char *path;
    int line;
    int heading_line;
    int columns[SW_CSV_COLUMNS_MAX]; /* where the fields begin, from 1; 0: there is no such column */
    char fields[SW_CSV_COLUMNS_MAX][SW_CSV_FIELD_SIZE];
    char units[SW_CSV_COLUMNS_MAX][SW_CSV_FIELD_SIZE]; /* of the heading; "" if it has none */
} sw_csv_row;

/* Takes a row; anything but SW_OK ends the reading. */
typedef sw_status (*sw_csv_take)(const sw_csv_row *row, void *data);

/* scenario_file: a relative path counts from its folder; NULL counts from the working folder.
 * SW_OK, SW_ERR_FILE, SW_ERR_INPUT with file:line:column, SW_ERR_MEMORY, or what take returned. */
sw_status sw_csv_read(sw_context *context, const char *scenario_file, const char *path, const sw_csv_form *form,
                      sw_csv_take take, void *data);

/* Refuses a row for what stands in a column of the form. SW_ERR_INPUT. */
sw_status sw_csv_refuse(const sw_csv_row *row, int column, const char *why);

/* Refuses the heading. SW_ERR_INPUT. */
sw_status sw_csv_refuse_heading(const sw_csv_row *row, const char *why);

#endif
