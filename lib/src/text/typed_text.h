/* SPDX-License-Identifier: BSD-3-Clause */
/* Text as somebody typed it: whether it is sound UTF-8 without control characters, and how to show it in a sentence. */
#ifndef SW_IO_TYPED_TEXT_H
#define SW_IO_TYPED_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Decodes one character; returns the number of its bytes, 0 if the bytes are not UTF-8. length is at least 1. */
size_t sw_utf8_decode(const char *text, size_t length, uint32_t *character);

/* Whether a character may not stand in a name or title: control characters, line separators and the marks that
 * reverse the direction of text on a terminal. */
bool sw_is_control(uint32_t character);

enum { SW_QUOTE_LONGEST = 60, SW_QUOTE_SIZE = 4 * (SW_QUOTE_LONGEST + 4) + 8 };

/* Writes text in double quotes for an error sentence: bytes that could upset a terminal as \xNN, cut with "..." after
 * SW_QUOTE_LONGEST bytes. Returns buffer. */
const char *sw_quote(const char *text, char buffer[SW_QUOTE_SIZE]);

/* The same without the quotes; buffer has room for SW_QUOTE_SIZE - 2 bytes. */
const char *sw_escape(const char *text, char *buffer);

#endif
