/* SPDX-License-Identifier: BSD-3-Clause */
/* One context for all tests of a program: its group is run with open_context and close_context around it. */
#ifndef SW_TESTS_SHARED_CONTEXT_H
#define SW_TESTS_SHARED_CONTEXT_H

#include <stallwright/context.h>

extern sw_context *context;

int open_context(void **state);
int close_context(void **state);

#endif
