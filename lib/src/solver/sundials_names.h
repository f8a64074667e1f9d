/* SPDX-License-Identifier: BSD-3-Clause */
/* What SUNDIALS 7 calls otherwise than 6.4, after its own list of changes: untested, since 6.4.1 is what there is to build with.
 * Codes of success became one; types that were renamed have their new names, which 6.4 knows, where they are used. */
#ifndef SW_SUNDIALS_NAMES_H
#define SW_SUNDIALS_NAMES_H

#include <cvodes/cvodes.h>
#include <sundials/sundials_version.h>

#if SUNDIALS_VERSION_MAJOR >= 7
#define SUNMAT_SUCCESS SUN_SUCCESS
#define SUNLS_SUCCESS SUN_SUCCESS
#define SUN_NLS_SUCCESS SUN_SUCCESS
#define SW_NO_COMMUNICATOR SUN_COMM_NULL

/* Errors come from the context, which has handlers of its own that print. keep takes (int code, const char *message, void *data). */
#define SW_SUNDIALS_LISTENER(name, keep)                                                                                \
    static void name(int line, const char *function, const char *file, const char *message, SUNErrCode code, void *data, \
                     SUNContext sundials)                                                                               \
    {                                                                                                                   \
        (void)line;                                                                                                     \
        (void)function;                                                                                                 \
        (void)file;                                                                                                     \
        (void)sundials;                                                                                                 \
        keep(code, message, data);                                                                                      \
    }
#define SW_SUNDIALS_LISTEN(cvode, sundials, listener, data) \
    (SUNContext_ClearErrHandlers(sundials), SUNContext_PushErrHandler(sundials, listener, data))
#else
#define SW_NO_COMMUNICATOR NULL

#define SW_SUNDIALS_LISTENER(name, keep)                                                                \
    static void name(int code, const char *module, const char *function, char *message, void *data) \
    {                                                                                                   \
        (void)module;                                                                                   \
        (void)function;                                                                                 \
        keep(code, message, data);                                                                      \
    }
#define SW_SUNDIALS_LISTEN(cvode, sundials, listener, data) CVodeSetErrHandlerFn(cvode, listener, data)
#endif

#endif
