/* SPDX-License-Identifier: BSD-3-Clause */
/* Reads the corners of an outline from a CSV file: two columns, x along the section and y up, under a heading that names
 * each with its unit, such as "x cm,y cm". */
#ifndef SW_IO_OUTLINE_CSV_H
#define SW_IO_OUTLINE_CSV_H

#include "physical_value.h"

#include <stddef.h>

/* scenario_file: a relative path counts from its folder; NULL counts from the working folder.
 * corners has room for most points; count: out. SW_OK, SW_ERR_FILE, SW_ERR_INPUT with file:line:column, SW_ERR_MEMORY. */
sw_status sw_outline_csv_read(sw_context *context, const sw_units *units, const char *scenario_file, const char *path,
                              sw_range range, double (*corners)[2], size_t most, size_t *count);

#endif
