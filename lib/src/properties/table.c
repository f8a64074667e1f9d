/* SPDX-License-Identifier: BSD-3-Clause */
#include "table.h"

#include <stdlib.h>
#include <string.h>

/* Rows of a table, shared by all who have it. */
typedef struct table_rows {
    sw_shared shared;
    double values[];
} table_rows;

static void destroy(sw_shared *shared)
{
    free(shared);
}

/* Slopes come from fourth-order central differences, so samples reach so many rows past each end. */
enum { MARGIN = 2 };

static void fill_rows(sw_table_range range, size_t width, const double *sample, double *rows)
{
    for (size_t i = 0; i < range.row_count; i++) {
        const double *here = sample + (i + MARGIN) * width;
        double *row = rows + i * 2 * width;
        memcpy(row, here, width * sizeof *row);
        for (size_t j = 0; j < width; j++) {
            const double *f = here + j;
            const ptrdiff_t w = (ptrdiff_t)width;
            row[width + j] = (8.0 * (f[w] - f[-w]) - (f[2 * w] - f[-2 * w])) / 12.0;
        }
    }
}

/* NULL without memory. */
static table_rows *make_rows(sw_table_range range, size_t width, sw_tabulated_functions functions, const void *parameters)
{
    const size_t samples = range.row_count + 2 * MARGIN;
    double *sample = malloc(samples * width * sizeof *sample);
    table_rows *made = malloc(sizeof *made + range.row_count * 2 * width * sizeof *made->values);
    if (sample && made) {
        sw_shared_begin(&made->shared, destroy);
        for (size_t i = 0; i < samples; i++)
            functions(parameters, range.first + ((double)i - (double)MARGIN) * range.step, sample + i * width);
        fill_rows(range, width, sample, made->values);
        free(sample);
        return made;
    }
    free(sample);
    free(made);
    return NULL;
}

int sw_table_init(sw_context *context, sw_table *table, sw_table_range range, size_t width, sw_tabulated_functions functions,
                  const void *parameters, const void *key, size_t key_size)
{
    const sw_shelf_key name = {(void (*)(void))functions, key, key_size};
    sw_shared *kept = sw_shelf_take(context, &name);
    table_rows *rows = kept ? (table_rows *)kept : make_rows(range, width, functions, parameters);
    if (!rows)
        return -1;
    if (!kept)
        sw_shelf_keep(context, &name, &rows->shared);
    *table = (sw_table){range, 1.0 / range.step, width, rows->values, &rows->shared};
    return 0;
}

void sw_table_free(sw_table *table)
{
    sw_shared_let_go(table->owner);
    table->owner = NULL;
    table->rows = NULL;
}
