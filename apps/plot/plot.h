/* Pictures of cooks: the face of the plot_*.c files. The kind of file follows from its ending: .svg, .png, .pdf.
 * Every function prints the reason if it fails and returns an exit status. */
#ifndef SW_APPS_PLOT_H
#define SW_APPS_PLOT_H

#include "cook_run.h"
#include "sweep_view.h"

/* Whether the ending of a path is one a picture can have; prints the reason if not. */
bool plot_path_is_good(const char *path);

/* Whether --hours can be obeyed: some moments, for a picture of a section; prints the reason if not. */
bool plot_hours_are_good(const command_options *options, sw_shape shape);

/* Probe, surface and air temperature of one cook; for a section also maps of temperature and water at the moments of
 * --hours, or after each third of the time on the pit. */
int plot_cook(const command_options *options, const cook_run *run);

/* The probe curves of several cooks. Those that failed are left out. */
int plot_compare(const command_options *options, const cook_run *runs, size_t count);

/* Of a grid: the curves of its cooks, and a map of the stall over two factors. Of a random design: the spread of the curve,
 * of the pull and of the stall. */
int plot_sweep(const command_options *options, const sweep_view *view);

/* Where the heat of each hour goes, stacked, with the probe curve. */
int plot_explanation(const command_options *options, const sw_explanation *explanation);

#endif
