/* SPDX-License-Identifier: BSD-3-Clause */
#include "crew.h"

#include <stallwright/side_by_side.h>

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>

/* What the threads share; everything below the lock belongs to whoever holds it. */
typedef struct shared_work {
    const sw_side_by_side *asked;
    pthread_mutex_t lock;
    size_t next;
    sw_status status; /* other than SW_OK: no more cooks */
    char message[SW_RUN_FAILURE_SIZE];
} shared_work;

static void stop(shared_work *w, sw_status status, const char *message)
{
    if (w->status != SW_OK)
        return;
    w->status = status;
    snprintf(w->message, sizeof w->message, "%s", message);
}

static void stop_for_memory(shared_work *w)
{
    pthread_mutex_lock(&w->lock);
    stop(w, SW_ERR_MEMORY, "memory for cooks that begin alike could not be allocated");
    pthread_mutex_unlock(&w->lock);
}

/* Whether the caller, or a failure in another thread, stops the work. */
static bool is_stopped(void *data)
{
    shared_work *w = data;
    const bool cancelled = w->asked->is_cancelled && w->asked->is_cancelled(w->asked->data);
    pthread_mutex_lock(&w->lock);
    if (cancelled)
        stop(w, SW_ERR_CANCELLED, sw_status_text(SW_ERR_CANCELLED));
    const bool stopped = w->status != SW_OK;
    pthread_mutex_unlock(&w->lock);
    return stopped;
}

/* The next cooks that are made together; returns their number, 0 if there are none left. */
static size_t take_next(shared_work *w, size_t *first)
{
    const size_t alike = w->asked->alike > 0 ? w->asked->alike : 1;
    if (is_stopped(w))
        return 0;
    pthread_mutex_lock(&w->lock);
    const size_t left = w->asked->count - w->next, count = left < alike ? left : alike;
    *first = w->next;
    w->next += count;
    pthread_mutex_unlock(&w->lock);
    return count;
}

static void hand_over(shared_work *w, sw_context *context, size_t number, const sw_run *run)
{
    pthread_mutex_lock(&w->lock);
    if (run->status == SW_ERR_MEMORY || run->status == SW_ERR_CANCELLED) {
        stop(w, run->status, run->failure);
    } else {
        const sw_status status = w->asked->take(context, number, run, w->asked->data);
        if (status != SW_OK)
            stop(w, status, sw_context_message(context));
    }
    pthread_mutex_unlock(&w->lock);
}

/* Draws are made at wide tolerances, at which now and then a balance stays open: such a cook is made again at a tenth of it, and once more. */
static void cook_one(sw_context *context, sw_run *run, const sw_watch *watch, sw_branches *branches)
{
    for (int tries = 0; tries < 3; tries++) {
        if (sw_run_cook_branching(context, run, watch, tries == 0 ? branches : NULL) != SW_ERR_SOLVER)
            return;
        run->scenario.solver.relative_tolerance *= 0.1;
    }
}

static void cook_number(shared_work *w, sw_context *context, size_t number, const sw_watch *watch, sw_branches *branches)
{
    sw_run run = {.label = ""};
    snprintf(run.label, sizeof run.label, "cook-%zu", number + 1);
    w->asked->scenario(number, &run.scenario, w->asked->data);
    cook_one(context, &run, watch, branches);
    hand_over(w, context, number, &run);
    sw_run_free(&run);
}

/* The one that the others branch off from comes first. */
static void cook_together(shared_work *w, sw_context *context, size_t first, size_t count, const sw_watch *watch)
{
    const sw_scenario *each[SW_ALIKE_MAX];
    sw_branches *branches = NULL;
    sw_scenario *scenarios = malloc(count * sizeof *scenarios);
    for (size_t i = 0; scenarios && i < count; i++) {
        w->asked->scenario(first + i, &scenarios[i], w->asked->data);
        each[i] = &scenarios[i];
    }
    const sw_status status = scenarios ? sw_branches_create(context, count, each, &branches) : SW_ERR_MEMORY;
    free(scenarios);
    if (status != SW_OK) {
        stop_for_memory(w);
        return;
    }
    for (size_t turn = 0; turn < count && !is_stopped(w); turn++)
        cook_number(w, context, first + sw_branches_turn(branches, turn), watch, branches);
    sw_branches_destroy(branches);
}

static void cook_in_turn(sw_context *context, bool is_caller, void *data)
{
    shared_work *w = data;
    const sw_watch watch = {.is_cancelled = is_stopped, .data = w};
    (void)is_caller;
    size_t first;
    for (size_t count; (count = take_next(w, &first)) > 0;) {
        if (count > 1)
            cook_together(w, context, first, count, &watch);
        else
            cook_number(w, context, first, &watch, NULL);
    }
}

sw_status sw_cook_side_by_side(sw_context *context, const sw_side_by_side *asked)
{
    shared_work w = {.asked = asked};
    if (asked->alike > SW_ALIKE_MAX)
        return sw_fail(context, SW_ERR_ARGUMENT, "%zu cooks are to be made together; allowed are up to %d", asked->alike, SW_ALIKE_MAX);
    if (pthread_mutex_init(&w.lock, NULL) != 0)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a lock could not be allocated");
    const sw_status status = sw_crew_work(context, asked->threads, cook_in_turn, &w);
    pthread_mutex_destroy(&w.lock);
    if (status != SW_OK)
        return status;
    return w.status == SW_OK ? SW_OK : sw_fail(context, w.status, "%s", w.message);
}
