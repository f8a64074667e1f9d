/* SPDX-License-Identifier: BSD-3-Clause */
/* A plan with its clock, and its timetable: what table, JSON, page and calendar are made from. */
#ifndef SW_APPS_PLAN_VIEW_H
#define SW_APPS_PLAN_VIEW_H

#include "plan_clock.h"
#include "prose.h"

typedef struct plan_view {
    const sw_plan *plan;
    const sw_scenario *asked; /* as its author left it */
    const char *label;        /* of one piece of several, else NULL */
    double odds;              /* asked, of all pieces together */
    plan_clock clock;
} plan_view;

/* Several pieces in one pit, ready together. */
enum { PIECE_LABEL_SIZE = 32 };
typedef struct plan_party {
    const sw_plan_of_pieces *plan;
    size_t count;
    plan_view views[SW_PLAN_PIECES_MAX];
} plan_party;

/* A line of the timetable. Times are before serving [s]; of what has a set time all three are the same. */
typedef struct plan_row {
    const char *key, *piece; /* NULL: of all */
    char what[PIECE_LABEL_SIZE + 48]; /* the piece, if it is of one, and the event */
    double first, middle, last; /* one in ten is earlier, half, one in ten later; rounded to five minutes, the ends outwards */
    size_t draws;               /* in which it happens; 0: of what is set */
    prose look;                 /* what to look for, or to do */
} plan_row;

enum { PLAN_ROWS_MAX = 12 };

/* The rows of the plans of one piece, or of several with one fire and one serving, in the order of the clock; how many. Of plans with
 * starts. They stay until the next call. */
const plan_row *plan_timetable(const plan_view *views, size_t pieces, size_t *count);

/* Odds from a start. */
sw_odds plan_in_time(const plan_view *view, double lead);
sw_odds plan_held_too_long(const plan_view *view, double lead);

#endif
