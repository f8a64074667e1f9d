/* SPDX-License-Identifier: BSD-3-Clause */
/* Numbers that fill the unit interval evenly, and the normal distribution over it. */
#ifndef SW_STUDY_HALTON_H
#define SW_STUDY_HALTON_H

#include <stddef.h>
#include <stdint.h>

/* The points of a Halton sequence: digits of a number in a base, mirrored at the point (Halton 1960). number: from 1 on;
 * base: a prime. */
double sw_halton(uint64_t number, unsigned base);

enum { SW_HALTON_MAX = 12 };

/* How far the points of a dimension are shifted around the unit interval; 0 for seed 0. */
double sw_halton_shift(uint64_t seed, unsigned dimension);

/* A point in 0..1, 1 excluded, of a shifted sequence; number: from 0 on; dimension: below SW_HALTON_MAX. */
double sw_halton_point(uint64_t seed, uint64_t number, size_t dimension);

/* The standard normal quantile of a share in 0..1, 1 excluded; of 0, to which a shifted point may come, that of 2^-53. */
double sw_normal_quantile(double share);

#endif
