/* SPDX-License-Identifier: BSD-3-Clause */
/* The pit's temperature over time: closed forms of ramps, swings and openings, and what they do to a slab. */
#include "close.h"

#include "pit_schedule.h"
#include "problem.h"
#include "run_cook.h"

#include <math.h>

static const double zero_celsius = 273.15, pi = 3.14159265358979323846;

static sw_pit steady_pit(double celsius)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.pit.steps[0].temperature = celsius + zero_celsius;
    return s.pit;
}

static double air(const sw_pit *pit, double time)
{
    return sw_pit_at(pit, time, INFINITY).air_temperature - zero_celsius;
}

static void test_ramp_is_straight(void **state)
{
    (void)state;
    sw_pit pit = steady_pit(100.0);
    pit.step_count = 4;
    pit.steps[0].ramp = true;
    pit.steps[1] = (sw_pit_step){3600.0, 140.0 + zero_celsius, false};
    pit.steps[2] = (sw_pit_step){7200.0, 120.0 + zero_celsius, true};
    pit.steps[3] = (sw_pit_step){9000.0, 130.0 + zero_celsius, false};
    assert_close_abs(air(&pit, 0.0), 100.0, 1e-10);
    assert_close_abs(air(&pit, 900.0), 110.0, 1e-10);
    assert_close_abs(air(&pit, 3599.0), 140.0 - 40.0 / 3600.0, 1e-10);
    assert_close_abs(air(&pit, 5000.0), 140.0, 1e-10);
    assert_close_abs(air(&pit, 7200.0), 120.0, 1e-10);
    assert_close_abs(air(&pit, 8100.0), 125.0, 1e-10);
    assert_close_abs(air(&pit, 1e6), 130.0, 1e-10);
    /* At the end of a stretch the jump has not come yet. */
    assert_close_abs(sw_pit_at(&pit, 7200.0, 7200.0).air_temperature, 140.0 + zero_celsius, 1e-10);
    /* A step after a ramp only bends the line. */
    assert_close_abs(sw_pit_next_jump(&pit, 0.0), 7200.0, 0.0);
    assert_true(isinf(sw_pit_next_jump(&pit, 7200.0)));
}

static void test_lid(void **state)
{
    (void)state;
    sw_pit pit = steady_pit(120.0);
    pit.wall_offset = -5.0;
    pit.outside_temperature = 20.0 + zero_celsius;
    pit.opening_count = 2;
    pit.openings[0] = 1000.0;
    pit.openings[1] = 1600.0;
    pit.lid_duration = 100.0;
    pit.lid_drop = 0.4;
    pit.lid_recovery = 250.0;
    assert_close_abs(air(&pit, 999.0), 120.0, 1e-10);
    assert_close_abs(air(&pit, 1000.0), 80.0, 1e-10);
    assert_close_abs(sw_pit_at(&pit, 1000.0, 1000.0).air_temperature, 120.0 + zero_celsius, 1e-10);
    assert_close_abs(air(&pit, 1100.0), 80.0, 1e-10);
    assert_close_abs(air(&pit, 1350.0), 120.0 - 40.0 * exp(-1.0), 1e-10);
    assert_close_abs(air(&pit, 1600.0), 80.0, 1e-10); /* opened again while it recovers: the full drop, once */
    assert_close_abs(sw_pit_at(&pit, 1000.0, INFINITY).wall_temperature, 115.0 + zero_celsius, 1e-10);
    assert_close_abs(sw_pit_next_jump(&pit, 1000.0), 1600.0, 0.0);
}

/* A step never leaps over two bends, nor over more than a quarter of a swing. */
static void test_longest_step(void **state)
{
    (void)state;
    sw_pit pit = steady_pit(120.0);
    assert_true(isinf(sw_pit_longest_step(&pit, 0.0)));
    pit.step_count = 3;
    pit.steps[1] = (sw_pit_step){3600.0, 390.0, true};
    pit.steps[2] = (sw_pit_step){3660.0, 395.0, false};
    assert_close_abs(sw_pit_longest_step(&pit, 0.0), 3600.0, 0.0);
    assert_close_abs(sw_pit_longest_step(&pit, 3595.0), 60.0, 0.0);
    assert_true(isinf(sw_pit_longest_step(&pit, 3610.0)));
    pit.cycle_swing = 8.0;
    pit.cycle_period = 700.0;
    assert_close_abs(sw_pit_longest_step(&pit, 0.0), 175.0, 0.0);
    assert_close_abs(sw_pit_longest_step(&pit, 3595.0), 60.0, 0.0);
    assert_close_abs(air(&pit, 175.0), 128.0, 1e-9);
    assert_close_abs(air(&pit, 525.0), 112.0, 1e-9);
}

/* A slab's surface and inside under a swinging pit. */
typedef struct slab_in_pit {
    problem problem;
    sw_pit pit;
} slab_in_pit;

static void follow(double time, const double *lumped, sw_surface *surfaces, void *data)
{
    (void)lumped;
    const slab_in_pit *s = data;
    for (size_t i = 0; i < s->problem.mesh->boundary_face_count; i++)
        surfaces[i].air_temperature = sw_pit_at(&s->pit, time, INFINITY).air_temperature;
}

static double longest_step(double time, void *data)
{
    return sw_pit_longest_step(&((const slab_in_pit *)data)->pit, time);
}

static void init_slab(slab_in_pit *s, const sw_pit *pit, double start, double tolerance)
{
    problem_setup setup = reference_slab(0.04, 240);
    setup.layers[0].high_cell = 0.0001;
    setup.initial_temperature = start;
    setup.tolerance = tolerance;
    problem_init(&s->problem, &setup);
    s->pit = *pit;
    *problem_surface(&s->problem, SW_SIDE_TOP) = convective_surface(121.0, 20.0);
    s->problem.transport->lumped.surround = follow;
    s->problem.transport->follows = true;
    s->problem.transport->lumped.longest_step = longest_step;
    s->problem.transport->lumped.data = s;
}

enum { PLACES = 3, SAMPLES = 64 };

/* Amplitude over the air's, and the lag behind it, of the last period by its first Fourier component. */
static void swing_of_slab(double period, double tolerance, double ratio[PLACES], double *lag)
{
    sw_pit pit = steady_pit(121.0);
    pit.cycle_swing = 10.0;
    pit.cycle_period = period;
    slab_in_pit s;
    init_slab(&s, &pit, 121.0, tolerance);
    const double begin = period * ceil(48.0 * 3600.0 / period);
    double sine[PLACES] = {0}, cosine[PLACES] = {0};
    problem_run_to(&s.problem, begin);
    for (int i = 0; i < SAMPLES; i++) {
        problem_run_to(&s.problem, begin + (i + 0.5) * period / SAMPLES);
        const double at[PLACES] = {problem_surface_temperature(&s.problem, SW_SIDE_TOP),
                                   problem_temperature(&s.problem, 0.03), problem_temperature(&s.problem, 0.0)};
        for (int k = 0; k < PLACES; k++) {
            sine[k] += 2.0 / SAMPLES * (at[k] - 121.0) * sin(2.0 * pi * s.problem.time / period);
            cosine[k] += 2.0 / SAMPLES * (at[k] - 121.0) * cos(2.0 * pi * s.problem.time / period);
        }
    }
    for (int k = 0; k < PLACES; k++)
        ratio[k] = hypot(sine[k], cosine[k]) / 10.0;
    *lag = atan2(cosine[0], sine[0]);
    problem_free(&s.problem);
}

/* A slab of half-thickness 40 mm, k 0.45, rho c 3.675e6, h 20, in air that swings as a sine: H. S. Carslaw and J. C.
 * Jaeger, Conduction of Heat in Solids, 3.6 (from memory); amplitude ratios at the surface, 10 mm deep and in the middle,
 * and the surface's phase, computed from cosh(x sqrt(i w / alpha)). */
static void test_swing_in_a_slab(void **state)
{
    (void)state;
    static const struct {
        double period, surface, deep, centre, phase;
    } rows[] = {{600.0, 0.13659, 0.01727, 6.9855e-5, -0.689},
                {1200.0, 0.18497, 0.04286, 1.07e-3, -0.654},
                {3600.0, 0.28900, 0.12439, 0.01972, -0.580}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double ratio[PLACES], phase;
        swing_of_slab(rows[i].period, 1e-8, ratio, &phase);
        assert_close_rel(ratio[0], rows[i].surface, 0.005);
        assert_close_rel(ratio[1], rows[i].deep, 0.01);
        assert_close_rel(ratio[2], rows[i].centre, 0.01);
        assert_close_abs(phase, rows[i].phase, 0.002);
    }
}

/* Air that rises at a steady rate: once the start has died away the slab rises at the same rate, its middle behind the air
 * by r L^2 / (2 alpha) + r L rho c / h (quasi-steady heating; derived).
 * After 48 h the slowest eigenfunction is down to 1e-6. */
static void test_slab_behind_a_ramp(void **state)
{
    (void)state;
    const double rate = 2.0 / 3600.0, end = 48.0 * 3600.0, length = 0.04, capacity = 1050.0 * 3500.0;
    sw_pit pit = steady_pit(60.0);
    pit.step_count = 2;
    pit.steps[0].ramp = true;
    pit.steps[1] = (sw_pit_step){end, 60.0 + zero_celsius + rate * end, false};
    slab_in_pit s;
    init_slab(&s, &pit, 60.0, 0.0);
    problem_run_to(&s.problem, end);
    assert_close_abs(air(&pit, end) - problem_surface_temperature(&s.problem, SW_SIDE_TOP), rate * length * capacity / 20.0,
                     0.02);
    assert_close_abs(air(&pit, end) - problem_temperature(&s.problem, 0.0),
                     rate * length * capacity * (1.0 / 20.0 + length / (2.0 * 0.45)), 0.02);
    problem_free(&s.problem);
}

/* A cook sees what the schedule says: a row of every kind of change, and the means of the air by the history. */
static void test_cook_follows_the_pit(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    s.pit.step_count = 2;
    s.pit.steps[0].ramp = true;
    s.pit.steps[1] = (sw_pit_step){2.0 * 3600.0, 140.0 + zero_celsius, false};
    s.pit.cycle_swing = 6.0;
    s.pit.cycle_period = 900.0;
    s.pit.opening_count = 1;
    s.pit.openings[0] = 3.0 * 3600.0;
    s.pull = (sw_ending){SW_ENDING_DURATION, 4.0 * 3600.0};
    s.solver.output_interval = 60.0;
    sw_history *history;
    run_cook(&s, &history);
    for (size_t i = 0; i < history->row_count; i++) {
        double time = history->series[SW_SERIES_time][i], seen = history->series[SW_SERIES_air_temperature][i];
        if (time != s.pit.openings[0])
            assert_close_abs(seen, sw_pit_at(&s.pit, time, INFINITY).air_temperature, 1e-9);
    }
    assert_close_abs(history->budget.heat_residual, 0.0, 1e-4);
    assert_close_abs(history->budget.water_residual, 0.0, 1e-4);
    sw_history_destroy(history);
}

/* A pit turned up and down again by some kelvin, and its lid opened, every so often. */
static sw_scenario jumping_scenario(double step, size_t lids)
{
    sw_scenario s = pit_only_scenario();
    s.pit.step_count = 9;
    for (size_t i = 1; i < s.pit.step_count; i++)
        s.pit.steps[i] = (sw_pit_step){.start = 4000.0 * (double)i, .temperature = s.pit.steps[0].temperature + (i % 2 ? step : 0.0)};
    s.pit.opening_count = lids;
    for (size_t i = 0; i < lids; i++)
        s.pit.openings[i] = 4000.0 * (double)i + 2000.0;
    return s;
}

static void assert_close_curves(const sw_history *a, const sw_history *b, double kelvin)
{
    const size_t rows = a->row_count < b->row_count ? a->row_count : b->row_count;
    for (size_t i = 0; i + 1 < rows; i++)
        assert_close_abs(a->series[SW_SERIES_probe_temperature][i], b->series[SW_SERIES_probe_temperature][i], kelvin);
}

/* Where the pit jumps the integrator goes on, over larger steps it starts afresh: as a much tighter tolerance has it, with the balances
 * closed, and no more work than with a spray of next to nothing at each jump, which forces a fresh start. */
static void test_integrator_goes_on_over_jumps(void **state)
{
    (void)state;
    const struct {
        double step;
        size_t lids;
    } pits[] = {{0.1, 0}, {3.0, 0}, {10.0, 0}, {20.0, 0}, {30.0, 0}, {50.0, 0}, {5.0, 6}};
    for (size_t i = 0; i < sizeof pits / sizeof *pits; i++) {
        sw_scenario s = jumping_scenario(pits[i].step, pits[i].lids), tight = s, fresh = s;
        sw_history *h, *exact, *restarted;
        tight.solver.relative_tolerance = 1e-8;
        fresh.spritz.amount = 1e-12;
        fresh.spritz.from = 4000.0;
        fresh.spritz.every = pits[i].lids > 0 ? 2000.0 : 4000.0;
        const sw_outcome o = run_cook(&s, &h), of_exact = run_cook(&tight, &exact), of_fresh = run_cook(&fresh, &restarted);
        print_message("  steps of %4.1f K, %zu lids: %ld steps, %ld from fresh starts; off by %+.1f s, %+.1f s\n", pits[i].step,
                      pits[i].lids, h->statistics.steps, restarted->statistics.steps, o.done_time - of_exact.done_time,
                      of_fresh.done_time - of_exact.done_time);
        assert_close_abs(o.done_time, of_exact.done_time, 2e-4 * of_exact.done_time);
        assert_close_curves(h, exact, 5e-3);
        assert_true(fabs(h->budget.heat_residual) < 1e-5 && fabs(h->budget.water_residual) < 1e-5 &&
                    fabs(h->budget.liquid_residual) < 1e-5);
        assert_true(h->statistics.steps <= restarted->statistics.steps);
        sw_history_destroy(h);
        sw_history_destroy(exact);
        sw_history_destroy(restarted);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_ramp_is_straight),   cmocka_unit_test(test_lid),
        cmocka_unit_test(test_longest_step),       cmocka_unit_test(test_swing_in_a_slab),
        cmocka_unit_test(test_slab_behind_a_ramp), cmocka_unit_test(test_cook_follows_the_pit),
        cmocka_unit_test(test_integrator_goes_on_over_jumps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
