/* SPDX-License-Identifier: BSD-3-Clause */
/* The last line of a results file: a checksum of all bytes before it. HDF5 reads a file up to the end that its own beginning
 * names, so every reader of HDF5 opens a file with such a line; and HDF5 itself may trip over a damaged file, so it is only given
 * files whose checksum is right. */
#ifndef SW_IO_FILE_CHECKSUM_H
#define SW_IO_FILE_CHECKSUM_H

#include <stddef.h>

/* Bytes of the line. */
#define SW_CHECKSUM_SIZE 29

/* Writes the line behind the first size bytes of an open file. Returns 0 or an error number. */
int sw_file_checksum_append(int descriptor, size_t size);

/* What is wrong with a file, as the second half of a sentence: its checksum is missing or not that of its bytes, or it cannot be
 * read. NULL if all is well. */
const char *sw_file_checksum_complaint(const char *path);

#endif
