/* SPDX-License-Identifier: BSD-3-Clause */
/* Pure conduction against exact solutions: no evaporation, constant properties. */
#include "close.h"

#include "conduction_series.h"
#include "problem.h"

#include <math.h>
#include <stdio.h>

static const double pi = 3.14159265358979323846;
static const double hour = 3600.0;
static const double diffusivity = 0.45 / (1050.0 * 3500.0);

/* Slab, cylinder and sphere, centre, surface and mean, against the full series (computed; the series code is checked
 * against printed tables in test_conduction_series). */
static void check_shape(sw_shape shape, double biot, double fourier)
{
    const double length = 0.04;
    problem_setup setup = reference_slab(length, 200);
    setup.shape = shape;
    setup.insulated_low = shape == SW_SHAPE_SLAB;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = convective_surface(121.0, biot * 0.45 / length);
    problem_run_to(&p, fourier * length * length / diffusivity);

    conduction_series series;
    conduction_series_init(&series, shape, biot);
    const double span = 5.0 - 121.0;
    assert_close_abs((problem_temperature(&p, 0.0) - 121.0) / span, conduction_series_at(&series, fourier, 0.0), 5e-5);
    assert_close_abs((problem_surface_temperature(&p, SW_SIDE_TOP) - 121.0) / span,
                     conduction_series_at(&series, fourier, 1.0), 5e-5);
    assert_close_abs((problem_temperature(&p, 0.5 * length) - 121.0) / span,
                     conduction_series_at(&series, fourier, 0.5), 5e-5);
    assert_close_abs((problem_mean_temperature(&p) - 121.0) / span, conduction_series_mean(&series, fourier), 5e-5);

    /* The heat taken up is what came through the surface. */
    double taken_up = (problem_mean_temperature(&p) - 5.0) * 1050.0 * 3500.0;
    double volume = 0.0;
    for (size_t i = 0; i < p.mesh->cell_count; i++)
        volume += p.mesh->volume[i];
    assert_close_rel(sw_integrator_sums(p.integrator)[SW_FLOW_CONVECTION], taken_up * volume, 1e-6);
    problem_free(&p);
}

static void test_shapes(void **state)
{
    (void)state;
    static const sw_shape shapes[] = {SW_SHAPE_SLAB, SW_SHAPE_CYLINDER, SW_SHAPE_SPHERE};
    static const double biot[] = {0.1, 1.0, 10.0}, fourier[] = {0.1, 0.2, 0.5, 1.0};
    for (int s = 0; s < 3; s++)
        for (int b = 0; b < 3; b++)
            for (int f = 0; f < 4; f++)
                check_shape(shapes[s], biot[b], fourier[f]);
}

/* Meat 80 mm thick, 5 C, in air of 121 C, 20 W/m2K; computed: 60 terms of the series by an independent program. */
static void test_slab_of_meat(void **state)
{
    (void)state;
    static const struct {
        double hours, centre, surface, mean;
    } rows[] = {{0.5, 8.546, 58.122, 23.703}, {1, 21.173, 69.542, 37.565}, {2, 46.427, 83.288, 59.166},
                {4, 79.946, 100.255, 86.970}, {6, 98.406, 109.583, 102.271}, {8, 108.565, 114.716, 110.692}};
    problem_setup setup = reference_slab(0.04, 100);
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = convective_surface(121.0, 20.0);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        problem_run_to(&p, rows[i].hours * hour);
        assert_close_abs(problem_temperature(&p, 0.0), rows[i].centre, 0.01);
        assert_close_abs(problem_surface_temperature(&p, SW_SIDE_TOP), rows[i].surface, 0.01);
        assert_close_abs(problem_mean_temperature(&p), rows[i].mean, 0.01);
    }
    problem_free(&p);
}

/* The default mesh of a cook (60 cells over both halves, 0.3 mm at the surface) and its default tolerance are enough
 * for the same slab within 0.15 K. */
static void test_default_mesh(void **state)
{
    (void)state;
    problem_setup setup = reference_slab(0.04, 30);
    setup.layers[0].high_cell = 0.0003;
    setup.tolerance = 1e-5;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = convective_surface(121.0, 20.0);
    problem_run_to(&p, 2.0 * hour);
    assert_close_abs(problem_temperature(&p, 0.0), 46.427, 0.15);
    assert_close_abs(problem_surface_temperature(&p, SW_SIDE_TOP), 83.288, 0.15);
    problem_run_to(&p, 6.0 * hour);
    assert_close_abs(problem_temperature(&p, 0.0), 98.406, 0.15);
    problem_free(&p);
}

typedef struct depth_reading {
    double depth, time, temperature; /* [mm], [s], [C] */
} depth_reading;

static void check_half_space(sw_surface surface, double initial, const depth_reading *rows, size_t count)
{
    const double thickness = 0.3;
    problem_setup setup = reference_slab(thickness, 300);
    setup.layers[0].high_cell = 0.0001;
    setup.initial_temperature = initial;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = surface;
    for (size_t i = 0; i < count; i++) {
        if (rows[i].time > p.time)
            problem_run_to(&p, rows[i].time);
        assert_close_abs(problem_temperature(&p, thickness - 1e-3 * rows[i].depth), rows[i].temperature, 0.02);
    }
    problem_free(&p);
}

/* A half-space whose surface jumps in temperature, meets hot air, or gets a constant flux: H. S. Carslaw and J. C.
 * Jaeger, Conduction of Heat in Solids, chapter 2 (from memory); values computed from erfc, erfc with exp, and
 * ierfc. */
static void test_half_space(void **state)
{
    (void)state;
    static const depth_reading fixed[] = {{5, 600, 69.599}, {10, 600, 43.893}, {10, 1800, 65.218}, {20, 3600, 52.555}};
    static const depth_reading air[] = {{0, 600, 41.863},   {5, 600, 26.682},   {10, 600, 16.374},  {0, 1800, 58.117},
                                        {10, 1800, 34.152}, {0, 3600, 69.199}, {20, 3600, 31.905}};
    static const depth_reading flux[] = {{0, 600, 47.986}, {10, 600, 17.392}, {0, 3600, 110.294}, {10, 3600, 71.765}};
    check_half_space(fixed_surface(100.0), 5.0, fixed, sizeof fixed / sizeof *fixed);
    check_half_space(convective_surface(121.0, 20.0), 5.0, air, sizeof air / sizeof *air);
    check_half_space(flux_surface(2000.0), 5.0, flux, sizeof flux / sizeof *flux);
}

/* Pipeline wall: F. P. Incropera and D. P. DeWitt, example 5.5 (from memory; one-term answers 42.9 and 45.2 C); the
 * full series gives 43.017 and 45.364 C and 0.79759 of the heat. Shifted up by 40 K: the tables begin at -10 C. */
static void test_pipeline_wall(void **state)
{
    (void)state;
    problem_setup setup = reference_slab(0.04, 100);
    setup.solids[0].conductivity = 63.9;
    setup.solids[0].heat_capacity = 63.9 / 18.8e-6;
    setup.initial_temperature = -20.0 + 40.0;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = convective_surface(60.0 + 40.0, 500.0);
    problem_run_to(&p, 480.0);
    assert_close_abs(problem_temperature(&p, 0.0), 43.017 + 40.0, 0.005);
    assert_close_abs(problem_surface_temperature(&p, SW_SIDE_TOP), 45.364 + 40.0, 0.005);
    assert_close_abs((problem_mean_temperature(&p) - 20.0) / 80.0, 0.79759, 5e-5);
    problem_free(&p);
}

static double time_until(problem *p, size_t cell, double temperature, double limit)
{
    const sw_probe probe = {.count = 1, .cell = {cell}, .weight = {1.0}};
    const sw_segment_end end = {.by_probe = true, .probe_count = 1, .probes = &probe,
                                .temperature = temperature + 273.15};
    const sw_roots roots = sw_segment_roots(&end);
    assert_int_equal(sw_integrator_start(p->integrator, p->time, limit, &roots), SW_OK);
    for (sw_step_end how = {.ended = false}; !how.ended;)
        assert_int_equal(sw_integrator_step(p->integrator, &p->time, &how), SW_OK);
    return p->time;
}

/* Boiled egg: Y. A. Cengel, Heat Transfer, example on transient charts (from memory; one-term answer about 865 s);
 * the full series gives 861.5 s. */
static void test_boiled_egg(void **state)
{
    (void)state;
    problem_setup setup = reference_slab(0.025, 200);
    setup.shape = SW_SHAPE_SPHERE;
    setup.insulated_low = false;
    setup.solids[0].conductivity = 0.627;
    setup.solids[0].heat_capacity = 0.627 / 0.151e-6;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = convective_surface(95.0, 1200.0);
    assert_close_abs(time_until(&p, 0, 70.0, 2000.0), 861.5, 0.5);
    problem_free(&p);
}

/* Buried main: F. P. Incropera and D. P. DeWitt, example 5.7 (from memory; 0.68 m): soil of 20 C, its surface at -15
 * C for 60 days, 0 C at 0.677 m. Shifted up by 20 K. */
static void test_buried_main(void **state)
{
    (void)state;
    problem_setup setup = reference_slab(12.0, 400);
    setup.layers[0].high_cell = 0.005;
    setup.solids[0].conductivity = 0.138e-6 * 1e6;
    setup.solids[0].heat_capacity = 1e6;
    setup.initial_temperature = 40.0;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = fixed_surface(5.0);
    problem_run_to(&p, 60.0 * 86400.0);
    assert_close_abs(problem_temperature(&p, 12.0 - 0.677), 20.0, 0.03);
    problem_free(&p);
}

/* Two layers, a contact resistance and an air film in series, steady; computed from the sum of resistances. The contact
 * resistance stands where a wrap's does. */
static void test_steady_layers(void **state)
{
    (void)state;
    problem_setup setup = {.shape = SW_SHAPE_SLAB,
                           .layer_count = 2,
                           .layers = {{.thickness = 0.040, .cells = 20}, {.thickness = 0.005, .cells = 5}},
                           .solids = {reference_meat(), reference_meat()},
                           .initial_temperature = 60.0};
    setup.solids[1].conductivity = 0.20;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_BOTTOM) = fixed_surface(60.0);
    *problem_surface(&p, SW_SIDE_TOP) = convective_surface(121.0, 20.0);
    problem_surface(&p, SW_SIDE_TOP)->resistance = 0.01;
    problem_run_to(&p, 200.0 * hour);
    double surface = problem_surface_temperature(&p, SW_SIDE_TOP);
    assert_close_abs(p.transport->balances[1].convection_heat, 350.799, 1e-3);
    assert_close_abs(p.transport->balances[0].convection_heat, -350.799, 1e-3);
    assert_close_abs(surface, 99.952, 1e-3);
    assert_close_abs(surface + 0.01 * p.transport->balances[1].convection_heat, 103.460, 1e-3);
    /* The interface: from the cell below it, straight on. */
    const double *t = problem_state(&p);
    assert_close_abs(t[2 * 19] - 273.15 + 350.799 * 0.001 / 0.45, 91.182, 1e-3);
    problem_free(&p);
}

/* 40 mm of meat under 8 mm of fat (k 0.20 W/mK, 930 kg/m3, 2300 J/kgK); computed: Laplace transform inverted by the
 * fixed Talbot method, 24 terms. */
static void test_two_layers(void **state)
{
    (void)state;
    static const struct {
        double hours, temperature[4];
    } rows[] = {{0.5, {6.166, 11.055, 34.941, 71.857}},
                {1, {13.167, 21.239, 46.703, 79.023}},
                {2, {31.154, 38.879, 60.873, 87.148}},
                {4, {60.024, 65.320, 80.287, 98.085}},
                {6, {79.655, 83.246, 93.395, 105.463}}};
    problem_setup setup = reference_slab(0.040, 160);
    setup.layer_count = 2;
    setup.layers[1] = (sw_layer){.thickness = 0.008, .cells = 64};
    setup.solids[1] = reference_meat();
    setup.solids[1].conductivity = 0.20;
    setup.solids[1].heat_capacity = 930.0 * 2300.0;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = convective_surface(121.0, 20.0);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        problem_run_to(&p, rows[i].hours * hour);
        const double *t = problem_state(&p);
        /* At the interface the temperature bends: weigh the two cells beside it with their conductances. */
        const double below = 0.45 / (0.5 * 0.00025), above = 0.20 / (0.5 * 0.000125);
        double interface = (below * t[2 * 159] + above * t[2 * 160]) / (below + above) - 273.15;
        assert_close_abs(problem_temperature(&p, 0.0), rows[i].temperature[0], 0.01);
        assert_close_abs(problem_temperature(&p, 0.02), rows[i].temperature[1], 0.01);
        assert_close_abs(interface, rows[i].temperature[2], 0.01);
        assert_close_abs(problem_surface_temperature(&p, SW_SIDE_TOP), rows[i].temperature[3], 0.01);
    }
    problem_free(&p);
}

typedef struct cycle {
    double period, amplitude;
} cycle;

static void cycle_air(double time, const double *lumped, sw_surface *surfaces, void *data)
{
    (void)lumped;
    const cycle *c = data;
    surfaces[0].air_temperature = 121.0 + 273.15 + c->amplitude * sin(2.0 * pi * time / c->period);
}

/* Amplitudes, over that of the air, at the surface, 10 mm deep and in the middle, 40 mm deep. */
static void cycling_amplitudes(double period, double amplitude[3], double *surface_phase)
{
    enum { SAMPLES = 32 };
    cycle c = {period, 10.0};
    problem_setup setup = reference_slab(0.04, 160);
    setup.initial_temperature = 121.0;
    setup.tolerance = 1e-7;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = convective_surface(121.0, 20.0);
    p.transport->lumped.surround = cycle_air;
    p.transport->follows = true;
    p.transport->lumped.data = &c;
    /* After ten of the slab's own time constants (12100 s) its start is forgotten. */
    double start = period * ceil(121000.0 / period), in_phase[3] = {0}, out_of_phase[3] = {0};
    problem_run_to(&p, start);
    for (int i = 0; i < SAMPLES; i++) {
        problem_run_to(&p, start + period * (i + 1) / SAMPLES);
        double angle = 2.0 * pi * (i + 1) / SAMPLES;
        const double value[3] = {problem_surface_temperature(&p, SW_SIDE_TOP), problem_temperature(&p, 0.03),
                                 problem_temperature(&p, 0.0)};
        for (int k = 0; k < 3; k++) {
            in_phase[k] += (value[k] - 121.0) * sin(angle) * 2.0 / SAMPLES;
            out_of_phase[k] += (value[k] - 121.0) * cos(angle) * 2.0 / SAMPLES;
        }
    }
    for (int k = 0; k < 3; k++)
        amplitude[k] = hypot(in_phase[k], out_of_phase[k]) / c.amplitude;
    *surface_phase = atan2(out_of_phase[0], in_phase[0]);
    problem_free(&p);
}

/* A pit that cycles; computed from the complex hyperbolic cosine solution. */
static void test_cycling_pit(void **state)
{
    (void)state;
    static const struct {
        double period, amplitude[3], phase;
    } rows[] = {{600, {.13659, .01727, 6.985e-5}, -.689},
                {1200, {.18497, .04286, 1.0667e-3}, -.654},
                {3600, {.28900, .12439, .01972}, -.580}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double amplitude[3], phase;
        cycling_amplitudes(rows[i].period, amplitude, &phase);
        assert_close_rel(amplitude[0], rows[i].amplitude[0], 0.01);
        assert_close_rel(amplitude[1], rows[i].amplitude[1], 0.01);
        assert_close_abs(amplitude[2], rows[i].amplitude[2], fmax(0.01 * rows[i].amplitude[2], 1e-6));
        assert_close_abs(phase, rows[i].phase, 0.005);
    }
}

/* Conductivity 0.40 (1 + 0.004 T), 50 mm, faces at 20 and 100 C; computed by Kirchhoff's transformation. */
static void test_varying_conductivity(void **state)
{
    (void)state;
    problem_setup setup = reference_slab(0.05, 101);
    setup.insulated_low = false;
    setup.solids[0].conductivity = 0.40;
    setup.solids[0].conductivity_slope = 0.004;
    setup.solids[0].reference_temperature = 273.15;
    setup.initial_temperature = 60.0;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_BOTTOM) = fixed_surface(20.0);
    *problem_surface(&p, SW_SIDE_TOP) = fixed_surface(100.0);
    problem_run_to(&p, 200.0 * hour);
    problem_surface_temperature(&p, SW_SIDE_TOP);
    assert_close_rel(p.transport->balances[1].convection_heat, 793.600, 1e-4);
    assert_close_rel(p.transport->balances[0].convection_heat, -793.600, 1e-4);
    assert_close_abs(problem_temperature(&p, 0.025), 62.570, 2e-3);
    problem_free(&p);
}

/* Pulled after 2 h and perfectly insulated: all of it comes to the mean of that moment, 59.166 C (computed: series).
 * The centre, at 46.43 C, rises by 12.74 K. */
static void test_carry_over(void **state)
{
    (void)state;
    problem_setup setup = reference_slab(0.04, 100);
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = convective_surface(121.0, 20.0);
    problem_run_to(&p, 2.0 * hour);
    *problem_surface(&p, SW_SIDE_TOP) = flux_surface(0.0);
    problem_run_to(&p, 30.0 * hour);
    assert_close_abs(problem_temperature(&p, 0.0), 59.166, 0.005);
    assert_close_abs(problem_surface_temperature(&p, SW_SIDE_TOP), 59.166, 0.005);
    problem_free(&p);
}

/* A cosine profile that levels out in an insulated slab; exact: 70 - 25 cos(pi x / L) exp(-(pi / L)^2 a t). */
static void test_levelling(void **state)
{
    (void)state;
    static const struct {
        double time, low, high;
    } rows[] = {{600, 54.110, 85.890}, {1800, 63.581, 76.419}, {3600, 68.352, 71.648}};
    problem_setup setup = reference_slab(0.04, 200);
    problem p;
    problem_init(&p, &setup);
    for (size_t i = 0; i < p.mesh->cell_count; i++)
        problem_state(&p)[2 * i] = 70.0 + 273.15 - 25.0 * cos(pi * p.mesh->position[i] / 0.04);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        problem_run_to(&p, rows[i].time);
        assert_close_abs(problem_temperature(&p, 0.0), rows[i].low, 2e-3);
        assert_close_abs(problem_surface_temperature(&p, SW_SIDE_TOP), rows[i].high, 2e-3);
        assert_close_abs(problem_mean_temperature(&p), 70.0, 1e-6);
    }
    problem_free(&p);
}

/* A thin plate of 1e4 J/m2K heated by radiation alone (emissivity 0.95, walls 394.15 K) from 293.15 to 323.15 K takes
 * 371.118 s; computed: exact integral of dT / (Tw^4 - T^4). */
static void test_radiation_alone(void **state)
{
    (void)state;
    problem_setup setup = reference_slab(0.001, 4);
    setup.solids[0].heat_capacity = 1e7;
    setup.solids[0].conductivity = 1e6;
    setup.initial_temperature = 20.0;
    problem p;
    problem_init(&p, &setup);
    sw_surface *surface = problem_surface(&p, SW_SIDE_TOP);
    surface->wall_temperature = 394.15;
    surface->emissivity = 0.95;
    assert_close_rel(time_until(&p, 0, 50.0, 1000.0), 371.118, 1e-5);
    problem_free(&p);
}

/* A wrapped rest: from 93 C in a room of 25 C, 4 W/m2K through wrap and air; hours until the centre reads 80, 70,
 * 63, 60 and 57 C (computed: series). Half of the resistance is in the wrap, half in the air. */
static void test_wrapped_rest(void **state)
{
    (void)state;
    static const double reading[] = {80, 70, 63, 60, 57}, hours[] = {3.012, 5.309, 7.244, 8.185, 9.211};
    problem_setup setup = reference_slab(0.04, 200);
    setup.initial_temperature = 93.0;
    problem p;
    problem_init(&p, &setup);
    sw_surface *surface = problem_surface(&p, SW_SIDE_TOP);
    *surface = convective_surface(25.0, 8.0);
    surface->resistance = 0.125;
    for (int i = 0; i < 5; i++)
        assert_close_abs(time_until(&p, 0, reading[i], 20.0 * hour) / hour, hours[i], 0.001);
    problem_free(&p);
}

/* A hold: air of 65 C, 6 W/m2K, from 90 C; centre after 1, 2, 4 and 8 h (computed: series). */
static void test_hot_hold(void **state)
{
    (void)state;
    static const double hours[] = {1, 2, 4, 8}, reading[] = {88.600, 85.939, 81.339, 74.943};
    problem_setup setup = reference_slab(0.04, 100);
    setup.initial_temperature = 90.0;
    problem p;
    problem_init(&p, &setup);
    *problem_surface(&p, SW_SIDE_TOP) = convective_surface(65.0, 6.0);
    for (int i = 0; i < 4; i++) {
        problem_run_to(&p, hours[i] * hour);
        assert_close_abs(problem_temperature(&p, 0.0), reading[i], 0.002);
    }
    problem_free(&p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_shapes),          cmocka_unit_test(test_slab_of_meat),
        cmocka_unit_test(test_default_mesh),    cmocka_unit_test(test_half_space),
        cmocka_unit_test(test_pipeline_wall),   cmocka_unit_test(test_boiled_egg),
        cmocka_unit_test(test_buried_main),     cmocka_unit_test(test_steady_layers),
        cmocka_unit_test(test_two_layers),      cmocka_unit_test(test_cycling_pit),
        cmocka_unit_test(test_varying_conductivity), cmocka_unit_test(test_carry_over),
        cmocka_unit_test(test_levelling),       cmocka_unit_test(test_radiation_alone),
        cmocka_unit_test(test_wrapped_rest),    cmocka_unit_test(test_hot_hold),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
