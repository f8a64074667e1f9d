/* SPDX-License-Identifier: BSD-3-Clause */
/* The fit on problems whose answer is known. */
#include "bounded_fit.h"
#include "close.h"

#include <math.h>

/* A straight line a + b x through points at x = -2..2, in standard uncertainties of 0.1. */
static const double slope_of_data[5] = {-2, -1, 0, 1, 2}, data[5] = {0.9, 2.1, 3.0, 3.9, 5.1};

static void line(size_t count, const double *vectors, double *residuals, void *unused)
{
    (void)unused;
    for (size_t k = 0; k < count; k++)
        for (size_t i = 0; i < 5; i++)
            residuals[5 * k + i] = (vectors[2 * k] + vectors[2 * k + 1] * slope_of_data[i] - data[i]) / 0.1;
}

/* Regression by the textbook: a = mean, b = sum x y / sum x^2, errors sigma / sqrt(n) and sigma / sqrt(sum x^2). */
static void test_line(void **state)
{
    (void)state;
    fit_parameter p[2] = {{.start = 1, .lower = -1000, .upper = 1000}, {.start = 5, .lower = -1000, .upper = 1000}};
    fit_result r;
    bounded_fit(2, p, 5, line, NULL, &r);
    assert_close_abs(p[0].value, 3.0, 1e-4);
    assert_close_abs(p[1].value, 1.02, 1e-4);
    assert_close_rel(r.sum_of_squares, 3.6, 1e-3); /* residuals -.06 .12 0 -.12 .06 over .1: 2 (.36 + 1.44) */
    double widening = sqrt(3.6 / 3.0);
    assert_close_rel(p[0].standard_error, widening * 0.1 / sqrt(5.0), 1e-3);
    assert_close_rel(p[1].standard_error, widening * 0.1 / sqrt(10.0), 1e-3);
    assert_close_abs(r.correlation[1], 0.0, 1e-6);
    bounded_fit_free(&r);
}

/* A best value outside the range: the fit stops at the bound, and the other parameter is best for it, within a third of its
 * standard error. */
static void test_bound(void **state)
{
    (void)state;
    fit_parameter p[2] = {{.start = 1, .lower = 0, .upper = 2.9}, {.start = 1.5, .lower = 0.5, .upper = 2}};
    fit_result r;
    bounded_fit(2, p, 5, line, NULL, &r);
    assert_close_abs(p[0].value, 2.9, 2e-3);
    assert_close_abs(p[1].value, 1.02, 0.01);
    bounded_fit_free(&r);
}

static void half_blind(size_t count, const double *vectors, double *residuals, void *unused)
{
    (void)unused;
    for (size_t k = 0; k < count; k++) {
        residuals[2 * k] = (vectors[2 * k] - 1.0) / 0.01;
        residuals[2 * k + 1] = (vectors[2 * k] - 1.0) / 0.02;
    }
}

/* What no datum touches keeps its start and the error of its range. */
static void test_unseen_parameter(void **state)
{
    (void)state;
    fit_parameter p[2] = {{.start = 2, .lower = 0, .upper = 4}, {.start = 7, .lower = 6, .upper = 9}};
    fit_result r;
    bounded_fit(2, p, 2, half_blind, NULL, &r);
    assert_close_abs(p[0].value, 1.0, 1e-5);
    assert_close_abs(p[1].value, 7.0, 1e-9);
    assert_close_rel(p[1].standard_error, 3.0 / sqrt(12.0), 1e-9);
    bounded_fit_free(&r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_line), cmocka_unit_test(test_bound),
                                       cmocka_unit_test(test_unseen_parameter)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
