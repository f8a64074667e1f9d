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

/** Writes the histories of one or several cooks; several become groups named by their wrap and number.
 * The file is written under a temporary name beside it and renamed when complete.
 * @param histories count pointers
 * @param labels count names, one a cook: letters, digits, '-' and '_'; all different
 * @param overwrite whether an existing file may be replaced
 * @return SW_OK, SW_ERR_EXISTS, SW_ERR_FILE, SW_ERR_MEMORY */
SW_API sw_status sw_results_write(sw_context *context, const char *path, size_t count,
                                  const sw_history *const *histories, const char *const *labels,
                                  const sw_provenance *provenance, bool overwrite);

SW_END_DECLARATIONS

#endif
