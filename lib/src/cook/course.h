/* SPDX-License-Identifier: BSD-3-Clause */
/* A temperature in time, between the rows of a history too. */
#ifndef SW_COURSE_H
#define SW_COURSE_H

#include <stallwright/cook.h>

/* Temperatures and their rates at times that rise. Borrowed from a history. */
typedef struct sw_course {
    size_t count; /* 1 or more */
    const double *time, *value;
    const double *slope; /* NULL: from neighbouring values */
} sw_course;

/* The deciding probe of a history until a time [s]. */
sw_course sw_course_of(const sw_history *history, double until);

/* One of its probes. */
sw_course sw_course_of_probe(const sw_history *history, size_t probe, double until);

/* Value at a time, by cubics between the rows; those at the ends beyond them. */
double sw_course_at(const sw_course *course, double time);

/* Its rate there. */
double sw_course_rate(const sw_course *course, double time);

/* When the course first reaches a level; infinity if never. */
double sw_course_reach(const sw_course *course, double level);

/* The highest it gets. */
double sw_course_highest(const sw_course *course);

/* The first rise through each whole ten degrees, Celsius or Fahrenheit, at most SW_MILESTONES_MAX; returns their number. */
size_t sw_course_milestones(const sw_course *course, sw_unit_system units, sw_milestone *milestones);

#endif
