/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * What every function that can fail returns. */
#ifndef STALLWRIGHT_STATUS_H
#define STALLWRIGHT_STATUS_H

#include <stallwright/export.h>

SW_BEGIN_DECLARATIONS

/** All status codes: name, number, text. Groups: 1xx argument, 2xx physical range, 3xx solver, 4xx files and input,
 * 5xx memory. */
#define SW_STATUS_LIST(X)                                                                                              \
    X(SW_OK, 0, "done")                                                                                                \
    X(SW_ERR_ARGUMENT, 100, "an argument is not valid")                                                                \
    X(SW_ERR_RANGE, 200, "a physical value is outside its allowed range")                                              \
    X(SW_ERR_SOLVER, 300, "the time integration failed")                                                               \
    X(SW_ERR_NEVER_ENDS, 301, "a phase of the cook does not end")                                                      \
    X(SW_ERR_CANCELLED, 302, "the run was cancelled by its caller")                                                    \
    X(SW_ERR_FILE, 400, "a file could not be read or written")                                                         \
    X(SW_ERR_INPUT, 401, "the input is not valid")                                                                     \
    X(SW_ERR_EXISTS, 402, "the output file exists already")                                                            \
    X(SW_ERR_MEMORY, 500, "memory could not be allocated")

#define SW_STATUS_ENUMERATOR(name, number, text) name = number,
typedef enum sw_status { SW_STATUS_LIST(SW_STATUS_ENUMERATOR) SW_STATUS_END } sw_status;
#undef SW_STATUS_ENUMERATOR

/** Short text of a status code; never NULL, also for a number that is no status code. */
SW_API const char *sw_status_text(sw_status status);

SW_END_DECLARATIONS

#endif
