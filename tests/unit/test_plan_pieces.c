/* SPDX-License-Identifier: BSD-3-Clause */
/* Several pieces in one pit: one air for all, odds of all together, and the plan of a single one. */
#include "close.h"

#include "shared_context.h"
#include <stallwright/everything.h>

#include <math.h>
#include <string.h>

enum { DRAWS = 60 };

static sw_scenario piece(double mass)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.meat.mass = mass;
    return s;
}

static sw_plan_of_pieces *plan_of(sw_scenario *pieces, size_t count, double odds, uint64_t seed)
{
    sw_plan_of_pieces *plan = NULL;
    const sw_plan_question q = {.odds = odds, .seed = seed, .draws = DRAWS, .threads = 2};
    if (sw_plan_share_pit(context, pieces, count) != SW_OK || sw_plan_make_together(context, &q, pieces, count, &plan) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return plan;
}

/* Surfaces of bodies of one shape go with the power 2/3 of their mass (geometry), and so does what they give off. */
static void test_one_air(void **state)
{
    sw_scenario pieces[3] = {piece(6.5), piece(2.0), piece(2.0)}, settled[3];
    double surfaces = 0.0;
    (void)state;
    pieces[1].pit.pieces = 2.0;
    for (int k = 0; k < 3; k++)
        surfaces += pieces[k].pit.pieces * pow(pieces[k].meat.mass, 2.0 / 3.0);
    assert_int_equal(sw_plan_share_pit(context, pieces, 3), SW_OK);
    for (int k = 0; k < 3; k++) {
        assert_close_rel(pieces[k].pit.pieces * pow(pieces[k].meat.mass, 2.0 / 3.0), surfaces, 1e-12);
        settled[k] = pieces[k];
        sw_scenario_settle(&settled[k]);
        assert_close_rel(settled[k].pit.humidity_ratio, settled[0].pit.humidity_ratio, 1e-12);
    }
    /* Damper than with one of them alone. */
    sw_scenario alone = piece(6.5);
    sw_scenario_settle(&alone);
    assert_true(settled[0].pit.humidity_ratio > alone.pit.humidity_ratio + 0.001);
    sw_scenario same[4] = {piece(3.0), piece(3.0), piece(3.0), piece(3.0)};
    assert_int_equal(sw_plan_share_pit(context, same, 4), SW_OK);
    assert_close_abs(same[2].pit.pieces, 4.0, 1e-12);
}

static void test_refusals(void **state)
{
    sw_scenario pieces[SW_PLAN_PIECES_MAX + 1];
    sw_plan_of_pieces *plan = NULL;
    const sw_plan_question q = {.odds = 0.9, .draws = DRAWS, .threads = 1};
    (void)state;
    for (size_t k = 0; k <= SW_PLAN_PIECES_MAX; k++)
        pieces[k] = piece(3.0);
    assert_int_equal(sw_plan_share_pit(context, pieces, SW_PLAN_PIECES_MAX + 1), SW_ERR_ARGUMENT);
    assert_int_equal(sw_plan_make_together(context, &q, pieces, 0, &plan), SW_ERR_ARGUMENT);
    assert_true(pieces[0].pit.pieces == 1.0);
    /* 30 kg over 0.3 kg, 2 to the power 2/3 each: 21.5 times seven is over a hundred. */
    for (size_t k = 0; k < 7; k++)
        pieces[k] = piece(30.0);
    pieces[7] = piece(0.3);
    assert_int_equal(sw_plan_share_pit(context, pieces, 8), SW_ERR_RANGE);
    assert_non_null(strstr(sw_context_message(context), "pit.pieces is 151"));
    assert_true(pieces[0].pit.pieces == 1.0);
    pieces[1].rest.until = (sw_ending){SW_ENDING_CLOCK, 40000.0};
    assert_int_equal(sw_plan_make_together(context, &q, pieces, 2, &plan), SW_ERR_ARGUMENT);
    assert_non_null(strstr(sw_context_message(context), "piece 2: rest.until is a time of day"));
    assert_null(plan);
}

/* One piece has the plan it has without the others. */
static void test_a_single_one(void **state)
{
    sw_scenario s = piece(4.0);
    sw_plan *alone = NULL;
    const sw_plan_question q = {.stated = &s, .odds = 0.9, .seed = 7, .draws = DRAWS, .threads = 2};
    (void)state;
    assert_int_equal(sw_plan_make(context, &q, &alone), SW_OK);
    sw_plan_of_pieces *together = plan_of(&s, 1, 0.9, 7);
    const sw_plan *of_it = together->pieces[0];
    assert_memory_equal(alone->ready, of_it->ready, DRAWS * sizeof *alone->ready);
    assert_true(together->odds_of_each == 0.9);
    assert_true(alone->starts.recommended == of_it->starts.recommended && alone->starts.latest == of_it->starts.latest);
    assert_true(together->in_time.share ==
                sw_odds_in_time(alone->ready, DRAWS, s.serving.hold_at_least, alone->starts.recommended).share);
    assert_true(together->held_too_long.share ==
                sw_odds_held_too_long(alone->ready, DRAWS, s.serving.hold_at_most, alone->starts.recommended).share);
    assert_close_rel(together->mass_to_buy, alone->mass_to_buy, 1e-12);
    assert_close_rel(together->mass_to_buy_low, alone->mass_to_buy_low, 1e-12);
    assert_close_rel(together->mass_to_buy_high, alone->mass_to_buy_high, 1e-12);
    sw_plan_destroy(alone);
    sw_plan_of_pieces_destroy(together);
}

/* Odds of all lie between what they are of the least likely alone, and one less all that each misses (Frechet 1935). Two of the same kind are no
 * copies of each other: each has its thickness, while they share their pit. */
static void test_odds_of_all(void **state)
{
    (void)state;
    for (double odds = 0.5; odds < 0.95; odds += 0.4) {
        sw_scenario pieces[2] = {piece(5.0), piece(5.0)};
        /* No room to hold: the latest start is the one that is recommended. */
        pieces[0].serving.hold_at_most = pieces[1].serving.hold_at_most = pieces[0].serving.hold_at_least;
        sw_plan_of_pieces *plan = plan_of(pieces, 2, odds, 3);
        double least = 1.0, missed = 0.0, product = 1.0;
        assert_int_equal(plan->count, 2);
        assert_true(plan->odds_of_each > odds && plan->in_time.share >= odds);
        for (size_t k = 0; k < 2; k++) {
            const sw_plan *p = plan->pieces[k];
            assert_true(p->odds == plan->odds_of_each);
            const double share = sw_odds_in_time(p->ready, DRAWS, p->stated.serving.hold_at_least, p->starts.recommended).share;
            least = fmin(least, share);
            missed += 1.0 - share;
            product *= share;
        }
        assert_true(plan->in_time.share <= least && plan->in_time.share >= 1.0 - missed - 1e-12);
        if (odds == 0.5)
            assert_true(plan->in_time.share < least && plan->in_time.share > product + 0.02);
        if (memcmp(plan->pieces[0]->ready, plan->pieces[1]->ready, DRAWS * sizeof(double)) == 0)
            fail_msg("two pieces are copies of each other");
        sw_plan_of_pieces_destroy(plan);
    }
}

/* The smaller one goes on later; both are served at one time, and what is bought feeds all. */
static void test_large_and_small(void **state)
{
    sw_scenario pieces[2] = {piece(6.5), piece(3.0)};
    sw_plan_of_pieces *plan = plan_of(pieces, 2, 0.9, 1), *fresh;
    const sw_plan *large = plan->pieces[0], *small = plan->pieces[1];
    (void)state;
    assert_true(small->starts.recommended < large->starts.recommended - 3600.0);
    assert_close_abs(large->median.outcome.slice_time, large->starts.recommended, 1.0);
    assert_close_abs(small->median.outcome.slice_time, small->starts.recommended, 1.0);
    assert_true(SW_IS_ABSENT(large->mass_to_buy));
    /* Between what feeds them if all were as the one, and as the other. */
    const double people = large->stated.serving.people * large->stated.serving.size / (1.0 - large->stated.serving.trimming);
    const double of_large = people / large->median.outcome.yield_fraction, of_small = people / small->median.outcome.yield_fraction;
    assert_within(plan->mass_to_buy, 0.97 * fmin(of_large, of_small), 1.03 * fmax(of_large, of_small));
    assert_true(plan->mass_to_buy_low < plan->mass_to_buy && plan->mass_to_buy < plan->mass_to_buy_high);
    /* Odds that fresh draws meet: the same holds from the starts of another seed within the errors of both. */
    sw_scenario again[2] = {piece(6.5), piece(3.0)};
    fresh = plan_of(again, 2, 0.9, 77);
    for (size_t k = 0; k < 2; k++) {
        const double lead = plan->pieces[k]->starts.latest, least = large->stated.serving.hold_at_least;
        const sw_odds told = sw_odds_in_time(plan->pieces[k]->ready, DRAWS, least, lead);
        const sw_odds met = sw_odds_in_time(fresh->pieces[k]->ready, DRAWS, least, lead);
        assert_close_abs(met.share, told.share, 3.0 * hypot(told.error, met.error));
    }
    sw_plan_of_pieces_destroy(plan);
    sw_plan_of_pieces_destroy(fresh);
}

/* One that never gets there leaves all without a promise. */
static void test_one_is_never_ready(void **state)
{
    sw_scenario pieces[2] = {piece(6.5), piece(3.0)};
    (void)state;
    for (int k = 0; k < 2; k++)
        pieces[k].pit.steps[0].temperature = 273.15 + 100.0;
    pieces[1].pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + 70.0};
    pieces[0].pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + 99.0};
    sw_plan_of_pieces *plan = plan_of(pieces, 2, 0.9, 1);
    assert_true(SW_IS_ABSENT(plan->in_time.share) && SW_IS_ABSENT(plan->held_too_long.share) && SW_IS_ABSENT(plan->mass_to_buy));
    assert_true(SW_IS_ABSENT(plan->pieces[0]->starts.latest) && !SW_IS_ABSENT(plan->pieces[1]->starts.latest));
    sw_plan_of_pieces_destroy(plan);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_air),        cmocka_unit_test(test_refusals),        cmocka_unit_test(test_a_single_one),
        cmocka_unit_test(test_odds_of_all),    cmocka_unit_test(test_large_and_small), cmocka_unit_test(test_one_is_never_ready),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
