/* SPDX-License-Identifier: BSD-3-Clause */
/* UDUNITS's database as a table (../units_table.py). */
#ifndef SW_WEB_ALONE_UNIT_TABLE_H
#define SW_WEB_ALONE_UNIT_TABLE_H

enum { UNIT_BASES = 7 };

typedef struct unit_row {
    const char *text;   /* NULL ends the table */
    int is_symbol;      /* told by its capitals, which a name is not */
    double scale, origin; /* SI value = scale * value + origin */
    signed char powers[UNIT_BASES];
} unit_row;

typedef struct prefix_row {
    const char *text;
    int is_symbol;
    double value;
} prefix_row;

extern const unit_row unit_rows[];
extern const prefix_row prefix_rows[];

#endif
