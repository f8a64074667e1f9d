/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook under way: without readings it is the population's own draws; readings narrow and move it; bands against order statistics;
 * the measured verdicts against the rule's own limits. */
#include "close.h"

#include "dense.h"
#include "forecast.h"
#include "shared_context.h"

#include <stallwright/everything.h>

#include <math.h>
#include <string.h>

enum { DRAWS = 40 };

static sw_scenario open_scenario(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.rest.until.kind = s.hold.until.kind = s.cooling.until.kind = SW_ENDING_NONE;
    return s;
}

static sw_track *track_of(const sw_reading *list, size_t count, double now)
{
    sw_track_question q = {.scenario = open_scenario(), .now = now, .serve = SW_ABSENT, .draws = DRAWS, .threads = 2, .seed = 3};
    sw_track *t;
    q.readings.count = count;
    q.readings.list = list;
    if (sw_track_find(context, &q, &t) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return t;
}

static void draw_cook(size_t number, sw_scenario *s, void *data)
{
    double normal[SW_POPULATION_INPUTS_MAX];
    sw_population_draw(data, 3, number, normal);
    sw_population_scenario(data, normal, s);
    sw_population_coarsen(s);
}

static double done[DRAWS];

static sw_status take_done(sw_context *c, size_t number, const sw_run *run, void *data)
{
    (void)c;
    (void)data;
    done[number] = run->status == SW_OK ? run->outcome.done_time : INFINITY;
    return SW_OK;
}

static void test_no_readings(void **state)
{
    sw_scenario s = open_scenario();
    sw_population p;
    (void)state;
    assert_int_equal(sw_population_given(context, &s, &p), SW_OK);
    const sw_side_by_side work = {.count = DRAWS, .threads = 2, .scenario = draw_cook, .take = take_done, .data = &p};
    assert_int_equal(sw_cook_side_by_side(context, &work), SW_OK);
    sw_track *t = track_of(NULL, 0, 0.0);
    for (size_t i = 0; i < DRAWS; i++) {
        assert_true(t->draws[i].done == done[i]);
        assert_close_abs(t->draws[i].weight, 1.0 / DRAWS, 1e-12);
    }
    sw_track_destroy(t);
}

/* The population's middle cook, read every quarter of an hour, and 15 K above it. */
static void test_readings(void **state)
{
    sw_scenario s = open_scenario();
    sw_reading list[20];
    double none[SW_POPULATION_INPUTS_MAX] = {0.0};
    sw_population p;
    (void)state;
    assert_int_equal(sw_population_given(context, &s, &p), SW_OK);
    sw_run run = {.label = "middle"};
    sw_population_scenario(&p, none, &run.scenario);
    assert_int_equal(sw_run_cook(context, &run, NULL), SW_OK);
    for (size_t i = 0; i < 20; i++) {
        const double at = 900.0 * (double)(i + 1);
        list[i] = (sw_reading){.time = at, .temperature = sw_curve_at(run.history->row_count, run.history->series[SW_SERIES_time],
                                                                     run.history->series[SW_SERIES_probe_temperature], at)};
    }
    sw_track *before = track_of(NULL, 0, 0.0), *same = track_of(list, 20, list[19].time);
    /* Its own cook is the likeliest, and it is done when that is, within what coarse cooks cost. */
    for (size_t k = 0; k < p.count; k++)
        assert_true(fabs(same->best[k]) < 0.2);
    const sw_track_band *now = &same->choices[0].done, *then = &before->choices[0].done;
    assert_true(now->low < run.outcome.done_time && now->high > run.outcome.done_time);
    assert_true(now->high - now->low < then->high - then->low);
    assert_true(fabs(same->offset.middle) < 1.0 && same->effective > 0.5 * DRAWS && same->used == 20);
    /* Hotter than that cook: an earlier end, and a thinner piece. */
    for (size_t i = 0; i < 20; i++)
        list[i].temperature += 15.0 * fmin(list[i].time / 7200.0, 1.0);
    sw_track *hot = track_of(list, 20, list[19].time);
    assert_true(hot->choices[0].done.middle < now->middle - 1800.0);
    /* What the probe reads now lies nearer to those readings than to the cook without them. */
    if (!(hot->reading > same->reading + 7.5))
        fail_msg("15 K more lift what the probe reads now from %.1f K to %.1f K", same->reading, hot->reading);
    /* One reading gone wild changes little. */
    for (size_t i = 0; i < 20; i++)
        list[i].temperature -= 15.0 * fmin(list[i].time / 7200.0, 1.0);
    list[10].temperature += 40.0;
    sw_track *wild = track_of(list, 20, list[19].time);
    assert_true(fabs(wild->choices[0].done.middle - now->middle) < 1200.0);
    sw_track_destroy(before);
    sw_track_destroy(same);
    sw_track_destroy(hot);
    sw_track_destroy(wild);
    sw_run_free(&run);
}

/* Of nine values of equal weight: the midpoint rule, type 5 of Hyndman and Fan (1996): the quantile of a share p is the value number 9 p + 0.5,
 * that is 1.4, 5 and 8.6. */
static void test_band(void **state)
{
    double values[10], weights[10];
    (void)state;
    for (size_t i = 0; i < 9; i++) {
        values[i] = (double)(9 - i);
        weights[i] = 1.0 / 9.0;
    }
    values[9] = SW_ABSENT;
    weights[9] = 0.5;
    const sw_track_band b = sw_weighted_band(values, weights, 10, 1);
    assert_close_abs(b.low, 1.4, 1e-12);
    assert_close_abs(b.middle, 5.0, 1e-12);
    assert_close_abs(b.high, 8.6, 1e-12);
}

/* The root of {{4, 2}, {2, 5}} is {{2, 0}, {1, 2}}: by hand. */
static void test_root(void **state)
{
    double a[] = {4.0, 0.0, 2.0, 5.0}, x[] = {2.0, 5.0};
    (void)state;
    assert_true(sw_cholesky(2, a));
    assert_close_abs(a[2], 1.0, 1e-15);
    assert_close_abs(a[3], 2.0, 1e-15);
    sw_forward_solve(2, a, x);
    assert_close_abs(x[0], 1.0, 1e-15);
    assert_close_abs(x[1], 2.0, 1e-15);
    sw_backward_solve(2, a, x);
    assert_close_abs(x[1], 1.0, 1e-15);
    assert_close_abs(x[0], 0.0, 1e-15);
}

/* FSIS-GD-2021-14: 50 to 130 F in six hours. FDA Food Code 3-501.16: 135 F. */
static void test_verdicts(void **state)
{
    sw_reading slow[] = {{3600.0, 283.0, 0}, {7200.0, 300.0, 0}, {3600.0 + 6.1 * 3600.0, 328.0, 0}};
    sw_reading quick[] = {{3600.0, 283.0, 0}, {7200.0, 300.0, 0}, {5.0 * 3600.0, 328.0, 0}, {6.0 * 3600.0, 333.0, 0}, {7.0 * 3600.0, 330.0, 0}};
    sw_track_safety v;
    (void)state;
    sw_track_judge(&(sw_readings){.count = 3, .list = slow}, 0, 30000.0, &v);
    assert_int_equal(v.come_up, SW_VERDICT_NOT_MET);
    assert_close_abs(v.come_up_time, 6.1 * 3600.0, 1e-9);
    assert_close_abs(v.come_up_least, 0.0, 1e-9); /* one reading within the band tells no more */
    sw_track_judge(&(sw_readings){.count = 2, .list = slow}, 0, 8000.0, &v);
    assert_int_equal(v.come_up, SW_VERDICT_NOT_ASSESSED);
    sw_track_judge(&(sw_readings){.count = 2, .list = slow}, 0, 27000.0, &v);
    assert_int_equal(v.come_up, SW_VERDICT_NOT_MET);
    sw_track_judge(&(sw_readings){.count = 3, .list = (sw_reading[]){{0.0, 283.0, 0}, {1800.0, 290.0, 0}, {30000.0, 320.0, 0}}}, 0, 31000.0, &v);
    assert_close_abs(v.come_up_least, 28200.0, 1e-9);
    sw_track_judge(&(sw_readings){.count = 4, .list = quick}, 0, 30000.0, &v);
    assert_int_equal(v.come_up, SW_VERDICT_MET);
    assert_int_equal(v.fall_back, SW_VERDICT_MET);
    sw_track_judge(&(sw_readings){.count = 5, .list = quick}, 0, 30000.0, &v);
    assert_int_equal(v.fall_back, SW_VERDICT_NOT_MET);
    /* 135 F is 330.37 K. Within a thermometer's error of it, 1 C by 4-203.11(A), meat is not yet hot; what was hot and is 0.1 K below is
     * not. Another probe's readings tell nothing. */
    sw_reading around[] = {{3600.0, 283.0, 0}, {5.0 * 3600.0, 331.0, 0}, {6.0 * 3600.0, 330.0, 0}, {7.0 * 3600.0, 331.5, 0}, {8.0 * 3600.0, 330.3, 0},
                           {8.5 * 3600.0, 300.0, 1}};
    sw_track_judge(&(sw_readings){.count = 3, .list = around}, 0, 30000.0, &v);
    assert_int_equal(v.fall_back, SW_VERDICT_NOT_ASSESSED);
    sw_track_judge(&(sw_readings){.count = 4, .list = around}, 0, 30000.0, &v);
    assert_int_equal(v.fall_back, SW_VERDICT_MET);
    sw_track_judge(&(sw_readings){.count = 6, .list = around}, 0, 31000.0, &v);
    assert_int_equal(v.fall_back, SW_VERDICT_NOT_MET);
    assert_close_abs(v.lowest_after, 330.3, 1e-12);
}

/* A wrap planned at 65 C is due since that was read, and not since a spike before. */
static void test_wrap_due(void **state)
{
    sw_reading list[] = {{100.0, 345.0, 0}, {3600.0, 300.0, 0}, {7200.0, 339.0, 0}, {9000.0, 345.0, 0}};
    const sw_readings all = {.count = 4, .list = list};
    sw_scenario s = open_scenario();
    (void)state;
    s.wrap.kind = SW_WRAP_PAPER;
    s.wrap.when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 338.15};
    assert_close_abs(sw_track_wrap_due(&all, 9000.0, &s), 7200.0, 1e-12);
    assert_true(SW_IS_ABSENT(sw_track_wrap_due(&all, 7000.0, &s)));
    s.wrap.when.value = 350.0;
    assert_true(SW_IS_ABSENT(sw_track_wrap_due(&all, 9000.0, &s)));
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 7200.0};
    assert_true(SW_IS_ABSENT(sw_track_wrap_due(&all, 9000.0, &s)));
}

/* Nothing says that a wrap that is due went on: the meat lies open, and going on as planned is wrapping now. */
static void test_due_wrap_goes_on_now(void **state)
{
    sw_reading list[8];
    sw_track_question q = {.scenario = open_scenario(), .serve = SW_ABSENT, .draws = 10, .choice_draws = 10, .threads = 2, .seed = 3};
    sw_track *t;
    (void)state;
    for (size_t i = 0; i < 8; i++)
        list[i] = (sw_reading){.time = 2400.0 * (double)(i + 1), .temperature = 278.15 + 8.0 * (double)i};
    q.readings = (sw_readings){.count = 8, .list = list};
    q.now = list[7].time;
    q.scenario.wrap.kind = SW_WRAP_PAPER;
    q.scenario.wrap.when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 308.15};
    assert_int_equal(sw_track_find(context, &q, &t), SW_OK);
    assert_int_equal(t->choices[2].kind, SW_TRACK_PAPER);
    assert_close_abs(t->choices[0].done.middle, t->choices[2].done.middle, 1e-6);
    assert_close_abs(t->choices[0].bark.middle, t->choices[2].bark.middle, 1e-9);
    assert_close_abs(t->wrap.middle, q.now, 1e-6);
    sw_track_destroy(t);
}

static void test_refused(void **state)
{
    sw_track_question q = {.scenario = open_scenario(), .now = 100.0, .serve = SW_ABSENT, .draws = 20, .threads = 1};
    sw_reading late = {200.0, 300.0, 0};
    sw_track *t = NULL;
    (void)state;
    q.readings.count = 1;
    q.readings.list = &late;
    assert_int_equal(sw_track_find(context, &q, &t), SW_ERR_ARGUMENT);
    q.now = 200.0;
    q.scenario.pull = (sw_ending){SW_ENDING_DURATION, 36000.0};
    assert_int_equal(sw_track_find(context, &q, &t), SW_ERR_ARGUMENT);
    assert_non_null(strstr(sw_context_message(context), "pull is not a temperature"));
    assert_null(t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_no_readings), cmocka_unit_test(test_readings), cmocka_unit_test(test_band),
                                       cmocka_unit_test(test_root),        cmocka_unit_test(test_verdicts), cmocka_unit_test(test_wrap_due), cmocka_unit_test(test_due_wrap_goes_on_now),
                                       cmocka_unit_test(test_refused)};
    return cmocka_run_group_tests(tests, open_context, close_context);
}
