/* SPDX-License-Identifier: BSD-3-Clause */
/* The parts of a track one by one: how readings are put together, how they err, who decides, what is done, what may be done from here. */
#include "close.h"

#include "error_model.h"
#include "forecast.h"
#include "shared_context.h"

#include <stallwright/everything.h>

#include <math.h>

static sw_scenario open_scenario(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.rest.until.kind = s.hold.until.kind = s.cooling.until.kind = SW_ENDING_NONE;
    return s;
}

/* Readings within a quarter of an hour are one knot at their medians, surer if they are three; each probe has its own. */
static void test_knots(void **state)
{
    const sw_reading list[] = {{5000.0, 320.0, 0}, {0.0, 300.0, 0}, {300.0, 310.0, 0}, {600.0, 302.0, 0}, {5200.0, 330.0, 1}};
    sw_knots k;
    (void)state;
    assert_int_equal(sw_knots_make(context, &(sw_readings){.count = 5, .list = list}, &k), SW_OK);
    assert_int_equal(k.count, 3);
    assert_close_abs(k.list[0].time, 300.0, 0.0);
    assert_close_abs(k.list[0].temperature, 302.0, 0.0);
    assert_true(k.list[0].noise < k.list[1].noise);
    assert_close_abs(k.last[0], 320.0, 0.0);
    assert_close_abs(k.last[1], 330.0, 0.0);
    assert_int_equal(sw_latest_knot(&k), 2);
    /* However many readings, so many knots at most, and none is lost. */
    static sw_reading many[2000];
    for (size_t i = 0; i < 2000; i++)
        many[i] = (sw_reading){.time = 100.0 * (double)i, .temperature = 300.0};
    assert_int_equal(sw_knots_make(context, &(sw_readings){.count = 2000, .list = many}, &k), SW_OK);
    assert_true(k.count > 40 && k.count <= SW_KNOTS_MAX / 2 && k.list[k.count - 1].time > 199000.0 - 5000.0);
}

/* Covariances of drift and bias, from the sizes by their definition; paths have them too. */
static void test_error_model(void **state)
{
    const sw_error_sizes e = {.bias = 2.0, .drift = 3.0, .late_drift = 5.0, .memory = 7200.0};
    const sw_knot cold = {.time = 0.0, .temperature = 300.0}, hot = {.time = 7200.0, .temperature = 360.0}, other = {.time = 0.0, .temperature = 300.0, .probe = 1};
    (void)state;
    assert_close_abs(sw_offset_covariance(&e, &cold, &cold), 4.0 + 9.0, 1e-12);
    assert_close_abs(sw_offset_covariance(&e, &cold, &other), 9.0, 1e-12);
    assert_close_abs(sw_offset_covariance(&e, &hot, &hot), 4.0 + 25.0, 1e-12);
    assert_close_abs(sw_offset_covariance(&e, &cold, &hot), 4.0 + 15.0 * exp(-1.0), 1e-12);
    assert_close_abs(sw_offset_covariance(&e, &hot, &cold), sw_offset_covariance(&e, &cold, &hot), 0.0);
    enum { PATHS = 4000 };
    const double time[] = {0.0, 20000.0}, temperature[] = {300.0, 360.0};
    const sw_knot ends[] = {{.time = 0.0, .temperature = 300.0}, {.time = 20000.0, .temperature = 360.0}};
    double sums[2][2] = {{0.0}};
    for (uint64_t n = 0; n < PATHS; n++) {
        double numbers[3], path[2];
        for (uint64_t i = 0; i < 3; i++)
            numbers[i] = sw_random_normal(5, n, i);
        sw_offset_path(2, time, temperature, numbers, path);
        for (int i = 0; i < 2; i++)
            for (int j = 0; j < 2; j++)
                sums[i][j] += path[i] * path[j] / PATHS;
    }
    /* Five standard errors of a variance, sqrt(2/n) of it. */
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < 2; j++) {
            const double expected = sw_offset_covariance(&sw_usual_errors, &ends[i], &ends[j]),
                         size = sqrt(sw_offset_covariance(&sw_usual_errors, &ends[i], &ends[i]) * sw_offset_covariance(&sw_usual_errors, &ends[j], &ends[j]));
            assert_close_abs(sums[i][j], expected, 5.0 * sqrt(2.0 / PATHS) * size);
        }
    /* A reading of the usual error keeps its noise; one ten scales off has it widened twentyfold: (4 + 100) / 5. */
    assert_close_abs(sw_noise_factor(1.0), 1.0, 1e-12);
    assert_close_abs(sw_noise_factor(10.0), 20.8, 1e-12);
}

static sw_track *track_of(const sw_reading *list, size_t count, size_t draws)
{
    sw_track_question q = {.scenario = open_scenario(), .serve = SW_ABSENT, .draws = draws, .threads = 2, .seed = 3};
    sw_track *t;
    q.readings = (sw_readings){.count = count, .list = list};
    for (size_t i = 0; i < count; i++)
        q.now = fmax(q.now, list[i].time);
    if (sw_track_find(context, &q, &t) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return t;
}

/* The cooler of two probes decides, whichever column it is in. */
static void test_deciding(void **state)
{
    sw_reading list[] = {{7200.0, 310.0, 0}, {7200.0, 320.0, 1}, {14400.0, 330.0, 0}, {14400.0, 336.0, 1}};
    (void)state;
    sw_track *t = track_of(list, 4, 10);
    assert_int_equal(t->deciding, 0);
    sw_track_destroy(t);
    for (size_t i = 0; i < 4; i++)
        list[i].probe = 1 - list[i].probe;
    t = track_of(list, 4, 10);
    assert_int_equal(t->deciding, 1);
    sw_track_destroy(t);
}

/* The pull of 95 C: one reading of it may be a spike, two are not. */
static void test_done(void **state)
{
    const sw_reading list[] = {{30000.0, 366.0, 0}, {31000.0, 369.0, 0}, {32000.0, 369.5, 0}};
    (void)state;
    sw_track *t = track_of(list, 2, 10);
    assert_false(t->is_done);
    sw_track_destroy(t);
    t = track_of(list, 3, 10);
    assert_true(t->is_done);
    sw_track_destroy(t);
}

/* Draws from a normal distribution 1.15 times as wide as the one they stand for, weighted back: with four unknowns they are worth
 * (sqrt(2 w^2 - 1) / w^2)^4 = 0.885 of as many, and their mean square in deviations is 1 an unknown, not 1.3. */
static void test_weights(void **state)
{
    sw_reading list[8];
    double sum = 0.0;
    (void)state;
    for (size_t i = 0; i < 8; i++)
        list[i] = (sw_reading){.time = 1800.0 * (double)(i + 1), .temperature = 278.15 + 60.0 * (1.0 - exp(-(double)i / 3.0))};
    sw_track *t = track_of(list, 8, 200);
    for (size_t i = 0; i < t->draw_count; i++)
        sum += t->draws[i].weight;
    assert_close_abs(sum, 1.0, 1e-9);
    if (!(t->effective > 0.6 * 200 && t->effective < 0.96 * 200))
        fail_msg("200 draws are worth %g", t->effective);
    const size_t count = t->population.count;
    double square = 0.0;
    for (size_t n = 0; n < t->draw_count; n++)
        for (size_t i = 0; i < count; i++)
            for (size_t j = 0; j < count; j++)
                square += t->draws[n].weight * (t->draws[n].normal[i] - t->best[i]) * t->precision[i * count + j] * (t->draws[n].normal[j] - t->best[j]) /
                          (double)count;
    if (!(square > 0.8 && square < 1.15))
        fail_msg("their mean square is %g", square);
    sw_track_destroy(t);
}

static void test_choices(void **state)
{
    sw_track_question q = {.scenario = open_scenario(), .now = 10000.0};
    sw_scenario s;
    (void)state;
    q.scenario.pit.step_count = 2;
    q.scenario.pit.steps[0] = (sw_pit_step){0.0, 394.15, false};
    q.scenario.pit.steps[1] = (sw_pit_step){20000.0, 460.0, false};
    /* 15 K up from now on, at most 190 C. */
    assert_true(sw_choice_scenario(SW_TRACK_HOTTER, &q, &s));
    assert_int_equal(s.pit.step_count, 3);
    assert_close_abs(s.pit.steps[0].temperature, 394.15, 0.0);
    assert_close_abs(s.pit.steps[1].start, 10000.0, 0.0);
    assert_close_abs(s.pit.steps[1].temperature, 394.15 + SW_TRACK_HOTTER_BY, 1e-9);
    assert_close_abs(s.pit.steps[2].temperature, 463.15, 1e-9);
    q.scenario.wrap.kind = SW_WRAP_PAPER;
    q.scenario.wrap.when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 345.0};
    q.scenario.rewrap.kind = SW_WRAP_NONE;
    q.scenario.rewrap.when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 360.0};
    assert_true(sw_choice_scenario(SW_TRACK_CLOSED_FOIL, &q, &s));
    assert_int_equal(s.wrap.kind, SW_WRAP_CLOSED_FOIL);
    assert_close_abs(s.wrap.when.value, 10000.0, 0.0);
    assert_int_equal(s.rewrap.when.kind, SW_ENDING_NONE);
    assert_true(sw_choice_scenario(SW_TRACK_UNWRAPPED, &q, &s) && s.wrap.kind == SW_WRAP_NONE);
    /* In a wrap nothing else goes on. */
    q.scenario.wrap.when = (sw_ending){SW_ENDING_DURATION, 9000.0};
    assert_false(sw_choice_scenario(SW_TRACK_CLOSED_FOIL, &q, &s));
    assert_false(sw_choice_scenario(SW_TRACK_UNWRAPPED, &q, &s));
    assert_true(sw_choice_scenario(SW_TRACK_AS_PLANNED, &q, &s));
}

/* A probe that reads 4 K above the curve: the planned 350 K are the curve's 346; a second wrap waits for its own, and has come once that is read. */
static void test_wraps_ahead(void **state)
{
    const sw_ending at_350 = {SW_ENDING_PROBE_TEMPERATURE, 350.0}, at_360 = {SW_ENDING_PROBE_TEMPERATURE, 360.0};
    sw_scenario s = open_scenario();
    (void)state;
    s.wrap.kind = SW_WRAP_PAPER;
    s.wrap.when = at_350;
    s.rewrap.when = at_360;
    sw_wraps_ahead(9000.0, 340.0, 4.0, &s);
    assert_close_abs(s.wrap.when.value, 346.0, 1e-12);
    assert_close_abs(s.rewrap.when.value, 356.0, 1e-12);
    s.wrap.when = at_350;
    s.rewrap.when = at_360;
    sw_wraps_ahead(9000.0, 358.0, 4.0, &s);
    assert_true(s.wrap.when.kind == SW_ENDING_DURATION && s.wrap.when.value == 9000.0);
    assert_int_equal(s.rewrap.when.kind, SW_ENDING_PROBE_TEMPERATURE);
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 5000.0};
    s.rewrap.when = at_360;
    sw_wraps_ahead(9000.0, 358.0, 4.0, &s);
    assert_true(s.rewrap.when.kind == SW_ENDING_DURATION && s.rewrap.when.value == 4000.0);
}

/* A second wrap planned at a temperature that has been read has not gone on either: as planned it goes on now. */
static void test_due_rewrap(void **state)
{
    sw_reading list[8];
    sw_track_question q = {.scenario = open_scenario(), .serve = SW_ABSENT, .draws = 10, .threads = 2, .seed = 3};
    sw_track *by_temperature, *by_time;
    (void)state;
    for (size_t i = 0; i < 8; i++)
        list[i] = (sw_reading){.time = 2400.0 * (double)(i + 1), .temperature = 278.15 + 8.0 * (double)i};
    q.readings = (sw_readings){.count = 8, .list = list};
    q.now = list[7].time + 1200.0;
    q.scenario.wrap.kind = SW_WRAP_CLOSED_FOIL;
    q.scenario.wrap.when = (sw_ending){SW_ENDING_DURATION, 4800.0};
    q.scenario.rewrap.kind = SW_WRAP_NONE;
    q.scenario.rewrap.when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 300.0};
    assert_int_equal(sw_track_find(context, &q, &by_temperature), SW_OK);
    q.scenario.rewrap.when = (sw_ending){SW_ENDING_DURATION, q.now - 4800.0};
    assert_int_equal(sw_track_find(context, &q, &by_time), SW_OK);
    assert_close_abs(by_temperature->choices[0].done.middle, by_time->choices[0].done.middle, 1e-6);
    sw_track_destroy(by_temperature);
    sw_track_destroy(by_time);
}

/* One draw of four outweighs the others eight times: 1, 1/8, 1/8, 1/8 come to 11/8, of which it may have half, 11/16, at most; 17/16 remain.
 * By hand. */
static void test_weight_cut(void **state)
{
    double weight[] = {log(8.0), 0.0, 0.0, 0.0}, none[] = {-INFINITY, -INFINITY};
    (void)state;
    assert_true(sw_weights_from_logarithms(weight, 4));
    assert_close_abs(weight[0], 11.0 / 17.0, 1e-15);
    for (size_t i = 1; i < 4; i++)
        assert_close_abs(weight[i], 2.0 / 17.0, 1e-15);
    assert_false(sw_weights_from_logarithms(none, 2));
}

/* Two cooks that both explain the readings: likelihoods as 1 to e, widths as 2 to 1, so shares as 2 to e. By hand. */
static void test_two_modes(void **state)
{
    static sw_estimate e;
    static sw_population one = {.count = 1};
    (void)state;
    e.population = &one;
    e.modes[0] = (sw_mode){.normal = {0.0}, .root = {1.0}, .cost = 2.0};
    e.modes[1] = (sw_mode){.normal = {3.0}, .root = {2.0}, .cost = 1.0};
    sw_weigh_modes(&e);
    assert_int_equal(e.mode_count, 2);
    assert_close_abs(e.modes[0].normal[0], 3.0, 0.0);
    assert_close_abs(e.modes[0].share, exp(1.0) / (2.0 + exp(1.0)), 1e-15);
    assert_close_abs(e.modes[1].share, 2.0 / (2.0 + exp(1.0)), 1e-15);
    e.modes[1].cost = 6.0; /* shares as 1 to e^-5 times 2 */
    sw_weigh_modes(&e);
    assert_int_equal(e.mode_count, 1);
    assert_close_abs(e.modes[0].share, 1.0, 0.0);
    e.modes[0] = (sw_mode){.normal = {0.3}, .root = {1.0}, .cost = 2.0};
    e.modes[1] = (sw_mode){.normal = {0.0}, .root = {1.0}, .cost = 2.0}; /* the same, found twice */
    sw_weigh_modes(&e);
    assert_int_equal(e.mode_count, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_knots),   cmocka_unit_test(test_error_model), cmocka_unit_test(test_deciding),
                                       cmocka_unit_test(test_done),    cmocka_unit_test(test_weights),     cmocka_unit_test(test_choices),
                                       cmocka_unit_test(test_weight_cut), cmocka_unit_test(test_two_modes),
                                       cmocka_unit_test(test_wraps_ahead), cmocka_unit_test(test_due_rewrap)};
    return cmocka_run_group_tests(tests, open_context, close_context);
}
