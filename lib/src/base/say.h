/* SPDX-License-Identifier: BSD-3-Clause */
/* Values in sentences, in the units of whoever reads them. */
#ifndef SW_SAY_H
#define SW_SAY_H

#include <stallwright/context.h>

enum { SW_SAY_SIZE = 48 };

/* The units of a context; SI if it is NULL. */
sw_unit_system sw_context_units(const sw_context *context);

/* Writes a value with its unit, such as "95.0 C" or "203.0 F"; returns text. A length is one of a cut or a pit.
 * value: in the SI unit of the quantity. */
const char *sw_say(const sw_context *context, sw_quantity quantity, double value, char text[SW_SAY_SIZE]);

/* The same for the height of a place, in m or ft. */
const char *sw_say_altitude(const sw_context *context, double metres, char text[SW_SAY_SIZE]);

#endif
