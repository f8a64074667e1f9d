/* SPDX-License-Identifier: BSD-3-Clause */
/* Where the entries of a Jacobian go: agreed between what computes it and what solves with it. Two unknowns a cell, coupled
 * to those of neighbouring cells, then a few bordered unknowns that are coupled to all. */
#ifndef SW_JACOBIAN_LAYOUT_H
#define SW_JACOBIAN_LAYOUT_H

#include <stddef.h>

/* Most bordered unknowns. */
enum { SW_BORDERED_MAX = 10 };

/* Entry (row, column) of the cells' own matrix is values[offset]. The four of T and X of a cell by T and X of a cell lie side by
 * side, row by row. */
typedef struct sw_jacobian_layout {
    size_t (*offset)(size_t row, size_t column, const void *layout);
    const void *layout;
} sw_jacobian_layout;

/* The rows and columns of the bordered unknowns; who solves gives the room. */
typedef struct sw_border {
    double *columns; /* count columns, one after the other, a value for each unknown of the cells */
    double *rows;    /* count rows, likewise */
    double *corner;  /* count x count, row by row */
} sw_border;

#endif
