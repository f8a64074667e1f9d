/* SPDX-License-Identifier: BSD-3-Clause */
/* Cooks as private diaries tell them, from cooks.csv and readings.csv: what was stated as a scenario, what was read. */
#ifndef SW_VALIDATION_MEASURED_COOK_H
#define SW_VALIDATION_MEASURED_COOK_H

#include "case.h"

#include <stallwright/everything.h>

enum { READINGS_MAX = 16, COOKS_MAX = 80 };

/* Kinds of pit as far as the readings tell them apart. */
typedef enum pit_group { PITS_DRAUGHTY, PITS_CABINET, PITS_FAN, PITS_OVEN, PIT_GROUP_COUNT } pit_group;

/* The group whose medians a kind of pit shares. */
pit_group pit_group_of(sw_pit_kind kind);

typedef struct measured_cook {
    char id[8];
    size_t fold; /* cooks with the same number are left out together */
    pit_group group;
    bool is_pork, is_whole;
    double bought_mass; /* the whole cut's, before it was cut up [kg] */
    sw_scenario stated; /* not settled; never pulled, so that the curve goes on */
    size_t reading_count;
    double time[READINGS_MAX];        /* after the meat went on [s] */
    double temperature[READINGS_MAX]; /* [K] */
    double pull, done; /* the probe read so much, at a time [K, s]; SW_ABSENT: not told */
} measured_cook;

/* Reads all of them; ends the program at what cannot be understood. Returns how many. */
size_t measured_cooks_read(measured_cook cooks[COOKS_MAX]);

/* The probe at a time, linearly between rows [s, K]. */
double measured_cook_at(const sw_history *history, double time);

/* The curve at the readings, and when it reaches the pull, from a history of the cook; a curve that does not get there within
 * its time is taken to do so at its end. */
void measured_cook_follow(const measured_cook *cook, const sw_history *history, double *temperature, double *done);

#endif
