/* SPDX-License-Identifier: BSD-3-Clause */
/* What lib/src/text/units.c calls of UDUNITS, for a machine without its source: its database as a table, and a reader of products,
 * quotients and powers of what is in there, which is all that units.c hands on. */
#ifndef SW_WEB_ALONE_UNIT_READER_H
#define SW_WEB_ALONE_UNIT_READER_H

#include "unit_table.h"

#include <stdarg.h>

typedef enum { UT_ASCII } ut_encoding;
typedef int (*ut_error_message_handler)(const char *format, va_list arguments);
typedef struct ut_system ut_system;

typedef union ut_unit {
    struct {
        double scale, origin;
        int powers[UNIT_BASES];
    } is;
} ut_unit;

typedef union cv_converter {
    struct {
        double factor, offset;
    } is;
} cv_converter;

ut_error_message_handler ut_set_error_message_handler(ut_error_message_handler handler);
int ut_ignore(const char *format, va_list arguments);
ut_system *ut_read_xml(const char *path);
void ut_free_system(ut_system *system);

/* NULL if it is no unit. */
ut_unit *ut_parse(const ut_system *system, const char *text, ut_encoding encoding);
char *ut_trim(char *text, ut_encoding encoding);
void ut_free(ut_unit *unit);
ut_unit *ut_divide(const ut_unit *one, const ut_unit *other);
int ut_is_dimensionless(const ut_unit *unit);
int ut_are_convertible(const ut_unit *one, const ut_unit *other);
cv_converter *ut_get_converter(const ut_unit *from, const ut_unit *to);
double cv_convert_double(const cv_converter *converter, double value);
void cv_free(cv_converter *converter);

#endif
