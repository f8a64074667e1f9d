/* A plan with its clock, and its timetable: what table, JSON, page and calendar are made from. */
#ifndef SW_APPS_PLAN_VIEW_H
#define SW_APPS_PLAN_VIEW_H

#include "plan_clock.h"
#include "prose.h"

typedef struct plan_view {
    const sw_plan *plan;
    const sw_scenario *asked; /* as its author left it */
    plan_clock clock;
} plan_view;

/* A line of the timetable. Times are before serving [s]; of what has a set time all three are the same. */
typedef struct plan_row {
    const char *key, *what;
    double first, middle, last; /* one in ten is earlier, half, one in ten later; rounded to five minutes, the ends outwards */
    size_t draws;               /* in which it happens; 0: of what is set */
    prose look;                 /* what to look for, or to do */
} plan_row;

enum { PLAN_ROWS_MAX = 12 };

/* The rows in the order of the clock; how many. Of a plan with starts. */
size_t plan_rows(const plan_view *view, plan_row rows[PLAN_ROWS_MAX]);

/* Odds from a start. */
sw_odds plan_in_time(const plan_view *view, double lead);
sw_odds plan_held_too_long(const plan_view *view, double lead);

#endif
