/* SPDX-License-Identifier: BSD-3-Clause */
/* Rankings of outcomes made up so that places, ties and prices are known. */
#include "close.h"

#include <stallwright/ranking.h>

#include <string.h>

enum { RUNS_MAX = 20 };

static sw_run runs[RUNS_MAX];

/* Done after so many minutes, with so much yield, bark and collagen. */
static void set_run(size_t number, double minutes, double yield, double bark, double collagen)
{
    sw_run *run = &runs[number];
    memset(run, 0, sizeof *run);
    run->outcome.done_time = run->outcome.slice_time = 60.0 * minutes;
    run->outcome.yield_fraction = yield;
    run->outcome.bark = bark;
    run->outcome.probe_collagen = collagen;
    run->outcome.tenderness = collagen > 0.5 ? SW_TENDERNESS_TENDER : SW_TENDERNESS_NOT;
}

static void assert_ranking(const sw_ranking *r, size_t count, const size_t *order, const size_t *place)
{
    assert_int_equal(r->count, count);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(r->order[i], order[i]);
        assert_int_equal(r->place[i], place[i]);
        assert_int_equal(sw_ranking_place(r, order[i]), place[i]);
    }
}

static void test_criteria(void **state)
{
    static const struct {
        sw_criterion by;
        size_t order[3];
    } rows[] = {{SW_BY_TIME, {0, 1, 2}}, {SW_BY_YIELD, {2, 1, 0}}, {SW_BY_BARK, {1, 0, 2}}, {SW_BY_TENDER, {1, 2, 0}}};
    static const char *const names[SW_BY_COUNT] = {"time", "yield", "bark", "tender"};
    (void)state;
    set_run(0, 600.0, 0.60, 0.5, 0.3);
    set_run(1, 700.0, 0.65, 0.7, 0.8);
    set_run(2, 800.0, 0.70, 0.2, 0.6);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_ranking r;
        sw_rank(rows[i].by, runs, 3, &r);
        assert_int_equal(r.by, rows[i].by);
        assert_ranking(&r, 3, rows[i].order, (const size_t[]){1, 2, 3});
        assert_string_equal(sw_criterion_name(rows[i].by), names[i]);
    }
}

/* Within 10 min, 0.005, 0.02 of the best of a place one shares it, one beyond that does not: by each criterion a run just inside
 * and one just outside. */
static void test_tolerances(void **state)
{
    (void)state;
    set_run(0, 600.0, 0.60, 0.50, 0.50);
    set_run(1, 609.9, 0.5951, 0.481, 0.481);
    set_run(2, 610.1, 0.5949, 0.479, 0.479);
    for (int by = 0; by < SW_BY_COUNT; by++) {
        sw_ranking r;
        assert_false(sw_is_better((sw_criterion)by, &runs[0], &runs[1]));
        assert_true(sw_is_better((sw_criterion)by, &runs[0], &runs[2]));
        assert_false(sw_is_better((sw_criterion)by, &runs[2], &runs[0]));
        sw_rank((sw_criterion)by, runs, 3, &r);
        assert_ranking(&r, 3, (const size_t[]){0, 1, 2}, (const size_t[]){1, 1, 3});
    }
}

/* A chain of near ties: a place is level with its best, not with its neighbour; in it the one done first leads. */
static void test_chain_of_ties(void **state)
{
    (void)state;
    set_run(0, 900.0, 0.700, 0.0, 0.0);
    set_run(1, 800.0, 0.697, 0.0, 0.0);
    set_run(2, 700.0, 0.694, 0.0, 0.0); /* level with run 1, not with run 0 */
    set_run(3, 600.0, 0.691, 0.0, 0.0); /* level with run 2 */
    set_run(4, 650.0, 0.650, 0.0, 0.0);
    sw_ranking r;
    sw_rank(SW_BY_YIELD, runs, 5, &r);
    assert_ranking(&r, 5, (const size_t[]){1, 0, 3, 2, 4}, (const size_t[]){1, 1, 3, 3, 5});
}

/* What failed or never gets ready has no place. */
static void test_without_a_place(void **state)
{
    (void)state;
    set_run(0, 500.0, 0.9, 0.9, 0.9);
    set_run(1, 600.0, 0.6, 0.5, 0.5);
    set_run(2, 400.0, 0.9, 0.9, 0.9);
    runs[0].status = SW_ERR_NEVER_ENDS;
    runs[2].outcome.slice_time = SW_ABSENT;
    sw_recommendation found;
    sw_recommend(SW_BY_TIME, runs, 3, &found);
    assert_ranking(&found.ranking, 1, (const size_t[]){1}, (const size_t[]){1});
    assert_int_equal(sw_ranking_place(&found.ranking, 0), 0);
    assert_true(SW_IS_ABSENT(sw_criterion_value(SW_BY_BARK, &runs[2])));
    assert_int_equal(found.first, 1);
    assert_int_equal(found.last, 1);
    assert_false(found.has_contrast);
    assert_int_equal(found.price_count, 0);
    runs[1].status = SW_ERR_SOLVER;
    sw_recommend(SW_BY_TIME, runs, 3, &found);
    assert_int_equal(found.level, 0);
    assert_int_equal(found.ranking.count, 0);
}

/* The first by time gives up yield to run 2 and bark to run 1; more gelatin is a price only if it makes a difference. */
static void test_recommendation(void **state)
{
    (void)state;
    set_run(0, 600.0, 0.60, 0.50, 0.60);
    set_run(1, 605.0, 0.602, 0.70, 0.62);
    set_run(2, 800.0, 0.70, 0.51, 0.90);
    sw_recommendation found;
    sw_recommend(SW_BY_TIME, runs, 3, &found);
    assert_int_equal(found.level, 2);
    assert_true(found.has_contrast);
    assert_int_equal(found.first, 0);
    assert_int_equal(found.last, 2);
    assert_int_equal(found.price_count, 2);
    assert_int_equal(found.prices[0].by, SW_BY_YIELD);
    assert_int_equal(found.prices[0].best, 2);
    assert_int_equal(found.prices[1].by, SW_BY_BARK);
    assert_int_equal(found.prices[1].best, 1);
    runs[0].outcome.tenderness = SW_TENDERNESS_PROBABLY;
    sw_recommend(SW_BY_TIME, runs, 3, &found);
    assert_int_equal(found.price_count, 3);
    assert_int_equal(found.prices[2].by, SW_BY_TENDER);
    assert_int_equal(found.prices[2].best, 2);
    /* By yield the last is slower than nothing: what it costs is time. */
    sw_recommend(SW_BY_YIELD, runs, 3, &found);
    assert_int_equal(found.first, 2);
    assert_int_equal(found.prices[0].by, SW_BY_TIME);
    assert_int_equal(found.prices[0].best, 0);
    assert_int_equal(found.prices[1].by, SW_BY_BARK);
    assert_int_equal(found.price_count, 2);
}

static void test_too_many(void **state)
{
    (void)state;
    for (size_t i = 0; i < RUNS_MAX; i++)
        set_run(i, 600.0 + 20.0 * (double)(RUNS_MAX - i), 0.6, 0.5, 0.5);
    sw_ranking r;
    sw_rank(SW_BY_TIME, runs, RUNS_MAX, &r);
    assert_int_equal(r.count, SW_RANKED_MAX);
    assert_int_equal(r.order[0], SW_RANKED_MAX - 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_criteria),       cmocka_unit_test(test_tolerances),     cmocka_unit_test(test_chain_of_ties),
        cmocka_unit_test(test_without_a_place), cmocka_unit_test(test_recommendation), cmocka_unit_test(test_too_many),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
