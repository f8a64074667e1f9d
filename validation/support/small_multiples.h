/* SPDX-License-Identifier: BSD-3-Clause */
/* Sheets of small pictures, one a cook: a band, its middle, marks and an end. PNG files of twenty panels each. */
#ifndef SW_VALIDATION_SMALL_MULTIPLES_H
#define SW_VALIDATION_SMALL_MULTIPLES_H

#include <stddef.h>

typedef struct small_multiples small_multiples;

typedef struct small_panel {
    const char *title;
    size_t count;
    const double *x, *low, *middle, *high; /* count each; low and high may be NULL */
    size_t mark_count;
    const double *mark_x, *mark_y;
    const double *end; /* x and y of one more mark, drawn open; NULL for none */
} small_panel;

/* Files NAME-1.png, NAME-2.png, ... in a folder; low and high: of all vertical axes. Ends the program if memory is short. */
small_multiples *small_multiples_begin(const char *folder, const char *name, const char *x_label, const char *y_label, double low,
                                       double high);
void small_multiples_add(small_multiples *sheet, const small_panel *panel);

/* Returns the number of files. */
int small_multiples_end(small_multiples *sheet);

#endif
