/* SPDX-License-Identifier: BSD-3-Clause */
/* A sweep as its outputs see it: what was varied, and what came of each cook. */
#ifndef SW_APPS_SWEEP_VIEW_H
#define SW_APPS_SWEEP_VIEW_H

#include "options.h"
#include "prose.h"
#include "quantity.h"

/* The figures that tables and pictures show; those of all cooks are kept in memory. */
#define SWEEP_FIGURE_LIST(X)                                                                                           \
    X(stall_start, "stall begins")                                                                               \
    X(stall_length, "stall lasts")                                                                                     \
    X(done_time, "done after")                                                                                         \
    X(slice_time, "ready after")                                                                              \
    X(yield_fraction, "yield")                                                                                         \
    X(bark, "bark index")                                                                                              \
    X(late, "late by")

#define SWEEP_ENUMERATOR(name, title) SWEEP_##name,
typedef enum sweep_figure { SWEEP_FIGURE_LIST(SWEEP_ENUMERATOR) SWEEP_FIGURE_COUNT } sweep_figure;
#undef SWEEP_ENUMERATOR

typedef struct sweep_view {
    const sw_study *study;
    const sw_study_journal *journal;
    sw_context *context;
    size_t run_count;
    double *figures[SWEEP_FIGURE_COUNT]; /* run_count each; absent of a cook that failed */
    bool *has_failed;                    /* run_count */
    size_t hour_count;                   /* cooks that were planned for a time of day */
    size_t in_time_count, late_count;    /* of these */
    double latest;                       /* how late the latest of them is [s] */
    size_t not_wrapped_count;            /* cooks that were pulled before their wrap went on */
    size_t past_log_count;               /* cooks that were still on the pit when its log ended */
    size_t endless_count;                /* cooks with a phase that does not end */
    size_t unmet_count;                  /* cooks that do not meet all rules of food safety */
} sweep_view;

/* Loads the figures of all cooks. Prints the reason if it fails and returns an exit status; free it in any case. */
int sweep_view_load(sweep_view *view, sw_context *context, const sw_study *study, const sw_study_journal *journal);
void sweep_view_free(sweep_view *view);

const char *sweep_figure_title(sweep_figure figure);

/* Whether its lengths are heights of a place above the sea, told in metres and feet. */
bool sweep_factor_is_altitude(const sw_factor_view *factor);

/* Whether the figure is told of these cooks: how late they are is, if one was planned for a time of day. */
bool sweep_figure_is_told(const sweep_view *view, sweep_figure figure);

/* What kind of quantity it is. */
prose_kind sweep_figure_kind(sweep_figure figure);
const char *show_sweep_figure(sweep_figure figure, double value, char *text);

/* How many cooks went on without what was planned; false, and no text, if none did. At most 80 columns. */
bool show_cooks_not_wrapped(const sweep_view *view, char *text, size_t size);
bool show_cooks_past_log(const sweep_view *view, char *text, size_t size);

/* How many cooks are ready at the hour they were planned for; false, and no text, if none was planned for one. */
bool show_cooks_in_time(const sweep_view *view, char *text, size_t size);

/* A value of a factor as a table shows it, in the units asked for. */
const char *show_listed_value(const sw_study *study, size_t factor, size_t value, sw_unit_system units, char *text);
const char *show_run_value(const sw_study *study, size_t run, size_t factor, sw_unit_system units, char *text);

/* Reads the result of a cook; prints the reason if it fails and returns an exit status. */
int sweep_read(const sweep_view *view, size_t run, sw_study_result *result);

#endif
