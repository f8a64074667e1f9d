/* SPDX-License-Identifier: BSD-3-Clause */
#include "error_model.h"

#include "dense.h"
#include "halton.h"

#include <math.h>


/* Bias: a thermometer's and where in the middle its tip is. Drift: what the model's curve is off by after a fit of its unknowns.
 * docs/theory/tracking.md has where they are from. */
static const double late_from = 343.15, late_within = 10.0;  /* [K] */
const sw_error_sizes sw_usual_errors = {.bias = 1.0, .drift = 2.5, .late_drift = 6.0, .memory = 16.0 * 3600.0};

/* Of the heavy-tailed noise; 3 to 7 would do. */
static const double degrees_of_freedom = 4.0;

static double drift_size(const sw_error_sizes *errors, double temperature)
{
    const double share = fmin(fmax((temperature - late_from) / late_within, 0.0), 1.0);
    return errors->drift + share * (errors->late_drift - errors->drift);
}

double sw_offset_covariance(const sw_error_sizes *errors, const sw_knot *a, const sw_knot *b)
{
    return (a->probe == b->probe ? errors->bias * errors->bias : 0.0) +
           drift_size(errors, a->temperature) * drift_size(errors, b->temperature) * exp(-fabs(a->time - b->time) / errors->memory);
}

sw_status sw_knot_root(sw_context *context, const sw_knots *knots, const double *noise_factors, double *root)
{
    const size_t n = knots->count;
    for (size_t i = 0; i < n; i++) {
        const sw_knot *a = &knots->list[i];
        for (size_t j = 0; j <= i; j++)
            root[i * n + j] = sw_offset_covariance(&sw_usual_errors, a, &knots->list[j]);
        root[i * n + i] += a->noise * a->noise * noise_factors[i];
    }
    return sw_cholesky(n, root) ? SW_OK
                                : sw_fail(context, SW_ERR_SOLVER, "the covariance of %zu readings is not positive definite", n);
}

double sw_noise_factor(double distance)
{
    return (degrees_of_freedom + distance * distance) / (degrees_of_freedom + 1.0);
}

/* SplitMix64 (Steele, Lea and Flood 2014): one number from a counter. */
static uint64_t mixed(uint64_t x)
{
    x += UINT64_C(0x9e3779b97f4a7c15);
    x = (x ^ (x >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    x = (x ^ (x >> 27)) * UINT64_C(0x94d049bb133111eb);
    return x ^ (x >> 31);
}

double sw_random_normal(uint64_t seed, uint64_t draw, uint64_t number)
{
    const uint64_t bits = mixed(mixed(mixed(seed) + draw) + number) >> 11;
    return sw_normal_quantile(((double)bits + 0.5) / 9007199254740992.0);
}

void sw_offset_path(size_t count, const double *time, const double *temperature, const double *numbers, double *path)
{
    const sw_error_sizes *errors = &sw_usual_errors;
    double slow = 0.0;
    for (size_t i = 0; i < count; i++) {
        const double kept = i == 0 ? 0.0 : exp(-(time[i] - time[i - 1]) / errors->memory);
        slow = kept * slow + sqrt(1.0 - kept * kept) * numbers[i + 1];
        path[i] = errors->bias * numbers[0] + drift_size(errors, temperature[i]) * slow;
    }
}
