/* The picture of a plan: odds against the start. */
#ifndef SW_APPS_PLOT_PLAN_H
#define SW_APPS_PLOT_PLAN_H

#include "options.h"
#include "plan_view.h"

/* Draws it to the path of --plot. Prints the reason if it fails; returns an exit status. */
int plot_plan(const command_options *options, const plan_view *view);

#endif
