/* SPDX-License-Identifier: BSD-3-Clause */
#include "crew.h"

#include <stallwright/side_by_side.h>

#include <pthread.h>
#include <stdio.h>

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

static bool take_next(shared_work *w, size_t *number)
{
    if (is_stopped(w))
        return false;
    pthread_mutex_lock(&w->lock);
    const bool any = w->next < w->asked->count;
    if (any)
        *number = w->next++;
    pthread_mutex_unlock(&w->lock);
    return any;
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
static void cook_one(sw_context *context, sw_run *run, const sw_watch *watch)
{
    for (int tries = 0; tries < 3; tries++) {
        if (sw_run_cook(context, run, watch) != SW_ERR_SOLVER)
            return;
        run->scenario.solver.relative_tolerance *= 0.1;
    }
}

static void cook_in_turn(sw_context *context, bool is_caller, void *data)
{
    shared_work *w = data;
    const sw_watch watch = {.is_cancelled = is_stopped, .data = w};
    (void)is_caller;
    for (size_t number; take_next(w, &number);) {
        sw_run run = {.label = ""};
        snprintf(run.label, sizeof run.label, "cook-%zu", number + 1);
        w->asked->scenario(number, &run.scenario, w->asked->data);
        cook_one(context, &run, &watch);
        hand_over(w, context, number, &run);
        sw_run_free(&run);
    }
}

sw_status sw_cook_side_by_side(sw_context *context, const sw_side_by_side *asked)
{
    shared_work w = {.asked = asked};
    if (pthread_mutex_init(&w.lock, NULL) != 0)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a lock could not be allocated");
    const sw_status status = sw_crew_work(context, asked->threads, cook_in_turn, &w);
    pthread_mutex_destroy(&w.lock);
    if (status != SW_OK)
        return status;
    return w.status == SW_OK ? SW_OK : sw_fail(context, w.status, "%s", w.message);
}
