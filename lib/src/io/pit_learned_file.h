/* SPDX-License-Identifier: BSD-3-Clause */
/* What was learned of a pit as a file: a group of values, one a line. */
#ifndef SW_IO_PIT_LEARNED_FILE_H
#define SW_IO_PIT_LEARNED_FILE_H

#include "scenario_entry.h"

/* Reads it from a group of values. SW_OK, SW_ERR_INPUT. */
sw_status sw_learned_read_group(const sw_entry_source *source, const char *name, const sw_yaml_node *group, sw_pit_learned *learned);

/* Reads a file; a relative path counts from the folder of the source's file. SW_OK, SW_ERR_FILE, SW_ERR_INPUT, SW_ERR_MEMORY. */
sw_status sw_learned_read_file(const sw_entry_source *source, const char *path, sw_pit_learned *learned);

/* Writes one number with its unit. */
sw_status sw_learned_write_number(sw_context *context, const sw_units *units, sw_unit_system system, const sw_pit_learned *learned, size_t number,
                                  char text[SW_VALUE_TEXT_SIZE]);

#endif
