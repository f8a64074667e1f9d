/* SPDX-License-Identifier: BSD-3-Clause */
/* What stands at the head of every results file: when it was made, by what command and with what versions. */
#ifndef SW_RESULTS_HEADING_H
#define SW_RESULTS_HEADING_H

#include "hdf5_writer.h"

#include <stallwright/results_file.h>

#define SW_PROVENANCE_GROUP "provenance"

enum { SW_DATE_SIZE = 32 };

/* sw_moment_of_making in UTC: "2026-11-28T12:00:00Z". */
sw_status sw_date_created(sw_context *context, char date[SW_DATE_SIZE]);

/* Texts of any length as one attribute. */
void sw_put_joined(sw_hdf5_writer *w, sw_hdf5_object object, const char *name, size_t count, const char *const *texts,
                   const char *between);

/* The attributes history and date_created. command_line may be NULL. */
void sw_put_history(sw_hdf5_writer *w, sw_hdf5_object root, const char *date, const char *command_line);

/* The group provenance with versions and the command line, which may be NULL; it stays open. */
sw_hdf5_object sw_provenance_group(sw_hdf5_writer *w, sw_hdf5_object root, const char *command_line);

/* The same with the complete scenario where it is known, closed. */
void sw_put_provenance(sw_hdf5_writer *w, sw_hdf5_object root, const sw_provenance *from);

#endif
