/* SPDX-License-Identifier: BSD-3-Clause */
#include "shared_context.h"

sw_context *context;

int open_context(void **state)
{
    (void)state;
    return sw_context_create(&context) == SW_OK ? 0 : -1;
}

int close_context(void **state)
{
    (void)state;
    sw_context_destroy(context);
    return 0;
}
