/* SPDX-License-Identifier: BSD-3-Clause */
/* Conduction in sections with fitted cells against exact solutions: a long cylinder's series, a bar, manufactured solutions
 * with and without fibres; mirror images. */
#include "close.h"

#include "conduction_series.h"
#include "outlines.h"
#include "problem.h"

#include <math.h>
#include <stdio.h>

static const double pi = 3.14159265358979323846, hour = 3600.0, zero_celsius = 273.15;

static void start(problem *p, double tolerance, const sw_fitted_section *f)
{
    problem_setup setup = reference_slab(0.04, 2);
    setup.tolerance = tolerance;
    problem_init_on(p, &setup, fitted_mesh(f));
}

static void set_all_sides(problem *p, sw_surface surface)
{
    for (size_t i = 0; i < p->mesh->boundary_face_count; i++)
        p->transport->surfaces[i] = surface;
}

static double theta_of(double temperature, double air, double initial)
{
    return (temperature - air) / (initial - air);
}

/* Largest error of any cell as a share of the temperature range, at three times. */
static double error_of_circle(size_t across, double *centre)
{
    const double radius = 0.05, alpha = 0.45 / 3.675e6;
    test_outline o = round_outline(2 * across, radius, true);
    sw_fitted_section f;
    fit_section(&o, across, across, 2.0 * radius / (double)across, &f);
    problem p;
    start(&p, 1e-6, &f);
    set_all_sides(&p, convective_surface(121.0, 0.45 / radius));
    conduction_series series;
    conduction_series_init(&series, SW_SHAPE_CYLINDER, 1.0);
    double worst = *centre = 0.0;
    static const double fourier[] = {0.1, 0.2, 0.5};
    for (size_t k = 0; k < 3; k++) {
        problem_run_to(&p, fourier[k] * radius * radius / alpha);
        for (size_t i = 0; i < p.mesh->cell_count; i++) {
            double r = hypot(p.mesh->across[i], p.mesh->position[i]) / radius;
            worst = fmax(worst, fabs(theta_of(problem_state(&p)[2 * i] - zero_celsius, 121.0, 5.0) -
                                     conduction_series_at(&series, fourier[k], r)));
        }
        double reading = theta_of(problem_temperature_in_section(&p, (sw_point){0.0, 0.0}), 121.0, 5.0);
        *centre = fmax(*centre, fabs(reading - conduction_series_at(&series, fourier[k], 0.0)));
    }
    problem_free(&p);
    return worst;
}

/* A regular polygon of a circle's area against the series of a long cylinder, Bi 1 (F. P. Incropera, D. P. DeWitt, Fundamentals
 * of Heat and Mass Transfer, eq. 5.47, from memory). */
static void test_circle(void **state)
{
    (void)state;
    double error[3], centre[3];
    for (int i = 0; i < 3; i++) {
        error[i] = error_of_circle((size_t)20 << i, &centre[i]);
        print_message("  %d cells across: worst %.2e, centre %.2e of the range", 20 << i, error[i], centre[i]);
        print_message(i > 0 ? ", order %.2f\n" : "\n", i > 0 ? log2(error[i - 1] / error[i]) : 0.0);
    }
    assert_true(error[1] < 0.003);
    assert_true(log2(error[0] / error[2]) / 2.0 > 1.5);
}

/* The bar of test_section.c with fitted cells, and with a conductivity three times as high along it: the product of two slabs
 * whose Biot and Fourier numbers go with their own conductivity (Incropera and DeWitt, section 5.8, from memory). */
static void check_bar(double fibre, size_t rows, size_t columns)
{
    const double half_width = 0.125, half_height = 0.04, alpha = 0.45 / (1050.0 * 3500.0);
    test_outline o = drawn_outline(0);
    sw_fitted_section f;
    fit_section(&o, rows, columns, 0.0003, &f);
    f.fibres_along = f.has_slanted_flow = true;
    problem p;
    start(&p, 1e-6, &f);
    p.transport->fibre_conductivity = fibre;
    set_all_sides(&p, convective_surface(121.0, 20.0));
    conduction_series thick, wide;
    conduction_series_init(&thick, SW_SHAPE_SLAB, 20.0 * half_height / 0.45);
    conduction_series_init(&wide, SW_SHAPE_SLAB, 20.0 * half_width / (0.45 * fibre));
    double worst = 0.0, worst_mean = 0.0;
    for (double hours = 1.0; hours < 7.0; hours += 1.0) {
        double time = hours * hour, fo_thick = alpha * time / (half_height * half_height);
        double fo_wide = fibre * alpha * time / (half_width * half_width);
        problem_run_to(&p, time);
        for (size_t i = 0; i < p.mesh->cell_count; i++) {
            double want = conduction_series_at(&wide, fo_wide, fabs(p.mesh->across[i] - half_width) / half_width) *
                          conduction_series_at(&thick, fo_thick, fabs(p.mesh->position[i] - half_height) / half_height);
            worst = fmax(worst, fabs(theta_of(problem_state(&p)[2 * i] - zero_celsius, 121.0, 5.0) - want));
        }
        worst_mean = fmax(worst_mean, fabs(theta_of(problem_mean_temperature(&p), 121.0, 5.0) -
                                           conduction_series_mean(&wide, fo_wide) * conduction_series_mean(&thick, fo_thick)));
    }
    print_message("  along over across %g: worst cell %.1e, mean %.1e of the range\n", fibre, worst, worst_mean);
    assert_true(worst < 5e-3);
    assert_true(worst_mean < 1e-3);
    problem_free(&p);
}

static void test_bar(void **state)
{
    (void)state;
    check_bar(1.0, 40, 50);
    check_bar(3.0, 40, 50);    /* the most that meat.fibre_conductivity allows */
    check_bar(100.0, 80, 100); /* as much as meat.fibre_permeability allows: heat stands for juice, by the same shares of faces */
}

/* A manufactured steady solution in a slanted quadrangle: T0 + A cos(pi x / a) cos(pi y / b), its own values as fixed
 * temperatures all round. Its source follows by inserting it into the heat equation. Each piece of surface is held at the
 * value of its middle. */
static const double a = 0.18, b = 0.12, base = 20.0, amplitude = 25.0;
static double fibre;

static double exact(double x, double y)
{
    return base + amplitude * cos(pi * x / a) * cos(pi * y / b);
}

static double source(double time, double y, double x, void *data)
{
    (void)time;
    (void)data;
    return (exact(x, y) - base) * 0.45 * pi * pi * (fibre / (a * a) + 1.0 / (b * b));
}

static double manufactured_error(const test_outline *o, size_t rows, double surface_cell)
{
    sw_fitted_section f;
    fit_section(o, rows, 2 * rows, surface_cell, &f);
    f.fibres_along = f.has_slanted_flow = true;
    problem p;
    start(&p, 1e-8, &f);
    p.transport->fibre_conductivity = fibre;
    p.transport->heat_source = source;
    double lowest = HUGE_VAL;
    for (size_t i = 0; i < o->count; i++)
        lowest = fmin(lowest, o->v[i].y);
    for (size_t i = 0; i < p.mesh->cell_count; i++)
        problem_state(&p)[2 * i] = zero_celsius + exact(p.mesh->across[i], p.mesh->position[i]);
    for (size_t i = 0; i < p.mesh->boundary_face_count; i++) {
        const sw_boundary_face *face = &p.mesh->boundary_faces[i];
        p.transport->surfaces[i] = fixed_surface(exact(face->across, face->height + lowest));
    }
    problem_run_to(&p, 20.0 * hour);
    double sum = 0.0, volume = 0.0;
    for (size_t i = 0; i < p.mesh->cell_count; i++) {
        double error = problem_state(&p)[2 * i] - zero_celsius - exact(p.mesh->across[i], p.mesh->position[i]);
        sum += p.mesh->volume[i] * error * error;
        volume += p.mesh->volume[i];
    }
    problem_free(&p);
    return sqrt(sum / volume);
}

/* Even layers show the order. Along fibres that run aslant to the surface, the strip between it and the outermost seeds takes
 * part at first order only: there layers begin with 0.3 mm, as cooks have them. */
static void test_order_in_space(void **state)
{
    (void)state;
    test_outline o = drawn_outline(1);
    static const double fibres[] = {1.0, 3.0};
    for (int k = 0; k < 2; k++) {
        fibre = fibres[k];
        double first = 0.0, last = 0.0;
        for (int i = 0; i < 3; i++) {
            double error = manufactured_error(&o, (size_t)8 << i, k == 0 ? 1.0 : 0.0003);
            print_message("  fibre %g, %2d rows: error %.3e K", fibre, 8 << i, error);
            print_message(i > 0 ? ", order %.2f\n" : "\n", i > 0 ? log2(last / error) : 0.0);
            first = i == 0 ? error : first;
            last = error;
        }
        if (k == 0)
            assert_true(log2(first / last) / 2.0 > 1.9);
        assert_true(last < 1e-3 * 2.0 * amplitude);
    }
}

/* An outline and its mirror image have mirrored cells and temperatures. */
static void run_outline(problem *p, const test_outline *o)
{
    sw_fitted_section f;
    fit_section(o, 16, 20, 0.0003, &f);
    start(p, 1e-8, &f);
    problem_set_side(p, SW_SIDE_TOP, convective_surface(121.0, 20.0));
    problem_set_side(p, SW_SIDE_END, convective_surface(100.0, 15.0));
    problem_set_side(p, SW_SIDE_BOTTOM, convective_surface(90.0, 5.0));
    problem_run_to(p, hour);
}

static void test_mirror_images(void **state)
{
    (void)state;
    test_outline one = {"lopsided", 6, {{-0.10, 0.013}, {0.03, 0.0}, {0.10, 0.021}, {0.083, 0.071}, {0.021, 0.037}, {-0.052, 0.08}}};
    test_outline other = one;
    for (size_t i = 0; i < 6; i++)
        other.v[5 - i] = (sw_point){-one.v[i].x, one.v[i].y};
    problem of_one, of_other;
    run_outline(&of_one, &one);
    run_outline(&of_other, &other);
    assert_int_equal(of_one.mesh->cell_count, of_other.mesh->cell_count);
    double worst = 0.0;
    for (size_t i = 0; i < of_one.mesh->cell_count; i++) {
        double best = HUGE_VAL;
        size_t found = 0;
        for (size_t k = 0; k < of_other.mesh->cell_count; k++) {
            double distance = hypot(of_one.mesh->across[i] + of_other.mesh->across[k],
                                    of_one.mesh->position[i] - of_other.mesh->position[k]);
            if (distance < best) {
                best = distance;
                found = k;
            }
        }
        assert_true(best < 1e-9);
        worst = fmax(worst, fabs(problem_state(&of_one)[2 * i] - problem_state(&of_other)[2 * found]));
    }
    print_message("  mirror images differ by %.1e K\n", worst);
    assert_true(worst < 1e-4);
    problem_free(&of_one);
    problem_free(&of_other);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_circle),
        cmocka_unit_test(test_bar),
        cmocka_unit_test(test_order_in_space),
        cmocka_unit_test(test_mirror_images),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
