/* SPDX-License-Identifier: BSD-3-Clause */
/* What a plan makes of its draws: against draws cooked one by one, what may be bought, other wraps, starts that are past, and what is done
 * about late cooks. */
#include "close.h"

#include "draw_cooked.h"
#include "shared_context.h"
#include <stallwright/everything.h>

#include <math.h>
#include <string.h>

enum { DRAWS = 24 };

static sw_scenario supper(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.wrap.kind = SW_WRAP_PAPER;
    return s;
}

static sw_plan *make(const sw_plan_question *q)
{
    sw_plan *plan = NULL;
    if (sw_plan_make(context, q, &plan) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return plan;
}

static sw_plan *plan_of(const sw_scenario *s)
{
    const sw_plan_question q = {.stated = s, .odds = 0.9, .seed = 4, .draws = DRAWS, .threads = 2};
    return make(&q);
}

/* A cook up to its rest. */
static sw_outcome outcome_of(sw_scenario s, bool coarse)
{
    s.hold.until.kind = s.cooling.until.kind = SW_ENDING_NONE;
    return draw_cooked(s, coarse);
}

/* The draws cooked here; coarse ones are moved to where the fine median cook lies: times up to the pull by a ratio, yields by a difference, the
 * rest keeping its length. */
static void test_against_draws_by_hand(void **state)
{
    sw_scenario s = supper();
    sw_population p;
    sw_scenario drawn;
    double ready[DRAWS], masses[DRAWS];
    const double origin[SW_POPULATION_INPUTS_MAX] = {0.0};
    (void)state;
    s.serving.trimming = 0.2;
    s.hold.convection = 20.0;
    s.hold.humidity_ratio = 0.0;
    s.hold.keep_wrap = false;
    sw_plan *plan = plan_of(&s);
    assert_int_equal(sw_population_given(context, &s, &p), SW_OK);
    sw_population_scenario(&p, origin, &drawn);
    const sw_outcome fine = outcome_of(drawn, false), coarse = outcome_of(drawn, true);
    const double held = plan->median.outcome.yield_fraction - fine.yield_fraction;
    assert_true(held < -0.01);
    for (size_t i = 0; i < DRAWS; i++) {
        double normal[SW_POPULATION_INPUTS_MAX];
        sw_population_draw(&p, 4, i, normal);
        sw_population_scenario(&p, normal, &drawn);
        const sw_outcome o = outcome_of(drawn, true);
        const double time = o.slice_time + (fine.done_time / coarse.done_time - 1.0) * o.done_time;
        size_t k = i;
        for (; k > 0 && ready[k - 1] > time; k--)
            ready[k] = ready[k - 1];
        ready[k] = time;
        masses[i] = s.serving.people * s.serving.size / ((o.yield_fraction + fine.yield_fraction - coarse.yield_fraction + held) * 0.8);
    }
    for (size_t i = 0; i < DRAWS; i++)
        assert_close_rel(plan->ready[i], ready[i], 1e-9);
    assert_close_rel(plan->mass_to_buy_low, sw_quantile(masses, DRAWS, 0.1), 1e-9);
    assert_close_rel(plan->mass_to_buy, sw_quantile(masses, DRAWS, 0.5), 1e-9);
    assert_close_rel(plan->mass_to_buy_high, sw_quantile(masses, DRAWS, 0.9), 1e-9);
    sw_plan_destroy(plan);
}

/* Bone is bought and not eaten; a trimming that is stated has no spread. */
static void test_what_to_buy(void **state)
{
    sw_scenario s = supper();
    (void)state;
    s.meat.bone = 0.0;
    sw_plan *open = plan_of(&s);
    s.serving.trimming = open->stated.serving.trimming;
    sw_plan *stated = plan_of(&s);
    s.meat.bone = 0.2;
    sw_plan *bony = plan_of(&s);
    assert_close_rel(bony->mass_to_buy * (1.0 - 0.2), stated->mass_to_buy, 1e-9);
    assert_true(stated->mass_to_buy_high - stated->mass_to_buy_low < 0.6 * (open->mass_to_buy_high - open->mass_to_buy_low));
    sw_plan_destroy(open);
    sw_plan_destroy(stated);
    sw_plan_destroy(bony);
}

static const sw_plan_choice *choice_of(const sw_plan *plan, sw_wrap_kind wrap)
{
    for (size_t i = 0; i < plan->choice_count; i++)
        if (plan->choices[i].wrap == wrap && plan->choices[i].pit_change == 0.0)
            return &plan->choices[i];
    fail_msg("there is no choice %s", sw_wrap_name(wrap));
    return NULL;
}

/* Another wrap is that of a scenario that says so, with the first of the same draws, and without a change of the wrap that is not there. */
static void test_other_wraps(void **state)
{
    sw_scenario s = supper();
    sw_plan_question q = {.stated = &s, .odds = 0.9, .seed = 4, .draws = DRAWS, .compared_draws = 8, .threads = 2};
    (void)state;
    s.rewrap = (sw_rewrap){SW_WRAP_NONE, {SW_ENDING_PROBE_TEMPERATURE, 273.15 + 80.0}};
    sw_plan *paper = make(&q);
    assert_int_equal(paper->windows[SW_PLAN_EVENT_rewrap].draws, DRAWS);
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;
    s.rewrap.when.kind = SW_ENDING_NONE;
    q.draws = 20;
    sw_plan *foil = make(&q);
    assert_memory_equal(choice_of(paper, SW_WRAP_CLOSED_FOIL)->ready, choice_of(foil, SW_WRAP_CLOSED_FOIL)->ready, 8 * sizeof(double));
    assert_true(choice_of(foil, SW_WRAP_CLOSED_FOIL)->is_asked && !choice_of(paper, SW_WRAP_CLOSED_FOIL)->is_asked);
    sw_plan_destroy(paper);
    sw_plan_destroy(foil);
}

/* Starts that are past are not recommended; the latest stands. */
static void test_longest_lead(void **state)
{
    const sw_scenario s = supper();
    sw_plan_question q = {.stated = &s, .odds = 0.6, .seed = 4, .draws = DRAWS, .threads = 2};
    (void)state;
    sw_plan *free_choice = make(&q);
    const double latest = free_choice->starts.latest, recommended = free_choice->starts.recommended;
    assert_true(recommended > latest + 3.0 * SW_PLAN_STEP);
    q.longest_lead = latest + 1.5 * SW_PLAN_STEP;
    sw_plan *pressed = make(&q);
    assert_true(pressed->starts.recommended == latest + SW_PLAN_STEP && pressed->starts.latest == latest);
    q.longest_lead = latest - 10.0 * SW_PLAN_STEP;
    sw_plan *past = make(&q);
    assert_true(past->starts.recommended == latest && past->starts.latest == latest);
    sw_plan_destroy(free_choice);
    sw_plan_destroy(pressed);
    sw_plan_destroy(past);
}

/* A hotter pit begins when it shows, also where a step of the pit begins in that moment, and later steps are hotter too. */
static void test_hotter_from_then_on(void **state)
{
    sw_scenario s = supper();
    sw_plan *plain = plan_of(&s);
    const double shows = plain->late.shows, pit = s.pit.steps[0].temperature;
    (void)state;
    assert_true(plain->late.is_found);
    s.pit.steps[1] = (sw_pit_step){.start = shows, .temperature = pit};
    s.pit.steps[2] = (sw_pit_step){.start = shows + 3600.0, .temperature = pit + 4.0};
    s.pit.step_count = 3;
    sw_plan *stepped = plan_of(&s);
    assert_true(stepped->late.shows == shows && stepped->late.is_open[SW_RESCUE_HOTTER]);
    const sw_pit *hotter = &stepped->late.run[SW_RESCUE_HOTTER].scenario.pit;
    const sw_pit *as_drawn = &stepped->late.run[SW_RESCUE_NOTHING].scenario.pit;
    assert_int_equal(hotter->step_count, 3);
    assert_close_abs(hotter->steps[0].temperature, as_drawn->steps[0].temperature, 1e-9);
    for (size_t i = 1; i < 3; i++) {
        assert_true(hotter->steps[i].start == as_drawn->steps[i].start);
        assert_close_abs(hotter->steps[i].temperature, as_drawn->steps[i].temperature + SW_PLAN_PIT_STEP, 1e-9);
    }
    sw_plan_destroy(plain);
    sw_plan_destroy(stepped);
}

/* Foil in a late cook: nothing is poured any more, none where foil is on, and none once the wrap was changed. */
static void test_foil_where_it_may_be(void **state)
{
    sw_scenario s = supper();
    (void)state;
    s.wrap.kind = SW_WRAP_OPEN_TRAY;
    s.wrap.pour = SW_POUR_OVER;
    s.wrap.pour_when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + 90.0};
    sw_plan *tray = plan_of(&s);
    assert_true(tray->late.is_found && tray->late.is_open[SW_RESCUE_FOIL]);
    assert_int_equal(tray->late.run[SW_RESCUE_FOIL].scenario.wrap.pour, SW_POUR_NO);
    assert_int_equal(tray->late.run[SW_RESCUE_NOTHING].scenario.wrap.pour, SW_POUR_OVER);
    s = supper();
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 1800.0};
    sw_plan *foil = plan_of(&s);
    assert_true(foil->late.is_found && !foil->late.is_open[SW_RESCUE_FOIL] && !foil->late.is_open[SW_RESCUE_BOTH]);
    assert_true(foil->late.is_open[SW_RESCUE_HOTTER]);
    s.wrap.kind = SW_WRAP_PAPER;
    s.rewrap = (sw_rewrap){SW_WRAP_NONE, {SW_ENDING_DURATION, 3600.0}};
    sw_plan *bare_again = plan_of(&s);
    assert_true(bare_again->late.is_found && !bare_again->late.is_open[SW_RESCUE_FOIL]);
    /* Paper that goes on by the clock of the cook, before it shows: the foil goes over it when it does. */
    s = supper();
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 2.4 * 3600.0};
    sw_plan *timed = plan_of(&s);
    const sw_run *run = &timed->late.run[SW_RESCUE_FOIL];
    assert_true(timed->late.is_found && timed->late.is_open[SW_RESCUE_FOIL]);
    assert_int_equal(run->history->phases[2].phase, SW_PHASE_REWRAPPED);
    assert_close_abs(run->history->phases[1].start, 2.4 * 3600.0, 1.0);
    assert_close_abs(run->history->phases[2].start, timed->late.shows, 61.0);
    sw_plan_destroy(timed);
    sw_plan_destroy(tray);
    sw_plan_destroy(foil);
    sw_plan_destroy(bare_again);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_against_draws_by_hand), cmocka_unit_test(test_what_to_buy),
        cmocka_unit_test(test_other_wraps),           cmocka_unit_test(test_longest_lead),
        cmocka_unit_test(test_hotter_from_then_on),   cmocka_unit_test(test_foil_where_it_may_be),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
