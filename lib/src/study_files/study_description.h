/* SPDX-License-Identifier: BSD-3-Clause */
/* A study in words: whether two are the same. */
#ifndef SW_IO_STUDY_DESCRIPTION_H
#define SW_IO_STUDY_DESCRIPTION_H

#include <stallwright/study_file.h>

/* Writes version, design, factors and base scenario into *text, which the caller frees; unchanged on error.
 * Two studies with the same text have the same results to the bit, on one machine.
 * SW_OK, SW_ERR_RANGE (the base scenario has a value that a file may not hold), SW_ERR_MEMORY. */
sw_status sw_study_describe(sw_context *context, sw_scenario_reader *reader, const sw_study *study, char **text);

#endif
