/* SPDX-License-Identifier: BSD-3-Clause */
#include "bounded_fit.h"

#include "case.h"

#include <cminpack.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Step of the two-sided differences, as a share of a parameter's range: well above the noise of a cook's time integration
 * and output rows, small against the range. */
static const double step_share = 0.02;

/* A relative change of the sum of squares, or of the parameters, not worth a further step: a sum of squares of uncertain targets
 * means nothing beyond. */
static const double settled = 1e-3;

typedef struct fit {
    size_t n, m;
    fit_parameter *parameters;
    fit_function function;
    void *data;
    int evaluations;
} fit;

static void *allocate(size_t count)
{
    void *memory = calloc(count + 1, sizeof(double));
    if (!memory)
        die("memory is short");
    return memory;
}

/* Bounds by a sine: u is free, the parameter runs between its bounds and may reach them. */
static double from_free(const fit_parameter *p, double u)
{
    return p->lower + (p->upper - p->lower) * 0.5 * (1.0 + sin(u));
}

static double to_free(const fit_parameter *p, double value)
{
    double share = (value - p->lower) / (p->upper - p->lower);
    /* At a bound the sine has no slope, so no start lies on one. */
    share = fmin(fmax(share, 0.02), 0.98);
    return asin(2.0 * share - 1.0);
}

static double slope_of_free(const fit_parameter *p, double u)
{
    return (p->upper - p->lower) * 0.5 * cos(u);
}

static void evaluate(fit *f, size_t count, const double *vectors, double *residuals)
{
    f->function(count, vectors, residuals, f->data);
    f->evaluations += (int)count;
}

/* Residuals by parameters, row after row of targets, by two-sided differences within the bounds. */
static void differentiate(fit *f, const double *values, double *jacobian)
{
    double *vectors = allocate(2 * f->n * f->n), *residuals = allocate(2 * f->n * f->m), *width = allocate(f->n);
    for (size_t j = 0; j < f->n; j++) {
        const fit_parameter *p = &f->parameters[j];
        double step = step_share * (p->upper - p->lower);
        double low = fmax(values[j] - step, p->lower), high = fmin(values[j] + step, p->upper);
        width[j] = high - low;
        for (int side = 0; side < 2; side++) {
            double *vector = vectors + (2 * j + (size_t)side) * f->n;
            memcpy(vector, values, f->n * sizeof *values);
            vector[j] = side ? high : low;
        }
    }
    evaluate(f, 2 * f->n, vectors, residuals);
    for (size_t j = 0; j < f->n; j++)
        for (size_t i = 0; i < f->m; i++)
            jacobian[i * f->n + j] = (residuals[(2 * j + 1) * f->m + i] - residuals[2 * j * f->m + i]) / width[j];
    free(vectors);
    free(residuals);
    free(width);
}

static int residuals_and_slopes(void *data, int m, int n, const double *u, double *residuals, double *slopes, int stride,
                                int flag)
{
    fit *f = data;
    double *values = allocate(f->n);
    for (int j = 0; j < n; j++)
        values[j] = from_free(&f->parameters[j], u[j]);
    if (flag == 1) {
        evaluate(f, 1, values, residuals);
    } else if (flag == 2) {
        double *jacobian = allocate(f->n * f->m);
        differentiate(f, values, jacobian);
        for (int j = 0; j < n; j++)
            for (int i = 0; i < m; i++)
                slopes[i + j * stride] = jacobian[i * n + j] * slope_of_free(&f->parameters[j], u[j]);
        free(jacobian);
    }
    free(values);
    return 0;
}

/* Inverts a symmetric positive definite matrix in place by Gauss and Jordan. */
static void invert(size_t n, double *a)
{
    for (size_t k = 0; k < n; k++) {
        double pivot = a[k * n + k];
        a[k * n + k] = 1.0;
        for (size_t j = 0; j < n; j++)
            a[k * n + j] /= pivot;
        for (size_t i = 0; i < n; i++) {
            if (i == k)
                continue;
            double factor = a[i * n + k];
            a[i * n + k] = 0.0;
            for (size_t j = 0; j < n; j++)
                a[i * n + j] -= factor * a[k * n + j];
        }
    }
}

/* Covariance from the slopes, with the range of each parameter as one more, vague datum, so that what the data leave open
 * gets the error of its range instead of an infinite one. Misfit beyond the stated uncertainties widens the data's part. */
static void find_errors(fit *f, fit_result *r)
{
    double *covariance = allocate(f->n * f->n);
    double freedom = f->m > f->n ? (double)(f->m - f->n) : 1.0, widening = fmax(1.0, r->sum_of_squares / freedom);
    for (size_t j = 0; j < f->n; j++)
        for (size_t k = 0; k < f->n; k++)
            for (size_t i = 0; i < f->m; i++)
                covariance[j * f->n + k] += r->jacobian[i * f->n + j] * r->jacobian[i * f->n + k] / widening;
    for (size_t j = 0; j < f->n; j++) {
        fit_parameter *p = &f->parameters[j];
        p->range_deviation = (p->upper - p->lower) / sqrt(12.0);
        covariance[j * f->n + j] += 1.0 / (p->range_deviation * p->range_deviation);
    }
    invert(f->n, covariance);
    for (size_t j = 0; j < f->n; j++)
        f->parameters[j].standard_error = sqrt(covariance[j * f->n + j]);
    for (size_t j = 0; j < f->n; j++)
        for (size_t k = 0; k < f->n; k++)
            r->correlation[j * f->n + k] =
                covariance[j * f->n + k] / (f->parameters[j].standard_error * f->parameters[k].standard_error);
    free(covariance);
}

static double sum_of_squares(const double *values, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++)
        sum += values[i] * values[i];
    return sum;
}

void bounded_fit(size_t n, fit_parameter *parameters, size_t m, fit_function function, void *data, fit_result *r)
{
    fit f = {n, m, parameters, function, data, 0};
    double *u = allocate(n), *slopes = allocate(n * m), *scale = allocate(n), *qtf = allocate(n), *values = allocate(n),
           *work = allocate(3 * n + m);
    int *order = (int *)allocate(n), function_calls, slope_calls;
    r->residuals = allocate(m);
    r->jacobian = allocate(n * m);
    r->correlation = allocate(n * n);
    for (size_t j = 0; j < n; j++)
        u[j] = to_free(&parameters[j], parameters[j].start);
    for (size_t j = 0; j < n; j++)
        values[j] = from_free(&parameters[j], u[j]);
    /* All free parameters are angles, alike in size. Scaling them by their slopes, as is usual, would let those near a bound,
     * where the sine is flat, swing from bound to bound. */
    for (size_t j = 0; j < n; j++)
        scale[j] = 1.0;
    evaluate(&f, 1, values, r->residuals);
    r->first_sum_of_squares = sum_of_squares(r->residuals, m);
    r->code = lmder(residuals_and_slopes, &f, (int)m, (int)n, u, r->residuals, slopes, (int)m, settled, settled, 0.0, 60, scale, 2,
                    1.0, 0, &function_calls, &slope_calls, order, qtf, work, work + n, work + 2 * n, work + 3 * n);
    for (size_t j = 0; j < n; j++)
        parameters[j].value = values[j] = from_free(&parameters[j], u[j]);
    r->sum_of_squares = sum_of_squares(r->residuals, m);
    differentiate(&f, values, r->jacobian);
    find_errors(&f, r);
    r->evaluations = f.evaluations;
    free(u);
    free(slopes);
    free(scale);
    free(qtf);
    free(values);
    free(work);
    free(order);
}

void bounded_fit_free(fit_result *r)
{
    free(r->residuals);
    free(r->jacobian);
    free(r->correlation);
}

const char *bounded_fit_text(int code)
{
    switch (code) {
    case 1:
    case 2:
    case 3:
        return "converged";
    case 4:
        return "stopped: residuals are orthogonal to the slopes";
    case 5:
        return "stopped: too many evaluations";
    case 6:
    case 7:
    case 8:
        return "stopped: no further progress is possible";
    default:
        return "not started: improper input";
    }
}
