/* SPDX-License-Identifier: BSD-3-Clause */
/* Plans: counting against closed forms of straight toy cooks, what longer holds and earlier starts do to the odds, the plan
 * replayed as a cook, and its odds met by fresh draws. */
#include "close.h"

#include "shared_context.h"
#include <stallwright/everything.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { TOY = 1000, DRAWS = 60 };

static const double hour = 3600.0;

/* Cooks whose times lie evenly between 8 h and 12 h: the share ready by t is (t - 8 h) / 4 h. */
static void fill_even(double ready[TOY])
{
    for (size_t i = 0; i < TOY; i++)
        ready[i] = (8.0 + 4.0 * ((double)i + 0.5) / TOY) * hour;
}

static void test_counting_against_the_closed_form(void **state)
{
    double ready[TOY];
    (void)state;
    fill_even(ready);
    for (double lead = 7.0; lead <= 15.0; lead += 0.25) {
        const double in_time = fmin(fmax((lead - 1.0 - 8.0) / 4.0, 0.0), 1.0);
        const double too_long = fmin(fmax((lead - 3.0 - 8.0) / 4.0, 0.0), 1.0);
        assert_close_abs(sw_odds_in_time(ready, TOY, hour, lead * hour).share, in_time, 1.0 / TOY);
        assert_close_abs(sw_odds_held_too_long(ready, TOY, 3.0 * hour, lead * hour).share, too_long, 1.0 / TOY);
    }
    /* Agresti and Coull (1998), The American Statistician 52:119: p = (x + 2)/(n + 4), sqrt(p (1 - p)/(n + 4)); by hand. */
    assert_close_abs(sw_odds_of(90, 100).error, sqrt(92.0 / 104.0 * 12.0 / 104.0 / 104.0), 1e-15);
    assert_true(sw_odds_of(100, 100).error > 0.01 && sw_odds_of(100, 100).share == 1.0);
    assert_close_abs(sw_time_reached_by(ready, TOY, 0.25) / hour, 9.0, 4.0 / TOY);
    assert_true(sw_time_reached_by(ready, TOY, 0.3) == ready[299] && sw_time_reached_by(ready, TOY, 1.0) == ready[TOY - 1]);
}

/* Of the even toy with a least hold a and a longest b the latest lead is 8 + 4 p + a, the earliest 8 + 4 (1 - p) + b. */
static void test_starts_against_the_closed_form(void **state)
{
    double ready[TOY];
    sw_plan_starts s;
    (void)state;
    fill_even(ready);
    for (double odds = 0.5; odds <= 0.95; odds += 0.05)
        for (double most = 5.0; most <= 9.0; most += 1.0) {
            sw_plan_starts_find(ready, TOY, hour, most * hour, odds, &s);
            assert_within(s.latest / hour, 8.0 + 4.0 * odds + 1.0 - 0.005, 8.0 + 4.0 * odds + 1.0 + SW_PLAN_STEP / hour + 0.005);
            assert_within(s.earliest / hour, 8.0 + 4.0 * (1.0 - odds) + most - SW_PLAN_STEP / hour - 0.005, 8.0 + 4.0 * (1.0 - odds) + most + 0.005);
            assert_true(s.recommended >= s.latest && (s.recommended <= s.earliest || s.recommended == s.latest));
            assert_close_abs(fmod(s.latest, SW_PLAN_STEP), 0.0, 1e-6);
        }
    /* Every cook is served well from leads of 13 to 8 + most: the middle. */
    sw_plan_starts_find(ready, TOY, hour, 8.0 * hour, 0.9, &s);
    assert_close_abs(s.recommended / hour, 0.5 * (13.0 + 16.0), SW_PLAN_STEP / hour + 0.005);
    /* The holds leave less room than cooks differ: the latest stands. */
    sw_plan_starts_find(ready, TOY, hour, 2.0 * hour, 0.9, &s);
    assert_true(s.earliest < s.latest && s.recommended == s.latest);
    /* One in five never gets ready: 80 % can be had and 90 % not. */
    for (size_t i = 800; i < TOY; i++)
        ready[i] = INFINITY;
    sw_plan_starts_find(ready, TOY, hour, 8.0 * hour, 0.8, &s);
    assert_close_abs(s.latest / hour, 8.0 + 4.0 * 0.8 + 1.0, SW_PLAN_STEP / hour + 0.005);
    sw_plan_starts_find(ready, TOY, hour, 8.0 * hour, 0.9, &s);
    assert_true(SW_IS_ABSENT(s.latest) && SW_IS_ABSENT(s.recommended));
}

static void test_what_moves_the_odds(void **state)
{
    double ready[TOY];
    (void)state;
    srand(3);
    for (size_t i = 0; i < TOY; i++)
        ready[i] = i % 50 == 7 ? INFINITY : 3e4 + 2e4 * rand() / RAND_MAX;
    for (double lead = 2.5e4; lead < 7e4; lead += 1e3)
        for (double hold = 0.0; hold < 2e4; hold += 1e3) {
            assert_true(sw_odds_in_time(ready, TOY, hold + 1e3, lead).share <= sw_odds_in_time(ready, TOY, hold, lead).share);
            assert_true(sw_odds_in_time(ready, TOY, hold, lead + 1e3).share >= sw_odds_in_time(ready, TOY, hold, lead).share);
            assert_true(sw_odds_held_too_long(ready, TOY, hold + 1e3, lead).share <= sw_odds_held_too_long(ready, TOY, hold, lead).share);
        }
}

/* ---- plans of cooks ---- */

static sw_scenario supper(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.wrap.kind = SW_WRAP_PAPER;
    return s;
}

static sw_plan *plan_of(const sw_scenario *s, double odds, uint64_t seed, size_t compared, size_t threads)
{
    sw_plan *plan = NULL;
    const sw_plan_question q = {
        .stated = s, .odds = odds, .seed = seed, .draws = DRAWS, .compared_draws = compared, .threads = threads};
    if (sw_plan_make(context, &q, &plan) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return plan;
}

static void test_replayed_by_cook(void **state)
{
    const sw_scenario s = supper();
    sw_plan *plan = plan_of(&s, 0.9, 1, 0, 1);
    sw_run run = {.label = "replay"};
    (void)state;
    sw_plan_scenario(&s, plan->starts.recommended, &run.scenario);
    if (sw_run_cook(context, &run, NULL) != SW_OK)
        fail_msg("%s", run.failure);
    /* In time: not late, and sliced when the people sit down. */
    assert_true(run.outcome.late == 0.0);
    assert_close_abs(run.outcome.slice_time, plan->starts.recommended, 1.0);
    assert_true(run.outcome.rest_end + s.serving.hold_at_least <= plan->starts.latest);
    /* The median cook of the plan is that cook. */
    assert_close_rel(plan->median.outcome.done_time, run.outcome.done_time, 1e-6);
    assert_close_abs(plan->rest, 900.0, 1.0);
    sw_run_free(&run);
    sw_plan_destroy(plan);
}

/* The odds of one seed hold for the draws of another, within three errors of both. */
static void test_fresh_draws(void **state)
{
    const sw_scenario s = supper();
    (void)state;
    for (double odds = 0.5; odds < 0.95; odds += 0.3) {
        sw_plan *one = plan_of(&s, odds, 1, 0, 1), *other = plan_of(&s, odds, 99, 0, 1);
        const sw_odds told = sw_odds_in_time(one->ready, one->draws, s.serving.hold_at_least, one->starts.latest);
        const sw_odds met = sw_odds_in_time(other->ready, other->draws, s.serving.hold_at_least, one->starts.latest);
        assert_true(told.share >= odds);
        assert_close_abs(met.share, told.share, 3.0 * hypot(told.error, met.error));
        sw_plan_destroy(one);
        sw_plan_destroy(other);
    }
}

static void test_holds_and_odds_move_the_starts(void **state)
{
    sw_scenario s = supper();
    sw_plan *usual = plan_of(&s, 0.8, 1, 0, 1), *surer = plan_of(&s, 0.95, 1, 0, 1);
    s.serving.hold_at_least += 1800.0;
    s.serving.hold_at_most += 3600.0;
    sw_plan *longer = plan_of(&s, 0.8, 1, 0, 1);
    (void)state;
    assert_true(surer->starts.latest > usual->starts.latest);
    assert_close_abs(longer->starts.latest, usual->starts.latest + 1800.0, 1.0);
    assert_close_abs(longer->starts.earliest, usual->starts.earliest + 3600.0, 1.0);
    for (int e = 0; e < SW_PLAN_EVENT_COUNT; e++)
        if (usual->windows[e].draws > 0)
            assert_true(usual->windows[e].low <= usual->windows[e].middle && usual->windows[e].middle <= usual->windows[e].high);
    assert_int_equal(usual->windows[SW_PLAN_EVENT_wrap].draws, DRAWS);
    assert_int_equal(usual->windows[SW_PLAN_EVENT_rewrap].draws, 0);
    assert_true(usual->windows[SW_PLAN_EVENT_wrap].high < usual->windows[SW_PLAN_EVENT_pull].low);
    /* Nine in ten need no more than the most; all of it is more than what is eaten. */
    assert_true(usual->mass_to_buy_low < usual->mass_to_buy && usual->mass_to_buy < usual->mass_to_buy_high);
    assert_true(usual->mass_to_buy_low > s.serving.people * s.serving.size);
    sw_plan_destroy(usual);
    sw_plan_destroy(surer);
    sw_plan_destroy(longer);
}

static const sw_plan_choice *choice_of(const sw_plan *plan, sw_wrap_kind wrap, double pit_change)
{
    for (size_t i = 0; i < plan->choice_count; i++)
        if (plan->choices[i].wrap == wrap && plan->choices[i].pit_change == pit_change)
            return &plan->choices[i];
    fail_msg("there is no choice %s %+g K", sw_wrap_name(wrap), pit_change);
    return NULL;
}

static void test_choices_and_threads(void **state)
{
    const sw_scenario s = supper();
    sw_plan *one = plan_of(&s, 0.9, 5, 10, 1), *two = plan_of(&s, 0.9, 5, 10, 3);
    (void)state;
    assert_int_equal(one->choice_count, 12);
    assert_memory_equal(one->ready, two->ready, DRAWS * sizeof *one->ready);
    for (size_t i = 0; i < one->choice_count; i++)
        assert_memory_equal(one->choices[i].ready, two->choices[i].ready, 10 * sizeof(double));
    const sw_plan_choice *asked = choice_of(one, SW_WRAP_PAPER, 0.0), *hot = choice_of(one, SW_WRAP_PAPER, SW_PLAN_PIT_STEP);
    const sw_plan_choice *bare = choice_of(one, SW_WRAP_NONE, 0.0), *foil = choice_of(one, SW_WRAP_CLOSED_FOIL, 0.0);
    assert_true(asked->is_asked && !hot->is_asked);
    assert_true(hot->starts.latest < asked->starts.latest && foil->starts.latest < bare->starts.latest);
    sw_plan_destroy(one);
    sw_plan_destroy(two);
}

/* The foil of a cook goes on in that moment: it is the wrap of the phase that begins then, give or take a minute. */
static void assert_foil_from(const sw_run *run, double moment)
{
    const sw_history *h = run->history;
    for (size_t i = 0; i < h->phase_count; i++)
        if (fabs(h->phases[i].start - moment) <= 61.0) {
            const bool is_second = h->phases[i].phase == SW_PHASE_REWRAPPED;
            assert_int_equal(is_second ? run->scenario.rewrap.kind : run->scenario.wrap.kind, SW_WRAP_CLOSED_FOIL);
            return;
        }
    fail_msg("no wrap goes on at %g h", moment / hour);
}

static void test_late_and_early(void **state)
{
    const sw_scenario s = supper();
    sw_plan *plan = plan_of(&s, 0.9, 1, 0, 1);
    const sw_plan_late *late = &plan->late;
    (void)state;
    assert_true(late->is_found);
    assert_true(late->usual - late->probe >= 5.0 && fmod(late->shows, 900.0) == 0.0);
    assert_true(late->ready[SW_RESCUE_NOTHING] > plan->windows[SW_PLAN_EVENT_ready].high);
    assert_close_rel(late->ready[SW_RESCUE_NOTHING], sw_time_reached_by(plan->ready, plan->draws, SW_PLAN_LATE_SHARE), 0.01);
    assert_true(late->ready[SW_RESCUE_FOIL] < late->ready[SW_RESCUE_NOTHING] - 300.0);
    assert_true(late->ready[SW_RESCUE_BOTH] < fmin(late->ready[SW_RESCUE_FOIL], late->ready[SW_RESCUE_HOTTER]));
    /* What is done is done from that moment on: the same cook until then. */
    const sw_scenario *hotter = &late->run[SW_RESCUE_HOTTER].scenario;
    assert_int_equal(hotter->pit.step_count, 2);
    assert_true(hotter->pit.steps[1].start == late->shows);
    assert_close_abs(hotter->pit.steps[1].temperature - hotter->pit.steps[0].temperature, SW_PLAN_PIT_STEP, 1e-9);
    /* Foil takes the place of paper that is not on yet; else it goes over it. */
    const sw_scenario *foil = &late->run[SW_RESCUE_FOIL].scenario;
    const double wrapped = late->run[SW_RESCUE_NOTHING].outcome.wrap_time;
    if (wrapped >= late->shows) {
        assert_true(foil->wrap.kind == SW_WRAP_CLOSED_FOIL && foil->wrap.when.kind == SW_ENDING_DURATION && foil->wrap.when.value == late->shows);
    } else {
        assert_true(foil->wrap.kind == SW_WRAP_PAPER && foil->rewrap.kind == SW_WRAP_CLOSED_FOIL);
        assert_close_abs(foil->rewrap.when.value, late->shows, 61.0);
    }
    assert_foil_from(&late->run[SW_RESCUE_FOIL], late->shows);
    assert_close_rel(plan->early_ready, sw_time_reached_by(plan->ready, plan->draws, SW_PLAN_EARLY_SHARE), 0.01);
    /* Held from there until served. */
    assert_close_abs(plan->early.outcome.slice_time, plan->starts.recommended, 1.0);
    assert_close_abs(plan->longest.outcome.slice_time - plan->longest.outcome.rest_end, s.serving.hold_at_most, 1.0);
    sw_plan_destroy(plan);
}

/* A pit too cool for the pull: said by numbers, not by an error. */
static void test_no_start_is_enough(void **state)
{
    sw_scenario s = supper();
    (void)state;
    s.wrap.kind = SW_WRAP_NONE;
    s.pit.steps[0].temperature = 273.15 + 88.0;
    sw_plan *plan = plan_of(&s, 0.9, 1, 0, 1);
    assert_true(plan->never_ready > DRAWS / 10 && SW_IS_ABSENT(plan->starts.latest) && !plan->is_median_run);
    sw_plan_destroy(plan);
}

static void assert_refused(const sw_plan_question *q, const char *words)
{
    sw_plan *plan = NULL;
    assert_int_equal(sw_plan_make(context, q, &plan), SW_ERR_ARGUMENT);
    assert_null(plan);
    if (!strstr(sw_context_message(context), words))
        fail_msg("\"%s\" does not say \"%s\"", sw_context_message(context), words);
}

static void test_refusals(void **state)
{
    sw_scenario s = supper();
    sw_plan_question q = {.stated = &s, .odds = 0.9, .draws = DRAWS, .threads = 1};
    (void)state;
    q.odds = 1.5;
    assert_refused(&q, "the odds are 1.5");
    q.odds = 0.9;
    q.draws = 3;
    assert_refused(&q, "the draws are 3");
    q.draws = DRAWS;
    s.rest.until = (sw_ending){SW_ENDING_CLOCK, 40000.0};
    assert_refused(&q, "rest.until is a time of day");
    s = supper();
    s.serving.hold_at_least = 9.0 * hour;
    assert_refused(&q, "serving.hold_at_least is 9 h");
}

/* Counted back over midnight: 13:00 less 15 h 30 min is 21:30 the evening before. */
static void test_scenario_over_midnight(void **state)
{
    const sw_scenario s = supper();
    sw_scenario from;
    (void)state;
    sw_plan_scenario(&s, 15.5 * hour, &from);
    assert_close_abs(from.start_clock, 21.5 * hour, 1e-6);
    assert_close_abs(sw_ending_clock_time(from.start_clock, from.hold.until), 15.5 * hour, 1e-6);
    sw_plan_scenario(&s, 13.0 * hour, &from);
    assert_close_abs(from.start_clock, 0.0, 1e-6);
    assert_close_abs(sw_ending_clock_time(from.start_clock, from.hold.until), 13.0 * hour, 1e-6);
    /* Whatever the lead it is a scenario that can be cooked, and a day given with the hour changes nothing. */
    sw_scenario later = s, other;
    later.serving.time += 86400.0;
    for (double lead = 2.0 * hour; lead < 50.0 * hour; lead += 3.7 * hour) {
        sw_plan_scenario(&s, lead, &from);
        sw_plan_scenario(&later, lead, &other);
        if (sw_scenario_check(context, &from) != SW_OK)
            fail_msg("%s", sw_context_message(context));
        assert_close_abs(sw_ending_clock_time(from.start_clock, from.hold.until), lead, 1e-6);
        assert_close_abs(sw_ending_clock_time(other.start_clock, other.hold.until), lead, 1e-6);
    }
    sw_plan_scenario(&s, 40.0 * hour, &from);
    assert_close_abs(from.start_clock, 21.0 * hour, 1e-6);
    assert_close_abs(sw_ending_clock_time(from.start_clock, from.hold.until), 40.0 * hour, 1e-6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_counting_against_the_closed_form),
        cmocka_unit_test(test_starts_against_the_closed_form),
        cmocka_unit_test(test_what_moves_the_odds),
        cmocka_unit_test(test_replayed_by_cook),
        cmocka_unit_test(test_fresh_draws),
        cmocka_unit_test(test_holds_and_odds_move_the_starts),
        cmocka_unit_test(test_choices_and_threads),
        cmocka_unit_test(test_late_and_early),
        cmocka_unit_test(test_no_start_is_enough),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_scenario_over_midnight),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
