/* Numbers that fill the unit interval evenly, and the normal distribution over it. */
#ifndef SW_STUDY_HALTON_H
#define SW_STUDY_HALTON_H

#include <stdint.h>

/* How far the points of a factor are shifted around the unit interval; 0 for seed 0. */
double sw_halton_shift(uint64_t seed, unsigned factor);

/* The standard normal quantile of a share in 0..1, both excluded. */
double sw_normal_quantile(double share);

#endif
