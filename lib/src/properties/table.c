/* SPDX-License-Identifier: BSD-3-Clause */
#include "table.h"

#include <stdlib.h>
#include <string.h>

int sw_table_init(sw_table *table, sw_table_range range, size_t width, sw_tabulated_functions functions,
                  const void *parameters)
{
    /* Slopes come from fourth-order central differences, so the values reach two rows past each end. */
    const size_t margin = 2, samples = range.row_count + 2 * margin;
    double *sample = malloc(samples * width * sizeof *sample);
    table->rows = malloc(range.row_count * 2 * width * sizeof *table->rows);
    table->width = width;
    table->range = range;
    table->per_step = 1.0 / range.step;
    if (!sample || !table->rows) {
        free(sample);
        sw_table_free(table);
        return -1;
    }
    for (size_t i = 0; i < samples; i++)
        functions(parameters, range.first + ((double)i - (double)margin) * range.step, sample + i * width);
    for (size_t i = 0; i < range.row_count; i++) {
        const double *here = sample + (i + margin) * width;
        double *row = table->rows + i * 2 * width;
        memcpy(row, here, width * sizeof *row);
        for (size_t j = 0; j < width; j++) {
            const double *f = here + j;
            const ptrdiff_t w = (ptrdiff_t)width;
            row[width + j] = (8.0 * (f[w] - f[-w]) - (f[2 * w] - f[-2 * w])) / 12.0;
        }
    }
    free(sample);
    return 0;
}

void sw_table_free(sw_table *table)
{
    free(table->rows);
    table->rows = NULL;
}
