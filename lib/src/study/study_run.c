/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/study.h>

#include "crew.h"

#include <pthread.h>
#include <stdio.h>

/* What the threads share; everything below the lock belongs to whoever holds it. */
typedef struct shared_work {
    const sw_study *study;
    const sw_study_work *work;
    pthread_mutex_t lock;
    size_t next; /* run, without work->next */
    sw_status status;
    char message[SW_STUDY_FAILURE_SIZE];
} shared_work;

static void stop(shared_work *c, sw_status status, const char *message)
{
    if (c->status != SW_OK)
        return;
    c->status = status;
    snprintf(c->message, sizeof c->message, "%s", message);
}

static bool next_run(shared_work *c, size_t *run)
{
    pthread_mutex_lock(&c->lock);
    bool any = c->status == SW_OK;
    if (any && c->work->next) {
        any = c->work->next(run, c->work->data);
    } else if (any) {
        any = c->next < sw_study_run_count(c->study);
        *run = any ? c->next++ : 0;
    }
    pthread_mutex_unlock(&c->lock);
    return any;
}

static void take_result(shared_work *c, sw_context *context, sw_study_result *result)
{
    pthread_mutex_lock(&c->lock);
    sw_status status = c->work->take(context, result, c->work->data);
    if (status != SW_OK)
        stop(c, status, sw_context_message(context));
    pthread_mutex_unlock(&c->lock);
    sw_study_result_free(result);
}

static void stop_for_memory(shared_work *c)
{
    pthread_mutex_lock(&c->lock);
    stop(c, SW_ERR_MEMORY, "memory for a cook could not be allocated");
    pthread_mutex_unlock(&c->lock);
}

static void cook_runs(sw_context *context, bool is_caller, void *data)
{
    shared_work *c = data;
    size_t run;
    (void)is_caller;
    while (next_run(c, &run)) {
        sw_study_result result;
        if (sw_study_cook(context, c->study, run, &result) == SW_OK)
            take_result(c, context, &result);
        else
            stop_for_memory(c);
    }
}

sw_status sw_study_run(sw_context *context, const sw_study *study, const sw_study_work *work)
{
    shared_work c = {.study = study, .work = work};
    if (pthread_mutex_init(&c.lock, NULL) != 0)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a lock could not be allocated");
    const sw_status status = sw_crew_work(context, work->threads, cook_runs, &c);
    pthread_mutex_destroy(&c.lock);
    if (status != SW_OK)
        return status;
    return c.status == SW_OK ? SW_OK : sw_fail(context, c.status, "%s", c.message);
}
