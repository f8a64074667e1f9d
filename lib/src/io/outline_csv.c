/* SPDX-License-Identifier: BSD-3-Clause */
#include "outline_csv.h"

#include "csv_table.h"

#include <stdio.h>

typedef struct corner_list {
    const sw_units *units;
    sw_range range;
    double (*corners)[2];
    size_t most, count;
} corner_list;

static sw_status take_corner(const sw_csv_row *row, void *data)
{
    corner_list *list = data;
    if (list->count == list->most) {
        char why[64];
        snprintf(why, sizeof why, "at most %zu corners are allowed", list->most - 1);
        return sw_csv_refuse(row, 0, why);
    }
    sw_status status = SW_OK;
    for (int i = 0; i < 2 && status == SW_OK; i++) {
        char where[512], value[2 * SW_CSV_FIELD_SIZE + 1];
        snprintf(where, sizeof where, "%.200s:%d:%d: %s", row->path, row->line, row->columns[i], i == 0 ? "x" : "y");
        snprintf(value, sizeof value, "%s %s", row->fields[i], row->units[i]);
        status = sw_value_read(row->context, list->units, where, SW_QUANTITY_LENGTH, value, list->range,
                               &list->corners[list->count][i]);
    }
    list->count++;
    return status;
}

sw_status sw_outline_csv_read(sw_context *context, const sw_units *units, const char *scenario_file, const char *path,
                              sw_range range, double (*corners)[2], size_t most, size_t *count)
{
    static const sw_csv_form form = {{{"x", false, false}, {"y", false, false}}, 2, "x cm,y cm"};
    corner_list list = {units, range, corners, most, 0};
    sw_status status = sw_csv_read(context, scenario_file, path, &form, take_corner, &list);
    *count = list.count;
    return status;
}
