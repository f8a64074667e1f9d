/* SPDX-License-Identifier: BSD-3-Clause */
/* Doneness, bark and servings evaluated from histories made by hand. */
#include "close.h"

#include <stallwright/outcome.h>

#include <math.h>
#include <string.h>

enum { ROWS = 5, CELLS = 3 };

static double series[SW_SERIES_COUNT][ROWS];
static double volume[CELLS] = {1.0, 2.0, 1.0};
static double collagen[CELLS] = {0.2, 0.5, 0.9};
static double proteins[CELLS] = {1.0, 1.0, SW_ABSENT}; /* the last one is fat */

/* Unwrapped until 2 h, in closed foil until 3 h, resting until 4 h. */
static sw_history history_by_hand(void)
{
    static const double share[ROWS] = {0.0, 0.1, 0.3, 0.7, 0.75};
    sw_history h = {0};
    sw_scenario_init(&h.scenario);
    sw_scenario_settle(&h.scenario); /* as that of a history is */
    h.scenario.wrap.kind = SW_WRAP_CLOSED_FOIL;
    memset(series, 0, sizeof series);
    for (int s = 0; s < SW_SERIES_COUNT; s++)
        h.series[s] = series[s];
    for (int i = 0; i < ROWS; i++) {
        series[SW_SERIES_time][i] = 3600.0 * i;
        series[SW_SERIES_probe_collagen][i] = share[i];
    }
    h.row_count = ROWS;
    h.probe_count = 2;
    h.probe_series[0] = h.probe_series[1] = series[SW_SERIES_probe_temperature];
    h.probe_extent[0][SW_REACTION_COLLAGEN] = 0.8;
    h.probe_extent[1][SW_REACTION_COLLAGEN] = 0.75;
    h.probe_outside[1][SW_REACTION_COLLAGEN] = 0.15;
    h.cell_count = CELLS;
    h.cell_volume = volume;
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++)
        h.cell_extent[r] = r == SW_REACTION_COLLAGEN ? collagen : proteins;
    static const sw_phase phases[] = {SW_PHASE_PIT, SW_PHASE_WRAPPED, SW_PHASE_REST};
    static const double ends[] = {7200.0, 10800.0, 14400.0}, dripped[] = {0.1, 0.3, 0.4}, rendered[] = {0.05, 0.10, 0.12};
    static const double activity[] = {0.75, 0.96, 0.86};
    h.phase_count = 3;
    for (int i = 0; i < 3; i++) {
        sw_phase_record *p = &h.phases[i];
        *p = (sw_phase_record){.phase = phases[i], .start = i ? ends[i - 1] : 0.0, .end = ends[i]};
        p->budget_at_end = (sw_budget){.initial_mass = 6.0, .dripped_mass = dripped[i], .kept_mass = dripped[i] - dripped[0], .rendered_mass = rendered[i],
                                       .cap_rendered_mass = 0.5 * rendered[i], .meat_mass = 3.6};
        p->sides_at_end[SW_SIDE_TOP] = (sw_side_record){.area = 0.3, .open_time = 7200.0, .water_content = 0.1 + i,
                                                        .water_activity = activity[i], .browning = 0.4};
        p->sides_at_end[SW_SIDE_BOTTOM] = (sw_side_record){.area = 0.1, .open_time = 3600.0, .water_activity = 0.99};
        p->sides_at_end[SW_SIDE_END].area = SW_ABSENT;
    }
    h.budget = h.phases[2].budget_at_end;
    return h;
}

static sw_outcome outcome_of(const sw_history *h)
{
    sw_outcome outcome;
    sw_outcome_evaluate(h, &outcome);
    return outcome;
}

static void test_doneness(void **state)
{
    (void)state;
    sw_history h = history_by_hand();
    sw_outcome o = outcome_of(&h);
    assert_close_abs(o.probe_collagen_at_pull, 0.7, 0.0);
    assert_close_abs(o.probe_collagen, 0.75, 0.0);
    /* The shown law may be twice as slow or fast: a quarter is left, so a half, or a sixteenth. */
    assert_close_abs(sw_reaction_law_of(SW_REACTION_COLLAGEN)->uncertainty, 2.0, 0.0);
    assert_close_abs(o.probe_collagen_low, 0.5, 1e-12);
    assert_close_abs(o.probe_collagen_high, 1.0 - 1.0 / 16.0, 1e-12);
    /* From 0.3 to 0.7 between 2 h and 3 h, as fast at both ends. */
    assert_close_abs(o.tender_time, 2.5 * 3600.0, 0.1);
    const sw_reaction_outcome *r = &o.reactions[SW_REACTION_COLLAGEN];
    assert_close_abs(r->probe, 0.75, 0.0);
    assert_close_abs(r->probe_outside, 0.2, 1e-12);
    assert_close_abs(r->least, 0.2, 0.0);
    assert_close_abs(r->most, 0.9, 0.0);
    assert_close_abs(r->mean, (0.2 + 2.0 * 0.5 + 0.9) / 4.0, 1e-12);
    /* The cell of fat does not count. */
    assert_close_abs(o.reactions[SW_REACTION_ACTIN].mean, 1.0, 0.0);
    assert_close_abs(o.reactions[SW_REACTION_ACTIN].least, 1.0, 0.0);
}

/* A bark that was half dry when it was wrapped loses half of that. */
static void test_softening(void **state)
{
    (void)state;
    sw_history h = history_by_hand();
    h.phases[0].sides_at_end[SW_SIDE_TOP].water_activity = 0.86;
    h.phases[2].sides_at_end[SW_SIDE_TOP].water_activity = 0.915;
    const sw_outcome o = outcome_of(&h);
    assert_close_abs(o.sides[SW_SIDE_TOP].dryness_at_wrap, 0.5, 1e-12);
    assert_close_abs(o.sides[SW_SIDE_TOP].softening, 0.5, 1e-12);
}

/* Between two rows a temperature that falls evenly is crossed on the straight line. */
static void test_rest(void **state)
{
    (void)state;
    sw_history h = history_by_hand();
    const double limit = 273.15 + (135.0 - 32.0) / 1.8, slicing = h.scenario.serving.temperature;
    series[SW_SERIES_lowest_temperature][3] = limit + 10.0;
    series[SW_SERIES_lowest_temperature][4] = limit - 10.0;
    series[SW_SERIES_probe_temperature][3] = slicing + 6.0;
    series[SW_SERIES_probe_temperature][4] = slicing - 2.0;
    series[SW_SERIES_probe_heating_rate][3] = series[SW_SERIES_probe_heating_rate][4] = -8.0 / 3600.0;
    const sw_outcome o = outcome_of(&h);
    assert_close_abs(o.kept_hot, 1800.0, 1e-6);
    assert_close_abs(o.rest_to_slicing, 2700.0, 1e-6);
}

static void test_tenderness(void **state)
{
    (void)state;
    const struct {
        double share;
        sw_tenderness tenderness;
        const char *name;
    } rows[] = {{0.0, SW_TENDERNESS_NOT, "not tender"},
                {0.29, SW_TENDERNESS_NOT, "not tender"}, /* 1 - 0.71^2 = 0.496 */
                {0.30, SW_TENDERNESS_PROBABLY_NOT, "probably not tender"},
                {0.4999, SW_TENDERNESS_PROBABLY_NOT, "probably not tender"},
                {0.5, SW_TENDERNESS_PROBABLY, "probably tender"},
                {0.749, SW_TENDERNESS_PROBABLY, "probably tender"},
                {0.7501, SW_TENDERNESS_TENDER, "tender"}};
    sw_history h = history_by_hand();
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        for (int k = 0; k < ROWS; k++)
            series[SW_SERIES_probe_collagen][k] = rows[i].share * k / (ROWS - 1.0);
        sw_outcome o = outcome_of(&h);
        assert_int_equal(o.tenderness, rows[i].tenderness);
        assert_string_equal(sw_tenderness_name(o.tenderness), rows[i].name);
        assert_int_equal(SW_IS_ABSENT(o.tender_time), rows[i].share < 0.5);
    }
    assert_string_equal(sw_tenderness_name((sw_tenderness)9), "unknown");
}

static void test_bark(void **state)
{
    (void)state;
    sw_history h = history_by_hand();
    sw_outcome o = outcome_of(&h);
    const sw_side_outcome *top = &o.sides[SW_SIDE_TOP], *bottom = &o.sides[SW_SIDE_BOTTOM];
    assert_close_abs(sw_dryness_index(0.3), 1.0, 0.0);
    assert_close_abs(sw_dryness_index(0.99), 0.0, 0.0);
    assert_close_abs(top->dryness_at_wrap, 1.0, 1e-12);
    assert_close_abs(top->dryness_at_pull, 0.01 / 0.22, 1e-12);
    assert_close_abs(top->dryness_at_end, 0.5, 1e-12);
    assert_close_abs(top->softening, 0.5, 1e-12);
    assert_close_abs(top->bark, 0.4 * 0.75, 1e-12);
    assert_close_abs(top->water_content_at_wrap, 0.1, 1e-12);
    assert_close_abs(top->water_content_at_end, 2.1, 1e-12);
    assert_close_abs(bottom->bark, 0.0, 0.0);
    assert_true(SW_IS_ABSENT(bottom->softening)); /* wet when wrapped: nothing to lose */
    assert_true(SW_IS_ABSENT(o.sides[SW_SIDE_END].bark));
    assert_close_abs(o.bark, 0.3 * 0.3 / 0.4, 1e-12);
    assert_close_abs(o.open_surface_time, (0.3 * 7200.0 + 0.1 * 3600.0) / 0.4, 1e-9);
    assert_close_abs(o.softening, 0.5, 1e-12);
    h.phases[1].phase = SW_PHASE_REST; /* never wrapped */
    h.phase_count = 2;
    o = outcome_of(&h);
    assert_true(SW_IS_ABSENT(o.softening) && SW_IS_ABSENT(o.sides[SW_SIDE_TOP].dryness_at_wrap));
}

static void test_what_the_wrap_keeps(void **state)
{
    (void)state;
    sw_history h = history_by_hand();
    sw_outcome o = outcome_of(&h);
    assert_close_abs(o.kept_juice_mass, 0.3, 1e-12);
    assert_close_abs(o.kept_fat_mass, 0.07, 1e-12);
    assert_close_abs(o.kept_cap_fat_mass, 0.035, 1e-12);
    h.scenario.rest.keep_wrap = false; /* opened at the pull */
    assert_close_abs(outcome_of(&h).kept_juice_mass, 0.2, 1e-12);
    static const sw_wrap_kind loose[] = {SW_WRAP_NONE, SW_WRAP_PAPER};
    for (int i = 0; i < 2; i++) {
        h.scenario.wrap.kind = loose[i];
        assert_true(SW_IS_ABSENT(outcome_of(&h).kept_juice_mass));
    }
}

static void test_servings(void **state)
{
    (void)state;
    sw_history h = history_by_hand();
    h.scenario.serving = (sw_serving){.size = 0.2, .people = 30, .trimming = 0.2};
    sw_outcome o = outcome_of(&h);
    /* 3.6 kg left of 6 kg: 18 servings; 30 people eat 6 kg, so 10 kg trimmed and 12.5 kg bought. */
    assert_close_rel(o.servings, 18.0, 1e-12);
    assert_close_rel(o.raw_mass_needed, 10.0, 1e-12);
    assert_close_rel(o.mass_to_buy, 12.5, 1e-12);
    /* A quarter of the cut is bone: as much less is there to eat, so a third more is needed. */
    h.scenario.meat.bone = 0.25;
    o = outcome_of(&h);
    assert_close_rel(o.servings, 13.5, 1e-12);
    assert_close_rel(o.raw_mass_needed, 10.0 * 4.0 / 3.0, 1e-12);
    h.scenario.serving.people = 0;
    o = outcome_of(&h);
    assert_true(SW_IS_ABSENT(o.raw_mass_needed) && SW_IS_ABSENT(o.mass_to_buy));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_softening),         cmocka_unit_test(test_rest),
        cmocka_unit_test(test_doneness),           cmocka_unit_test(test_tenderness), cmocka_unit_test(test_bark),
        cmocka_unit_test(test_what_the_wrap_keeps), cmocka_unit_test(test_servings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
