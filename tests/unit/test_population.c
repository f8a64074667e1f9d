/* SPDX-License-Identifier: BSD-3-Clause */
/* The distribution of what differs from cook to cook: what its draws state, against the normal distribution in closed form;
 * what a scenario states narrows it; its cooks run, and are the same whatever the threads. */
#include "close.h"

#include "shared_context.h"
#include <stallwright/everything.h>

#include <math.h>
#include <string.h>

enum { DRAWS = 4000 };

/* The default, which leaves all of it open, up to the pull. */
static sw_scenario open_scenario(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.rest.until.kind = s.hold.until.kind = SW_ENDING_NONE;
    return s;
}

static sw_population population_of(const sw_scenario *stated)
{
    sw_population p;
    if (sw_population_given(context, stated, &p) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return p;
}

static size_t input_of(const sw_population *p, const char *name)
{
    for (size_t i = 0; i < p->count; i++)
        if (strcmp(p->inputs[i].key->name, name) == 0)
            return i;
    fail_msg("%s is no unknown of this cook", name);
    return 0;
}

static double spread_of(const sw_scenario *stated, const char *name)
{
    const sw_population p = population_of(stated);
    return p.inputs[input_of(&p, name)].spread;
}

/* Means, standard deviations and correlations of draws. A Halton sequence of n points has a discrepancy of order log(n)^d / n, so
 * that moments of 4000 points are good to well under a hundredth of a deviation; the bound is three standard errors of as many
 * random ones, 3 / sqrt(4000) = 0.047 (of a deviation 0.034). */
static void test_draws(void **state)
{
    sw_scenario s = open_scenario();
    (void)state;
    sw_population p = population_of(&s);
    assert_int_equal(p.count, 4);
    /* Two that go together. */
    p.root[1][0] = 0.6;
    p.root[1][1] = 0.8;
    double sum[4] = {0.0}, squares[4] = {0.0}, product = 0.0;
    for (size_t n = 0; n < DRAWS; n++) {
        double normal[SW_POPULATION_INPUTS_MAX], y[4];
        sw_population_draw(&p, 7, n, normal);
        for (size_t i = 0; i < 4; i++) {
            const sw_population_input *input = &p.inputs[i];
            const double value = sw_population_value(&p, i, normal);
            y[i] = (input->is_logarithmic ? log(value / input->middle) : value - input->middle) / input->spread;
            sum[i] += y[i] / DRAWS;
            squares[i] += y[i] * y[i] / DRAWS;
        }
        product += y[0] * y[1] / DRAWS;
    }
    for (size_t i = 0; i < 4; i++) {
        assert_close_abs(sum[i], 0.0, 0.047);
        assert_close_abs(sqrt(squares[i]), 1.0, 0.034);
    }
    assert_close_abs(product, 0.6, 0.05);
}

static void test_what_is_stated_narrows(void **state)
{
    (void)state;
    const sw_scenario open = open_scenario();
    sw_scenario stated = open;
    stated.meat.thickness = 0.06;
    stated.pit.convection = 9.0;
    stated.pit.humidity_ratio = 0.04;
    stated.pit.is_log = true;
    assert_close_abs(spread_of(&open, "meat.thickness"), log(1.14), 1e-12);
    assert_close_abs(spread_of(&stated, "meat.thickness"), 0.06, 1e-12);
    assert_close_abs(spread_of(&open, "pit.convection"), log(1.24), 1e-12);
    assert_close_abs(spread_of(&stated, "pit.convection"), log(1.15), 1e-12);
    assert_close_abs(spread_of(&open, "pit.humidity_ratio"), log(1.5), 1e-12);
    assert_close_abs(spread_of(&stated, "pit.humidity_ratio"), log(1.3), 1e-12);
    assert_close_abs(spread_of(&open, "pit.temperature"), 6.0, 1e-12);
    assert_close_abs(spread_of(&stated, "pit.temperature"), 2.0, 1e-12);
}

/* At the origin every unknown has its median, which is what a cook of the stated scenario takes. */
static void test_middle_is_the_stated_cook(void **state)
{
    (void)state;
    sw_scenario s = open_scenario(), settled = s, drawn;
    s.pit.step_count = settled.pit.step_count = 2;
    s.pit.steps[1] = settled.pit.steps[1] = (sw_pit_step){.start = 7200.0, .temperature = 400.0};
    const double normal[SW_POPULATION_INPUTS_MAX] = {0.0};
    const sw_population p = population_of(&s);
    sw_scenario_settle(&settled);
    sw_population_scenario(&p, normal, &drawn);
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        assert_true(sw_scenario_key_same(sw_scenario_key_at(i), &drawn, &settled));
    /* One deviation up, all steps of the pit alike. */
    double up[SW_POPULATION_INPUTS_MAX] = {0.0};
    up[input_of(&p, "pit.temperature")] = 1.0;
    sw_population_scenario(&p, up, &drawn);
    assert_close_abs(drawn.pit.steps[0].temperature, settled.pit.steps[0].temperature + 6.0, 1e-9);
    assert_close_abs(drawn.pit.steps[1].temperature, 406.0, 1e-9);
}

/* Points far out are kept where cooks run, and do run. */
static void test_far_out(void **state)
{
    (void)state;
    const sw_scenario s = open_scenario();
    const sw_population p = population_of(&s);
    for (int corner = 0; corner < 16; corner++) {
        double normal[SW_POPULATION_INPUTS_MAX];
        sw_run run = {.label = "far"};
        for (size_t i = 0; i < p.count; i++)
            normal[i] = corner >> i & 1 ? 6.0 : -6.0;
        sw_population_scenario(&p, normal, &run.scenario);
        for (size_t i = 0; i < p.count; i++)
            assert_in_range((unsigned long)(sw_population_value(&p, i, normal) >= p.inputs[i].low &&
                                            sw_population_value(&p, i, normal) <= p.inputs[i].high), 1, 1);
        sw_population_coarsen(&run.scenario);
        const sw_status status = sw_run_cook(context, &run, NULL);
        if (status != SW_OK && status != SW_ERR_NEVER_ENDS)
            fail_msg("corner %d: %s", corner, run.failure);
        sw_run_free(&run);
    }
}

/* A damp pit that comes out cooler than stated holds less vapour; one that comes out hotter keeps what was stated. */
static void test_cooler_air(void **state)
{
    sw_scenario s = open_scenario(), drawn;
    double normal[SW_POPULATION_INPUTS_MAX] = {0.0}, saturation, most;
    (void)state;
    s.pit.steps[0].temperature = 273.15 + 80.0;
    s.pit.humidity_ratio = 0.5;
    const sw_population p = population_of(&s);
    const size_t pit = input_of(&p, "pit.temperature");
    normal[pit] = -2.0;
    sw_population_scenario(&p, normal, &drawn);
    assert_true(drawn.pit.steps[0].temperature < 273.15 + 75.0);
    assert_int_equal(sw_saturation_pressure(drawn.pit.steps[0].temperature, &saturation), SW_OK);
    assert_int_equal(sw_humidity_ratio(saturation, 101325.0, &most), SW_OK);
    assert_true(drawn.pit.humidity_ratio < most && drawn.pit.humidity_ratio > 0.5 * most);
    normal[pit] = 2.0;
    sw_population_scenario(&p, normal, &drawn);
    assert_true(drawn.pit.humidity_ratio == 0.5);
}

typedef struct taken {
    const sw_population *population;
    double done[40];
    size_t count, stop_after;
} taken;

static void draw(size_t number, sw_scenario *scenario, void *data)
{
    double normal[SW_POPULATION_INPUTS_MAX];
    const taken *t = data;
    sw_population_draw(t->population, 3, number, normal);
    sw_population_scenario(t->population, normal, scenario);
    sw_population_coarsen(scenario);
}

static sw_status take(sw_context *own, size_t number, const sw_run *run, void *data)
{
    taken *t = data;
    t->done[number] = run->status == SW_OK ? run->outcome.done_time : SW_ABSENT;
    if (++t->count == t->stop_after)
        return sw_fail(own, SW_ERR_ARGUMENT, "that was enough");
    return SW_OK;
}

static bool at_once(void *data)
{
    (void)data;
    return true;
}

static void test_side_by_side(void **state)
{
    (void)state;
    const sw_scenario s = open_scenario();
    const sw_population p = population_of(&s);
    taken one = {.population = &p}, three = one, ended = one;
    ended.stop_after = 5;
    sw_side_by_side work = {.count = 40, .threads = 1, .scenario = draw, .take = take, .data = &one};
    assert_int_equal(sw_cook_side_by_side(context, &work), SW_OK);
    work.threads = 3;
    work.data = &three;
    assert_int_equal(sw_cook_side_by_side(context, &work), SW_OK);
    assert_int_equal(three.count, 40);
    assert_memory_equal(one.done, three.done, sizeof one.done);
    assert_true(one.done[0] > 3600.0 && one.done[0] != one.done[1]);

    work.data = &ended;
    assert_int_equal(sw_cook_side_by_side(context, &work), SW_ERR_ARGUMENT);
    assert_string_equal(sw_context_message(context), "that was enough");
    work.is_cancelled = at_once;
    assert_int_equal(sw_cook_side_by_side(context, &work), SW_ERR_CANCELLED);
    work.threads = 0;
    assert_int_equal(sw_cook_side_by_side(context, &work), SW_ERR_ARGUMENT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_draws),
        cmocka_unit_test(test_what_is_stated_narrows),
        cmocka_unit_test(test_middle_is_the_stated_cook),
        cmocka_unit_test(test_far_out),
        cmocka_unit_test(test_cooler_air),
        cmocka_unit_test(test_side_by_side),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
