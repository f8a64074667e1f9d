/* SPDX-License-Identifier: BSD-3-Clause */
/* Cooks that branch off from one they begin like are the same cooks, to the bit, as when each is made on its own; and they do
 * branch off. */
#include "close.h"

#include "run_cook.h"
#include "shared_context.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { COOKS_MAX = 16 };

static const double hour = 3600.0;

/* Cooks that may begin alike, their histories, and when each was first seen under way by its observer. */
typedef struct cooks {
    size_t count;
    sw_scenario scenario[COOKS_MAX];
    double first_seen[COOKS_MAX];
} cooks;

static void add(cooks *c, const sw_scenario *base, sw_wrap_kind kind, sw_ending when)
{
    assert_true(c->count < COOKS_MAX);
    sw_scenario *s = &c->scenario[c->count++];
    *s = *base;
    s->wrap.kind = kind;
    s->wrap.when = when;
}

static sw_ending at_probe(double celsius)
{
    return (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + celsius};
}

static void assert_same_numbers(const void *a, const void *b, size_t size, const char *what, size_t cook)
{
    if (size > 0 && memcmp(a, b, size) != 0)
        fail_msg("cook %zu: %s differ", cook, what);
}

static void assert_same(const sw_history *a, const sw_history *b, size_t cook)
{
    assert_int_equal(a->row_count, b->row_count);
    assert_int_equal(a->field_count, b->field_count);
    assert_int_equal(a->phase_count, b->phase_count);
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        assert_same_numbers(a->series[i], b->series[i], a->row_count * sizeof(double), sw_series_name((sw_series)i), cook);
    for (size_t i = 0; i < a->probe_count; i++)
        assert_same_numbers(a->probe_series[i], b->probe_series[i], a->row_count * sizeof(double), "readings", cook);
    assert_same_numbers(a->field_temperature, b->field_temperature, a->field_count * a->cell_count * sizeof(double), "fields", cook);
    assert_same_numbers(a->field_water_content, b->field_water_content, a->field_count * a->cell_count * sizeof(double), "fields", cook);
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++)
        assert_same_numbers(a->cell_extent[r], b->cell_extent[r], a->cell_count * sizeof(double), "extents", cook);
    assert_same_numbers(&a->budget, &b->budget, sizeof a->budget, "budgets", cook);
    assert_same_numbers(a->phases, b->phases, a->phase_count * sizeof *a->phases, "phases", cook);
    assert_same_numbers(&a->statistics, &b->statistics, sizeof a->statistics, "steps", cook);
    assert_same_numbers(&a->scenario, &b->scenario, sizeof a->scenario, "scenarios", cook);
}

static int note_first(double time, double probe, void *data)
{
    double *first = data;
    (void)probe;
    if (*first < 0.0)
        *first = time;
    return 0;
}

/* Runs all, the trunk first, the others in turn or backwards, and compares each with itself on its own. */
static void check(cooks *c, bool backwards)
{
    const sw_scenario *each[COOKS_MAX];
    sw_branches *branches;
    for (size_t i = 0; i < c->count; i++)
        each[i] = &c->scenario[i];
    assert_int_equal(sw_branches_create(context, c->count, each, &branches), SW_OK);
    const size_t trunk = sw_branches_turn(branches, 0);
    for (size_t k = 0; k <= c->count; k++) {
        const size_t turn = backwards ? c->count - k : k - 1, i = k == 0 ? trunk : turn;
        sw_history *branched = NULL, *alone = NULL;
        if (k > 0 && i == trunk)
            continue;
        c->first_seen[i] = -1.0;
        if (sw_cook_run_branching(context, each[i], note_first, &c->first_seen[i], branches, &branched) != SW_OK ||
            sw_cook_run(context, each[i], NULL, NULL, &alone) != SW_OK)
            fail_msg("%s", sw_context_message(context));
        assert_same(branched, alone, i);
        sw_history_destroy(branched);
        sw_history_destroy(alone);
    }
    sw_branches_destroy(branches);
}

/* Whether a cook was only run from its wrap on. */
static void assert_branched(const cooks *c, size_t i, bool expected)
{
    if ((c->first_seen[i] > 0.5 * hour) != expected)
        fail_msg("cook %zu was first seen after %.2f h", i, c->first_seen[i] / hour);
}

/* All wraps at three temperatures and at the bark, a rest and a hold after them; a wrap by the clock is on its own. */
static void test_wraps(void **state)
{
    (void)state;
    cooks c = {0};
    sw_scenario s = reference_scenario();
    s.rest.until = (sw_ending){SW_ENDING_DURATION, hour};
    add(&c, &s, SW_WRAP_PAPER, (sw_ending){SW_ENDING_DURATION, 6.0 * hour});
    add(&c, &s, SW_WRAP_PAPER, (sw_ending){SW_ENDING_BARK, 0.0});
    add(&c, &s, SW_WRAP_NONE, at_probe(70.0));
    for (int kind = SW_WRAP_PAPER; kind < SW_WRAP_COUNT; kind++)
        for (double t = 66.0; t < 79.0; t += 6.0)
            add(&c, &s, (sw_wrap_kind)kind, at_probe(t));
    check(&c, false);
    for (size_t i = 0; i < c.count; i++)
        assert_branched(&c, i, i != 0 && i != 2);
}

/* Each of them twice rewrapped, poured and wrapped on the bench, in a pit that swings, with sprays, a step and a lid opened. */
static void test_busy_cook(void **state)
{
    (void)state;
    cooks c = {0};
    sw_scenario s = reference_scenario();
    s.pit.cycle_swing = 8.0;
    s.pit.cycle_period = 1800.0;
    s.spritz.amount = 0.03;
    s.spritz.from = 2.0 * hour;
    s.spritz.every = hour;
    s.pit.steps[1] = (sw_pit_step){.start = 4.3 * hour, .temperature = s.pit.steps[0].temperature + 10.0};
    s.pit.step_count = 2;
    s.pit.opening_count = 1;
    s.pit.openings[0] = 5.1 * hour;
    s.wrap.off_pit = 300.0;
    s.wrap.liquid = 0.1;
    s.rewrap = (sw_rewrap){SW_WRAP_CLOSED_FOIL, at_probe(85.0)};
    for (int kind = SW_WRAP_PAPER; kind < SW_WRAP_COUNT; kind++)
        for (double t = 66.0; t < 73.0; t += 6.0)
            add(&c, &s, (sw_wrap_kind)kind, at_probe(t));
    check(&c, true);
    size_t branched = 0;
    for (size_t i = 0; i < c.count; i++)
        branched += c.first_seen[i] > 0.5 * hour;
    assert_int_equal(branched, c.count - 1); /* all but the one that wraps last, or of these the first */
}

static void test_sections(void **state)
{
    (void)state;
    cooks c = {0};
    sw_scenario s = reference_scenario();
    s.meat.shape = SW_SHAPE_SECTION;
    s.solver.rows = 10;
    s.solver.columns = 12;
    add(&c, &s, SW_WRAP_NONE, at_probe(70.0));
    add(&c, &s, SW_WRAP_CLOSED_FOIL, at_probe(70.0));
    add(&c, &s, SW_WRAP_OPEN_TRAY, at_probe(70.0));
    check(&c, false);
    assert_branched(&c, 1, true);
    assert_branched(&c, 2, true);
}

/* What does not begin alike, or is told apart from the first spray on, is cooked on its own. */
static void test_on_their_own(void **state)
{
    (void)state;
    cooks c = {0};
    sw_scenario s = reference_scenario();
    add(&c, &s, SW_WRAP_NONE, at_probe(70.0));
    s.meat.thickness *= 1.01;
    add(&c, &s, SW_WRAP_PAPER, at_probe(70.0));
    s.meat.thickness /= 1.01;
    s.wrap.pour = SW_POUR_OVER;
    s.wrap.pour_when = at_probe(85.0);
    add(&c, &s, SW_WRAP_OPEN_TRAY, at_probe(70.0));
    check(&c, false);
    for (size_t i = 1; i < c.count; i++)
        assert_branched(&c, i, false);
}

/* All are pulled by the clock before the meat is as warm as the wraps wait for: nothing branches off, and nothing is lost. */
static void test_never_wrapped(void **state)
{
    (void)state;
    cooks c = {0};
    sw_scenario s = reference_scenario();
    s.pull = (sw_ending){SW_ENDING_DURATION, 3.0 * hour};
    add(&c, &s, SW_WRAP_NONE, at_probe(80.0));
    add(&c, &s, SW_WRAP_PAPER, at_probe(80.0));
    check(&c, false);
    assert_branched(&c, 1, false);
}

/* A cook that fails leaves those that branched off from it; one that was asked for and never run is released. */
static void test_failures(void **state)
{
    (void)state;
    cooks c = {0};
    sw_history *branched = NULL, *alone;
    sw_branches *branches;
    sw_scenario s = reference_scenario();
    s.solver.longest_phase = 7.0 * hour;
    add(&c, &s, SW_WRAP_NONE, at_probe(66.0));
    add(&c, &s, SW_WRAP_CLOSED_FOIL, at_probe(66.0));
    add(&c, &s, SW_WRAP_PAPER, at_probe(66.0));
    const sw_scenario *each[] = {&c.scenario[0], &c.scenario[1], &c.scenario[2]};
    assert_int_equal(sw_branches_create(context, 3, each, &branches), SW_OK);
    assert_int_equal(sw_cook_run_branching(context, each[0], NULL, NULL, branches, &branched), SW_ERR_NEVER_ENDS);
    assert_null(branched);
    assert_int_equal(sw_cook_run_branching(context, each[1], NULL, NULL, branches, &branched), SW_OK);
    assert_int_equal(sw_cook_run(context, each[1], NULL, NULL, &alone), SW_OK);
    assert_same(branched, alone, 1);
    sw_history_destroy(branched);
    sw_history_destroy(alone);
    sw_branches_destroy(branches);
    sw_branches_destroy(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_wraps),        cmocka_unit_test(test_busy_cook), cmocka_unit_test(test_sections),
        cmocka_unit_test(test_on_their_own), cmocka_unit_test(test_never_wrapped),
        cmocka_unit_test(test_failures),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
