/* SPDX-License-Identifier: BSD-3-Clause */
/* Values with units as people write them: "250 F", "14 lb 6 oz", "2h30m", "17:30". */
#ifndef SW_TEXT_PHYSICAL_VALUE_H
#define SW_TEXT_PHYSICAL_VALUE_H

#include "key_table.h"
#include "units.h"

enum { SW_VALUE_TEXT_SIZE = 96 };

/* Reads one value. where begins the error sentence. *value is unchanged on error.
 * SW_OK, SW_ERR_INPUT, SW_ERR_MEMORY. */
sw_status sw_value_read(sw_context *context, const sw_units *units, const char *where, sw_quantity quantity,
                        const char *text, sw_range range, double *value);

/* Reads a whole number without a unit. */
sw_status sw_value_read_whole(sw_context *context, const char *where, const char *text, int minimum, int maximum,
                              int *value);

/* Reads how a phase ends. */
sw_status sw_value_read_ending(sw_context *context, const sw_units *units, const char *where, const char *text,
                               const sw_ending_limits *limits, sw_ending *ending);

/* Writes a value with the fewest digits that sw_value_read turns back into exactly this value: in the unit asked for if
 * there are such digits, else in the SI unit. A duration of whole seconds is written as hours, minutes and seconds. */
sw_status sw_value_write(sw_context *context, const sw_units *units, sw_quantity quantity, const char *unit,
                         double value, char text[SW_VALUE_TEXT_SIZE]);

/* How many digits a written value has before its unit; none of an exponent. */
int sw_value_digits(const char *text);

/* Writes a value rounded for reading, such as "14.33 lb". */
sw_status sw_value_write_rounded(sw_context *context, const sw_units *units, sw_quantity quantity, const char *unit,
                                 double value, char text[SW_VALUE_TEXT_SIZE]);

/* Writes a range rounded for reading, such as "0.2 to 30 kg". */
sw_status sw_range_write(sw_context *context, const sw_units *units, sw_quantity quantity, const char *unit,
                         sw_range range, char text[SW_VALUE_TEXT_SIZE]);

/* The same in a unit at hand, whose name stands behind the numbers. */
void sw_range_in_unit(const sw_unit *unit, const char *name, sw_range range, char text[SW_VALUE_TEXT_SIZE]);

#endif
