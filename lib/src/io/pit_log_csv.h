/* Reads a measured log of a pit's air from a CSV file: two columns, time since the meat went on and temperature, under a
 * heading with their units, such as "time [min],temperature [F]". */
#ifndef SW_IO_PIT_LOG_CSV_H
#define SW_IO_PIT_LOG_CSV_H

#include "physical_value.h"

#include <stddef.h>

/* Rows become steps that ramp to the next row; the last one holds. steps has room for SW_PIT_STEPS_MAX; count: out.
 * scenario_file: a relative path counts from its folder. SW_OK, SW_ERR_FILE, SW_ERR_INPUT with file:line:column (times
 * that repeat, go back or leave a gap of over SW_PIT_LOG_GAP, values with a unit of their own), SW_ERR_MEMORY. */
sw_status sw_pit_log_csv_read(sw_context *context, const sw_units *units, const char *scenario_file, const char *path,
                              sw_range range, sw_pit_step *steps, size_t *count);

/* A longer time without a row is a gap, which no straight line may fill [s]; a choice. */
#define SW_PIT_LOG_GAP 3600.0

#endif
