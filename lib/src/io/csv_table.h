/* Reads a CSV file of two columns under a heading that names each with its unit: "x cm,y cm" or "x [cm],y [cm]". Commas
 * between columns, decimal points, UTF-8; a byte order mark at the start and empty lines are passed over. */
#ifndef SW_IO_CSV_TABLE_H
#define SW_IO_CSV_TABLE_H

#include <stallwright/context.h>

enum { SW_CSV_FIELD_SIZE = 64 };

/* What a file must hold. */
typedef struct sw_csv_form {
    const char *names[2];
    const char *heading; /* an example of one, for error sentences */
} sw_csv_form;

/* A line under the heading. */
typedef struct sw_csv_row {
    sw_context *context;
    const char *path;
    int line;
    int columns[2]; /* where the fields begin, from 1 */
    char fields[2][SW_CSV_FIELD_SIZE];
    char units[2][SW_CSV_FIELD_SIZE]; /* of the heading */
} sw_csv_row;

/* Takes a row; anything but SW_OK ends the reading. */
typedef sw_status (*sw_csv_take)(const sw_csv_row *row, void *data);

/* scenario_file: a relative path counts from its folder; NULL counts from the working folder.
 * SW_OK, SW_ERR_FILE, SW_ERR_INPUT with file:line:column, SW_ERR_MEMORY, or what take returned. */
sw_status sw_csv_read(sw_context *context, const char *scenario_file, const char *path, const sw_csv_form *form,
                      sw_csv_take take, void *data);

/* Refuses a row for what stands in a column, 0 or 1. SW_ERR_INPUT. */
sw_status sw_csv_refuse(const sw_csv_row *row, int column, const char *why);

#endif
