/* SPDX-License-Identifier: BSD-3-Clause */
/* The cooks that agree with readings: the likeliest ones, and a normal distribution about each. */
#ifndef SW_ESTIMATE_H
#define SW_ESTIMATE_H

#include "error_model.h"

enum { SW_MODES_MAX = 2 };

/* The likeliest cook near a start. */
typedef struct sw_mode {
    double normal[SW_POPULATION_INPUTS_MAX];
    double root[SW_POPULATION_INPUTS_MAX * SW_POPULATION_INPUTS_MAX]; /* of the Hessian, count x count, lower */
    double cost;                /* half the sum of squares */
    double share;               /* of the probability */
    double curve[SW_KNOTS_MAX]; /* at the knots [K] */
    double slope[SW_POPULATION_INPUTS_MAX][SW_KNOTS_MAX]; /* of the curve, for each normal coordinate [K] */
} sw_mode;

typedef struct sw_estimate {
    const sw_track_question *question;
    const sw_population *population;
    const sw_knots *knots;
    int history_probe[SW_TRACK_PROBES_MAX]; /* -1: the one that decides */
    double noise_factors[SW_KNOTS_MAX];
    double *root; /* of the covariance of the knots, count x count */
    size_t mode_count;
    sw_mode modes[SW_MODES_MAX]; /* the likelier first */
} sw_estimate;

/* Temperatures of a cook at the knots; past its end it goes on as it rose last. */
void sw_curve_at_knots(const sw_estimate *estimate, const sw_history *history, double *curve);

/* Temperature of a row of temperatures at a time, going on past the end as it rose last. */
double sw_curve_at(size_t count, const double *time, const double *curve, double at);

/* Finds the modes. With no knots: the population itself. SW_OK, SW_ERR_SOLVER, SW_ERR_CANCELLED, SW_ERR_MEMORY. */
sw_status sw_estimate_find(sw_context *context, sw_estimate *estimate);

/* Of two modes with costs and roots: the likelier first, each with its share by Laplace's approximation. A second one that is the same, or
 * hardly counts, is none. */
void sw_weigh_modes(sw_estimate *estimate);

/* Logarithm of prior times likelihood of a cook, up to a constant. curve: at the knots. */
double sw_log_posterior(const sw_estimate *estimate, const double *normal, const double *curve);

#endif
