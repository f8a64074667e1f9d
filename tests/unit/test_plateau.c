/* SPDX-License-Identifier: BSD-3-Clause */
/* The plateau of a stall and what ends it, on a history made by hand. */
#include "close.h"

#include <stallwright/everything.h>

#include <math.h>
#include <string.h>

enum { ROWS = 61, FIELDS = 3, CELLS = 4 };

static const double hour = 3600.0, interval = 600.0;
static double series[SW_SERIES_COUNT][ROWS];
static double positions[CELLS] = {0.005, 0.015, 0.025, 0.035}, bounds[CELLS + 1] = {0.0, 0.01, 0.02, 0.03, 0.04};
static double across[CELLS], field_times[FIELDS] = {0.0, 4.0 * 3600.0, 8.0 * 3600.0};
/* Raw; the top cell has lost more than half; the two top cells have. */
static double water[FIELDS * CELLS] = {3.0, 3.0, 3.0, 3.0, 2.7, 2.4, 2.1, 1.2, 2.4, 1.8, 1.2, 0.6};

/* A stall from 4 h to 8 h: evaporation at 0.1 kg/h that falls to half at the end, all in straight lines. */
static sw_history made_history(void)
{
    sw_history h = {0};
    sw_scenario_init(&h.scenario);
    sw_scenario_settle(&h.scenario); /* as that of a history is */
    memset(series, 0, sizeof series);
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        h.series[i] = series[i];
    h.row_count = ROWS;
    for (size_t i = 0; i < ROWS; i++) {
        const double t = (double)i * interval;
        series[SW_SERIES_time][i] = t;
        series[SW_SERIES_probe_temperature][i] = 330.0 + t / hour;
        series[SW_SERIES_top_surface_temperature][i] = 340.0 + t / hour;
        series[SW_SERIES_air_temperature][i] = 390.0;
        series[SW_SERIES_convection_heat][i] = 60.0 * t;
        series[SW_SERIES_radiation_heat][i] = 40.0 * t;
        series[SW_SERIES_evaporation_heat][i] = 75.0 * t;
        series[SW_SERIES_evaporation_rate][i] = (t < 6.0 * hour ? 0.1 : 0.05) / hour;
        series[SW_SERIES_evaporated_mass][i] = 0.1 * t / hour;
        series[SW_SERIES_dripped_mass][i] = 0.02 * t / hour;
        series[SW_SERIES_top_water_activity][i] = 1.0 - 0.03 * t / hour;
        series[SW_SERIES_top_film_share][i] = 0.044 - 0.005 * t / hour;
    }
    h.cell_count = CELLS;
    h.cell_position = positions;
    h.cell_across = across;
    h.cell_bounds = bounds;
    h.field_count = FIELDS;
    h.field_time = field_times;
    h.field_water_content = water;
    h.probe_count = 1;
    h.probes[0].height = 0.016;
    return h;
}

static sw_outcome made_outcome(void)
{
    sw_outcome o = {0};
    o.stall_start = 4.0 * hour;
    o.stall_end = 8.0 * hour;
    o.done_time = 10.0 * hour;
    o.wrap_time = SW_ABSENT;
    return o;
}

static void test_figures(void **state)
{
    (void)state;
    sw_history h = made_history();
    sw_outcome o = made_outcome();
    sw_plateau p;
    double latent, pressure, wet_bulb;
    sw_plateau_evaluate(&h, &o, &p);
    assert_close_abs(p.probe_at_start, 334.0, 1e-9);
    assert_close_abs(p.probe_at_end, 338.0, 1e-9);
    assert_close_abs(p.surface, 346.0, 1e-9);
    assert_close_abs(p.air, 390.0, 1e-9);
    assert_close_rel(p.heat_received, 100.0 * 4.0 * hour, 1e-12);
    assert_close_rel(p.heat_an_hour, 100.0 * hour, 1e-12);
    assert_close_rel(p.evaporation_share, 0.75, 1e-12);
    /* 12 rows before the fall and 13 from it on. */
    assert_close_rel(p.evaporated_an_hour, (12 * 0.1 + 13 * 0.05) / 25.0, 1e-12);
    assert_close_rel(p.evaporation_at_most, 0.1, 1e-12);
    assert_close_rel(p.evaporation_at_end, 0.05, 1e-12);
    assert_close_rel(p.lost_before, 0.12 * 4.0, 1e-12);
    assert_close_rel(p.lost_after, 0.12 * 8.0, 1e-12);
    assert_int_equal(sw_latent_heat(346.0, &latent), SW_OK);
    assert_close_rel(p.could_evaporate_an_hour, 100.0 * hour / latent, 1e-12);
    assert_int_equal(sw_pressure_at_altitude(h.scenario.pit.altitude, &pressure), SW_OK);
    assert_int_equal(sw_wet_bulb(390.0, h.scenario.pit.humidity_ratio, pressure, &wet_bulb), SW_OK);
    assert_close_abs(p.wet_bulb, wet_bulb, 1e-9);
    /* The probe is in the second cell. */
    assert_close_rel(p.middle_at_start, 0.8, 1e-12);
    assert_close_rel(p.middle_at_end, 0.6, 1e-12);
    assert_close_abs(p.dry_depth_at_start, 0.01, 1e-12);
    assert_close_abs(p.dry_depth_at_end, 0.02, 1e-12);
    assert_close_abs(p.activity_at_start, 0.88, 1e-12);
    assert_close_abs(p.activity_at_end, 0.76, 1e-12);
    assert_close_abs(p.film_at_start, 0.024, 1e-12);
    assert_close_abs(p.film_at_end, 0.004, 1e-12);
}

static void test_no_stall(void **state)
{
    (void)state;
    sw_history h = made_history();
    sw_outcome o = made_outcome();
    sw_plateau p;
    o.stall_start = o.stall_end = SW_ABSENT;
    sw_plateau_evaluate(&h, &o, &p);
#define IS_ABSENT(name, unit, long_name) assert_true(SW_IS_ABSENT(p.name));
    SW_PLATEAU_LIST(IS_ABSENT)
#undef IS_ABSENT
    assert_int_equal(sw_stall_ending_find(&h, &o, &p), SW_STALL_ENDING_NONE);
}

static sw_stall_ending ending_of(const sw_history *h, const sw_outcome *o)
{
    sw_plateau p;
    sw_plateau_evaluate(h, o, &p);
    return sw_stall_ending_find(h, o, &p);
}

/* Each ending once, and the order in which they are looked for. */
static void test_endings(void **state)
{
    (void)state;
    sw_history h = made_history();
    sw_outcome o = made_outcome();
    assert_int_equal(ending_of(&h, &o), SW_STALL_ENDING_SHORT);
    /* From tacky to firm. */
    for (size_t i = 0; i < ROWS; i++)
        series[SW_SERIES_top_water_activity][i] += 0.05;
    assert_int_equal(ending_of(&h, &o), SW_STALL_ENDING_DRY);
    /* A surface that a film wets does not dry, however dry the meat between. */
    for (size_t i = 0; i < ROWS; i++)
        series[SW_SERIES_top_film_share][i] += 0.05;
    assert_int_equal(ending_of(&h, &o), SW_STALL_ENDING_SHORT);
    for (size_t i = 0; i < ROWS; i++)
        series[SW_SERIES_evaporation_rate][i] = 0.1 / hour;
    h.scenario.stall.below = 400.0;
    assert_int_equal(ending_of(&h, &o), SW_STALL_ENDING_HEAT);
    h.scenario.stall.below = 338.0;
    assert_int_equal(ending_of(&h, &o), SW_STALL_ENDING_RANGE);
    h.scenario.pit.step_count = 2;
    h.scenario.pit.steps[1].start = 7.0 * hour;
    h.scenario.pit.steps[1].temperature = h.scenario.pit.steps[0].temperature + 10.0;
    assert_int_equal(ending_of(&h, &o), SW_STALL_ENDING_PIT);
    o.wrap_time = 7.5 * hour;
    assert_int_equal(ending_of(&h, &o), SW_STALL_ENDING_WRAP);
    o.done_time = o.stall_end;
    assert_int_equal(ending_of(&h, &o), SW_STALL_ENDING_PULL);
    /* A wrap and a hotter pit outside the stall end nothing. */
    o = made_outcome();
    o.wrap_time = 9.0 * hour;
    h.scenario.pit.steps[1].start = 3.0 * hour;
    assert_int_equal(ending_of(&h, &o), SW_STALL_ENDING_RANGE);
    assert_string_equal(sw_stall_ending_name(SW_STALL_ENDING_SHORT), "short");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_figures), cmocka_unit_test(test_no_stall), cmocka_unit_test(test_endings)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
