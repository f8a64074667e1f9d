/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/study.h>

#include "crew.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>

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

/* The lock is held. */
static bool next_run(shared_work *c, size_t *run)
{
    if (c->status != SW_OK)
        return false;
    if (c->work->next)
        return c->work->next(run, c->work->data);
    *run = c->next;
    return c->next < sw_study_run_count(c->study) && ++c->next;
}

/* The next runs, as many as may begin alike; returns their number, 0 if there are none left. */
static size_t next_runs(shared_work *c, size_t *runs)
{
    const size_t alike = sw_study_alike_runs(c->study);
    size_t count = 0;
    pthread_mutex_lock(&c->lock);
    while (count < alike && (count == 0 || (runs[count - 1] + 1) % alike != 0) && next_run(c, &runs[count]))
        count++;
    pthread_mutex_unlock(&c->lock);
    return count;
}

/* Cooks that differ only in how they are wrapped, to be run in this order: the one that the others branch off from comes first.
 * Without memory branches are NULL, and each is cooked on its own. */
static sw_branches *bring_together(sw_context *context, const sw_study *study, size_t count, size_t *runs)
{
    const sw_scenario *each[SW_STUDY_ALIKE_MAX];
    sw_branches *branches = NULL;
    sw_scenario *scenarios = count > 1 ? malloc(count * sizeof *scenarios) : NULL;
    for (size_t i = 0; scenarios && i < count; i++) {
        sw_study_scenario(study, runs[i], &scenarios[i]);
        each[i] = &scenarios[i];
    }
    if (scenarios && sw_branches_create(context, count, each, &branches) == SW_OK) {
        const size_t trunk = sw_branches_turn(branches, 0), run = runs[trunk];
        runs[trunk] = runs[0];
        runs[0] = run;
    }
    free(scenarios);
    return branches;
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

static bool is_stopped(shared_work *c)
{
    pthread_mutex_lock(&c->lock);
    const bool stopped = c->status != SW_OK;
    pthread_mutex_unlock(&c->lock);
    return stopped;
}

static void cook_runs(sw_context *context, bool is_caller, void *data)
{
    shared_work *c = data;
    size_t runs[SW_STUDY_ALIKE_MAX];
    (void)is_caller;
    for (size_t count; (count = next_runs(c, runs)) > 0;) {
        sw_branches *branches = bring_together(context, c->study, count, runs);
        for (size_t i = 0; i < count && !is_stopped(c); i++) {
            sw_study_result result;
            if (sw_study_cook(context, c->study, runs[i], branches, &result) == SW_OK)
                take_result(c, context, &result);
            else
                stop_for_memory(c);
        }
        sw_branches_destroy(branches);
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
