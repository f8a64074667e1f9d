/* SPDX-License-Identifier: BSD-3-Clause */
/* A file written under a temporary name and renamed when it is complete, so that nothing half-written stays under the
 * final name and nothing that was there is lost. Every function prints the reason if it fails and returns an exit
 * status. */
#ifndef SW_APPS_OUTPUT_FILE_H
#define SW_APPS_OUTPUT_FILE_H

#include <stdbool.h>

enum { OUTPUT_PATH_SIZE = 4096 };

typedef struct output_file {
    const char *path;
    char temporary[OUTPUT_PATH_SIZE];
    int descriptor; /* of the temporary file, which is locked as long as it is open */
} output_file;

/* Whether a file could be written there: bad use if it exists and force is not set; a failure if it is a
 * directory, or if its folder is missing or cannot be written to. Touches nothing, so it can be asked before long work. */
int output_file_check(const char *path, bool force);

/* Checks, and creates the temporary file, empty; in place of one that a killed run has left (stallwright/part_file.h).
 * beginning: the first bytes of every file of this kind. */
int output_file_begin(output_file *file, const char *path, const char *beginning, bool force);

/* Renames the temporary file, or removes it. */
int output_file_finish(output_file *file);

/* Removes the temporary file; prints nothing. */
void output_file_abandon(output_file *file);

/* Flushes standard output. */
int flush_standard_output(void);

/* Closes standard output; the last thing a program does with it. */
int close_standard_output(void);

#endif
