/* SPDX-License-Identifier: BSD-3-Clause */
/* The files an app writes besides standard output: checked before the cooks are run, written after. */
#ifndef SW_APPS_OUTPUTS_H
#define SW_APPS_OUTPUTS_H

#include "scenario_option.h"

/* Whether the names of the files that are asked for are good and differ; prints the reason if not. Returns an exit status. */
int outputs_check_names(const command_options *options);

/* The same, and whether they can be written; prints the reason if not. Returns an exit
 * status. */
int outputs_check(const command_options *options);

/* The number of a path's ending among those an option takes; -1 if it is none of them. */
int output_ending(const command_option *option, const char *path);

/* Writes the results file, if one is asked for, of those cooks that did not fail; argc and argv are recorded in it.
 * Prints the reason if it fails and returns an exit status. */
int outputs_write_results(session *session, const command_options *options, int argc, char **argv,
                          const sw_run *runs, size_t count);

/* The command line as it was typed, without the folder of the program; free it. NULL without memory. */
char *outputs_command_line(int argc, char **argv);

/* Where the results of a session come from; release with outputs_origin_end. */
typedef struct outputs_origin {
    char program[64], *line, *text;
    sw_provenance from; /* of the texts above */
} outputs_origin;

/* Prints why if it fails. */
bool outputs_origin_begin(session *session, int argc, char **argv, outputs_origin *origin);
void outputs_origin_end(outputs_origin *origin);

#endif
