/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook made ready, copied and released. */
#ifndef SW_COOK_STATE_H
#define SW_COOK_STATE_H

#include "recorder.h"

/* Makes a cook ready to begin; the scenario, which was checked, is copied. The cook must stay where it is. On error it is released.
 * Returns SW_OK, SW_ERR_RANGE, SW_ERR_MEMORY. */
sw_status sw_cook_prepare(sw_context *context, const sw_scenario *scenario, sw_cook *cook);
void sw_cook_release(sw_cook *cook);

/* Takes over from a cook with the same beginning, still on the pit and bare in its first phase, how far it has got, but for what
 * its integrator holds: that is at a time [s], from which rows and what is followed beside it are still to be taken on.
 * Returns SW_OK, SW_ERR_MEMORY. */
sw_status sw_cook_copy_progress(sw_cook *cook, const sw_cook *from, double time);

#endif
