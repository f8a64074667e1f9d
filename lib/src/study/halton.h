/* Numbers that fill the unit interval evenly, and the normal distribution over it. */
#ifndef SW_STUDY_HALTON_H
#define SW_STUDY_HALTON_H

#include <stdint.h>

/* The points of a Halton sequence: digits of a number in a base, mirrored at the point (Halton 1960). number: from 1 on;
 * base: a prime. */
double sw_halton(uint64_t number, unsigned base);

/* How far the points of a factor are shifted around the unit interval; 0 for seed 0. */
double sw_halton_shift(uint64_t seed, unsigned factor);

/* The standard normal quantile of a share in 0..1, both excluded. */
double sw_normal_quantile(double share);

#endif
