/* SPDX-License-Identifier: BSD-3-Clause */
/* Cooks that begin alike: one of them is cooked from its beginning, the others branch off where they wrap. */
#ifndef SW_COOK_BRANCHES_H
#define SW_COOK_BRANCHES_H

#include "cook_state.h"

enum { SW_MARKS_MAX = 16 };

/* One of the cooks. */
typedef struct sw_branch {
    sw_scenario scenario; /* as it was asked for */
    bool is_wanted;       /* has not been run, nor kept */
    bool is_kept;         /* cook has come to its wrap, and waits to go on */
    int mark;             /* of the cook that runs now; -1 for none */
    sw_cook cook;
    sw_integrator *integrator; /* its own, while it shares another's */
} sw_branch;

/* A cook that waits to go on with this scenario; NULL for none, or of no branches. */
sw_branch *sw_branches_find(sw_branches *branches, const sw_scenario *scenario);

/* A cook of a scenario begins: which of the others may branch off from it, and where. Of no branches it does nothing. */
void sw_branches_begin(sw_branches *branches, const sw_scenario *scenario);

/* Where branches may leave from now on; fills up to SW_MARKS_MAX of them and returns their number: 0 of no branches. */
size_t sw_branches_marks(sw_branches *branches, sw_mark *marks);

/* The next cook that leaves at a mark, and is not asked for again; NULL for none. */
sw_branch *sw_branches_take(sw_branches *branches, int mark);

/* Makes its cook one that has come as far as another, whose integrator it shares for now. On error call sw_branch_drop.
 * Returns SW_OK, SW_ERR_RANGE, SW_ERR_MEMORY. */
sw_status sw_branch_begin(sw_branch *branch, const sw_cook *from, double time);

/* Gives it its own integrator, with the state and sums of the one it shared, and has it wait. */
void sw_branch_keep(sw_branch *branch, const sw_cook *from);

/* Releases its cook. */
void sw_branch_drop(sw_branch *branch);

#endif
