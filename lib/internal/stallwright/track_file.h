/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Writes what is known of a cook under way to an HDF5 file that general tools read. Layout: docs/results-file.md. */
#ifndef STALLWRIGHT_TRACK_FILE_H
#define STALLWRIGHT_TRACK_FILE_H

#include <stallwright/results_file.h>
#include <stallwright/track.h>

SW_BEGIN_DECLARATIONS

/** Writes readings, likeliest cook, fan, choices and the ensemble of cooks with their weights, as sw_results_write does.
 * @param question that the track answers
 * @param provenance where it comes from; its texts may be NULL
 * @param overwrite whether an existing file may be replaced
 * @return SW_OK; SW_ERR_EXISTS; SW_ERR_FILE; SW_ERR_MEMORY */
SW_API sw_status sw_track_write(sw_context *context, const char *path, const sw_track_question *question, const sw_track *track,
                                const sw_provenance *provenance, bool overwrite);

SW_END_DECLARATIONS

#endif
