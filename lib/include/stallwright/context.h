/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * A context carries the last error of the calls made with it, as one full sentence.
  * Use one context per thread. The library has two pieces of global state; all threads may share them, and neither changes a
 * result. One is the module for HDF5, loaded when a results file is first written or read. The other is the handler of UDUNITS'
 * error messages: it is silent while a scenario reader or writer exists, and afterwards it is the caller's again. */
#ifndef STALLWRIGHT_CONTEXT_H
#define STALLWRIGHT_CONTEXT_H

#include <stallwright/quantity.h>
#include <stallwright/status.h>

SW_BEGIN_DECLARATIONS

typedef struct sw_context sw_context;

/** The most threads that one call may use. */
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

/** Sets the units of values in the sentences; SW_UNITS_SI until then. A value that a person typed keeps its own unit. */
SW_API void sw_context_set_units(sw_context *context, sw_unit_system units);

/** Records a failure. Every failing function of the library calls it; callbacks of the caller may too.
 * @param context may be NULL: then only the status is returned
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
