/* SPDX-License-Identifier: BSD-3-Clause */
#include "conduction_series.h"

#include <math.h>

/* Zero at each eigenvalue: zeta tan zeta = Bi; zeta J1(zeta) = Bi J0(zeta); 1 - zeta cot zeta = Bi; written without
 * poles. */
static double characteristic(sw_shape shape, double biot, double zeta)
{
    switch (shape) {
    case SW_SHAPE_CYLINDER:
        return zeta * j1(zeta) - biot * j0(zeta);
    case SW_SHAPE_SPHERE:
        return (1.0 - biot) * sin(zeta) - zeta * cos(zeta);
    default:
        return zeta * sin(zeta) - biot * cos(zeta);
    }
}

static double root_between(sw_shape shape, double biot, double low, double high)
{
    double sign = characteristic(shape, biot, high);
    for (int i = 0; i < 100; i++) {
        double middle = 0.5 * (low + high);
        if (characteristic(shape, biot, middle) * sign > 0.0)
            high = middle;
        else
            low = middle;
    }
    return 0.5 * (low + high);
}

static double coefficient(sw_shape shape, double z)
{
    switch (shape) {
    case SW_SHAPE_CYLINDER:
        return 2.0 / z * j1(z) / (j0(z) * j0(z) + j1(z) * j1(z));
    case SW_SHAPE_SPHERE:
        return 4.0 * (sin(z) - z * cos(z)) / (2.0 * z - sin(2.0 * z));
    default:
        return 4.0 * sin(z) / (2.0 * z + sin(2.0 * z));
    }
}

static double eigenfunction(sw_shape shape, double z, double x)
{
    switch (shape) {
    case SW_SHAPE_CYLINDER:
        return j0(z * x);
    case SW_SHAPE_SPHERE:
        return z * x > 0.0 ? sin(z * x) / (z * x) : 1.0;
    default:
        return cos(z * x);
    }
}

static double eigenfunction_mean(sw_shape shape, double z)
{
    switch (shape) {
    case SW_SHAPE_CYLINDER:
        return 2.0 * j1(z) / z;
    case SW_SHAPE_SPHERE:
        return 3.0 * (sin(z) - z * cos(z)) / (z * z * z);
    default:
        return sin(z) / z;
    }
}

void conduction_series_init(conduction_series *series, sw_shape shape, double biot)
{
    /* Eigenvalues lie about pi apart, so steps of 0.05 miss none. The sphere's zeta = 0 is not one. */
    const double step = 0.05;
    series->shape = shape;
    double low = 1e-9;
    for (int n = 0; n < SERIES_TERMS; low += step) {
        double high = low + step;
        if (characteristic(shape, biot, low) * characteristic(shape, biot, high) > 0.0)
            continue;
        series->zeta[n] = root_between(shape, biot, low, high);
        series->coefficient[n] = coefficient(shape, series->zeta[n]);
        n++;
    }
}

double conduction_series_at(const conduction_series *s, double fourier, double x)
{
    double sum = 0.0;
    for (int n = SERIES_TERMS - 1; n >= 0; n--)
        sum += s->coefficient[n] * exp(-s->zeta[n] * s->zeta[n] * fourier) * eigenfunction(s->shape, s->zeta[n], x);
    return sum;
}

double conduction_series_mean(const conduction_series *s, double fourier)
{
    double sum = 0.0;
    for (int n = SERIES_TERMS - 1; n >= 0; n--)
        sum += s->coefficient[n] * exp(-s->zeta[n] * s->zeta[n] * fourier) * eigenfunction_mean(s->shape, s->zeta[n]);
    return sum;
}
