/* SPDX-License-Identifier: BSD-3-Clause */
/* Threads that share one work. */
#ifndef SW_STUDY_CREW_H
#define SW_STUDY_CREW_H

#include <stallwright/context.h>

#include <stdbool.h>
#include <stddef.h>

/* What each of them does until no work is left; shares it out under a lock of its own.
 * context: of this thread alone, with the caller's units; is_caller: whether this is the thread that asked for the work. */
typedef void (*sw_crew_member)(sw_context *context, bool is_caller, void *data);

/* Sets `threads` of them to work and waits for all. The calling thread is one of them, with the context given; a thread that
 * the system does not grant only makes the work slower.
 * Returns SW_OK, or SW_ERR_ARGUMENT with a sentence if threads is not 1..SW_THREADS_MAX. */
sw_status sw_crew_work(sw_context *context, size_t threads, sw_crew_member member, void *data);

#endif
