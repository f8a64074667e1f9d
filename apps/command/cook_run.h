/* One cook as an app ran it. */
#ifndef SW_APPS_COOK_RUN_H
#define SW_APPS_COOK_RUN_H

#include "progress.h"
#include "scenario_option.h"

enum { LABEL_SIZE = 48, FAILURE_SIZE = 1024 };

typedef struct cook_run {
    char label[LABEL_SIZE];  /* letters, digits, '-': names the cook in plots and results files */
    sw_scenario scenario;
    sw_status status;
    char failure[FAILURE_SIZE]; /* sentence, if status is not SW_OK */
    sw_history *history;        /* NULL if it failed */
    sw_outcome outcome;
    sw_safety safety;
} cook_run;

/* Runs the scenario of the run. */
void cook_run_do(cook_run *run, sw_context *context, progress *progress);

/* Says that a measured pit log ended before the pull, if it did. */
void cook_run_note_log(const cook_run *run, const command_options *options);

/* With --verbose: notes the work of the time integration. */
void cook_run_note_work(const cook_run *run, const command_options *options);

void cook_run_free(cook_run *run);

#endif
