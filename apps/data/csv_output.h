/* SPDX-License-Identifier: BSD-3-Clause */
/* Fields of comma-separated values. Tables of them have a heading with the unit in each name; a figure that does not exist is
 * empty. */
#ifndef SW_APPS_CSV_OUTPUT_H
#define SW_APPS_CSV_OUTPUT_H

/* Prints a comma and a number with all its digits; nothing after it if the number does not exist. */
void csv_print_field(double value);

/* Prints text as one field (RFC 4180): in quotes if it holds a comma, a quote or the end of a line. A spreadsheet takes text
 * that begins with = + - @ or a control character for a formula and runs it: such a text that is no number gets an apostrophe
 * before it. */
void csv_print_text(const char *text);

#endif
