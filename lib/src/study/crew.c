/* SPDX-License-Identifier: BSD-3-Clause */
#include "crew.h"

#include "say.h"

#include <stallwright/study.h>

#include <pthread.h>

/* Threads of POSIX and not OpenMP: the race detector of the compiler sees through their locks, while the OpenMP runtime of
 * gcc looks to it like one race. */

typedef struct hand {
    sw_crew_member member;
    sw_context *context;
    void *data;
    pthread_t thread;
} hand;

static void *work(void *data)
{
    hand *h = data;
    h->member(h->context, false, h->data);
    return NULL;
}

/* Its sentences are in the units of the caller's, whichever thread a cook falls to. */
static bool start(hand *h, const sw_context *context)
{
    if (sw_context_create(&h->context) != SW_OK)
        return false;
    sw_context_set_units(h->context, sw_context_units(context));
    if (pthread_create(&h->thread, NULL, work, h) == 0)
        return true;
    sw_context_destroy(h->context);
    return false;
}

sw_status sw_crew_work(sw_context *context, size_t threads, sw_crew_member member, void *data)
{
    hand others[SW_THREADS_MAX];
    size_t started = 0;
    if (threads < 1 || threads > SW_THREADS_MAX)
        return sw_fail(context, SW_ERR_ARGUMENT, "%zu threads are asked for; allowed are 1 to %d", threads, SW_THREADS_MAX);
    for (; started + 1 < threads; started++) {
        others[started] = (hand){.member = member, .data = data};
        if (!start(&others[started], context))
            break;
    }
    member(context, true, data);
    for (size_t i = 0; i < started; i++) {
        pthread_join(others[i].thread, NULL);
        sw_context_destroy(others[i].context);
    }
    return SW_OK;
}
