/* SPDX-License-Identifier: BSD-3-Clause */
/* Conduction in rectangles on grid lines against exact solutions: products of one-dimensional series, two layers, a
 * manufactured solution. Fitted sections: test_fitted_section.c. */
#include "close.h"

#include "conduction_series.h"
#include "problem.h"

#include <math.h>
#include <stdio.h>

static const double pi = 3.14159265358979323846, hour = 3600.0, zero_celsius = 273.15;

enum { LINES_MAX = 161 };

typedef struct grid {
    size_t columns, rows;
    double x[LINES_MAX], y[LINES_MAX];
} grid;

/* Cells between from and to that shrink towards the ends where a first thickness is given. */
static void set_lines(double *lines, double from, double to, size_t cells, double low_cell, double high_cell)
{
    double widths[LINES_MAX];
    sw_grade_cells(to - from, cells, low_cell, high_cell, widths);
    lines[0] = from;
    for (size_t i = 0; i < cells; i++)
        lines[i + 1] = lines[i] + widths[i];
    lines[cells] = to;
}

static sw_rectangle on_lines(const grid *g)
{
    return (sw_rectangle){.line_count_x = g->columns + 1,
                          .line_count_y = g->rows + 1,
                          .lines_x = g->x,
                          .lines_y = g->y,
                          .depth = 1.0};
}

static void start(problem *p, const problem_setup *setup, const sw_rectangle *rectangle)
{
    sw_mesh *mesh;
    assert_int_equal(sw_rectangle_mesh_create(rectangle, &mesh), SW_OK);
    problem_init_on(p, setup, mesh);
}

static problem_setup meat_setup(double tolerance)
{
    problem_setup setup = reference_slab(0.04, 2);
    setup.tolerance = tolerance;
    return setup;
}

static void set_all_sides(problem *p, sw_surface surface)
{
    for (int side = 0; side < SW_SIDE_COUNT; side++)
        problem_set_side(p, (sw_side)side, surface);
}

/* Of the piece of surface of a side nearest to a place. [C] */
static double surface_temperature_near(problem *p, sw_side side, sw_point place, size_t *face)
{
    double flows[SW_FLOW_COUNT], best = HUGE_VAL;
    assert_int_equal(sw_transport_flows(p->transport, p->time, problem_state(p), flows), 0);
    *face = 0;
    for (size_t i = 0; i < p->mesh->boundary_face_count; i++) {
        const sw_boundary_face *f = &p->mesh->boundary_faces[i];
        double distance = hypot(f->across - place.x, f->height - place.y);
        if (f->side == side && distance < best) {
            best = distance;
            *face = i;
        }
    }
    assert_true(best < HUGE_VAL);
    return p->transport->balances[*face].temperature - zero_celsius;
}

static double theta_of(double temperature, double air, double initial)
{
    return (temperature - air) / (initial - air);
}

/* A bar of 80 by 250 mm of the reference meat from 5 C in air of 121 C, 20 W/m2K: the product of the series of two slabs
 * (F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, section 5.8, from memory); the figures are that
 * product evaluated by an independent program. Half of it is computed, its whole thickness. */
static void test_bar(void **state)
{
    (void)state;
    static const struct {
        double hours, centre, wide_face, narrow_face, corner, mean;
    } want[] = {{1, 21.175, 69.543, 76.421, 98.021, 45.066},
                {2, 46.580, 83.365, 94.618, 107.658, 68.547},
                {4, 81.397, 100.988, 109.897, 115.389, 95.401},
                {6, 100.675, 110.730, 115.856, 118.401, 108.363}};
    grid g = {.columns = 50, .rows = 61};
    set_lines(g.x, 0.0, 0.125, g.columns, 0.0, 0.001);
    set_lines(g.y, 0.0, 0.08, g.rows, 0.001, 0.001);
    sw_rectangle section = on_lines(&g);
    section.insulated_left = true;
    problem_setup setup = meat_setup(1e-6);
    problem p;
    start(&p, &setup, &section);
    set_all_sides(&p, convective_surface(121.0, 20.0));
    conduction_series thick, wide;
    conduction_series_init(&thick, SW_SHAPE_SLAB, 20.0 * 0.04 / 0.45);
    conduction_series_init(&wide, SW_SHAPE_SLAB, 20.0 * 0.125 / 0.45);
    for (size_t i = 0; i < sizeof want / sizeof *want; i++) {
        double time = want[i].hours * hour, alpha = 0.45 / (1050.0 * 3500.0);
        double fo_thick = alpha * time / 0.0016, fo_wide = alpha * time / 0.015625;
        /* The figures and the series of these tests must agree first. */
        assert_close_abs(121.0 - 116.0 * conduction_series_mean(&thick, fo_thick) * conduction_series_mean(&wide, fo_wide),
                         want[i].mean, 2e-3);
        assert_close_abs(121.0 - 116.0 * conduction_series_at(&thick, fo_thick, 1) * conduction_series_at(&wide, fo_wide, 1),
                         want[i].corner, 2e-3);
        problem_run_to(&p, time);
        size_t face, side_face;
        double centre = problem_temperature_in_section(&p, (sw_point){0.0, 0.04});
        double wide_face = surface_temperature_near(&p, SW_SIDE_TOP, (sw_point){0.0, 0.08}, &face);
        double under = surface_temperature_near(&p, SW_SIDE_BOTTOM, (sw_point){0.0, 0.0}, &face);
        double narrow_face = surface_temperature_near(&p, SW_SIDE_END, (sw_point){0.125, 0.04}, &face);
        /* The corner: a plane through the two pieces of surface that meet there and their cell. */
        double top = surface_temperature_near(&p, SW_SIDE_TOP, (sw_point){0.125, 0.08}, &face);
        double end = surface_temperature_near(&p, SW_SIDE_END, (sw_point){0.125, 0.08}, &side_face);
        size_t cell = p.mesh->boundary_faces[face].cell;
        assert_int_equal(cell, p.mesh->boundary_faces[side_face].cell);
        double corner = top + end - (problem_state(&p)[2 * cell] - zero_celsius), mean = problem_mean_temperature(&p);
        print_message("  %.0f h: errors %.3f %.3f %.3f %.3f %.3f K\n", want[i].hours, centre - want[i].centre,
                      wide_face - want[i].wide_face, narrow_face - want[i].narrow_face, corner - want[i].corner,
                      mean - want[i].mean);
        assert_close_abs(centre, want[i].centre, 0.1);
        assert_close_abs(wide_face, want[i].wide_face, 0.1);
        assert_close_abs(under, want[i].wide_face, 0.1);
        assert_close_abs(narrow_face, want[i].narrow_face, 0.1);
        assert_close_abs(corner, want[i].corner, 0.1);
        assert_close_abs(mean, want[i].mean, 0.1);
    }
    problem_free(&p);
}

/* Without a flow through its ends a rectangle is the slab: cell for cell that of the one-dimensional mesh, and the series
 * (Incropera and DeWitt, eq. 5.39, from memory). */
static void test_long_rectangle_is_a_slab(void **state)
{
    (void)state;
    enum { ROWS = 40 };
    grid g = {.columns = 9, .rows = ROWS};
    set_lines(g.x, 0.0, 0.3, g.columns, 0.0, 0.0);
    set_lines(g.y, 0.0, 0.04, g.rows, 0.0, 0.0);
    sw_rectangle section = on_lines(&g);
    problem_setup setup = meat_setup(1e-8), slab_setup = reference_slab(0.04, ROWS);
    problem p, slab;
    start(&p, &setup, &section);
    problem_init(&slab, &slab_setup);
    problem_set_side(&p, SW_SIDE_TOP, convective_surface(121.0, 20.0));
    *problem_surface(&slab, SW_SIDE_TOP) = convective_surface(121.0, 20.0);
    problem_run_to(&p, 2.0 * hour);
    problem_run_to(&slab, 2.0 * hour);
    for (size_t i = 0; i < p.mesh->cell_count; i++)
        assert_close_abs(problem_state(&p)[2 * i], problem_state(&slab)[2 * (i % ROWS)], 1e-4);
    conduction_series series;
    conduction_series_init(&series, SW_SHAPE_SLAB, 20.0 * 0.04 / 0.45);
    double fourier = 0.45 / 3.675e6 * 2.0 * hour / 0.0016;
    assert_close_abs(theta_of(problem_mean_temperature(&p), 121.0, 5.0), conduction_series_mean(&series, fourier), 1e-3);
    problem_free(&p);
    problem_free(&slab);
}

/* A rectangle turned about its left edge is a cylinder: the product of the series of a long cylinder and a slab (Incropera
 * and DeWitt, section 5.8, from memory). With a height of ten radii its middle is that of the long cylinder. */
static void check_turned(double half_height, size_t rows)
{
    const double radius = 0.04, alpha = 0.45 / 3.675e6, coefficient = 0.45 / radius; /* Bi 1 of the radius */
    grid g = {.columns = 40, .rows = rows};
    set_lines(g.x, 0.0, radius, g.columns, 0.0, 0.0);
    set_lines(g.y, 0.0, half_height, rows, 0.0, 0.001);
    sw_rectangle section = on_lines(&g);
    section.is_turned = true;
    problem_setup setup = meat_setup(1e-6);
    problem p;
    start(&p, &setup, &section);
    double volume = 0.0;
    for (size_t i = 0; i < p.mesh->cell_count; i++)
        volume += p.mesh->volume[i];
    assert_close_rel(volume, pi * radius * radius * half_height, 1e-12);
    problem_set_side(&p, SW_SIDE_TOP, convective_surface(121.0, coefficient));
    problem_set_side(&p, SW_SIDE_END, convective_surface(121.0, coefficient));
    conduction_series round, tall;
    conduction_series_init(&round, SW_SHAPE_CYLINDER, 1.0);
    conduction_series_init(&tall, SW_SHAPE_SLAB, half_height / radius);
    double worst = 0.0, worst_mean = 0.0, worst_long = 0.0;
    static const double fourier[] = {0.1, 0.2, 0.5, 1.0};
    for (size_t k = 0; k < 4; k++) {
        double fo = fourier[k], fo_tall = fo * radius * radius / (half_height * half_height);
        problem_run_to(&p, fo * radius * radius / alpha);
        for (size_t i = 0; i < p.mesh->cell_count; i++) {
            double got = theta_of(problem_state(&p)[2 * i] - zero_celsius, 121.0, 5.0);
            double in_long = conduction_series_at(&round, fo, p.mesh->across[i] / radius);
            double want = in_long * conduction_series_at(&tall, fo_tall, p.mesh->position[i] / half_height);
            worst = fmax(worst, fabs(got - want));
            if (half_height > 9.0 * radius && p.mesh->position[i] < 0.3 * half_height)
                worst_long = fmax(worst_long, fabs(got - in_long));
        }
        double mean = theta_of(problem_mean_temperature(&p), 121.0, 5.0);
        worst_mean = fmax(worst_mean, fabs(mean - conduction_series_mean(&round, fo) * conduction_series_mean(&tall, fo_tall)));
    }
    print_message("  half height %.2f m: worst cell %.1e, mean %.1e, against the long cylinder %.1e of the range\n",
                  half_height, worst, worst_mean, worst_long);
    assert_true(worst < 1e-3);
    assert_true(worst_mean < 1e-3);
    assert_true(worst_long < 1e-3);
    problem_free(&p);
}

static void test_short_cylinder(void **state)
{
    (void)state;
    check_turned(0.04, 30);
    check_turned(0.40, 40);
}

static int fat_above(sw_point place, const void *data)
{
    return place.y > *(const double *)data ? SW_REGION_FAT : SW_REGION_LEAN;
}

/* 40 mm of the reference meat, insulated below, under 8 mm of fat (0.20 W/mK, 930 kg/m3, 2300 J/kgK), from 5 C in air of
 * 121 C, 20 W/m2K. The figures are an independent inversion of the exact Laplace transform (Talbot's contour). */
static void test_two_layers(void **state)
{
    (void)state;
    static const double want[][5] = {{0.5, 6.166, 11.055, 34.941, 71.857},
                                     {1, 13.167, 21.239, 46.703, 79.023},
                                     {2, 31.154, 38.879, 60.873, 87.148},
                                     {4, 60.024, 65.320, 80.287, 98.085},
                                     {6, 79.655, 83.246, 93.395, 105.463}};
    const double interface = 0.040;
    grid g = {.columns = 3, .rows = 100};
    set_lines(g.x, 0.0, 0.1, g.columns, 0.0, 0.0);
    set_lines(g.y, 0.0, interface, 80, 0.0, 0.0);
    set_lines(g.y + 80, interface, 0.048, 20, 0.0, 0.0);
    sw_rectangle section = on_lines(&g);
    section.region = fat_above;
    section.region_data = &interface;
    problem_setup setup = meat_setup(1e-7);
    setup.layer_count = 2;
    setup.solids[1] = (sw_solid_parameters){
        .heat_capacity = 930.0 * 2300.0, .conductivity = 0.20, .reference_temperature = 273.15, .dry_density = 300.0};
    problem p;
    start(&p, &setup, &section);
    problem_set_side(&p, SW_SIDE_TOP, convective_surface(121.0, 20.0));
    double worst = 0.0;
    for (size_t i = 0; i < sizeof want / sizeof *want; i++) {
        problem_run_to(&p, want[i][0] * hour);
        size_t face;
        const double *t = problem_state(&p);
        /* At the interface the flow from the meat's last cell is that into the fat's first: half cells of 0.25 and 0.2 mm. */
        double meat = 0.45 / 0.25, fat = 0.20 / 0.2;
        double got[4] = {problem_temperature_in_section(&p, (sw_point){0.05, 0.0}),
                         problem_temperature_in_section(&p, (sw_point){0.05, 0.020}),
                         (meat * t[2 * 179] + fat * t[2 * 180]) / (meat + fat) - zero_celsius,
                         surface_temperature_near(&p, SW_SIDE_TOP, (sw_point){0.05, 0.048}, &face)};
        for (int k = 0; k < 4; k++) {
            worst = fmax(worst, fabs(got[k] - want[i][k + 1]));
            assert_close_abs(got[k], want[i][k + 1], 0.05);
        }
    }
    print_message("  worst error %.3f K\n", worst);
    problem_free(&p);
}

/* A manufactured solution: T0 + A cos(pi x / 2a) cos(pi y / 2b) exp(-t / tau), at T0 on the right and on top, symmetric
 * left and below; conductivity along x by a factor higher. Its source follows by inserting it into the heat equation. */
static const double width = 0.06, height = 0.04, base = 20.0, amplitude = 60.0, tau = 3000.0, fibre = 1.3;

static double exact_rise(double time, double x, double y)
{
    return amplitude * cos(pi * x / (2.0 * width)) * cos(pi * y / (2.0 * height)) * exp(-time / tau);
}

static double source(double time, double y, double x, void *data)
{
    (void)data;
    double px = pi / (2.0 * width), py = pi / (2.0 * height);
    return exact_rise(time, x, y) * (0.45 * (fibre * px * px + py * py) - 3.675e6 / tau);
}

static double manufactured_error(size_t rows)
{
    grid g = {.columns = rows, .rows = rows};
    set_lines(g.x, 0.0, width, g.columns, 0.0, 0.0);
    set_lines(g.y, 0.0, height, g.rows, 0.0, 0.0);
    sw_rectangle section = on_lines(&g);
    section.insulated_left = true;
    section.fibres_along = true;
    problem_setup setup = meat_setup(1e-8);
    problem p;
    start(&p, &setup, &section);
    p.transport->fibre_conductivity = fibre;
    p.transport->heat_source = source;
    problem_set_side(&p, SW_SIDE_TOP, fixed_surface(base));
    problem_set_side(&p, SW_SIDE_END, fixed_surface(base));
    for (size_t i = 0; i < p.mesh->cell_count; i++)
        problem_state(&p)[2 * i] = zero_celsius + base + exact_rise(0.0, p.mesh->across[i], p.mesh->position[i]);
    problem_run_to(&p, 1800.0);
    double sum = 0.0;
    for (size_t i = 0; i < p.mesh->cell_count; i++) {
        double error = problem_state(&p)[2 * i] - zero_celsius - base -
                       exact_rise(1800.0, p.mesh->across[i], p.mesh->position[i]);
        sum += error * error;
    }
    double error = sqrt(sum / (double)p.mesh->cell_count);
    problem_free(&p);
    return error;
}

static void test_order_in_space(void **state)
{
    (void)state;
    double last = 0.0;
    for (int i = 0; i < 4; i++) {
        double error = manufactured_error((size_t)6 << i);
        print_message("  %2d x %2d cells: error %.3e K", 6 << i, 6 << i, error);
        print_message(i > 0 ? ", order %.3f\n" : "\n", i > 0 ? log2(last / error) : 0.0);
        if (i > 0)
            assert_within(log2(last / error), 1.9, 2.1);
        last = error;
    }
    assert_true(last < 0.02);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_bar),
        cmocka_unit_test(test_long_rectangle_is_a_slab),
        cmocka_unit_test(test_short_cylinder),
        cmocka_unit_test(test_two_layers),
        cmocka_unit_test(test_order_in_space),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
