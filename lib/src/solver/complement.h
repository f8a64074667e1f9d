/* SPDX-License-Identifier: BSD-3-Clause */
/* The Schur complement of a few bordered unknowns: a small dense matrix, factored with pivots. */
#ifndef SW_COMPLEMENT_H
#define SW_COMPLEMENT_H

#include "jacobian_layout.h"

#include <stdbool.h>

typedef struct sw_complement {
    size_t count;
    double entry[SW_BORDERED_MAX][SW_BORDERED_MAX]; /* row by row; its factors once it is factored */
    size_t pivot[SW_BORDERED_MAX];
} sw_complement;

/* Returns false if it is singular. */
bool sw_complement_factor(sw_complement *complement);

/* Solves in place. */
void sw_complement_solve(const sw_complement *complement, double *values);

#endif
