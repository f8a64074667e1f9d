/* SPDX-License-Identifier: BSD-3-Clause */
/* What is behind the handle of a cook. */
#ifndef SW_HANDLES_COOKED_H
#define SW_HANDLES_COOKED_H

#include <stallwright/handles.h>
#include <stallwright/run.h>

struct sw_setup {
    sw_scenario scenario;
};

struct sw_cooked {
    const sw_history *history;
    sw_outcome outcome;
    sw_history *owned; /* the same, if it goes with the handle */
};

/* Makes a handle that owns a history; on error the history stays the caller's. */
sw_status sw_cooked_take(sw_context *context, sw_history *history, sw_cooked **cooked);

#endif
