/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * One cook with everything that is known of it, as the analyses take and keep it, and how they are watched and stopped. */
#ifndef STALLWRIGHT_RUN_H
#define STALLWRIGHT_RUN_H

#include <stallwright/outcome.h>
#include <stallwright/safety.h>

SW_BEGIN_DECLARATIONS

#define SW_RUN_LABEL_SIZE 48
#define SW_RUN_FAILURE_SIZE 1024

/** One cook as it was run. Begin with the scenario and zeroes. */
typedef struct sw_run {
    char label[SW_RUN_LABEL_SIZE]; /**< letters, digits, '-': names the cook in progress, plots and results files */
    sw_scenario scenario;
    sw_status status;
    char failure[SW_RUN_FAILURE_SIZE]; /**< sentence, if status is not SW_OK */
    sw_history *history;               /**< owned; NULL if it failed */
    sw_outcome outcome;                /**< only if status is SW_OK */
    sw_safety safety;                  /**< only if status is SW_OK */
} sw_run;

/** Who watches work that takes several cooks, and may stop it. Each callback may be NULL. begin, observe and end are called
 * from the thread that asked for the work; is_cancelled from any. */
typedef struct sw_watch {
    void (*begin)(const char *label, void *data); /**< a cook begins; the label is valid until it ends */
    sw_cook_observer observe;                     /**< now and then while it runs; nonzero cancels */
    void (*end)(void *data);                      /**< it has ended, or failed */
    bool (*is_cancelled)(void *data);             /**< asked before a cook, and while one runs in another thread */
    void *data;                                   /**< for all of them */
} sw_watch;

/** Runs the scenario of a run and evaluates outcome and safety. That the cook fails is told by the run.
 * @param context not NULL: the run keeps its sentence
 * @param run scenario and label are read, history must be NULL; the rest is filled in, release with sw_run_free
 * @param watch may be NULL
 * @return the status of the run, as sw_cook_run has it */
SW_API sw_status sw_run_cook(sw_context *context, sw_run *run, const sw_watch *watch);

/** The same, as one of several that begin alike (sw_branches_create).
 * @param branches NULL for none */
SW_API sw_status sw_run_cook_branching(sw_context *context, sw_run *run, const sw_watch *watch, sw_branches *branches);

/** As sw_run_cook; a cook that never ends is run again to the pull, or for solver.longest_phase if that is never reached, so that
 * there is something to look at. Its scenario then has that as its pull.
 * @param never_ends out: whether it was only followed; set on error too
 * @param reason out: SW_RUN_FAILURE_SIZE characters: why it never ends; empty if it does
 * @return the status of the last run */
SW_API sw_status sw_run_or_follow(sw_context *context, sw_run *run, const sw_watch *watch, bool *never_ends, char *reason);

/** Releases the history. */
SW_API void sw_run_free(sw_run *run);

SW_END_DECLARATIONS

#endif
