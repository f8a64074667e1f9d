/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * A context carries the last error of the calls made with it, as one full sentence.
 * Use one context per thread. What the library keeps beside its objects can be used from all threads at once and never changes
 * a result: the module for HDF5, loaded once when a results file is first written or read, and the handler of UDUNITS' error
 * messages, which is silent while a scenario reader or writer lives and then again the caller's. */
#ifndef STALLWRIGHT_CONTEXT_H
#define STALLWRIGHT_CONTEXT_H

#include <stallwright/quantity.h>
#include <stallwright/status.h>

SW_BEGIN_DECLARATIONS

typedef struct sw_context sw_context;

/** The most threads that share one work. */
#define SW_THREADS_MAX 256

/** Creates a context.
 * @param context out: the context, owned by the caller; unchanged on error
 * @return SW_OK or SW_ERR_MEMORY */
SW_API sw_status sw_context_create(sw_context **context);

/** Destroys a context; NULL is allowed. */
SW_API void sw_context_destroy(sw_context *context);

/** The last error as a sentence: what, which object, value, allowed range, where. Empty before the first error.
 * The text is valid until the next failing call with this context. */
SW_API const char *sw_context_message(const sw_context *context);

/** Sets the units in which the sentences tell values; SW_UNITS_SI until then. A value that was typed is answered in its own
 * unit. */
SW_API void sw_context_set_units(sw_context *context, sw_unit_system units);

/** Records a failure; what every failing function of the library calls, and a caller's own callbacks may.
 * @param context may be NULL: then only the status is passed on
 * @param status what to return
 * @param format printf format of the sentence
 * @return status */
SW_API sw_status sw_fail(sw_context *context, sw_status status, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 3, 4)))
#endif
    ;

SW_END_DECLARATIONS

#endif
