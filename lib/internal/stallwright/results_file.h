/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Writes histories to an HDF5 file that general tools read (CF conventions, dimension scales on every axis), and reads
 * them back.
 * Layout: docs/reference/results-file.md. */
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
 * The file is built in one without a name, copied to "<path>.part" and given its name when complete. On failure path is as it was
 * and no part is left. A part that exists is another run's and not touched: SW_ERR_FILE.
 * HDF5 prints nothing meanwhile; the caller's own setting of that is kept.
 * @param path a regular file or free; a symbolic link is replaced itself
 * @param count 1 or more
 * @param histories count pointers
 * @param labels count names, one a cook: letters, digits, '-' and '_'; all different, none "provenance"; not used and
 * may be NULL if count is 1
 * @param provenance NULL: nothing is known of where they come from
 * @param overwrite whether an existing file may be replaced
 * @return SW_OK; SW_ERR_ARGUMENT (count, labels); SW_ERR_EXISTS, also if the file appears meanwhile; SW_ERR_FILE
 * (also: the unit database cannot be read); SW_ERR_RANGE (a scenario has a value that a scenario file may not hold);
 * SW_ERR_MEMORY */
SW_API sw_status sw_results_write(sw_context *context, const char *path, size_t count,
                                  const sw_history *const *histories, const char *const *labels,
                                  const sw_provenance *provenance, bool overwrite);

/** The cooks of a results file. */
typedef struct sw_results {
    size_t count;           /**< 1 or more */
    sw_history **histories; /**< count; complete, as sw_cook_run returned them */
    char **labels;          /**< count names; that of a single cook is "" */
} sw_results;

/** Reads what sw_results_write wrote: every number of the histories is the same to the bit.
 * HDF5 prints nothing meanwhile. UDUNITS reads the scenarios, so calls must not overlap with those of scenario readers.
 * @param path a regular file
 * @param results out: owned by the caller, destroy with sw_results_destroy; unchanged on error
 * @return SW_OK; SW_ERR_FILE (missing, no regular file, not to be read; the unit database cannot be read);
 * SW_ERR_INPUT (no results file, one of another format, damaged, or changed by another program; the sentence says what it lacks); SW_ERR_MEMORY */
SW_API sw_status sw_results_read(sw_context *context, const char *path, sw_results **results);

/** Destroys results and their histories; NULL is allowed. */
SW_API void sw_results_destroy(sw_results *results);

SW_END_DECLARATIONS

#endif
