/* SPDX-License-Identifier: BSD-3-Clause */
#include "typed_text.h"

#include <stallwright/text.h>

#include <stdio.h>
#include <string.h>

/* Bytes of the sequence this byte begins; 0 if it cannot begin one. */
static size_t sequence_size(unsigned char first)
{
    if (first >= 0xc2 && first < 0xe0)
        return 2;
    if (first >= 0xe0 && first < 0xf0)
        return 3;
    return first >= 0xf0 && first <= 0xf4 ? 4 : 0;
}

size_t sw_utf8_decode(const char *text, size_t length, uint32_t *character)
{
    unsigned char first = (unsigned char)text[0];
    if (first < 0x80) {
        *character = first;
        return 1;
    }
    size_t size = sequence_size(first);
    if (size == 0 || size > length)
        return 0;
    uint32_t decoded = first & (0x7fu >> size);
    for (size_t i = 1; i < size; i++) {
        unsigned char next = (unsigned char)text[i];
        if ((next & 0xc0) != 0x80)
            return 0;
        decoded = decoded << 6 | (next & 0x3f);
    }
    bool overlong = (size == 3 && decoded < 0x800) || (size == 4 && decoded < 0x10000);
    bool surrogate = decoded >= 0xd800 && decoded <= 0xdfff;
    if (overlong || surrogate || decoded > 0x10ffff)
        return 0;
    *character = decoded;
    return size;
}

bool sw_is_control(uint32_t character)
{
    return character < 0x20 || (character >= 0x7f && character < 0xa0) || character == 0x2028 || character == 0x2029 ||
           (character >= 0x202a && character <= 0x202e) || (character >= 0x2066 && character <= 0x2069);
}

/* The character that a text begins with, or its first byte as \xNN if that could upset a terminal. Returns the bytes read. */
static size_t show_next(const char *text, size_t length, char shown[5])
{
    uint32_t character;
    size_t size = sw_utf8_decode(text, length, &character);
    if (size == 0 || sw_is_control(character)) {
        snprintf(shown, 5, "\\x%02x", (unsigned)(unsigned char)*text);
        return 1;
    }
    memcpy(shown, text, size);
    shown[size] = '\0';
    return size;
}

const char *sw_escape(const char *text, char *buffer)
{
    size_t length = strlen(text), read = 0;
    char *at = buffer, shown[5];
    while (read < length && read < SW_QUOTE_LONGEST) {
        read += show_next(text + read, length - read, shown);
        at = stpcpy(at, shown);
    }
    strcpy(at, read < length ? "..." : "");
    return buffer;
}

void sw_write_escaped(const char *text, FILE *stream)
{
    char shown[5];
    for (size_t length = strlen(text), read = 0; read < length;) {
        read += show_next(text + read, length - read, shown);
        fputs(shown, stream);
    }
}

const char *sw_quote(const char *text, char buffer[SW_QUOTE_SIZE])
{
    buffer[0] = '"';
    sw_escape(text, buffer + 1);
    strcat(buffer, "\"");
    return buffer;
}
