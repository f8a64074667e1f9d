/* SPDX-License-Identifier: BSD-3-Clause */
/* The scenario an app runs: the default or a file, with the values set on the command line. */
#ifndef SW_APPS_SCENARIO_OPTION_H
#define SW_APPS_SCENARIO_OPTION_H

#include "options.h"

/* What an app works with. */
typedef struct session {
    sw_context *context;
    sw_scenario_reader *reader; /* NULL until it is needed: it takes some milliseconds to make */
    sw_scenario scenario;
} session;

/* Opens a session without a scenario. Returns an exit status. End the session in any case. */
int session_open(session *session);

/* Opens a session, loads and checks the scenario; prints the reason if it cannot. Returns an exit status. End the session in any case. */
int session_begin(session *session, const command_options *options);
void session_end(session *session);

/* The reader, made if need be; NULL with the reason printed if it cannot be made. */
sw_scenario_reader *session_reader(session *session);

/* Prints the last error of the context and returns the exit status that belongs to it. */
int report(const session *session, sw_status status);

/* Writes the scenario to standard output; returns an exit status. */
int print_scenario(session *session, const command_options *options);

/* The scenario as a file would hold it, for the results file; free it. NULL if it cannot be had. */
char *scenario_text(session *session);

#endif
