/* SPDX-License-Identifier: BSD-3-Clause */
/* A grid of cooks: its values, its cooks against scenarios run by hand, whatever the threads; stopping. */
#include "close.h"

#include "coarse_cook.h"
#include "run_cook.h"
#include "shared_context.h"

#include <string.h>

/* Sizes that are given, so that the scenario is as it is modelled. */
static sw_scenario sized_scenario(void)
{
    sw_scenario s = coarse_scenario();
    s.meat.thickness = 0.06;
    s.solver.longest_phase = 40.0 * 3600.0;
    return s;
}

static sw_cook_grid *grid_of(const sw_scenario *s, size_t threads)
{
    sw_cook_grid *g;
    if (sw_cook_grid_make(context, s, s, threads, NULL, &g) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return g;
}

/* Number of a cook, the last axis running fastest. */
static size_t number_of(const sw_cook_grid *g, size_t pit, size_t thickness, size_t humidity, size_t wrap)
{
    return ((pit * g->axes[SW_GRID_THICKNESS].count + thickness) * g->axes[SW_GRID_HUMIDITY].count + humidity) *
               g->axes[SW_GRID_WRAP].count + wrap;
}

static void assert_cook(const sw_cook_grid *g, size_t number, const sw_scenario *by_hand)
{
    const sw_outcome o = run_cook(by_hand, NULL);
    assert_int_equal(g->runs[number].status, SW_OK);
    assert_close_abs(g->runs[number].outcome.done_time, o.done_time, 0.0);
    assert_close_abs(g->runs[number].outcome.yield_fraction, o.yield_fraction, 0.0);
}

static void test_cooks_by_hand(void **state)
{
    (void)state;
    const sw_scenario s = sized_scenario();
    sw_cook_grid *g = grid_of(&s, 2);
    const size_t *at = (size_t[]){g->axes[0].planned, g->axes[1].planned, g->axes[2].planned, g->axes[3].planned};
    assert_int_equal(g->count, 3 * 3 * 3 * 4);
    assert_false(g->is_coarse);
    assert_cook(g, number_of(g, at[0], at[1], at[2], at[3]), &s);
    /* 25 F is 125/9 K; the first humidity is the planned one, which is dry. */
    sw_scenario by_hand = s;
    by_hand.pit.steps[0].temperature = g->axes[SW_GRID_PIT].values[2];
    assert_close_abs(by_hand.pit.steps[0].temperature, s.pit.steps[0].temperature + 125.0 / 9.0, 1e-9);
    by_hand.meat.thickness = g->axes[SW_GRID_THICKNESS].values[0];
    assert_close_abs(by_hand.meat.thickness, 0.7 * 0.06, 1e-12);
    by_hand.pit.humidity_ratio = 0.15;
    by_hand.wrap.kind = SW_WRAP_OPEN_TRAY;
    assert_cook(g, number_of(g, 2, 0, 2, SW_WRAP_OPEN_TRAY), &by_hand);
    sw_cook_grid *alone = grid_of(&s, 1);
    for (size_t i = 0; i < g->count; i++) {
        assert_int_equal(alone->runs[i].status, g->runs[i].status);
        assert_int_equal(alone->never_ends[i], g->never_ends[i]);
        assert_close_abs(alone->runs[i].outcome.done_time, g->runs[i].outcome.done_time, 0.0);
    }
    sw_cook_grid_destroy(alone);
    sw_cook_grid_destroy(g);
}

/* The planned humidity takes the place of the usual one that it is nearest to by kind: dry, damp or wet. */
static void test_humidities(void **state)
{
    static const struct {
        double planned, values[3];
        size_t at;
    } rows[] = {{0.008, {0.008, 0.05, 0.15}, 0}, {0.03, {0.01, 0.03, 0.15}, 1}, {0.3, {0.01, 0.05, 0.3}, 2}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_scenario s = sized_scenario();
        s.pit.humidity_ratio = rows[i].planned;
        s.pull = (sw_ending){SW_ENDING_DURATION, 1800.0};
        sw_cook_grid *g = grid_of(&s, 2);
        const sw_grid_values *a = &g->axes[SW_GRID_HUMIDITY];
        assert_int_equal(a->count, 3);
        assert_int_equal(a->planned, rows[i].at);
        for (size_t k = 0; k < 3; k++)
            assert_close_abs(a->values[k], rows[i].values[k], 0.0);
        sw_cook_grid_destroy(g);
    }
}

/* Later steps of the pit move along; a finer scenario is made coarser; what never ends is followed. */
static void test_coarse_and_endless(void **state)
{
    (void)state;
    sw_scenario s = sized_scenario();
    s.solver.cells = 80;
    s.solver.longest_phase = 2.0 * 3600.0;
    s.pull.value = 273.15 + 40.0;
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 1800.0};
    s.pit.step_count = 2;
    s.pit.steps[1] = (sw_pit_step){.start = 3600.0, .temperature = s.pit.steps[0].temperature - 5.0};
    sw_cook_grid *g = grid_of(&s, 2);
    assert_true(g->is_coarse);
    size_t endless = 0;
    for (size_t i = 0; i < g->count; i++) {
        const sw_run *run = &g->runs[i];
        assert_int_equal(run->scenario.solver.cells, 60);
        assert_close_abs(run->scenario.pit.steps[1].temperature, run->scenario.pit.steps[0].temperature - 5.0, 1e-9);
        assert_int_equal(run->status, SW_OK);
        if (!g->never_ends[i])
            continue;
        endless++;
        assert_close_abs(run->outcome.done_time, s.solver.longest_phase, 1e-6);
    }
    assert_true(endless > 0);
    sw_cook_grid_destroy(g);
}

/* What fails says so in the units of the context, in whichever thread it was. */
static void test_sentences(void **state)
{
    (void)state;
    sw_scenario s = sized_scenario();
    s.meat.thickness = 0.35; /* 1.3 times that, 0.455 m or 17.91 in, is more than a cut may have */
    s.pull = (sw_ending){SW_ENDING_DURATION, 1800.0};
    sw_context_set_units(context, SW_UNITS_US);
    sw_cook_grid *g = grid_of(&s, 2);
    sw_context_set_units(context, SW_UNITS_SI);
    size_t failed = 0;
    for (size_t i = 0; i < g->count; i++) {
        if (g->runs[i].status == SW_OK)
            continue;
        failed++;
        assert_int_equal(g->runs[i].status, SW_ERR_RANGE);
        if (!strstr(g->runs[i].failure, "meat.thickness is 17.91 in"))
            fail_msg("%s", g->runs[i].failure);
    }
    assert_int_equal(failed, g->count / 3);
    sw_cook_grid_destroy(g);
}

static int stop_at_once(double time, double probe, void *data)
{
    (void)time;
    (void)probe;
    (void)data;
    return 1;
}

static bool always(void *data)
{
    int *asked = data;
    (void)asked;
    return true;
}

static void test_stopping(void **state)
{
    (void)state;
    const sw_scenario s = sized_scenario();
    sw_cook_grid *g = NULL;
    const sw_watch observed = {.observe = stop_at_once}, cancelled = {.is_cancelled = always};
    assert_int_equal(sw_cook_grid_make(context, &s, &s, 2, &observed, &g), SW_ERR_CANCELLED);
    assert_int_equal(sw_cook_grid_make(context, &s, &s, 2, &cancelled, &g), SW_ERR_CANCELLED);
    assert_int_equal(sw_cook_grid_make(context, &s, &s, 0, NULL, &g), SW_ERR_ARGUMENT);
    assert_non_null(strstr(sw_context_message(context), "allowed are 1 to"));
    assert_null(g);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_cooks_by_hand), cmocka_unit_test(test_humidities), cmocka_unit_test(test_coarse_and_endless),
        cmocka_unit_test(test_sentences),     cmocka_unit_test(test_stopping),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
