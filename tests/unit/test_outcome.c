/* SPDX-License-Identifier: BSD-3-Clause */
/* The figures of an outcome on histories made by hand, where they are known exactly. */
#include "close.h"

#include <stallwright/outcome.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { ROWS_MAX = 2000 };

static const double hour = 3600.0, zero_celsius = 273.15, interval = 120.0;

/* The probe's heating rate runs straight from knot to knot [h], [K/h]. */
typedef struct knot {
    double time, rate;
} knot;

static double series[SW_SERIES_COUNT][ROWS_MAX];

static double rate_at(const knot *knots, size_t count, double time)
{
    for (size_t i = 0; i + 1 < count; i++)
        if (time <= knots[i + 1].time)
            return knots[i].rate + (knots[i + 1].rate - knots[i].rate) * (time - knots[i].time) /
                                       (knots[i + 1].time - knots[i].time);
    return knots[count - 1].rate;
}

/* A history of one phase on the pit, from a start temperature [C]. */
static sw_history history_of(const knot *knots, size_t count, double start)
{
    sw_history h = {0};
    sw_scenario_init(&h.scenario);
    h.scenario.stall = (sw_stall_definition){.above = zero_celsius + 55.0, .rate = 3.0 / hour, .window = hour,
                                                 .duration = 0.75 * hour, .below = 1e9};
    double end = knots[count - 1].time * hour, probe = start;
    memset(series, 0, sizeof series);
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        h.series[i] = series[i];
    h.row_count = (size_t)lround(end / interval) + 1;
    assert_true(h.row_count <= ROWS_MAX);
    for (size_t i = 0; i < h.row_count; i++) {
        double time = (double)i * interval / hour, rate = rate_at(knots, count, time);
        if (i > 0)
            probe += 0.5 * (rate + rate_at(knots, count, time - interval / hour)) * interval / hour;
        series[SW_SERIES_time][i] = time * hour;
        series[SW_SERIES_probe_temperature][i] = probe + zero_celsius;
        series[SW_SERIES_probe_heating_rate][i] = rate / hour;
        series[SW_SERIES_lowest_temperature][i] = probe + zero_celsius - 1.0;
    }
    h.phase_count = 1;
    h.phases[0] = (sw_phase_record){.phase = SW_PHASE_PIT, .end = end, .probe_at_end = probe + zero_celsius,
                                    .top_surface_at_end = 360.0, .top_water_activity_at_end = 0.8,
                                    .budget_at_end = {.initial_mass = 6.0, .meat_mass = 4.5}};
    h.budget = (sw_budget){.initial_mass = 6.0, .meat_mass = 4.2};
    return h;
}

static sw_outcome outcome_of(const knot *knots, size_t count, double start)
{
    sw_history h = history_of(knots, count, start);
    sw_outcome outcome;
    sw_outcome_evaluate(&h, &outcome);
    return outcome;
}

/* 10 K/h from 30 C to 60 C and more, slowing to 1 K/h within half an hour, 2 h so, and back: slower than 3 K/h from
 * 7/18 h after the slowing began. */
static void test_one_stall(void **state)
{
    (void)state;
    static const knot knots[] = {{0, 10}, {3, 10}, {3.5, 1}, {5.5, 1}, {6, 10}, {8, 10}};
    sw_outcome o = outcome_of(knots, 6, 30.0);
    assert_close_abs(o.stall_start, (3.0 + 0.5 * 7.0 / 9.0) * hour, 1e-6);
    assert_close_abs(o.stall_end, (5.5 + 0.5 * 2.0 / 9.0) * hour, 1e-6);
    assert_close_abs(o.stall_length, o.stall_end - o.stall_start, 1e-9);
    assert_close_abs(o.stall_slowest_rate * hour, 1.0, 1e-9);
    assert_close_abs(o.stall_depth, 0.0, 0.0);
    /* Read on the straight line between two rows. */
    const double probe = 60.0 + 0.5 * 7.0 / 9.0 * 6.5;
    assert_close_abs(o.stall_probe - zero_celsius, probe, 0.01);
    assert_close_abs(o.done_time, 8.0 * hour, 1e-9);
    assert_close_abs(o.top_surface_at_pull, 360.0, 0.0);
    assert_int_equal(o.top_state_at_pull, SW_SURFACE_FIRM);
    assert_close_abs(o.yield_at_pull, 0.75, 1e-15);
    assert_close_abs(o.yield_fraction, 0.70, 1e-15);
    assert_true(SW_IS_ABSENT(o.wrap_time) && SW_IS_ABSENT(o.rest_end));
}

static void test_short_or_cold_slowness_is_no_stall(void **state)
{
    (void)state;
    static const knot brief[] = {{0, 10}, {3, 10}, {3.1, 1}, {3.7, 1}, {3.8, 10}, {6, 10}};
    assert_true(SW_IS_ABSENT(outcome_of(brief, 6, 30.0).stall_start));
    static const knot cold[] = {{0, 10}, {1, 10}, {1.1, 1}, {5, 1}, {5.1, 10}, {9, 10}};
    assert_true(SW_IS_ABSENT(outcome_of(cold, 6, 30.0).stall_start));
}

/* With jumps of one interval, looked at almost moment by moment: 46 minutes are long enough, 44 are not. */
static void test_duration_counts(void **state)
{
    (void)state;
    static const knot enough[] = {{0, 1e6}, {2, 1e6}, {2 + 1.0 / 30, 0}, {2.8, 0}, {2.8 + 1.0 / 30, 1e6}, {4, 1e6}};
    static const knot less[] = {{0, 1e6}, {2, 1e6}, {2 + 2.0 / 30, 0}, {2.8, 0}, {2.8 + 1.0 / 30, 1e6}, {4, 1e6}};
    sw_outcome o;
    sw_history h = history_of(enough, 6, 30.0);
    h.scenario.stall.window = 300.0;
    sw_outcome_evaluate(&h, &o);
    assert_false(SW_IS_ABSENT(o.stall_start));
    h = history_of(less, 6, 30.0);
    h.scenario.stall.window = 300.0;
    sw_outcome_evaluate(&h, &o);
    assert_true(SW_IS_ABSENT(o.stall_start));
}

/* Slow until past the upper limit: the stall ends as the probe passes it, and slowness that begins beyond is none. */
static void test_stall_ends_at_the_upper_limit(void **state)
{
    (void)state;
    static const knot knots[] = {{0, 20}, {2, 20}, {2.1, 2}, {9, 2}};
    sw_history h = history_of(knots, 4, 30.0);
    sw_outcome o;
    h.scenario.stall.below = zero_celsius + 80.0;
    sw_outcome_evaluate(&h, &o);
    /* 70 C after 2 h, 71.1 C after 2.1 h, then 2 K/h: 80 C after 6.55 h. */
    assert_close_abs(o.stall_end, 6.55 * hour, 1.0);
    h.scenario.stall.below = zero_celsius + 70.5;
    sw_outcome_evaluate(&h, &o);
    assert_true(SW_IS_ABSENT(o.stall_start));
}

/* Slow from below the limit: the stall begins as the probe passes 55 C. */
static void test_stall_begins_at_the_limit(void **state)
{
    (void)state;
    static const knot knots[] = {{0, 10}, {2, 10}, {2.1, 2}, {6, 2}, {6.1, 10}, {7, 10}};
    sw_outcome o = outcome_of(knots, 6, 30.0);
    /* 50.6 C at 2.1 h, then 2 K/h. */
    assert_close_abs(o.stall_start, (2.1 + 4.4 / 2.0) * hour, 1.0);
    assert_close_abs(o.stall_end, (6.0 + 0.1 / 8.0) * hour, 1.0);
}

static void test_first_of_two_spells_counts(void **state)
{
    (void)state;
    static const knot knots[] = {{0, 10}, {3, 10}, {3.1, 1}, {4.5, 1}, {4.6, 8}, {5.5, 8}, {5.6, 1}, {9, 1}};
    sw_outcome o = outcome_of(knots, 8, 30.0);
    assert_close_abs(o.stall_start, (3.0 + 0.1 * 7.0 / 9.0) * hour, 1.0);
    assert_close_abs(o.stall_end, (4.5 + 0.1 * 2.0 / 7.0) * hour, 1.0);
}

/* The probe falls 3 K during the stall, and is pulled while still slow. */
static void test_falling_probe_and_pull_in_the_stall(void **state)
{
    (void)state;
    static const knot knots[] = {{0, 10}, {4, 10}, {4.1, 0}, {4.2, -3}, {5.2, -3}, {5.3, 0}, {7, 0}};
    sw_outcome o = outcome_of(knots, 7, 30.0);
    /* -3 K/h for an hour and two ramps of a tenth of an hour. */
    assert_close_abs(o.stall_depth, 3.3, 1e-6);
    assert_close_abs(o.stall_slowest_rate * hour, -3.0, 1e-9);
    assert_close_abs(o.stall_end, 7.0 * hour, 1e-6);
    assert_close_abs(o.highest_probe - zero_celsius, 30.0 + 40.0 + 0.5, 1e-6);
}

/* Slowness after the pull belongs to the rest, not to the stall; the lowest temperature counts from the pull on. */
static void test_rest_is_no_stall(void **state)
{
    (void)state;
    static const knot knots[] = {{0, 10}, {6, 10}, {6.1, -5}, {9, -5}};
    sw_history h = history_of(knots, 4, 30.0);
    h.phase_count = 2;
    h.phases[0].end = 6.0 * hour;
    h.phases[0].probe_at_end = zero_celsius + 90.0;
    h.phases[1] = (sw_phase_record){.phase = SW_PHASE_REST, .start = 6.0 * hour, .end = 9.0 * hour,
                                    .probe_at_end = 350.0};
    sw_outcome o;
    sw_outcome_evaluate(&h, &o);
    assert_true(SW_IS_ABSENT(o.stall_start));
    assert_close_abs(o.done_time, 6.0 * hour, 1e-9);
    assert_close_abs(o.rest_end, 9.0 * hour, 1e-9);
    assert_close_abs(o.slice_probe, 350.0, 0.0);
    assert_close_abs(o.lowest_after_pull, h.series[SW_SERIES_lowest_temperature][h.row_count - 1], 0.0);
    /* A dip in the middle of the rest is the coldest, one before the pull is not. */
    series[SW_SERIES_lowest_temperature][(size_t)(7.0 * hour / interval)] = 301.0;
    series[SW_SERIES_lowest_temperature][(size_t)(5.0 * hour / interval)] = 299.0;
    sw_outcome_evaluate(&h, &o);
    assert_close_abs(o.lowest_after_pull, 301.0, 0.0);
}

static void test_wrapped_phase(void **state)
{
    (void)state;
    static const knot knots[] = {{0, 10}, {6, 10}};
    sw_history h = history_of(knots, 2, 30.0);
    h.phase_count = 2;
    h.phases[0].end = 4.0 * hour;
    h.phases[0].probe_at_end = zero_celsius + 70.0;
    h.phases[1] = (sw_phase_record){.phase = SW_PHASE_WRAPPED, .start = 4.0 * hour, .end = 6.0 * hour,
                                    .probe_at_end = 363.0,
                                    .budget_at_end = {.initial_mass = 1.0, .meat_mass = 0.6}};
    sw_outcome o;
    sw_outcome_evaluate(&h, &o);
    assert_close_abs(o.wrap_time, 4.0 * hour, 0.0);
    assert_close_abs(o.wrap_probe, zero_celsius + 70.0, 0.0);
    assert_close_abs(o.done_time, 6.0 * hour, 0.0);
    assert_close_abs(o.done_probe, 363.0, 0.0);
    assert_close_abs(o.yield_at_pull, 0.6, 1e-15);
}

static double second_probe[ROWS_MAX];

/* A point that is 12 K cooler than the flat at first and lags behind it by 8 K from the stall on: at 10 K/h, 1 K/h for 3 h, and
 * 10 K/h, each on rows 2 min apart. */
static void test_flat_and_point(void **state)
{
    (void)state;
    static const knot flat[] = {{0, 10}, {3, 10}, {3.5, 1}, {6.5, 1}, {7, 10}, {10, 10}};
    sw_history h = history_of(flat, 6, 40.0);
    h.probe_count = 2;
    snprintf(h.probes[0].name, sizeof h.probes[0].name, "flat");
    snprintf(h.probes[1].name, sizeof h.probes[1].name, "point");
    h.probe_series[0] = series[SW_SERIES_probe_temperature];
    h.probe_series[1] = second_probe;
    const double lag = 1.2; /* h: 12 K at 10 K/h */
    for (size_t i = 0; i < h.row_count; i++) {
        const double time = series[SW_SERIES_time][i] / hour - lag;
        const size_t before = (size_t)lround(time / (interval / hour));
        second_probe[i] = time < 0.0 ? 40.0 + zero_celsius + 10.0 * time : h.probe_series[0][before];
    }
    const double end = h.probe_series[0][h.row_count - 1], at_end = second_probe[h.row_count - 1];
    h.scenario.pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, at_end};
    sw_outcome o;
    sw_outcome_evaluate(&h, &o);
    assert_int_equal(o.probe_count, 2);
    /* The point does all that the flat does, so much later. */
    const double first = (3.0 + 0.5 * 7.0 / 9.0) * hour, last = (6.5 + 0.5 * 2.0 / 9.0) * hour;
    assert_close_abs(o.probes[0].stall_start, first, 1.0);
    assert_close_abs(o.probes[0].stall_end, last, 1.0);
    assert_close_abs(o.probes[1].stall_start, first + lag * hour, 1.0);
    assert_close_abs(o.probes[1].stall_end, last + lag * hour, 1.0);
    assert_close_abs(o.probes[1].stall_probe, o.probes[0].stall_probe, 0.01);
    assert_close_abs(o.probes[0].at_pull, end, 0.0);
    assert_close_abs(o.probes[1].at_pull, at_end, 0.0);
    assert_close_abs(o.probes[1].done_time, 10.0 * hour, 0.1);
    assert_close_abs(o.probes[0].done_time, (10.0 - lag) * hour, 0.1);
    /* 50 C after an hour; the point after 1.2 h more. */
    assert_int_equal(o.probes[0].milestone_count, 6); /* to 100 C */
    assert_close_abs(o.probes[0].milestones[0].probe_temperature - zero_celsius, 50.0, 1e-9);
    assert_close_abs(o.probes[0].milestones[0].time, 1.0 * hour, 1e-3);
    assert_close_abs(o.probes[1].milestones[2].probe_temperature - zero_celsius, 50.0, 1e-9);
    assert_close_abs(o.probes[1].milestones[2].time, (1.0 + lag) * hour, 1e-3);
    /* The last one decides, or the first. */
    assert_int_equal(sw_history_deciding_probe(&h, 10.0 * hour), 1);
    h.scenario.meat.last_probe_decides = false;
    assert_int_equal(sw_history_deciding_probe(&h, 10.0 * hour), 0);
    h.scenario.pull = (sw_ending){SW_ENDING_DURATION, 10.0 * hour};
    sw_outcome_evaluate(&h, &o);
    assert_true(SW_IS_ABSENT(o.probes[0].done_time));
}

/* A probe alone is the cook's; the same one twice tells twice what it tells alone. And the outcome counts what the rules of safety say. */
static void test_one_probe_or_the_same_twice(void **state)
{
    (void)state;
    static const knot knots[] = {{0, 10}, {3, 10}, {3.5, 1}, {4.5, -1}, {5.5, 1}, {6, 10}, {8, 10}};
    sw_history h = history_of(knots, 7, 30.0);
    sw_safety with, without;
    sw_outcome one, two;
    h.scenario.meat.initial_temperature = zero_celsius + 20.0; /* against a rule */
    h.probe_count = 1;
    h.probe_series[0] = series[SW_SERIES_probe_temperature];
    sw_outcome_evaluate_with_safety(&h, &one, &with);
    sw_safety_evaluate(&h, &without);
    double unmet = 0.0;
    for (int i = 0; i < SW_SAFETY_RULE_COUNT; i++) {
        const sw_safety_finding *a = &with.findings[i], *b = &without.findings[i];
        assert_int_equal(a->verdict, b->verdict);
        assert_true(SW_IS_ABSENT(a->figure) ? SW_IS_ABSENT(b->figure) : a->figure == b->figure);
        unmet += b->verdict == SW_VERDICT_NOT_MET;
    }
    assert_close_abs(one.unmet_rules, unmet, 0.0);
    assert_true(unmet > 0.0);
    h.probe_count = 2;
    h.probe_series[1] = series[SW_SERIES_probe_temperature];
    sw_outcome_evaluate(&h, &two);
    assert_true(one.stall_depth > 0.1);
    for (int i = 0; i < 2; i++) {
        const sw_probe_outcome *p = &two.probes[i], *alone = &one.probes[0];
        assert_close_abs(alone->stall_start, p->stall_start, 1.0); /* of two the slope at rows comes from parabolas */
        assert_close_abs(alone->stall_end, p->stall_end, 1.0);
        assert_close_abs(alone->stall_length, p->stall_length, 1.0);
        assert_close_abs(alone->stall_probe, p->stall_probe, 1e-3);
        assert_close_abs(alone->stall_depth, p->stall_depth, 1e-3);
        assert_close_abs(alone->stall_slowest_rate * hour, p->stall_slowest_rate * hour, 1e-3);
    }
    assert_close_abs(one.probes[0].stall_start, one.stall_start, 0.0);
    assert_close_abs(one.probes[0].stall_slowest_rate, one.stall_slowest_rate, 0.0);
}

static void test_surface_states(void **state)
{
    (void)state;
    static const struct {
        double activity, film;
        sw_surface_state state;
    } rows[] = {{0.0, 0.0, SW_SURFACE_DRY},   {0.7499, 0.0, SW_SURFACE_DRY},    {0.7499, 0.0499, SW_SURFACE_DRY}, {0.3, 0.05, SW_SURFACE_TACKY},
                {0.75, 0.0, SW_SURFACE_FIRM}, {0.8, 0.5, SW_SURFACE_TACKY},     {0.90, 0.0, SW_SURFACE_TACKY},    {0.97, 0.0, SW_SURFACE_WET},
                {0.97, 0.9, SW_SURFACE_WET}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_int_equal(sw_surface_state_of(rows[i].activity, rows[i].film), rows[i].state);
    assert_string_equal(sw_surface_state_name(SW_SURFACE_TACKY), "tacky");
    assert_string_equal(sw_surface_state_name((sw_surface_state)99), "unknown state");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_stall),
        cmocka_unit_test(test_short_or_cold_slowness_is_no_stall),
        cmocka_unit_test(test_duration_counts),
        cmocka_unit_test(test_stall_begins_at_the_limit),
        cmocka_unit_test(test_stall_ends_at_the_upper_limit),
        cmocka_unit_test(test_first_of_two_spells_counts),
        cmocka_unit_test(test_falling_probe_and_pull_in_the_stall),
        cmocka_unit_test(test_rest_is_no_stall),
        cmocka_unit_test(test_wrapped_phase),
        cmocka_unit_test(test_flat_and_point),
        cmocka_unit_test(test_one_probe_or_the_same_twice),
        cmocka_unit_test(test_surface_states),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
