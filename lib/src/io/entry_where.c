/* SPDX-License-Identifier: BSD-3-Clause */
/* Where a value of a scenario stands, as error sentences begin. */
#include "scenario_entry.h"
#include "typed_text.h"

#include <stdio.h>

const char *sw_entry_where(const sw_entry_source *source, const sw_yaml_node *node, const char *name,
                           char where[SW_WHERE_SIZE])
{
    char shown[SW_QUOTE_SIZE];
    sw_escape(name, shown);
    if (source->file)
        snprintf(where, SW_WHERE_SIZE, "%.200s:%d:%d: %s", source->file, node->line, node->column, shown);
    else
        snprintf(where, SW_WHERE_SIZE, "%s%s", source->prefix, shown);
    return where;
}
