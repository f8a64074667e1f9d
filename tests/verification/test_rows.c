/* SPDX-License-Identifier: BSD-3-Clause */
/* Rows of the history tell of their own time, not of the end of the integrator's step: against the laws applied afterwards,
 * under a tighter tolerance, and for rows close together or far apart. */
#include "close.h"
#include "run_cook.h"

#include "course.h"

#include <math.h>
#include <string.h>

static const double hour = 3600.0;

/* Phases that end at given times, so that cooks of any tolerance have the same rows. */
static sw_scenario timed_scenario(sw_wrap_kind kind)
{
    sw_scenario s = reference_scenario();
    s.wrap.kind = kind;
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 6.0 * hour};
    s.pull = (sw_ending){SW_ENDING_DURATION, 12.0 * hour};
    s.rest.until = (sw_ending){SW_ENDING_DURATION, 2.0 * hour};
    s.rest.keep_wrap = false;
    s.hold.until.kind = SW_ENDING_NONE;
    return s;
}

/* Every row's share of gelatin is what the probe's readings up to it, a second apart, make of it. A share of the step's end is
 * up to 4e-3 too high. */
static void test_collagen_of_rows(void **state)
{
    (void)state;
    sw_scenario s = timed_scenario(SW_WRAP_CLOSED_FOIL);
    sw_history *rows, *fine;
    run_cook(&s, &rows);
    s.solver.output_interval = 1.0;
    run_cook(&s, &fine);
    const double *time = fine->series[SW_SERIES_time];
    size_t end = 1;
    for (size_t i = 1; i < rows->row_count; i++) {
        sw_reaction_progress p;
        while (time[end - 1] < rows->series[SW_SERIES_time][i])
            end++;
        if (i % 12 != 0)
            continue;
        assert_close_abs(time[end - 1], rows->series[SW_SERIES_time][i], 1e-9);
        sw_reaction_follow(sw_reaction_law_of(SW_REACTION_COLLAGEN), end, time, fine->series[SW_SERIES_probe_temperature], &p);
        assert_close_abs(rows->series[SW_SERIES_probe_collagen][i], p.extent, 3e-5);
    }
    sw_history_destroy(rows);
    sw_history_destroy(fine);
}

/* Every row's rendered fat is what the temperatures of all cells up to it make of it. */
static void test_rendered_fat_of_rows(void **state)
{
    (void)state;
    enum { FIELDS_MAX = 2000 };
    static double temperature[FIELDS_MAX];
    sw_scenario s = timed_scenario(SW_WRAP_NONE);
    s.solver.field_interval = s.solver.output_interval = 60.0;
    sw_history *h;
    run_cook(&s, &h);
    double volume = 0.0;
    for (size_t i = 0; i < h->cell_count; i++)
        volume += h->cell_volume[i];
    assert_true(h->field_count == h->row_count && h->field_count < FIELDS_MAX);
    for (size_t row = 59; row < h->row_count; row += 60) {
        double mass = 0.0;
        for (size_t cell = 0; cell < h->cell_count; cell++) {
            sw_reaction_progress p;
            for (size_t k = 0; k <= row; k++)
                temperature[k] = h->field_temperature[k * h->cell_count + cell];
            sw_reaction_follow(sw_reaction_law_of(SW_REACTION_RENDERING), row + 1, h->field_time, temperature, &p);
            mass += s.meat.composition.fat * s.meat.mass * h->cell_volume[cell] / volume * p.extent;
        }
        assert_close_abs(h->series[SW_SERIES_rendered_mass][row], mass, 2e-4 * h->budget.rendered_mass);
    }
    sw_history_destroy(h);
}

/* Largest difference of a series between two cooks with the same rows, over its range. */
static double difference(const sw_history *a, const sw_history *b, int series)
{
    double most = 0.0, low = HUGE_VAL, high = -HUGE_VAL;
    assert_int_equal(a->row_count, b->row_count);
    for (size_t i = 0; i < a->row_count; i++) {
        most = fmax(most, fabs(a->series[series][i] - b->series[series][i]));
        low = fmin(low, b->series[series][i]);
        high = fmax(high, b->series[series][i]);
    }
    return high > low ? most / (high - low) : most;
}

/* What crosses a surface that is nearly in balance with the gas in its wrap is a small difference of large ones; the film of juice
 * on a surface lasts for minutes, and so its mass and the share it wets follow the rate at which juice comes. */
static bool is_rate(int series)
{
    return series == SW_SERIES_held_mass || series == SW_SERIES_top_film_share || series == SW_SERIES_evaporation_rate ||
           series == SW_SERIES_drip_rate || series == SW_SERIES_probe_heating_rate;
}

/* All series come near those of a much tighter tolerance, and nearer with the tolerance. */
static void test_series_converge(void **state)
{
    (void)state;
    for (int kind = 0; kind < SW_WRAP_COUNT; kind++) {
        sw_scenario s = timed_scenario((sw_wrap_kind)kind);
        sw_history *h[3];
        const double tolerance[] = {1e-5, 1e-7, 1e-9}, allowed[] = {2e-3, 1e-4};
        for (int i = 0; i < 3; i++) {
            s.solver.relative_tolerance = tolerance[i];
            run_cook(&s, &h[i]);
        }
        for (int series = 0; series < SW_SERIES_COUNT; series++)
            for (int i = 0; i < 2; i++)
                if (!(difference(h[i], h[2], series) <= allowed[i] * (is_rate(series) ? 25.0 : 1.0)))
                    fail_msg("%s, %s, tolerance %g: off by %.2g of its range", sw_wrap_name(s.wrap.kind),
                             sw_series_name((sw_series)series), tolerance[i], difference(h[i], h[2], series));
        for (int i = 0; i < 3; i++)
            sw_history_destroy(h[i]);
    }
}

/* How far a figure may move with rows from 1 s to 5 min apart, by its unit. Those read from whole rows, or along straight
 * lines between them, move by more than those that are not. */
static double allowed_move(const char *name, const char *unit, double value)
{
    if (strncmp(name, "stall", 5) == 0)
        return strcmp(unit, "s") == 0 ? 120.0 : strcmp(unit, "K") == 0 ? 0.05 : 1e-4; /* a spray's dip in K s-1 */
    if (strcmp(name, "kept_hot") == 0)
        return 10.0;
    if (strcmp(name, "highest_probe") == 0)
        return 0.02;
    return strcmp(unit, "s") == 0 ? 0.1 : 1e-6 * fabs(value);
}

/* Rows are looked at, not part of the cook: its steps, its phases and what is told of it stay. */
static void test_interval_of_rows(void **state)
{
    (void)state;
    static const char *const names[] = {
#define NAME(name, unit, long_name) #name,
        SW_OUTCOME_LIST(NAME)
#undef NAME
    };
    static const char *const units[] = {
#define UNIT(name, unit, long_name) unit,
        SW_OUTCOME_LIST(UNIT)
#undef UNIT
    };
    for (int kind = 0; kind < SW_WRAP_COUNT; kind++) {
        sw_scenario s = timed_scenario((sw_wrap_kind)kind);
        sw_history *fine, *coarse;
        s.pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + 95.0};
        s.spritz.amount = 0.02;
        s.spritz.from = s.spritz.every = hour;
        s.solver.relative_tolerance = 1e-6; /* milestones lean on the slopes of rows */
        s.solver.output_interval = 1.0;
        const sw_outcome of_fine = run_cook(&s, &fine);
        s.solver.output_interval = 300.0;
        const sw_outcome of_coarse = run_cook(&s, &coarse);
        assert_int_equal(fine->statistics.steps, coarse->statistics.steps);
        for (size_t i = 0; i < fine->phase_count; i++)
            assert_close_abs(fine->phases[i].end, coarse->phases[i].end, 0.0);
        for (size_t i = 0; i < fine->milestone_count; i++)
            {
            const size_t second = (size_t)(coarse->milestones[i].time + 0.5);
            assert_close_abs(fine->series[SW_SERIES_probe_temperature][second] +
                                 (coarse->milestones[i].time - (double)second) *
                                     fine->series[SW_SERIES_probe_heating_rate][second],
                             fine->milestones[i].probe_temperature, 1e-3);
        }
#define VALUE(name, unit, long_name) of_fine.name,
        const double a[] = {SW_OUTCOME_LIST(VALUE)};
#undef VALUE
#define VALUE(name, unit, long_name) of_coarse.name,
        const double b[] = {SW_OUTCOME_LIST(VALUE)};
#undef VALUE
        for (size_t i = 0; i < sizeof a / sizeof *a; i++)
            if (SW_IS_ABSENT(a[i]) != SW_IS_ABSENT(b[i]) ||
                (!SW_IS_ABSENT(a[i]) && !(fabs(a[i] - b[i]) <= allowed_move(names[i], units[i], a[i]))))
                fail_msg("%s, %s: %.9g with rows 1 s apart, %.9g with 5 min", sw_wrap_name(s.wrap.kind), names[i], a[i], b[i]);
        sw_history_destroy(fine);
        sw_history_destroy(coarse);
    }
}

/* Events come near those of a much tighter tolerance. */
static void test_events_converge(void **state)
{
    (void)state;
    for (int kind = 0; kind < SW_WRAP_COUNT; kind++) {
        sw_scenario s = timed_scenario((sw_wrap_kind)kind);
        s.solver.output_interval = 60.0;
        const double tolerance[] = {1e-9, 1e-5, 1e-8}, allowed[] = {0.0, 10.0, 0.5};
        sw_outcome o[3];
        for (int i = 0; i < 3; i++) {
            s.solver.relative_tolerance = tolerance[i];
            o[i] = run_cook(&s, NULL);
            assert_int_equal(SW_IS_ABSENT(o[i].tender_time), SW_IS_ABSENT(o[0].tender_time));
            if (!SW_IS_ABSENT(o[0].tender_time))
                assert_close_abs(o[i].tender_time, o[0].tender_time, allowed[i]);
            assert_close_abs(o[i].rest_to_slicing, o[0].rest_to_slicing, allowed[i]);
            assert_close_abs(o[i].kept_hot, o[0].kept_hot, allowed[i]);
        }
    }
}

/* (t - 1)^2 (4 - t) + 1 has its top, 5, at t = 3; a line, a parabola and a fall. */
static void test_highest_between_rows(void **state)
{
    (void)state;
    const struct {
        double time[2], value[2], slope[2], highest;
    } pieces[] = {{{1.0, 4.0}, {1.0, 1.0}, {0.0, -9.0}, 5.0},
                  {{0.0, 1.0}, {2.0, 3.0}, {1.0, 1.0}, 3.0},
                  {{0.0, 2.0}, {2.0, 2.0}, {2.0, -2.0}, 3.0},
                  {{0.0, 1.0}, {7.0, 6.5}, {-1.0, 0.0}, 7.0}};
    for (size_t i = 0; i < sizeof pieces / sizeof *pieces; i++) {
        const sw_course c = {2, pieces[i].time, pieces[i].value, pieces[i].slope};
        assert_close_abs(sw_course_highest(&c), pieces[i].highest, 1e-12);
    }
}

/* A tolerance so loose that more than a thousandth of a balance is lost is refused, not told of as if it were a cook. Round-off
 * decides which of such cooks lose that much: some do, and no default tolerance does. */
static void test_open_balance(void **state)
{
    (void)state;
    sw_context *context;
    sw_scenario s = timed_scenario(SW_WRAP_CLOSED_FOIL);
    int refused = 0;
    assert_int_equal(sw_context_create(&context), SW_OK);
    s.meat.permeability = 1e-13;
    s.wrap.when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + 71.0};
    s.pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + 95.0};
    for (double pit = 130.0; pit <= 170.0; pit += 5.0) {
        sw_history *h = NULL;
        s.pit.steps[0].temperature = 273.15 + pit;
        s.solver.relative_tolerance = 1e-3;
        if (sw_cook_run(context, &s, NULL, NULL, &h) == SW_OK) {
            const sw_budget *b = &h->budget;
            assert_true(fabs(b->heat_residual) <= 1e-3 && fabs(b->water_residual) <= 1e-3 && fabs(b->liquid_residual) <= 1e-3);
            sw_history_destroy(h);
            continue;
        }
        refused++;
        assert_null(h);
        assert_non_null(strstr(sw_context_message(context), "is left open by"));
        assert_non_null(strstr(sw_context_message(context), "at most 0.1 % is let pass: solver.relative_tolerance, 0.001, is too "
                                                            "loose for this cook; try 0.0001"));
        s.solver.relative_tolerance = 1e-5;
        run_cook(&s, &h);
        sw_history_destroy(h);
    }
    assert_true(refused > 0);
    s.solver.relative_tolerance = 2e-3;
    sw_history *h = NULL;
    assert_int_equal(sw_cook_run(context, &s, NULL, NULL, &h), SW_ERR_RANGE);
    sw_context_destroy(context);
}

/* Where a phase ends its row and its record of the sides tell the same of top and bottom, which in a tray differ. */
static void test_row_of_a_phase_tells_of_its_sides(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    s.wrap.kind = SW_WRAP_OPEN_TRAY;
    sw_history *h;
    run_cook(&s, &h);
    assert_int_equal(h->phase_count, 2);
    for (size_t i = 0; i < h->phase_count; i++) {
        const sw_phase_record *p = &h->phases[i];
        size_t row = 0;
        while (row + 1 < h->row_count && h->series[SW_SERIES_time][row] < p->end)
            row++;
        const double top = h->series[SW_SERIES_top_water_activity][row], bottom = h->series[SW_SERIES_bottom_water_activity][row];
        assert_close_abs(top, p->sides_at_end[SW_SIDE_TOP].water_activity, 1e-9);
        assert_close_abs(bottom, p->sides_at_end[SW_SIDE_BOTTOM].water_activity, 1e-9);
        assert_true(i == 0 || bottom - top > 0.005);
    }
    sw_history_destroy(h);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_row_of_a_phase_tells_of_its_sides),
        cmocka_unit_test(test_collagen_of_rows), cmocka_unit_test(test_rendered_fat_of_rows),
        cmocka_unit_test(test_series_converge),  cmocka_unit_test(test_interval_of_rows),
        cmocka_unit_test(test_events_converge),  cmocka_unit_test(test_highest_between_rows),
        cmocka_unit_test(test_open_balance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
