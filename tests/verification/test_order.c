/* SPDX-License-Identifier: BSD-3-Clause */
/* Orders of accuracy in space and time, on manufactured solutions and on drying with an exact solution. */
#include "close.h"

#include "conduction_series.h"
#include "problem.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdio.h>

static const double pi = 3.14159265358979323846;

/* A manufactured solution with a conductivity that varies: T0 + A cos(p x) g(t), p = pi / 2L, g = 1 - exp(-t / tau),
 * k = k0 (1 + b (T - T0)); symmetric at x = 0, convection at x = L. Its source and the air temperature it needs
 * follow by inserting it into the heat equation. */
static const double length = 0.04, capacity = 3.675e6, conductivity = 0.45, slope = 0.002, coefficient = 20.0,
                    base = 20.0, height = 60.0, tau = 3000.0;

static double growth(double time)
{
    return 1.0 - exp(-time / tau);
}

static double exact(double time, double x)
{
    return base + height * cos(pi * x / (2.0 * length)) * growth(time);
}

static double source(double time, double x, double across, void *data)
{
    (void)across;
    (void)data;
    const double p = pi / (2.0 * length), g = growth(time), g_slope = exp(-time / tau) / tau;
    const double cosine = cos(p * x), sine = sin(p * x), theta = height * cosine * g;
    return capacity * height * cosine * g_slope + conductivity * (1.0 + slope * theta) * height * p * p * cosine * g -
           conductivity * slope * pow(height * p * sine * g, 2.0);
}

static void set_air(double time, const double *lumped, sw_surface *surfaces, void *data)
{
    (void)lumped;
    (void)data;
    const double p = pi / (2.0 * length);
    surfaces[0].air_temperature = 273.15 + base - conductivity * height * p * growth(time) / coefficient;
}

static void manufactured_init(problem *p, size_t cells, double tolerance)
{
    problem_setup setup = reference_slab(length, cells);
    setup.solids[0] = (sw_solid_parameters){.heat_capacity = capacity,
                                            .conductivity = conductivity,
                                            .conductivity_slope = slope,
                                            .reference_temperature = 273.15 + base,
                                            .dry_density = 300.0};
    setup.initial_temperature = base;
    setup.tolerance = tolerance;
    problem_init(p, &setup);
    *problem_surface(p, SW_SIDE_TOP) = convective_surface(base, coefficient);
    p->transport->lumped.surround = set_air;
    p->transport->follows = true;
    p->transport->heat_source = source;
}

static double manufactured_error(size_t cells)
{
    problem p;
    manufactured_init(&p, cells, 1e-10);
    problem_run_to(&p, 3600.0);
    double sum = 0.0;
    for (size_t i = 0; i < cells; i++) {
        double error = problem_state(&p)[2 * i] - 273.15 - exact(3600.0, p.mesh->position[i]);
        sum += error * error / (double)cells;
    }
    problem_free(&p);
    return sqrt(sum);
}

static void test_order_in_space(void **state)
{
    (void)state;
    /* The value of the exact solution itself, by an independent program. */
    assert_close_abs(exact(3600.0, 0.0), 61.928347, 1e-6);
    double error[5];
    for (int i = 0; i < 5; i++) {
        error[i] = manufactured_error((size_t)8 << i);
        print_message("  %3d cells: error %.3e K", 8 << i, error[i]);
        print_message(i > 0 ? ", order %.3f\n" : "\n", i > 0 ? log2(error[i - 1] / error[i]) : 0.0);
        if (i > 0)
            assert_within(log2(error[i - 1] / error[i]), 1.9, 2.1);
    }
    assert_true(error[4] < 1e-3);
}

/* The same problem on one mesh: the tighter the tolerance, the closer to the solution of the tightest, tenfold for
 * tenfold within a factor. */
static void test_tolerance_ladder(void **state)
{
    (void)state;
    enum { CELLS = 32 };
    static const double tolerance[] = {1e-12, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8};
    double reference[CELLS], last = INFINITY, first = 0.0;
    for (int k = 0; k < 6; k++) {
        problem p;
        manufactured_init(&p, CELLS, tolerance[k]);
        problem_run_to(&p, 3600.0);
        double error = 0.0;
        for (size_t i = 0; i < CELLS; i++) {
            if (k == 0)
                reference[i] = problem_state(&p)[2 * i];
            error = fmax(error, fabs(problem_state(&p)[2 * i] - reference[i]));
        }
        problem_free(&p);
        if (k == 0)
            continue;
        print_message("  tolerance %.0e: error %.3e K\n", tolerance[k], error);
        /* The allowance per step is tolerance x (T + 10 K), some 340 K: the whole run stays within thirty of them. */
        assert_true(error < 1e4 * tolerance[k]);
        assert_true(error < last);
        last = error;
        first = k == 1 ? error : first;
    }
    assert_true(last < 1e-3 * first);
}

/* Isothermal drying of a slab through an air film: the series with Bi_m = h_m L / D (J. Crank, The Mathematics of
 * Diffusion, section 4.3.6, from memory). */
static double drying_error(size_t cells)
{
    const double biot = 10.0, fourier = 0.2;
    problem p;
    problem_init_drying(&p, cells, 0.0, 1e-10, biot);
    double left = 1.0 - problem_dry_to(&p, fourier);
    problem_free(&p);
    conduction_series series;
    conduction_series_init(&series, SW_SHAPE_SLAB, biot);
    return left - conduction_series_mean(&series, fourier);
}

/* Evaporation takes the water activity of the outermost cell for that of the surface, so that for moisture the order is
 * one in the thickness of that cell; the meshes of a cook make it thin. */
static void test_order_of_drying(void **state)
{
    (void)state;
    double last = 0.0;
    for (int i = 0; i < 5; i++) {
        size_t cells = (size_t)20 << i;
        double error = drying_error(cells);
        print_message("  %3zu cells: error of the share left %.3e", cells, error);
        print_message(i > 0 ? ", order %.3f\n" : "\n", i > 0 ? log2(last / error) : 0.0);
        if (i > 1)
            assert_within(log2(last / error), 0.9, 2.1);
        last = error;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_order_in_space),
        cmocka_unit_test(test_tolerance_ladder),
        cmocka_unit_test(test_order_of_drying),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
