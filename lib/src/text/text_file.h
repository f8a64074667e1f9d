/* SPDX-License-Identifier: BSD-3-Clause */
/* Reads a whole text file and makes sure that it is text. */
#ifndef SW_IO_TEXT_FILE_H
#define SW_IO_TEXT_FILE_H

#include <stallwright/context.h>

#include <stddef.h>

enum { SW_TEXT_FILE_MAX = 1 << 20 };

/* Reads a file of at most SW_TEXT_FILE_MAX bytes; "-" is standard input.
 * text: out, owned by the caller (free); not terminated. SW_OK, SW_ERR_FILE, SW_ERR_MEMORY. */
sw_status sw_text_file_read(sw_context *context, const char *path, char **text, size_t *length);

/* Checks that bytes are UTF-8 without control characters except tab and line ends; name stands in the sentence before
 * ":line:column". SW_OK, SW_ERR_INPUT. */
sw_status sw_text_check(sw_context *context, const char *name, const char *text, size_t length);

#endif
