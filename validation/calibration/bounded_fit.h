/* SPDX-License-Identifier: BSD-3-Clause */
/* Least squares with bounds over parameters of a cook; the only file that sees cminpack is bounded_fit.c. */
#ifndef SW_VALIDATION_BOUNDED_FIT_H
#define SW_VALIDATION_BOUNDED_FIT_H

#include <stdbool.h>
#include <stddef.h>

/* A parameter: on a logarithmic scale everything but value is its common logarithm. */
typedef struct fit_parameter {
    double start, lower, upper;
    double value;          /* out */
    double standard_error; /* out: that of the data and the range together */
    double range_deviation; /* out: standard deviation of an even spread over the range */
} fit_parameter;

/* Fills residuals (computed less target, over standard uncertainty) of count vectors of parameters at once: vectors and
 * residuals lie one after the other. */
typedef void (*fit_function)(size_t count, const double *vectors, double *residuals, void *data);

typedef struct fit_result {
    double *residuals;    /* target_count, at the solution */
    double *jacobian;     /* target_count x parameter_count, of residuals by parameters */
    double *correlation;  /* parameter_count x parameter_count */
    double sum_of_squares, first_sum_of_squares;
    int code;             /* of cminpack */
    int evaluations;      /* of the whole set of targets */
} fit_result;

/* Ends the program if memory is short. Free with bounded_fit_free. */
void bounded_fit(size_t parameter_count, fit_parameter *parameters, size_t target_count, fit_function function, void *data,
                 fit_result *result);
void bounded_fit_free(fit_result *result);

/* What cminpack's code means. */
const char *bounded_fit_text(int code);

#endif
