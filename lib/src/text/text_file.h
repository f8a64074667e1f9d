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

enum { SW_PATH_SIZE = 4096 };

/* The path of a file that a scenario names, which lies beside it unless it begins at the root. scenario_file: NULL for one that was typed.
 * Names that could upset a terminal are refused. SW_OK or SW_ERR_FILE. */
sw_status sw_path_beside(sw_context *context, const char *scenario_file, const char *path, char full[SW_PATH_SIZE]);

#endif
