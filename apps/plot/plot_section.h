/* Maps of temperature and water in a section of the meat. */
#ifndef SW_APPS_PLOT_SECTION_H
#define SW_APPS_PLOT_SECTION_H

#include "plot_canvas.h"

/* Below the curves of a cook, on a page 1010 dots high: at the moments of --hours, or after each third of the
 * time on the pit. */
void draw_section_maps(const picture *p, const sw_run *run);

#endif
