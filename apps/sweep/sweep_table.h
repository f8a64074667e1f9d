/* SPDX-License-Identifier: BSD-3-Clause */
/* A sweep on the terminal: for a grid two tables of two factors, for a random design quantiles. */
#ifndef SW_APPS_SWEEP_TABLE_H
#define SW_APPS_SWEEP_TABLE_H

#include "sweep_view.h"

/* The two factors of a grid that span a table or a heat map: down and across; both may be SW_STUDY_FACTORS_MAX if there
 * is none. */
typedef struct sweep_plane {
    size_t down, across;
} sweep_plane;

/* The pit's temperature down and the wraps across if they are varied, else the first factors with several values. */
sweep_plane sweep_plane_of(const sw_study *study);

/* The run of a grid in which two factors have certain values and all others their first one, or those of another run. */
size_t sweep_plane_run(const sw_study *study, const sweep_plane *plane, size_t down_value, size_t across_value,
                       size_t others);

/* The shares shown of a random design. */
enum { SWEEP_SHARE_COUNT = 5 };
extern const double sweep_shares[SWEEP_SHARE_COUNT];

/* Prints it to standard output; returns an exit status. */
int sweep_print_table(const sweep_view *view, const command_options *options);

#endif
