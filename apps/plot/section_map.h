/* SPDX-License-Identifier: BSD-3-Clause */
/* A map of a section: what its cells have, in colours up to the outline itself, with labelled level lines, the border of the fat and
 * the probes. */
#ifndef SW_APPS_SECTION_MAP_H
#define SW_APPS_SECTION_MAP_H

#include "plot_canvas.h"
#include "section_surface.h"

/* A section that maps are drawn of. */
typedef struct section_view {
    const sw_history *history;
    section_surface surface;
    size_t corner_count;
    double corner[SW_OUTLINE_MAX][2]; /* of the outline [m] */
    double left, right, low, high;
    double *values;                   /* room for one a cell */
} section_view;

/* False without memory; free with section_view_free in any case. */
bool section_view_init(const sw_history *history, section_view *view);
void section_view_free(section_view *view);

/* Whether some of its cells are fat. */
bool section_has_fat(const section_view *view);

/* What a map shows, on a scale of colours. */
typedef struct map_scale {
    bool is_heat; /* in the units shown; else water */
    double low, high;
} map_scale;

void set_map_colours(const map_scale *scale);

/* Dots on the page for a metre of meat: as many as fit, with a margin. */
double dots_per_metre(const section_view *view, const place *at);

/* cell_values: temperatures [K] or water contents. False without memory. */
bool draw_section_map(const picture *p, section_view *view, const place *at, const double *cell_values, const map_scale *scale);

#endif
