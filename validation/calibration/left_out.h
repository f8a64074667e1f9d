/* SPDX-License-Identifier: BSD-3-Clause */
/* How well cooks that were left out of a fit are foretold: errors, coverage, a score. */
#ifndef SW_VALIDATION_LEFT_OUT_H
#define SW_VALIDATION_LEFT_OUT_H

#include "population_fit.h"

/* Errors are computed less read. */
typedef struct left_out {
    size_t readings, early, ends; /* early: of the first four hours */
    double sum, squares, early_sum;
    double own_squares;           /* once the cook's own unknowns are fitted to its readings and end */
    size_t within, ends_within;   /* in the 80 % band of draws, what is read including */
    double score;                 /* sum of the continuous ranked probability score of readings [K] */
    double ends_off[COOKS_MAX];   /* relative */
} left_out;

/* Adds one cook, by the values of a fit that did not see it. */
void left_out_add(left_out *sums, const population_fit *fit, const measured_cook *cook);

/* Median of the sizes of the ends' errors; NaN without one. */
double left_out_median_end(const left_out *sums, bool signed_error);

#endif
