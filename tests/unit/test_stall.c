/* SPDX-License-Identifier: BSD-3-Clause */
/* What counts as a stall, on courses of a probe whose edges are known in closed form, smooth and disturbed. */
#include "close.h"
#include "cuts.h"
#include "stall.h"

#include <math.h>

enum { ROWS_MAX = 4000 };

static const double hour = 3600.0, pi = 3.14159265358979323846;

static double time_of[ROWS_MAX], value[ROWS_MAX], slope[ROWS_MAX];

static const sw_stall_definition usual = {
    .above = 328.15, .rate = 3.0 / 3600.0, .window = 3600.0, .duration = 2700.0, .below = 358.15};

/* What is added to a course at a time [h]: a temperature [K] and its rate [K/h]. */
typedef struct disturbance {
    double value, rate;
} disturbance;

static disturbance none(double time)
{
    (void)time;
    return (disturbance){0.0, 0.0};
}

/* Every 45 minutes the probe falls 0.3 K within 10 minutes and is back after 20, in a cosine. */
static disturbance sprays(double time)
{
    const double since = fmod(time, 0.75), length = 1.0 / 3.0;
    if (since >= length)
        return (disturbance){0.0, 0.0};
    const double turn = 2.0 * pi / length;
    return (disturbance){-0.15 * (1.0 - cos(turn * since)), -0.15 * turn * sin(turn * since)};
}

/* A pit that swings within the hour moves the probe by 0.6 K up and down: 3.8 K/h. */
static disturbance swing(double time)
{
    return (disturbance){0.6 * sin(2.0 * pi * time), 1.2 * pi * cos(2.0 * pi * time)};
}

static disturbance swing_of_two_hours(double time)
{
    return (disturbance){1.5 * sin(pi * time), 1.5 * pi * cos(pi * time)};
}

/* A ramp of 10 K/h from 30 C for 3 h, to 1 K/h within half an hour, 3 h so, back to 10 K/h within half an hour, and on. The
 * rate passes 3 K/h at 3 h 7/18 and at 6.5 h 1/9. */
static const double first_edge = 3.0 + 7.0 / 18.0, second_edge = 6.5 + 1.0 / 9.0;

static disturbance ramp_plateau_ramp(double time)
{
    static const double start[] = {0, 3, 3.5, 6.5, 7, 9}, rate[] = {10, 10, 1, 1, 10, 10};
    double reached = 303.15;
    int piece = 0;
    for (; piece < 4 && time > start[piece + 1]; piece++)
        reached += 0.5 * (rate[piece] + rate[piece + 1]) * (start[piece + 1] - start[piece]);
    const double since = time - start[piece], bend = (rate[piece + 1] - rate[piece]) / (start[piece + 1] - start[piece]);
    return (disturbance){reached + since * (rate[piece] + 0.5 * bend * since), rate[piece] + bend * since};
}

static sw_course course_of(disturbance (*disturb)(double), double interval, double end)
{
    size_t count = (size_t)lround(end * hour / interval) + 1;
    assert_true(count <= ROWS_MAX);
    for (size_t i = 0; i < count; i++) {
        time_of[i] = (double)i * interval;
        const disturbance base = ramp_plateau_ramp(time_of[i] / hour), added = disturb(time_of[i] / hour);
        value[i] = base.value + added.value;
        slope[i] = (base.rate + added.rate) / hour;
    }
    return (sw_course){count, time_of, value, slope};
}

static sw_stall stall_of(sw_course course, double window)
{
    sw_stall_definition d = usual;
    sw_stall stall = {0};
    d.window = window;
    assert_true(sw_find_stall(&course, &d, &stall));
    return stall;
}

/* Neither the window nor the rows move the edges. */
static void test_true_edges(void **state)
{
    (void)state;
    static const double windows[] = {600.0, 1800.0, 3600.0, 5400.0, 7200.0}, intervals[] = {30.0, 60.0, 300.0, 900.0, 1800.0};
    for (int i = 0; i < 5; i++)
        for (int k = 0; k < 5; k++) {
            const sw_stall stall = stall_of(course_of(none, intervals[k], 9.0), windows[i]);
            assert_close_abs(stall.start, first_edge * hour, 1e-6);
            assert_close_abs(stall.end, second_edge * hour, 1e-6);
            assert_close_abs(stall.depth, 0.0, 1e-10);
            assert_close_abs(stall.slowest_rate * hour, 1.0, 1e-9);
            assert_close_abs(stall.probe, ramp_plateau_ramp(first_edge).value, 1e-9);
        }
}

/* Sprays let the rate pass the limit twice each 45 min; the edges stay, as long as no dip lies on one. */
static void test_sprays_do_not_break_it(void **state)
{
    (void)state;
    const sw_course course = course_of(sprays, 60.0, 9.0);
    bool fast = false;
    for (size_t i = 0; i < course.count; i++)
        fast = fast || (time_of[i] > 4.5 * hour && time_of[i] < 5.5 * hour && slope[i] > usual.rate);
    assert_true(fast);
    const sw_stall stall = stall_of(course, hour);
    assert_close_abs(stall.start, first_edge * hour, 1e-3);
    assert_close_abs(stall.end, second_edge * hour, 1e-3);
}

/* A swing within the window moves an edge by half its period at most, one slower than the window breaks the stall up, and a
 * window as long mends that. */
static void test_swings(void **state)
{
    (void)state;
    const sw_stall within = stall_of(course_of(swing, 60.0, 9.0), hour);
    assert_close_abs(within.start, first_edge * hour, 0.5 * hour);
    assert_close_abs(within.end, second_edge * hour, 0.5 * hour);
    const sw_course slow = course_of(swing_of_two_hours, 60.0, 9.0);
    assert_true(stall_of(slow, hour).end < 6.0 * hour);
    const sw_stall mended = stall_of(slow, 2.0 * hour);
    assert_close_abs(mended.start, first_edge * hour, hour);
    assert_close_abs(mended.end, second_edge * hour, hour);
}

/* A plateau that a whole window does not see as slow is none: of 0.6 h at 1 K/h between ramps of 10 K/h an hour has the mean
 * 0.6 + 0.4 x 10 = 4.6 K/h; the half hour within it is slow, but too short to count. */
static void test_too_short_to_see(void **state)
{
    (void)state;
    static const double rates[] = {10, 10, 1, 1, 10, 10}, times[] = {0, 3, 3, 3.6, 3.6, 6};
    size_t count = 0;
    for (double reached = 303.15, t = 0.0; t <= 6.0 + 1e-9; t += 0.02) {
        const double rate = t >= times[1] && t < times[3] ? rates[2] : rates[0];
        time_of[count] = t * hour;
        value[count] = reached;
        slope[count++] = rate / hour;
        reached += 0.02 * rate;
    }
    const sw_course course = {count, time_of, value, slope};
    sw_stall_definition d = usual;
    sw_stall stall;
    assert_false(sw_find_stall(&course, &d, &stall));
    d.window = 0.5 * hour;
    assert_false(sw_find_stall(&course, &d, &stall));
    d.duration = 0.5 * hour;
    assert_true(sw_find_stall(&course, &d, &stall));
    assert_close_abs(stall.end - stall.start, 0.6 * hour, 0.04 * hour);
}

/* Pulled in the stall, and ten minutes after it: the window never looks past the pull. */
static void test_pull_near_the_end(void **state)
{
    (void)state;
    assert_close_abs(stall_of(course_of(none, 60.0, 5.0), hour).end, 5.0 * hour, 1e-6);
    assert_close_abs(stall_of(course_of(none, 60.0, second_edge + 1.0 / 6.0), hour).end, second_edge * hour, 1e-6);
}

/* A course shorter than the window shows nothing. */
static void test_shorter_than_the_window(void **state)
{
    (void)state;
    const sw_course course = course_of(none, 60.0, 0.5);
    sw_stall stall;
    assert_false(sw_find_stall(&course, &usual, &stall));
}

/* Rows of a history are as far apart as the author likes, and each end of a phase adds one anywhere: a cubic is met by cubics whatever
 * the rows, at rows and between them, and beyond its ends a course keeps its last reading. */
static void test_rows_at_any_distance(void **state)
{
    (void)state;
    unsigned long long seed = 11;
    for (int round = 0; round < 50; round++) {
        const size_t count = 2 + (size_t)(40.0 * random_share(&seed));
        double time = 0.0;
        for (size_t i = 0; i < count; i++) {
            const double h = time / hour;
            time_of[i] = time;
            value[i] = 300.0 + 9.0 * h - 0.8 * h * h + 0.05 * h * h * h;
            slope[i] = (9.0 - 1.6 * h + 0.15 * h * h) / hour;
            time += random_share(&seed) < 0.2 ? 3.0 * random_share(&seed) + 0.01 : 2000.0 * random_share(&seed) * random_share(&seed) + 0.01;
        }
        const sw_course course = {count, time_of, value, slope};
        for (size_t i = 0; i < count; i++)
            assert_close_abs(sw_course_at(&course, time_of[i]), value[i], 1e-10);
        for (int k = 0; k < 100; k++) {
            const double at = random_share(&seed) * time_of[count - 1], h = at / hour;
            assert_close_abs(sw_course_at(&course, at), 300.0 + 9.0 * h - 0.8 * h * h + 0.05 * h * h * h, 1e-9);
            assert_close_abs(sw_course_rate(&course, at) * hour, 9.0 - 1.6 * h + 0.15 * h * h, 1e-4);
        }
        assert_close_abs(sw_course_at(&course, -1.0), value[0], 0.0);
        assert_close_abs(sw_course_at(&course, time_of[count - 1] + 1.0), value[count - 1], 0.0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_rows_at_any_distance),
        cmocka_unit_test(test_true_edges),        cmocka_unit_test(test_sprays_do_not_break_it),
        cmocka_unit_test(test_swings),            cmocka_unit_test(test_too_short_to_see),
        cmocka_unit_test(test_pull_near_the_end), cmocka_unit_test(test_shorter_than_the_window),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
