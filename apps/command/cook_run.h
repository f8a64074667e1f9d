/* SPDX-License-Identifier: BSD-3-Clause */
/* One cook as an app ran it. */
#ifndef SW_APPS_COOK_RUN_H
#define SW_APPS_COOK_RUN_H

#include "progress.h"
#include "scenario_option.h"

/* Runs the scenario of the run. */
void cook_run_do(sw_run *run, sw_context *context, progress *progress, sw_branches *branches);

/* Says that a measured pit log ended before the pull, if it did. */
void cook_run_note_log(const sw_run *run, const command_options *options);

/* With --verbose: notes the work of the time integration. */
void cook_run_note_work(const sw_run *run, const command_options *options);

/* The end of an app: where standard output is for machines (CSV, JSON), what is missing goes to standard error. Returns
 * EXIT_FAILED, with the reason printed, if a phase does not end; a missed hour alone is EXIT_DONE. */
int report_missing(const sw_run *runs, size_t count, const command_options *options);

#endif
