/** @file
 * Writes a history to an HDF5 file that general tools read (CF conventions, dimension scales on every axis).
 * Layout: docs/results-file.md. */
#ifndef STALLWRIGHT_RESULTS_FILE_H
#define STALLWRIGHT_RESULTS_FILE_H

#include <stallwright/outcome.h>

SW_BEGIN_DECLARATIONS

/** Where the results come from; each text may be NULL. */
typedef struct sw_provenance {
    const char *program;       /**< name and version of the program that ran the cook */
    const char *command_line;  /**< as typed */
    const char *scenario_text; /**< the complete scenario, as a file */
} sw_provenance;

/** Writes the histories of one or several cooks; several become groups named by their labels.
 * The file is built in memory, written to "<path>.part" and given its name when complete. On failure path is as it was
 * and no part is left. A part that exists is another run's and not touched: SW_ERR_FILE.
 * HDF5 prints nothing meanwhile; the caller's own setting of that is kept.
 * @param path a regular file or free; a symbolic link is replaced itself
 * @param count 1 or more
 * @param histories count pointers
 * @param labels count names, one a cook: letters, digits, '-' and '_'; all different, none "provenance"; not used and
 * may be NULL if count is 1
 * @param overwrite whether an existing file may be replaced
 * @return SW_OK; SW_ERR_ARGUMENT (count, labels); SW_ERR_EXISTS, also if the file appears meanwhile; SW_ERR_FILE;
 * SW_ERR_MEMORY */
SW_API sw_status sw_results_write(sw_context *context, const char *path, size_t count,
                                  const sw_history *const *histories, const char *const *labels,
                                  const sw_provenance *provenance, bool overwrite);

SW_END_DECLARATIONS

#endif
