/* SPDX-License-Identifier: BSD-3-Clause */
/* Threads of a machine that has only one: locks are open, and no thread is granted, which only makes work slower (crew.h). */
#ifndef SW_WEB_ALONE_PTHREAD_H
#define SW_WEB_ALONE_PTHREAD_H

#include <errno.h>

typedef int pthread_t;
typedef int pthread_mutex_t;

#define PTHREAD_MUTEX_INITIALIZER 0

static inline int pthread_mutex_init(pthread_mutex_t *mutex, const void *attributes)
{
    (void)attributes;
    *mutex = 0;
    return 0;
}

static inline int pthread_mutex_lock(pthread_mutex_t *mutex)
{
    (void)mutex;
    return 0;
}

static inline int pthread_mutex_unlock(pthread_mutex_t *mutex)
{
    (void)mutex;
    return 0;
}

static inline int pthread_mutex_destroy(pthread_mutex_t *mutex)
{
    (void)mutex;
    return 0;
}

static inline int pthread_create(pthread_t *thread, const void *attributes, void *(*work)(void *), void *data)
{
    (void)thread, (void)attributes, (void)work, (void)data;
    return EAGAIN;
}

static inline int pthread_join(pthread_t thread, void **result)
{
    (void)thread, (void)result;
    return 0;
}

#endif
