/* SPDX-License-Identifier: BSD-3-Clause */
#include "csv_output.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void csv_print_field(double value)
{
    if (isfinite(value))
        printf(",%.17g", value);
    else
        putchar(',');
}

/* Whether a text is a number, which no program takes for a formula. */
static bool is_number(const char *text)
{
    char *end;
    strtod(text, &end);
    return end != text && *end == '\0' && text[strspn(text, "+-.0123456789eE")] == '\0';
}

void csv_print_text(const char *text)
{
    const bool is_guarded = *text && strchr("=+-@\t\r\n", *text) && !is_number(text);
    const bool is_quoted = strpbrk(text, ",\"\r\n") != NULL;
    fputs(is_quoted ? "\"" : "", stdout);
    fputs(is_guarded ? "'" : "", stdout);
    for (; *text; text++) {
        if (*text == '"')
            putchar('"');
        putchar(*text);
    }
    fputs(is_quoted ? "\"" : "", stdout);
}
