/* SPDX-License-Identifier: BSD-3-Clause */
/* From hours before serving to the clock on the wall: midnight, leap days and summer time included. Sees nothing of the program
 * but the system's calendar. */
#ifndef SW_APPS_PLAN_CLOCK_H
#define SW_APPS_PLAN_CLOCK_H

#include <stdbool.h>
#include <stddef.h>
#include <time.h>

enum { CLOCK_TEXT_SIZE = 64, CLOCK_WHY_SIZE = 400 };

typedef struct plan_clock {
    bool has_date;
    double time_of_day; /* of serving [s after midnight] */
    time_t serving;     /* with a date */
} plan_clock;

/* Sets the time zone of this program, "Europe/Lisbon"; NULL: the machine's. Call before there are threads. Returns whether there is
 * such a zone. */
bool plan_clock_zone(const char *zone);

/* The name of the zone in force as calendars have it; NULL if the machine does not tell. text: CLOCK_TEXT_SIZE. */
const char *plan_clock_zone_name(char *text);

/* Sets when it is served, to the minute. time_of_day: a day in it is left aside; date: "2026-11-28", NULL: on no day in particular. Returns false with a sentence in why, CLOCK_WHY_SIZE:
 * no date, or an hour that summer time leaves out. */
bool plan_clock_set(plan_clock *clock, const char *date, double time_of_day, char *why);

/* A moment so long before serving; with a date. Hours are hours, whatever the clocks do. */
time_t plan_clock_moment(const plan_clock *clock, double before);

/* "Fri 27 Nov 22:40", or without a date "22:40 the day before". */
const char *show_moment(const plan_clock *clock, double before, char *text);

/* "Fri 22:40", or "22:40 -1 d". */
const char *show_moment_briefly(const plan_clock *clock, double before, char *text);

/* Serving: "13:00 on Sat 28 Nov 2026", or "13:00". */
const char *show_serving(const plan_clock *clock, char *text);

#endif
