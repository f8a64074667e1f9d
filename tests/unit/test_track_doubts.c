/* SPDX-License-Identifier: BSD-3-Clause */
/* Readings that contradict the model are told of: a fire that is out, a probe beside the meat's middle, a stuck one, meat that cools. */
#include "close.h"

#include "estimate.h"
#include "shared_context.h"

#include <stallwright/everything.h>

#include <math.h>

enum { DRAWS = 20, READINGS = 36 };
static const double every = 900.0;

static sw_scenario open_scenario(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.rest.until.kind = s.hold.until.kind = s.cooling.until.kind = SW_ENDING_NONE;
    return s;
}

/* The curve of a scenario's own cook at times every quarter of an hour. */
static void read_cook(const sw_scenario *cooked, sw_reading *list)
{
    sw_run run = {.label = "cook", .scenario = *cooked};
    run.scenario.pull = (sw_ending){SW_ENDING_DURATION, every * (READINGS + 1)};
    if (sw_run_cook(context, &run, NULL) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    for (size_t i = 0; i < READINGS; i++) {
        const double at = every * (double)(i + 1);
        list[i] = (sw_reading){.time = at, .temperature = sw_curve_at(run.history->row_count, run.history->series[SW_SERIES_time],
                                                                     run.history->series[SW_SERIES_probe_temperature], at)};
    }
    sw_run_free(&run);
}

static sw_track *track_of(const sw_reading *list)
{
    sw_track_question q = {.scenario = open_scenario(), .now = list[READINGS - 1].time, .serve = SW_ABSENT, .draws = DRAWS, .threads = 2, .seed = 3};
    sw_track *t;
    q.readings = (sw_readings){.count = READINGS, .list = list};
    if (sw_track_find(context, &q, &t) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return t;
}

static void expect_doubts(const sw_reading *list, bool pit_colder, bool probe_off, bool stuck, bool falling)
{
    sw_track *t = track_of(list);
    assert_int_equal(t->is_doubted[SW_TRACK_PIT_COLDER], pit_colder);
    assert_int_equal(t->is_doubted[SW_TRACK_PROBE_OFF], probe_off);
    assert_int_equal(t->is_doubted[SW_TRACK_STUCK], stuck);
    assert_int_equal(t->is_doubted[SW_TRACK_FALLING], falling);
    sw_track_destroy(t);
}

static void test_none(void **state)
{
    sw_reading list[READINGS];
    const sw_scenario s = open_scenario();
    (void)state;
    read_cook(&s, list);
    expect_doubts(list, false, false, false, false);
    /* Whole degrees that stand in the stall, a spike. */
    for (size_t i = 0; i < READINGS; i++)
        list[i].temperature = round(list[i].temperature);
    list[12].temperature += 30.0;
    expect_doubts(list, false, false, false, false);
}

/* The gauge says 121 C; the pit is at 75 C from the first hour on. */
static void test_fire_out(void **state)
{
    sw_reading list[READINGS];
    sw_scenario s = open_scenario();
    (void)state;
    s.pit.step_count = 2;
    s.pit.steps[0].ramp = false;
    s.pit.steps[1] = (sw_pit_step){3600.0, 273.15 + 75.0, false};
    read_cook(&s, list);
    sw_track *t = track_of(list);
    assert_true(t->is_doubted[SW_TRACK_PIT_COLDER]);
    sw_track_destroy(t);
}

/* At the surface, or through it into the pan: far hotter than any middle from the first hour on. */
static void test_probe_beside(void **state)
{
    sw_reading list[READINGS];
    const sw_scenario s = open_scenario();
    (void)state;
    read_cook(&s, list);
    for (size_t i = 0; i < READINGS; i++)
        list[i].temperature += (i % 4 < 2 ? 25.0 : 5.0) * fmin(1.0, list[i].time / 3600.0);
    sw_track *t = track_of(list);
    assert_true(t->is_doubted[SW_TRACK_PROBE_OFF]);
    sw_track_destroy(t);
}

static void test_stuck(void **state)
{
    sw_reading list[READINGS];
    const sw_scenario s = open_scenario();
    (void)state;
    read_cook(&s, list);
    for (size_t i = 24; i < READINGS; i++)
        list[i].temperature = list[24].temperature;
    sw_track *t = track_of(list);
    assert_true(t->is_doubted[SW_TRACK_STUCK]);
    sw_track_destroy(t);
}

static void test_falling(void **state)
{
    sw_reading list[READINGS];
    const sw_scenario s = open_scenario();
    (void)state;
    read_cook(&s, list);
    for (size_t i = 26; i < READINGS; i++)
        list[i].temperature = list[25].temperature - 1.5 * (double)(i - 25);
    sw_track *t = track_of(list);
    assert_true(t->is_doubted[SW_TRACK_FALLING]);
    sw_track_destroy(t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_none), cmocka_unit_test(test_fire_out), cmocka_unit_test(test_probe_beside),
                                       cmocka_unit_test(test_stuck), cmocka_unit_test(test_falling)};
    return cmocka_run_group_tests(tests, open_context, close_context);
}
