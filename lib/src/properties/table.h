/* SPDX-License-Identifier: BSD-3-Clause */
/* Functions of one variable tabulated side by side and interpolated with cubic Hermite polynomials: the right-hand side
 * needs a dozen exponentials and powers per cell, and a table row costs less than one of them. */
#ifndef SW_TABLE_H
#define SW_TABLE_H

#include "shelf.h"

#include <stddef.h>

typedef struct sw_table_range {
    double first, step;
    size_t row_count;
} sw_table_range;

/* Range of all tables of temperature [K]: -10 to 220 C. With 0.5 K between rows the interpolation error of the steepest
 * function used (a logistic step of 0.3 per kelvin) is 2e-7 of its height. */
#define SW_TEMPERATURE_MIN 263.15
#define SW_TEMPERATURE_MAX 493.15
static const sw_table_range sw_temperature_range = {SW_TEMPERATURE_MIN, 0.5, 461};

typedef struct sw_table {
    sw_table_range range;
    double per_step; /* 1 / range.step */
    size_t width;
    const double *rows; /* row_count x {width values, width slopes times the step} */
    sw_shared *owner;   /* of the rows */
} sw_table;

/* Fills values[0..width) at x. */
typedef void (*sw_tabulated_functions)(const void *parameters, double x, double *values);

/* Builds a table, or takes it from the shelf of a context, which may be NULL, where one of the same functions and key is kept; such are of one
 * range and width. The functions are also called two steps outside the range. Returns 0, or -1 if memory is short, with nothing to free.
 * parameters: passed on to the functions; key: bytes, none of them padding, that tell all that the values depend on. */
int sw_table_init(sw_context *context, sw_table *table, sw_table_range range, size_t width, sw_tabulated_functions functions,
                  const void *parameters, const void *key, size_t key_size);

void sw_table_free(sw_table *table);

/* Where x lies in a table, and the Hermite weights there. */
typedef struct sw_table_place {
    const double *row;
    double value_low, slope_low, value_high, slope_high;
    double d_value_low, d_slope_low, d_value_high, d_slope_high; /* derivatives of the weights by x */
} sw_table_place;

/* An x outside the range, or NaN, is taken to the nearest end: callers check the range once per call. */
static inline sw_table_place sw_table_find(const sw_table *table, double x, int derivatives)
{
    const double last = (double)(table->range.row_count - 1) - 1e-7, per_step = table->per_step;
    double position = (x - table->range.first) * per_step;
    position = position > 0.0 ? position : 0.0;
    position = position < last ? position : last;
    int index = (int)position;
    double s = position - index, s2 = s * s, s3 = s2 * s;
    sw_table_place place;
    place.row = table->rows + (size_t)index * 2 * table->width;
    place.value_high = 3.0 * s2 - 2.0 * s3;
    place.value_low = 1.0 - place.value_high;
    place.slope_low = s3 - 2.0 * s2 + s;
    place.slope_high = s3 - s2;
    if (derivatives) {
        place.d_value_high = (6.0 * s - 6.0 * s2) * per_step;
        place.d_value_low = -place.d_value_high;
        place.d_slope_low = (3.0 * s2 - 4.0 * s + 1.0) * per_step;
        place.d_slope_high = (3.0 * s2 - 2.0 * s) * per_step;
    }
    return place;
}

static inline double sw_table_value(const sw_table_place *place, size_t width, size_t column)
{
    const double *low = place->row + column, *high = low + 2 * width;
    return place->value_low * low[0] + place->slope_low * low[width] + place->value_high * high[0] +
           place->slope_high * high[width];
}

static inline double sw_table_slope(const sw_table_place *place, size_t width, size_t column)
{
    const double *low = place->row + column, *high = low + 2 * width;
    return place->d_value_low * low[0] + place->d_slope_low * low[width] + place->d_value_high * high[0] +
           place->d_slope_high * high[width];
}

#endif
