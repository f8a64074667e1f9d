/* SPDX-License-Identifier: BSD-3-Clause */
/* The hours of a heat budget: on a history made by hand, where they are known in closed form, and on a cook, where they add up
 * to the budget that the cook itself kept. */
#include "close.h"

#include "run_cook.h"

#include <math.h>
#include <string.h>

enum { ROWS_MAX = 4000 };

static const double hour = 3600.0, interval = 600.0;
static double series[SW_SERIES_COUNT][ROWS_MAX];

/* Heat grows by a constant power, evaporation with the square of time: its power 2 c t reaches what the meat receives. */
static const double air = 150.0, walls = 50.0, c = 0.0025, vapour = 7.0, drip = 5.0, rendered = 3.0, melted = 2.0, warmed = 40.0;

static sw_history history_until(double end)
{
    sw_history h = {0};
    memset(series, 0, sizeof series);
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        h.series[i] = series[i];
    h.row_count = (size_t)lround(end / interval) + 1;
    assert_true(h.row_count <= ROWS_MAX);
    for (size_t i = 0; i < h.row_count; i++) {
        const double t = (double)i * interval;
        series[SW_SERIES_time][i] = t;
        series[SW_SERIES_probe_temperature][i] = 280.0 + t / hour;
        series[SW_SERIES_convection_heat][i] = air * t;
        series[SW_SERIES_radiation_heat][i] = walls * t;
        series[SW_SERIES_evaporation_heat][i] = c * t * t;
        series[SW_SERIES_vapour_warming_heat][i] = vapour * t;
        series[SW_SERIES_drip_heat][i] = drip * t;
        series[SW_SERIES_rendered_fat_heat][i] = rendered * t;
        series[SW_SERIES_melting_heat][i] = melted * t;
        series[SW_SERIES_warming_heat][i] = warmed * t;
    }
    return h;
}

static void assert_spell(const sw_heat_budget *b, double from, double to)
{
    const double length = to - from, evaporation = c * (to * to - from * from);
    assert_close_rel(b->item[SW_HEAT_air], air * length, 1e-11);
    assert_close_rel(b->item[SW_HEAT_radiation], walls * length, 1e-11);
    assert_close_rel(b->item[SW_HEAT_evaporation], evaporation, 1e-11);
    assert_close_rel(b->item[SW_HEAT_vapour], vapour * length, 1e-11);
    assert_close_rel(b->item[SW_HEAT_drip], drip * length, 1e-11);
    assert_close_rel(b->item[SW_HEAT_fat], (rendered + melted) * length, 1e-11);
    assert_close_rel(b->item[SW_HEAT_warming], (warmed - melted) * length, 1e-11);
    /* What melting and warming count apart is still once in the heat that stayed. */
    assert_close_abs(b->item[SW_HEAT_rest], (air + walls - vapour - drip - rendered - warmed) * length - evaporation, 1e-6);
    assert_close_rel(sw_heat_received(b), (air + walls) * length, 1e-11);
    assert_close_rel(sw_heat_evaporation_share(b), evaporation / ((air + walls) * length), 1e-11);
}

static void test_closed_form(void **state)
{
    (void)state;
    const double end = 10.5 * hour;
    sw_history h = history_until(end);
    sw_heat_hours hours;
    sw_heat_by_hour(&h, end, &hours);
    assert_int_equal(hours.count, 11);
    assert_close_abs(hours.step, hour, 0.0);
    for (size_t i = 0; i < hours.count; i++) {
        const double from = (double)i * hour, to = i < 10 ? from + hour : end;
        assert_close_abs(hours.start[i], from, 1e-9);
        assert_close_abs(hours.end[i], to, 1e-9);
        assert_close_abs(hours.probe[i], 280.0 + to / hour, 1e-9);
        assert_spell(&hours.heat[i], from, to);
    }
    assert_spell(&hours.total, 0.0, end);
}

/* Evaporation's share of an hour is its power in the middle of it over the heat received: c 2 t / 200 W. It is 0.9 from
 * t = 0.9 * 200 / 2 c = 10 h on, so the hour from 10 h has it, and the one from 9 h (0.855) not. */
static void test_shares(void **state)
{
    (void)state;
    sw_history h = history_until(14.0 * hour);
    sw_heat_hours hours;
    sw_heat_by_hour(&h, 14.0 * hour, &hours);
    assert_int_equal(hours.nearly_all, 10);
    assert_int_equal(hours.largest_share, 13);
    sw_heat_by_hour(&h, 10.0 * hour, &hours);
    assert_int_equal(hours.nearly_all, hours.count);
    assert_int_equal(hours.largest_share, 9);
    for (size_t i = 0; i < h.row_count; i++)
        series[SW_SERIES_evaporation_heat][i] = 0.0;
    sw_heat_by_hour(&h, 10.0 * hour, &hours);
    assert_int_equal(hours.largest_share, hours.count);
    sw_heat_budget none = {{0.0}};
    assert_true(SW_IS_ABSENT(sw_heat_evaporation_share(&none)));
}

/* Between rows heat grows straight: half an interval on, the middle of two rows; after the last row it stays. */
static void test_between_rows(void **state)
{
    (void)state;
    sw_history h = history_until(2.0 * hour);
    const sw_heat_budget b = sw_heat_until(&h, 1.5 * interval), last = sw_heat_until(&h, 5.0 * hour);
    assert_close_rel(b.item[SW_HEAT_evaporation], 0.5 * c * interval * interval * (1.0 + 4.0), 1e-12);
    assert_close_rel(last.item[SW_HEAT_air], air * 2.0 * hour, 1e-12);
}

/* Up to 48 h by the hour, then by the smallest of 2, 3, 4, 6 and 12 h that fits into 48 spells. */
static void test_steps(void **state)
{
    static const struct {
        double end, step;
        size_t count;
    } rows[] = {{48.0, 1.0, 48}, {49.0, 2.0, 25}, {96.5, 3.0, 33}, {150.0, 4.0, 38}, {193.0, 6.0, 33}, {300.0, 12.0, 25}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_history h = history_until(rows[i].end * hour);
        sw_heat_hours hours;
        sw_heat_by_hour(&h, rows[i].end * hour, &hours);
        assert_close_abs(hours.step, rows[i].step * hour, 0.0);
        assert_int_equal(hours.count, rows[i].count);
        assert_close_abs(hours.end[hours.count - 1], rows[i].end * hour, 1e-6);
    }
}

/* The hours of a cook add up to the budget its phase kept when it ended. */
static void test_adds_up_to_budget(void **state)
{
    (void)state;
    sw_scenario scenario = pit_only_scenario();
    sw_history *h;
    const sw_outcome o = run_cook(&scenario, &h);
    const sw_budget *kept = &o.at_pull;
    sw_heat_hours hours;
    sw_heat_budget sum = {{0.0}};
    sw_heat_by_hour(h, o.done_time, &hours);
    for (size_t i = 0; i < hours.count; i++)
        for (int k = 0; k < SW_HEAT_ITEM_COUNT; k++)
            sum.item[k] += hours.heat[i].item[k];
    const double all = kept->convection_heat + kept->radiation_heat;
    assert_close_abs(sum.item[SW_HEAT_air], kept->convection_heat, 1e-12 * all);
    assert_close_abs(sum.item[SW_HEAT_radiation], kept->radiation_heat, 1e-12 * all);
    assert_close_abs(sum.item[SW_HEAT_evaporation], kept->evaporation_heat, 1e-12 * all);
    assert_close_abs(sum.item[SW_HEAT_vapour], kept->vapour_warming_heat, 1e-12 * all);
    assert_close_abs(sum.item[SW_HEAT_drip], kept->drip_heat, 1e-12 * all);
    assert_close_abs(sum.item[SW_HEAT_fat], kept->rendered_fat_heat + kept->melting_heat, 1e-12 * all);
    assert_close_abs(sum.item[SW_HEAT_warming], kept->warming_heat - kept->melting_heat, 1e-12 * all);
    for (int k = 0; k < SW_HEAT_ITEM_COUNT; k++)
        assert_close_abs(hours.total.item[k], sum.item[k], 1e-12 * all);
    assert_true(hours.largest_share < hours.count);
    sw_history_destroy(h);
}

static void test_names(void **state)
{
    (void)state;
    assert_string_equal(sw_heat_name(SW_HEAT_vapour), "vapour");
    assert_string_equal(sw_heat_long_name(SW_HEAT_drip), "warmth leaving with drip");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_closed_form),       cmocka_unit_test(test_shares), cmocka_unit_test(test_between_rows),
        cmocka_unit_test(test_steps),             cmocka_unit_test(test_names),
        cmocka_unit_test(test_adds_up_to_budget),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
