/* The stall of a probe: where its mean rate over a window is low. */
#ifndef SW_STALL_H
#define SW_STALL_H

#include <stallwright/outcome.h>

/* Temperatures of a probe and their rates at times that rise. Borrowed from a history. */
typedef struct sw_course {
    size_t count; /* 1 or more */
    const double *time, *value, *slope;
} sw_course;

/* The deciding probe of a history until the pull [s]. */
sw_course sw_course_of(const sw_history *history, double pull);

/* Value at a time, by cubics between the rows; those at the ends beyond them. */
double sw_course_at(const sw_course *course, double time);

/* Time between a row that lies below a level and the next, that does not, at which it is reached. */
double sw_course_rise(const sw_course *course, size_t row, double level);

typedef struct sw_stall {
    double start, end;   /* [s] */
    double probe;        /* at the start [K] */
    double depth;        /* most by which it fell below its highest so far [K] */
    double slowest_rate; /* least mean over a window with its middle in the stall [K s-1] */
} sw_stall;

/* The first stall of a course; returns false, and leaves it alone, if there is none. */
bool sw_find_stall(const sw_course *course, const sw_stall_definition *definition, sw_stall *stall);

#endif
