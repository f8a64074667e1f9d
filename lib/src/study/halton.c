/* SPDX-License-Identifier: BSD-3-Clause */
#include "halton.h"

#include "mesh.h"

#include <stallwright/study.h>

#include <math.h>

double sw_halton(uint64_t number, unsigned base)
{
    double point = 0.0, place = 1.0;
    for (; number > 0; number /= base) {
        place /= base;
        point += place * (double)(number % base);
    }
    return point;
}

/* One step of the generator splitmix64 (Steele, Lea and Flood 2014): mixes all bits of a number. */
static uint64_t mix(uint64_t z)
{
    z += 0x9E3779B97F4A7C15u;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return z ^ (z >> 31);
}

double sw_halton_shift(uint64_t seed, unsigned factor)
{
    if (seed == 0)
        return 0.0;
    return ldexp((double)(mix(mix(seed) + factor) >> 11), -53);
}

double sw_halton_point(uint64_t seed, uint64_t number, size_t dimension)
{
    static const unsigned primes[SW_HALTON_MAX] = {2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37};
    const double point = sw_halton(number + 1, primes[dimension]) + sw_halton_shift(seed, (unsigned)dimension);
    return point - floor(point);
}

/* Abramowitz and Stegun 1964, formula 26.2.23, good to 4.5e-4, for the lower tail; then made exact by Halley's method on
 * the complementary error function. */
double sw_normal_quantile(double share)
{
    const double least = ldexp(1.0, -53);
    share = share < least ? least : share;
    const double tail = share < 0.5 ? share : 1.0 - share, t = sqrt(-2.0 * log(tail));
    double x = (2.515517 + t * (0.802853 + t * 0.010328)) / (1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308))) - t;
    for (int i = 0; i < 3; i++) {
        double excess = (0.5 * erfc(-x / sqrt(2.0)) - tail) * sqrt(2.0 * SW_PI) * exp(0.5 * x * x);
        x -= excess / (1.0 + 0.5 * x * excess);
    }
    return share < 0.5 ? x : -x;
}
