/* A scenario cooked at several pit temperatures, thicknesses, humidities and wraps, for the laboratory of a page. */
#ifndef SW_APPS_COOK_GRID_H
#define SW_APPS_COOK_GRID_H

#include "page.h"

typedef struct cook_grid {
    size_t axis_count;
    page_axis axes[PAGE_AXES_MAX];
    size_t count;
    cook_run *runs;   /* the last axis running fastest */
    bool *never_ends; /* of each: it was followed only */
    bool is_coarse;   /* fewer cells than the scenario's were used */
} cook_grid;

/* Runs the cooks; an interrupt leaves the rest undone. modelled has the sizes that the scenario left open. Returns an exit
 * status. Free it in any case. */
int cook_grid_make(cook_grid *grid, const sw_scenario *scenario, const sw_scenario *modelled, sw_context *context,
                   progress *progress);
void cook_grid_free(cook_grid *grid);

#endif
