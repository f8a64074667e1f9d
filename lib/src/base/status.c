/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/status.h>

#define TEXT_CASE(name, number, text)                                                                                  \
    case name:                                                                                                         \
        return text;

const char *sw_status_text(sw_status status)
{
    switch (status) {
        SW_STATUS_LIST(TEXT_CASE)
    default:
        return "unknown status";
    }
}
