/* SPDX-License-Identifier: BSD-3-Clause */
/* Puts a results file in its place. */
#ifndef SW_IO_HDF5_FILE_H
#define SW_IO_HDF5_FILE_H

#include "hdf5_writer.h"

#include <stallwright/context.h>

/* Builds a file (sw_hdf5_build) beside its place and puts it there whole or not at all (sw_whole_file_write).
 * what begins the sentence, for example "the results file". SW_OK, SW_ERR_EXISTS, SW_ERR_FILE, SW_ERR_MEMORY. */
sw_status sw_hdf5_write_file(sw_context *context, const char *what, const char *path, bool overwrite,
                             void (*fill)(sw_hdf5_writer *writer, sw_hdf5_object root, const void *data), const void *data);

#endif
