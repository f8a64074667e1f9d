/* SPDX-License-Identifier: BSD-3-Clause */
/* Progress of long work on standard error, on a terminal only, at most ten times a second; and interruption by Ctrl-C,
 * SIGTERM and SIGHUP, which all mean the same here. */
#ifndef SW_APPS_PROGRESS_H
#define SW_APPS_PROGRESS_H

#include "options.h"

#include <stddef.h>
#include <time.h>

typedef struct progress {
    bool is_shown;
    bool is_dirty;     /* something stands on the line */
    const char *label; /* of the cook under way */
    sw_unit_system units;
    struct timespec last;
} progress;

/* Seconds since a moment of the monotonic clock. */
double seconds_since(const struct timespec *moment);

/* Takes over Ctrl-C; call once. */
void progress_begin(progress *progress, const command_options *options);

/* An observer for sw_cook_run; data is the progress. Cancels after Ctrl-C. */
int progress_observe(double time, double probe_temperature, void *data);

/* Shows how many of many cooks are done, how fast it goes and how long it will take; began is when the first of this
 * run's started, before how many were there already. */
void progress_count(progress *progress, size_t done, size_t before, size_t total, const struct timespec *began);

/* The same for work that takes several cooks; the progress must outlive it. */
sw_watch progress_watch(progress *progress);

/* Clears the line. */
void progress_end(progress *progress);

/* From now on Ctrl-C is noted only; whoever works asks was_interrupted. For work without a progress. */
void take_over_interrupt(void);

/* Whether Ctrl-C was pressed, or another of the signals came. */
bool was_interrupted(void);

/* For work that an interruption only ends the waiting for: the next one counts again. */
void forget_interrupt(void);

/* Says so on standard error; returns the exit status of an interrupted program: 128 and the number of the signal. */
int report_interrupt(void);

#endif
