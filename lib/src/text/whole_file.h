/* SPDX-License-Identifier: BSD-3-Clause */
/* Puts a file in its place whole or not at all. */
#ifndef SW_IO_WHOLE_FILE_H
#define SW_IO_WHOLE_FILE_H

#include <stallwright/context.h>

#include <stdbool.h>
#include <stddef.h>

/* Whether a file may be written at path: there is none, or there is a regular file and overwrite is set.
 * what begins the sentence, for example "the results file". SW_OK, SW_ERR_EXISTS, SW_ERR_FILE. */
sw_status sw_whole_file_check(sw_context *context, const char *what, const char *path, bool overwrite);

/* Whether there is a regular file that may be read: to open a pipe would wait for somebody who writes to it.
 * SW_OK, SW_ERR_FILE. */
sw_status sw_whole_file_check_readable(sw_context *context, const char *what, const char *path);

/* Opens an empty file without a name in the folder of path, to read and write; the system removes it once it is closed.
 * SW_OK, SW_ERR_FILE, SW_ERR_MEMORY. */
sw_status sw_whole_file_scratch(sw_context *context, const char *what, const char *path, int *descriptor);

/* Copies the first bytes of an open HDF5 file to "<path>.part", makes sure that they have reached the disk, and gives that its name.
 * Without overwrite a file that somebody else puts there meanwhile is kept. On failure path is as it was and no part is left.
 * SW_OK, SW_ERR_EXISTS, SW_ERR_FILE, SW_ERR_MEMORY. */
sw_status sw_whole_file_write(sw_context *context, const char *what, const char *path, int from, size_t size,
                              bool overwrite);

/* Says that a file cannot be written for an error number. SW_ERR_FILE. */
sw_status sw_whole_file_refuse(sw_context *context, const char *what, const char *path, int error);

#endif
