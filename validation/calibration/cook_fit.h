/* SPDX-License-Identifier: BSD-3-Clause */
/* Measured cooks within a population: simulated side by side, each fitted in its own unknowns. docs: README.md. */
#ifndef SW_VALIDATION_COOK_FIT_H
#define SW_VALIDATION_COOK_FIT_H

#include "measured_cook.h"

enum { OWN_MAX = 6, OBSERVED_MAX = READINGS_MAX + 1 };

/* How far readings and ends are from the curve of a cook that is known, one standard deviation. */
typedef struct reading_error {
    double noise;     /* of a reading [K] */
    double bias;      /* of a probe and its place [K] */
    double end;       /* of an end time, of its logarithm [-] */
    double freedom;   /* of Student's distribution, for one in ten that is far off */
} reading_error;

/* A cook and what is found of it. Own unknowns are normal coordinates of its population, then the bias of its probe over its
 * standard deviation; what is observed are its readings [K], then its end, if told, as a logarithm. */
typedef struct cook_fit {
    const measured_cook *cook;
    sw_population population;
    size_t own, observed;
    double at[OWN_MAX];                  /* the fitted point */
    double computed[OBSERVED_MAX];       /* there */
    double slopes[OBSERVED_MAX][OWN_MAX];
    double weight[OBSERVED_MAX];         /* of Student's distribution, 1 for a plain one */
    double covariance[OWN_MAX][OWN_MAX]; /* of the own unknowns, given what was observed */
    double root[OBSERVED_MAX][OBSERVED_MAX]; /* Cholesky root of the covariance of what is observed, own unknowns integrated out */
} cook_fit;

/* A cook to simulate: of a population, at a point of it. */
typedef struct simulation {
    const measured_cook *cook;
    const sw_population *population;
    const double *at; /* normal coordinates */
    double computed[OBSERVED_MAX];
} simulation;

/* Runs them all, on all processors. A cook that fails ends the program. */
void simulate(simulation *simulations, size_t count);

/* What was observed, and how far each of it is off a known curve, one standard deviation. */
double observed_value(const measured_cook *cook, size_t number);
double observed_error(const measured_cook *cook, const reading_error *error, size_t number);

/* Fits every cook's own unknowns by so many steps of Gauss and Newton from where they are; then slopes, weights, covariances
 * and roots are those of the last point. */
void fit_own_unknowns(cook_fit *fits, size_t count, const reading_error *error, int steps);

/* What is observed less computed at the middle of the population, by the slopes, whitened by the root. */
void whiten(const cook_fit *fit, const double *computed, double *whitened);

#endif
