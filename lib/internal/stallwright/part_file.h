/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * The temporary file "<path>.part" that a file is written to until it is whole. It is locked while it is written, so that one
 * which a killed run has left can be told from one that is being written. */
#ifndef STALLWRIGHT_PART_FILE_H
#define STALLWRIGHT_PART_FILE_H

#include <stallwright/context.h>

#include <stdbool.h>

SW_BEGIN_DECLARATIONS

/** Creates the part, empty, and locks it as long as its descriptor, or a copy of it, is open: rename it before closing.
 * One that is there is removed if nobody holds its lock and it is a regular file that begins as this program's do.
 * Symbolic links, files of others and file systems without locks are left alone.
 * @param what begins the sentence, for example "the results file"
 * @param path the final name, for the sentence
 * @param part the temporary name
 * @param beginning the first bytes of every file of this kind, at most 16
 * @param force also removes an unlocked file that begins otherwise
 * @param descriptor out: open to read and write, owned by the caller
 * @return SW_OK; SW_ERR_FILE with a sentence */
SW_API sw_status sw_part_file_open(sw_context *context, const char *what, const char *path, const char *part,
                                   const char *beginning, bool force, int *descriptor);

SW_END_DECLARATIONS

#endif
