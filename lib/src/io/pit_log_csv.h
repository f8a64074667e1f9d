/* SPDX-License-Identifier: BSD-3-Clause */
/* Reads a pit's air from a CSV file, whose heading names the columns that count: a measured log, "time [min],temperature [F]",
 * or steps, "from [h],temperature [F]" and if need be "ramp". */
#ifndef SW_IO_PIT_LOG_CSV_H
#define SW_IO_PIT_LOG_CSV_H

#include "physical_value.h"

#include <stddef.h>

/* A log's rows become steps that ramp to the next row; the last one holds. Its times are durations since the meat went on, in the
 * heading's unit or as H:MM from 0:00, or times of day with a date or without, which count from pit's start_clock; rows before it
 * are left out. Steps begin at 0 and hold until the next one unless their ramp is yes; gaps are of any length.
 * start_clock: [s after midnight]; range: of the temperature [K]; pit: its steps and is_log, unchanged on error; scenario_file: a
 * relative path counts from its folder. SW_OK, SW_ERR_FILE, SW_ERR_INPUT with file:line:column (times that repeat or go back, a
 * log's gap of over SW_PIT_LOG_GAP, values with a unit of their own), SW_ERR_MEMORY. */
sw_status sw_pit_log_csv_read(sw_context *context, const sw_units *units, const char *scenario_file, const char *path,
                              double start_clock, sw_range range, sw_pit *pit);

/* A longer time without a row is a gap, which no straight line may fill [s]; a choice. */
#define SW_PIT_LOG_GAP 3600.0

#endif
