/* SPDX-License-Identifier: BSD-3-Clause */
/* Heat kills germs by powers of ten: the time for one power falls tenfold with each z kelvin. */
#ifndef SW_THERMAL_DEATH_H
#define SW_THERMAL_DEATH_H

#include <stddef.h>

typedef struct sw_thermal_death {
    double reference; /* [K] */
    double d_value;   /* time for one power of ten at the reference [s] */
    double z;         /* [K] */
    double lowest;    /* below it nothing counts [K] */
    double highest;   /* above it, as much counts as there [K] */
} sw_thermal_death;

/* Fits the 6.5-log column of FSIS Appendix A: every row from 130 to 157 F within 11 % (computed). Nothing counts outside
 * the rows that were fitted: a safe lower bound above them, and below them the table promises nothing. */
extern const sw_thermal_death sw_appendix_a_fit;

/* Powers of ten killed along a row of temperatures, straight between its times [s], [K]; exact for such a course. */
double sw_log_reduction(const sw_thermal_death *law, const double *time, const double *temperature, size_t count);

#endif
