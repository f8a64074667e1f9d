/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
  * Reads and writes setups and cooks, and takes values with units as people type them. These functions read units with UDUNITS,
 * which has global state: their calls must not overlap. All else is as in <stallwright/handles.h>. */
#ifndef STALLWRIGHT_FILES_H
#define STALLWRIGHT_FILES_H

#include <stallwright/handles.h>

#include <stdbool.h>
#include <stdio.h>

SW_BEGIN_DECLARATIONS

/** Reads a scenario file (docs/reference/scenario.md) into a setup; what the file leaves out stays as it is.
 * @param path "-" is standard input
 * @return also SW_ERR_FILE (missing, a folder, over 1 MiB) and SW_ERR_INPUT, whose sentence begins with file:line:column */
SW_API sw_status sw_setup_read(sw_context *context, sw_setup *setup, const char *path);

/** Sets a value as it stands in a scenario file, with its unit: "pit.temperature=250F".
 * @return also SW_ERR_INPUT */
SW_API sw_status sw_setup_assign(sw_context *context, sw_setup *setup, const char *assignment);

/** Writes a complete scenario file with a comment for each key. Reading it gives the same numbers, to the bit.
 * @return also SW_ERR_FILE */
SW_API sw_status sw_setup_write(sw_context *context, const sw_setup *setup, sw_unit_system units, FILE *stream);

/** Writes a results file (docs/reference/results-file.md), first under another name, so that it is never incomplete.
 * @param program name and version of the calling program; may be NULL
 * @param overwrite whether to replace a file that exists
 * @return also SW_ERR_EXISTS, SW_ERR_FILE (also in a build without HDF5) */
SW_API sw_status sw_cooked_write(sw_context *context, const sw_cooked *cooked, const char *path, const char *program,
                                 bool overwrite);

/** Reads a cook from a results file; every number is the same, to the bit.
 * @param label which cook of several; NULL for the only one, or the first
 * @param cooked out: destroy with sw_cooked_destroy
 * @return also SW_ERR_FILE and SW_ERR_INPUT (no results file, damaged, or without a cook of this label) */
SW_API sw_status sw_cooked_read(sw_context *context, const char *path, const char *label, sw_cooked **cooked);

SW_END_DECLARATIONS

#endif
