/* SPDX-License-Identifier: BSD-3-Clause */
/* Units of physical quantities; units.c is the only file that sees UDUNITS-2. */
#ifndef SW_IO_UNITS_H
#define SW_IO_UNITS_H

#include <stallwright/context.h>
#include <stallwright/text.h>

typedef struct sw_units sw_units;

/* Loads the unit database. SW_OK, SW_ERR_FILE, SW_ERR_MEMORY. */
sw_status sw_units_create(sw_context *context, sw_units **units);
void sw_units_destroy(sw_units *units);

/* A unit of one quantity, with its conversion to and from the SI unit. Release with sw_unit_release. */
typedef struct sw_unit {
    union cv_converter *to_si;
    union cv_converter *from_si;
    double per_si;       /* number of these units in the SI unit if it has at most three decimals, else 0 */
    double reference_si; /* 273.15 for a scale of temperature with an offset, else 0 */
    double reference;    /* what this unit reads there: 0 C, 32 F */
} sw_unit;

typedef enum sw_unit_answer {
    SW_UNIT_FOUND,
    SW_UNIT_UNKNOWN,
    SW_UNIT_OF_OTHER_QUANTITY, /* a unit, but it does not measure this quantity */
    SW_UNIT_NO_MEMORY
} sw_unit_answer;

/* Finds the unit called text, including the short forms people type (F, in, oz, m for minutes). A unit of temperature
 * has an offset in SW_QUANTITY_TEMPERATURE only. SW_QUANTITY_CLOCK has no units. *unit is set only if found. */
sw_unit_answer sw_unit_find(const sw_units *units, sw_quantity quantity, const char *text, sw_unit *unit);
void sw_unit_release(sw_unit *unit);

double sw_unit_to_si(const sw_unit *unit, double value);
double sw_unit_from_si(const sw_unit *unit, double value);

#endif
