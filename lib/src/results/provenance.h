/* SPDX-License-Identifier: BSD-3-Clause */
/* Where a results file comes from, as a group of it. */
#ifndef SW_PROVENANCE_H
#define SW_PROVENANCE_H

#include "hdf5_writer.h"

#include <stallwright/results_file.h>

#define SW_PROVENANCE_GROUP "provenance"

void sw_put_provenance(sw_hdf5_writer *writer, sw_hdf5_object root, const sw_provenance *from);

#endif
