#include "error_model.h"

#include "dense.h"
#include "halton.h"

#include <math.h>

/* A thermometer's and where in the middle its tip is: common practice, no source; 1 to 3 K. */
static const double probe_bias = 2.0; /* [K] */

/* What the model's curve is off by after a fit of its unknowns: 2.9-3.9 K on the measured cooks, and 5-8 K in the late plateau
 * (validation/measured_cooks; in-sample, since the laws were fitted to them). Bias and noise are part of that. The memory is a guess:
 * 2 to 6 h. */
static const double drift = 2.5, late_drift = 4.5;           /* [K] */
static const double late_from = 343.15, late_within = 10.0;  /* [K] */
static const double drift_memory = 4.0 * 3600.0;             /* [s] */

/* Of the heavy-tailed noise; 3 to 7 would do. */
static const double degrees_of_freedom = 4.0;

static double drift_size(double temperature)
{
    const double share = fmin(fmax((temperature - late_from) / late_within, 0.0), 1.0);
    return drift + share * (late_drift - drift);
}

double sw_offset_covariance(double time, double temperature, size_t probe, double other_time, double other_temperature,
                            size_t other_probe)
{
    return (probe == other_probe ? probe_bias * probe_bias : 0.0) +
           drift_size(temperature) * drift_size(other_temperature) * exp(-fabs(time - other_time) / drift_memory);
}

sw_status sw_knot_root(sw_context *context, const sw_knots *knots, const double *noise_factors, double *root)
{
    const size_t n = knots->count;
    for (size_t i = 0; i < n; i++) {
        const sw_knot *a = &knots->list[i];
        for (size_t j = 0; j <= i; j++) {
            const sw_knot *b = &knots->list[j];
            root[i * n + j] = sw_offset_covariance(a->time, a->temperature, a->probe, b->time, b->temperature, b->probe);
        }
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
    double slow = 0.0;
    for (size_t i = 0; i < count; i++) {
        const double kept = i == 0 ? 0.0 : exp(-(time[i] - time[i - 1]) / drift_memory);
        slow = kept * slow + sqrt(1.0 - kept * kept) * numbers[i + 1];
        path[i] = probe_bias * numbers[0] + drift_size(temperature[i]) * slow;
    }
}
