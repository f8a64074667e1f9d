#include <stallwright/study.h>

#include "say.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Threads of POSIX and not OpenMP: the race detector of the compiler sees through their locks, while the OpenMP runtime of
 * gcc looks to it like one race. */

/* What the threads share; everything below the lock belongs to whoever holds it. */
typedef struct crew {
    const sw_study *study;
    const sw_study_work *work;
    sw_unit_system units; /* of the sentences */
    pthread_mutex_t lock;
    size_t next; /* run, without work->next */
    sw_status status;
    char message[SW_STUDY_FAILURE_SIZE];
} crew;

static void stop(crew *c, sw_status status, const char *message)
{
    if (c->status != SW_OK)
        return;
    c->status = status;
    snprintf(c->message, sizeof c->message, "%s", message);
}

static bool next_run(crew *c, size_t *run)
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

static void take_result(crew *c, sw_context *context, sw_study_result *result)
{
    pthread_mutex_lock(&c->lock);
    sw_status status = c->work->take(context, result, c->work->data);
    if (status != SW_OK)
        stop(c, status, sw_context_message(context));
    pthread_mutex_unlock(&c->lock);
    sw_study_result_free(result);
}

static void stop_for_memory(crew *c)
{
    pthread_mutex_lock(&c->lock);
    stop(c, SW_ERR_MEMORY, "memory for a cook could not be allocated");
    pthread_mutex_unlock(&c->lock);
}

static void *cook_runs(void *data)
{
    crew *c = data;
    sw_context *context;
    size_t run;
    if (sw_context_create(&context) != SW_OK) {
        stop_for_memory(c);
        return NULL;
    }
    sw_context_set_units(context, c->units);
    while (next_run(c, &run)) {
        sw_study_result result;
        if (sw_study_cook(context, c->study, run, &result) == SW_OK)
            take_result(c, context, &result);
        else
            stop_for_memory(c);
    }
    sw_context_destroy(context);
    return NULL;
}

sw_status sw_study_run(sw_context *context, const sw_study *study, const sw_study_work *work)
{
    pthread_t threads[SW_STUDY_THREADS_MAX];
    size_t started = 0;
    crew c = {.study = study, .work = work, .units = sw_context_units(context)};
    if (work->threads < 1 || work->threads > SW_STUDY_THREADS_MAX)
        return sw_fail(context, SW_ERR_ARGUMENT, "%zu threads are asked for; allowed are 1 to %d", work->threads,
                       SW_STUDY_THREADS_MAX);
    if (pthread_mutex_init(&c.lock, NULL) != 0)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a lock could not be allocated");
    /* The calling thread is one of them; a thread that the system does not grant only makes it slower. */
    while (started + 1 < work->threads && pthread_create(&threads[started], NULL, cook_runs, &c) == 0)
        started++;
    cook_runs(&c);
    for (size_t i = 0; i < started; i++)
        pthread_join(threads[i], NULL);
    pthread_mutex_destroy(&c.lock);
    return c.status == SW_OK ? SW_OK : sw_fail(context, c.status, "%s", c.message);
}
