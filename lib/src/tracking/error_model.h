/* SPDX-License-Identifier: BSD-3-Clause */
/* How readings differ from the curve of a cook: a bias of the probe, a slow drift of the model, and noise with a heavy tail. */
#ifndef SW_ERROR_MODEL_H
#define SW_ERROR_MODEL_H

#include "knots.h"

/* One standard deviation of each. */
typedef struct sw_error_sizes {
    double bias;              /* [K] */
    double drift, late_drift; /* below the late plateau, and in it [K] */
    double memory;            /* of the drift [s] */
} sw_error_sizes;

extern const sw_error_sizes sw_usual_errors;

/* Covariance of drift and bias between two moments; temperatures are those of the meat then. */
double sw_offset_covariance(const sw_error_sizes *errors, const sw_knot *a, const sw_knot *b);

/* Lower root of the covariance of the knots: drift, bias and noise, each knot's noise times its factor. SW_OK or SW_ERR_SOLVER. */
sw_status sw_knot_root(sw_context *context, const sw_knots *knots, const double *noise_factors, double *root);

/* The factor by which a Student distribution widens the noise of a knot that lies so far off [scales of its noise]. */
double sw_noise_factor(double distance);

/* Random numbers of the normal distribution: a function of seed, draw and number alone. */
double sw_random_normal(uint64_t seed, uint64_t draw, uint64_t number);

/* A path of drift and bias at moments by time, of one probe, from normal numbers: count + 1 of them. */
void sw_offset_path(size_t count, const double *time, const double *temperature, const double *numbers, double *path);

#endif
