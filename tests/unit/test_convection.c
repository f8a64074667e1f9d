/* SPDX-License-Identifier: BSD-3-Clause */
/* Correlations of heat transfer against worked examples. "Incropera": F. P. Incropera, D. P. DeWitt, Fundamentals of Heat
 * and Mass Transfer; inputs and answers from memory, with the book's own air properties. */
#include "close.h"

#include "convection.h"
#include "pit_convection.h"
#include "run_cook.h"

#include <stallwright/moist_air.h>

#include <math.h>

/* Incropera, example 7.1: air at 300 C and 6 kPa along 0.5 m of plate at 27 C, 10 m/s: Re 9597, Pr 0.687, Nu 57.4, with
 * k 0.0364 h 4.18 W/m2K. Example 7.2, the first five strips, 0.25 m, of a plate at 230 C in air of 25 C, 60 m/s: Re 5.69e5,
 * Pr 0.69, Nu 546, with k 0.0338 h 74 W/m2K. */
static void test_along_plate(void **state)
{
    (void)state;
    assert_close_rel(sw_nusselt_along_plate(9597.0, 0.687), 57.4, 1e-3);
    assert_close_rel(sw_nusselt_along_plate(9597.0, 0.687) * 0.0364 / 0.5, 4.18, 2e-3);
    assert_close_rel(sw_nusselt_along_plate(5.69e5, 0.69), 546.0, 5e-3);
    assert_close_rel(sw_nusselt_along_plate(5.69e5, 0.69) * 0.0338 / 0.25, 74.0, 7e-3);
    /* The two laws meet where the layer turns. */
    assert_close_rel(sw_nusselt_along_plate(4.9999e5, 0.7), sw_nusselt_along_plate(5.0001e5, 0.7), 1e-3);
}

/* Incropera, example 7.4: a cylinder of 12.7 mm, air at 26.2 C and 10 m/s, film at 350 K: Re 6071, Pr 0.70, Churchill and
 * Bernstein give Nu 40.6 and with k 0.030 h 96 W/m2K. */
static void test_across_cylinder(void **state)
{
    (void)state;
    assert_close_rel(sw_nusselt_across_cylinder(6071.0, 0.70), 40.6, 2e-3);
    assert_close_rel(sw_nusselt_across_cylinder(6071.0, 0.70) * 0.030 / 0.0127, 96.0, 2e-3);
}

/* Incropera, example 9.2: a glass door 0.71 m tall at 232 C in a room of 23 C: Ra 1.813e9, Pr 0.690, Nu 147, with
 * k 0.0338 h 7.0 W/m2K. Example 9.4: a pipe of 0.1 m at 165 C in air of 23 C: Ra 5.073e6, Pr 0.697, Nu 23.3, with
 * k 0.0313 h 7.29 W/m2K; the formula itself gives 23.091 (computed apart), so the book rounds on the way. */
static void test_natural_plate_and_cylinder(void **state)
{
    (void)state;
    assert_close_rel(sw_nusselt_vertical_plate(1.813e9, 0.690), 147.0, 5e-3);
    assert_close_rel(sw_nusselt_vertical_plate(1.813e9, 0.690) * 0.0338 / 0.71, 7.0, 7e-3);
    assert_close_rel(sw_nusselt_horizontal_cylinder(5.073e6, 0.697), 23.091, 1e-4);
    assert_close_rel(sw_nusselt_horizontal_cylinder(5.073e6, 0.697), 23.3, 1e-2);
    assert_close_rel(sw_nusselt_horizontal_cylinder(5.073e6, 0.697) * 0.0313 / 0.1, 7.29, 1e-2);
}

/* Incropera, example 9.3: a duct 0.75 m wide at 45 C in air of 15 C, L = 0.375 m, k 0.0265: Ra 1.38e8; top 5.47, bottom
 * 2.07 W/m2K. Below 1e7 the upper law is 0.54 Ra^(1/4). */
static void test_natural_horizontal_plate(void **state)
{
    (void)state;
    assert_close_rel(sw_nusselt_horizontal_plate(1.38e8, true) * 0.0265 / 0.375, 5.47, 2e-3);
    assert_close_rel(sw_nusselt_horizontal_plate(1.38e8, false) * 0.0265 / 0.375, 2.07, 2e-3);
    assert_close_rel(sw_nusselt_horizontal_plate(1e4, true), 5.4, 1e-12);
}

/* The same examples from the temperatures up, with this library's air: the properties add 1 or 2 %. Speeds of zero leave
 * natural convection alone. */
static void test_from_temperatures(void **state)
{
    (void)state;
    double h;
    const sw_air_stream pipe = {296.15, 438.15, 101325.0, 0.0};
    const sw_body_size round = {.is_round = true, .height = 0.1};
    const sw_air_stream plate = {573.15, 300.15, 6000.0, 10.0};
    const sw_body_size thin = {.height = 1e-3, .width = 0.5, .length = 1e4};
    const sw_air_stream duct = {288.15, 318.15, 101325.0, 0.0};
    const sw_body_size wide = {.height = 0.3, .width = 0.75, .length = 1e6};
    assert_int_equal(sw_side_convection(&pipe, &round, SW_SIDE_TOP, &h), SW_OK);
    /* The forced cylinder in still air has Nu 0.3, which the cubes make 1e-6 of the whole. */
    assert_close_rel(h, 7.29, 0.02);
    assert_int_equal(sw_side_convection(&plate, &thin, SW_SIDE_TOP, &h), SW_OK);
    assert_close_rel(h, 4.18, 0.02);
    assert_int_equal(sw_side_convection(&duct, &wide, SW_SIDE_TOP, &h), SW_OK);
    assert_close_rel(h, 5.47, 0.02);
    assert_int_equal(sw_side_convection(&duct, &wide, SW_SIDE_BOTTOM, &h), SW_OK);
    assert_close_rel(h, 2.07, 0.02);
    /* A cold duct stirs the air below it instead. */
    const sw_air_stream cold = {318.15, 288.15, 101325.0, 0.0};
    assert_int_equal(sw_side_convection(&cold, &wide, SW_SIDE_BOTTOM, &h), SW_OK);
    assert_close_rel(h, 5.47, 0.02);
    const sw_air_stream too_hot = {900.0, 600.0, 101325.0, 1.0};
    assert_int_equal(sw_side_convection(&too_hot, &wide, SW_SIDE_TOP, &h), SW_ERR_RANGE);
}

/* Cubes add: where both are alike the sum is 1.26 of each, and neither is ever above it. */
static void test_forced_and_natural_add(void **state)
{
    (void)state;
    const sw_body_size cut = {.height = 0.075, .width = 0.25, .length = 0.42};
    sw_air_stream stream = {394.15, 338.15, 101325.0, 0.0};
    double still, both, fast, before = 0.0;
    assert_int_equal(sw_side_convection(&stream, &cut, SW_SIDE_BOTTOM, &still), SW_OK);
    for (double speed = 0.1; speed < 5.0; speed *= 1.5) {
        stream.speed = speed;
        assert_int_equal(sw_side_convection(&stream, &cut, SW_SIDE_BOTTOM, &both), SW_OK);
        assert_true(both > still && both > before);
        before = both;
    }
    stream.speed = 1.0;
    stream.surface_temperature = stream.air_temperature; /* no natural convection left, film properties near enough */
    assert_int_equal(sw_side_convection(&stream, &cut, SW_SIDE_BOTTOM, &fast), SW_OK);
    stream.surface_temperature = 338.15;
    assert_int_equal(sw_side_convection(&stream, &cut, SW_SIDE_BOTTOM, &both), SW_OK);
    assert_close_rel(both, cbrt(pow(still, 3.0) + pow(fast, 3.0)), 0.01);
}

static double mean_convection(const sw_scenario *scenario, double celsius)
{
    double h[SW_SIDE_COUNT];
    sw_pit_convection(scenario, 1060.0, celsius + 273.15, 101325.0, h);
    /* A cold cut stirs the air under it and at its ends, not the air on it. */
    assert_true(scenario->meat.shape == SW_SHAPE_CYLINDER || (h[SW_SIDE_TOP] < h[SW_SIDE_BOTTOM]));
    return 0.4 * h[SW_SIDE_TOP] + 0.4 * h[SW_SIDE_BOTTOM] + 0.2 * h[SW_SIDE_END];
}

/* A brisket in a slow pit of any kind gets 4 to 10 W/m2K, in a fan oven 10 to 30, more from faster air, less in thin air of a mountain (3 to 10:
 * smokers and still ovens, from memory; all at 121 C). */
static void test_brisket_in_a_pit(void **state)
{
    (void)state;
    sw_scenario s;
    sw_scenario_init(&s);
    sw_scenario_settle(&s);
    for (int kind = 0; kind < SW_PIT_KIND_COUNT; kind++) {
        s.pit.kind = (sw_pit_kind)kind;
        if (kind == SW_PIT_FAN_OVEN)
            assert_within(mean_convection(&s, 121.0), 10.0, 30.0);
        else
            assert_within(mean_convection(&s, 121.0), 4.0, 10.0);
    }
    s.pit.air_speed = 0.3;
    double slow = mean_convection(&s, 121.0);
    s.pit.air_speed = 3.0;
    assert_within(mean_convection(&s, 121.0), 1.5 * slow, 3.2 * slow);
    s.meat.shape = SW_SHAPE_CYLINDER;
    s.pit.air_speed = 0.3;
    assert_within(mean_convection(&s, 121.0), 5.0, 12.0);
}

/* A cook with its convection worked out lies between those with the least and the most of its sides given, and the sides
 * differ. Balance makes the air what outside and fire make it. */
static void test_cook_with_convection_worked_out(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    double h[SW_SIDE_COUNT];
    s.pull = (sw_ending){SW_ENDING_DURATION, 3.0 * 3600.0};
    sw_pit_convection(&s, 1060.0, s.pit.steps[0].temperature, 101325.0, h);
    double warmed[3];
    const double given[3] = {h[SW_SIDE_TOP], 0.0, h[SW_SIDE_BOTTOM]};
    for (int i = 0; i < 3; i++) {
        sw_history *history;
        s.pit.convection = given[i];
        run_cook(&s, &history);
        warmed[i] = history->budget.convection_heat;
        sw_history_destroy(history);
    }
    assert_true(warmed[0] < warmed[1] && warmed[1] < warmed[2]);
    assert_close_rel(warmed[1], 0.5 * (warmed[0] + warmed[2]), 0.05);
}

/* A pit whose fire dries nothing off and whose outside air is given is one with that humidity given; before the meat lets juice
 * go, of which it does the more the damper it is heated. */
static void test_cook_with_balance(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    s.pull = (sw_ending){SW_ENDING_DURATION, 1.0 * 3600.0};
    s.pit.kind = SW_PIT_ELECTRIC;
    s.pit.outside_temperature = 298.15;
    s.pit.outside_relative_humidity = 0.5;
    s.pit.humidity_ratio = 0.621945 * 1584.9 / (101325.0 - 1584.9);
    double evaporated[3];
    for (int i = 0; i < 3; i++) {
        sw_history *history;
        s.pit.humidity = i == 0 ? SW_HUMIDITY_GIVEN : SW_HUMIDITY_BALANCE;
        s.pit.fuel = i == 2 ? SW_FUEL_WOOD : SW_FUEL_USUAL;
        run_cook(&s, &history);
        evaporated[i] = history->budget.evaporated_mass;
        sw_history_destroy(history);
    }
    assert_true(evaporated[2] < evaporated[0]);
    assert_within(evaporated[1], evaporated[2], evaporated[0] * (1.0 + 1e-4));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_along_plate),
        cmocka_unit_test(test_across_cylinder),
        cmocka_unit_test(test_natural_plate_and_cylinder),
        cmocka_unit_test(test_natural_horizontal_plate),
        cmocka_unit_test(test_from_temperatures),
        cmocka_unit_test(test_forced_and_natural_add),
        cmocka_unit_test(test_brisket_in_a_pit),
        cmocka_unit_test(test_cook_with_convection_worked_out),
        cmocka_unit_test(test_cook_with_balance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
