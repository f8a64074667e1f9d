/* A file written under a temporary name and renamed when it is complete, so that nothing half-written stays under the
 * final name and nothing that was there is lost. */
#ifndef SW_APPS_OUTPUT_FILE_H
#define SW_APPS_OUTPUT_FILE_H

#include <stdbool.h>

enum { OUTPUT_PATH_SIZE = 4096 };

typedef struct output_file {
    const char *path;
    char temporary[OUTPUT_PATH_SIZE];
} output_file;

/* Makes sure the file may be written: its folder is there and writable, and it does not exist unless force is set.
 * Creates the temporary file, empty. Prints the reason and returns false if not. */
bool output_file_begin(output_file *file, const char *path, bool force);

/* Renames the temporary file, or prints the reason and removes it. */
bool output_file_finish(output_file *file);

/* Removes the temporary file. */
void output_file_abandon(output_file *file);

/* Flushes standard output; prints the reason and returns false if something could not be written. */
bool flush_standard_output(void);

#endif
