/* SPDX-License-Identifier: BSD-3-Clause */
/* Maps of temperature and water in a section of the meat. */
#ifndef SW_APPS_PLOT_SECTION_H
#define SW_APPS_PLOT_SECTION_H

#include "plot_canvas.h"

/* Below the curves of a cook, on a page 1010 dots high: at the moments of --hours; or where the stall begins, where it ends and
 * at the pull, after thirds of the time on the pit if there is no stall. False without memory. */
bool draw_section_maps(const picture *p, const sw_run *run);

#endif
