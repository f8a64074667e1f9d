/* SPDX-License-Identifier: BSD-3-Clause */
#include "context_parts.h"
#include "say.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

sw_status sw_context_create(sw_context **context)
{
    sw_context *created = calloc(1, sizeof *created);
    if (!created)
        return SW_ERR_MEMORY;
    *context = created;
    return SW_OK;
}

void sw_context_destroy(sw_context *context)
{
    if (!context)
        return;
    sw_shelf_clear(context);
    free(context);
}

const char *sw_context_message(const sw_context *context)
{
    return context->message;
}

void sw_context_set_units(sw_context *context, sw_unit_system units)
{
    context->units = units;
}

sw_unit_system sw_context_units(const sw_context *context)
{
    return context ? context->units : SW_UNITS_SI;
}

sw_status sw_fail(sw_context *context, sw_status status, const char *format, ...)
{
    if (context) {
        va_list arguments;
        va_start(arguments, format);
        vsnprintf(context->message, sizeof context->message, format, arguments);
        va_end(arguments);
    }
    return status;
}
