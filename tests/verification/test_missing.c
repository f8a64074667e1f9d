/* SPDX-License-Identifier: BSD-3-Clause */
/* Times of day, those that pass before their phase begins, and phases that wait for a temperature in vain. What is still
 * told is compared with the same cook planned without the phase; what would end it is tried. */
#include "close.h"
#include "run_cook.h"

#include <math.h>
#include <string.h>

static const double hour = 3600.0, day = 86400.0, zero_celsius = 273.15;

/* Four hours on the pit from 03:00 on, a rest of a quarter of an hour, and no hold. */
static sw_scenario short_scenario(void)
{
    sw_scenario s = pit_only_scenario();
    s.solver.cells = 24;
    s.meat.thickness = 0.04;
    s.start_clock = 3.0 * hour;
    s.pull = (sw_ending){SW_ENDING_DURATION, 4.0 * hour};
    s.rest.until = (sw_ending){SW_ENDING_DURATION, 0.25 * hour};
    s.solver.longest_phase = 24.0 * hour;
    return s;
}

static sw_ending at(double celsius)
{
    return (sw_ending){SW_ENDING_PROBE_TEMPERATURE, zero_celsius + celsius};
}

static void test_when_a_time_of_day_falls(void **state)
{
    static const struct {
        double start, value;
        bool has_day;
        double want;
    } cases[] = {{3.0, 13.0, false, 10.0},  {22.0, 13.0, false, 15.0}, {13.0, 13.0, false, 24.0}, {0.0, 0.0, false, 24.0},
                 {3.0, 37.0, true, 34.0},   {22.0, 37.0, true, 15.0},  {22.0, 61.0, true, 39.0},  {23.5, 24.0, true, 0.5}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const sw_ending_kind kind = cases[i].has_day ? SW_ENDING_CLOCK_ON_DAY : SW_ENDING_CLOCK;
        assert_close_abs(sw_ending_clock_time(cases[i].start * hour, (sw_ending){kind, cases[i].value * hour}),
                         cases[i].want * hour, 1e-9);
    }
    assert_true(isinf(sw_ending_clock_time(0.0, at(60.0))));
    assert_true(isinf(sw_ending_clock_time(0.0, (sw_ending){SW_ENDING_DURATION, hour})));
}

#define ASSERT_SAME(name, unit, long_name) assert_memory_equal(&got->name, &want->name, sizeof got->name);

static void assert_same_budget(const sw_budget *got, const sw_budget *want)
{
    SW_BUDGET_LIST(ASSERT_SAME)
}

/* All that the history has is that of the cook without the phase, to the bit. */
static void assert_same_but_missing(const sw_history *got, const sw_history *want)
{
    assert_int_equal(got->phase_count, want->phase_count);
    for (size_t i = 0; i < want->phase_count; i++) {
        assert_int_equal(got->phases[i].phase, want->phases[i].phase);
        assert_close_abs(got->phases[i].end, want->phases[i].end, 0.0);
    }
    assert_int_equal(got->row_count, want->row_count);
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        assert_memory_equal(got->series[i], want->series[i], want->row_count * sizeof(double));
    assert_int_equal(got->field_count, want->field_count);
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++) {
        assert_memory_equal(got->cell_extent[r], want->cell_extent[r], want->cell_count * sizeof(double));
        assert_close_abs(got->probe_extent[0][r], want->probe_extent[0][r], 0.0);
    }
    assert_same_budget(&got->budget, &want->budget);
    assert_int_equal(got->milestone_count, want->milestone_count);
    assert_int_equal(want->missing_count, 0);
}

/* The hour has passed by exactly the time that is told; the cook is the one without the phase. */
static void test_missed_hold(void **state)
{
    (void)state;
    sw_history *missed, *without;
    sw_scenario s = short_scenario();
    sw_outcome want = run_cook(&s, &without);
    assert_true(SW_IS_ABSENT(want.late));
    s.hold.until = (sw_ending){SW_ENDING_CLOCK, 6.0 * hour};
    sw_outcome got = run_cook(&s, &missed);
    assert_same_but_missing(missed, without);
    assert_int_equal(missed->missing_count, 1);
    const sw_missing *m = sw_history_missing(missed, SW_PLANNED_HOLD);
    assert_non_null(m);
    assert_int_equal(m->reason, SW_MISSING_HOUR_PASSED);
    assert_close_abs(m->planned, 3.0 * hour, 1e-9);
    assert_close_abs(m->begin, 4.25 * hour, 1e-9);
    assert_close_abs(m->late, 1.25 * hour, 1e-9);
    assert_true(SW_IS_ABSENT(m->target) && SW_IS_ABSENT(m->nearest));
    assert_true(sw_history_is_ready(missed));
    assert_close_abs(got.late, 1.25 * hour, 1e-9);
    assert_close_abs(got.endless_phases, 0.0, 0.0);
    assert_close_abs(got.slice_time, 4.25 * hour, 1e-9);
    assert_close_abs(got.yield_fraction, want.yield_fraction, 0.0);
    assert_true(SW_IS_ABSENT(got.hold_end));

    /* With the day it is an overnight hold. */
    s.hold.until = (sw_ending){SW_ENDING_CLOCK_ON_DAY, day + 6.0 * hour};
    got = run_cook(&s, NULL);
    assert_close_abs(got.hold_end, 27.0 * hour, 1e-6);
    assert_close_abs(got.late, 0.0, 0.0);
    /* To the minute it is in time. */
    s.hold.until = (sw_ending){SW_ENDING_CLOCK, 7.25 * hour + 60.0};
    got = run_cook(&s, NULL);
    assert_close_abs(got.hold_end, 4.25 * hour + 60.0, 1e-6);
    assert_close_abs(got.late, 0.0, 0.0);
    sw_history_destroy(missed);
    sw_history_destroy(without);
}

/* The hour of the last phase before slicing counts; without rest and hold that of the pull. */
static void test_lateness(void **state)
{
    (void)state;
    sw_scenario s = short_scenario();
    s.rest.until = (sw_ending){SW_ENDING_CLOCK, 5.0 * hour};
    sw_outcome o = run_cook(&s, NULL);
    assert_close_abs(o.late, 2.0 * hour, 1e-9);
    assert_close_abs(o.slice_time, 4.0 * hour, 1e-9);
    s.hold.until = (sw_ending){SW_ENDING_DURATION, hour};
    o = run_cook(&s, NULL);
    assert_true(SW_IS_ABSENT(o.late));
    assert_close_abs(o.hold_end, 5.0 * hour, 1e-6);
    s.rest.until.kind = s.hold.until.kind = SW_ENDING_NONE;
    s.pull = (sw_ending){SW_ENDING_CLOCK, 6.0 * hour};
    o = run_cook(&s, NULL);
    assert_close_abs(o.late, 0.0, 0.0);
    assert_close_abs(o.slice_time, 3.0 * hour, 1e-6);
}

/* Readings of the probe nearest to a temperature in a phase, and last. */
static void read_phase(const sw_history *h, size_t phase, double target, double *nearest, double *last)
{
    const double *time = h->series[SW_SERIES_time], *probe = h->series[SW_SERIES_probe_temperature];
    *nearest = HUGE_VAL;
    for (size_t i = 0; i < h->row_count; i++)
        if (time[i] >= h->phases[phase].start && time[i] <= h->phases[phase].end) {
            *nearest = fabs(probe[i] - target) < fabs(*nearest - target) ? probe[i] : *nearest;
            *last = probe[i];
        }
}

/* A hold at 66 C never lets the probe fall to 60 C. What is before it is told, and a little more than what the probe comes to
 * ends it. */
static void test_hold_too_hot(void **state)
{
    (void)state;
    double nearest = 0.0, last = 0.0;
    sw_history *given_up, *without, *held;
    sw_scenario s = short_scenario();
    s.pull = at(80.0);
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;
    s.wrap.when = at(70.0);
    run_cook(&s, &without);
    s.hold.until = (sw_ending){SW_ENDING_DURATION, s.solver.longest_phase};
    run_cook(&s, &held);
    s.hold.until = at(60.0);
    sw_outcome o = run_cook(&s, &given_up);
    assert_same_but_missing(given_up, without);
    const sw_missing *m = sw_history_missing(given_up, SW_PLANNED_HOLD);
    assert_non_null(m);
    assert_int_equal(m->reason, SW_MISSING_TOO_HOT);
    assert_close_abs(m->target, zero_celsius + 60.0, 1e-9);
    assert_close_abs(m->begin, without->phases[without->phase_count - 1].end, 0.0);
    read_phase(held, held->phase_count - 1, m->target, &nearest, &last);
    assert_close_abs(m->nearest, nearest, 1e-3);
    assert_close_abs(m->last, last, 1e-3);
    assert_true(m->nearest > m->target + 1.0);
    assert_true(fabs(m->rate) < 0.1 / hour);
    assert_false(sw_history_is_ready(given_up));
    assert_close_abs(o.endless_phases, 1.0, 0.0);
    assert_close_abs(o.done_time, without->phases[1].end, 0.0);
    assert_false(SW_IS_ABSENT(o.rest_end) || SW_IS_ABSENT(o.yield_at_pull) || SW_IS_ABSENT(o.probe_collagen_at_pull));
    assert_true(SW_IS_ABSENT(o.slice_time) && SW_IS_ABSENT(o.hold_end) && SW_IS_ABSENT(o.yield_fraction) &&
                SW_IS_ABSENT(o.servings) && SW_IS_ABSENT(o.late) && SW_IS_ABSENT(o.probe_collagen) && SW_IS_ABSENT(o.bark) &&
                SW_IS_ABSENT(o.kept_juice_mass) && SW_IS_ABSENT(o.lowest_after_pull) && SW_IS_ABSENT(o.kept_hot));
    assert_int_equal(o.tenderness, SW_TENDERNESS_UNKNOWN);
    assert_true(SW_IS_ABSENT(o.reactions[SW_REACTION_COLLAGEN].mean) && SW_IS_ABSENT(o.sides[SW_SIDE_TOP].dryness_at_end));
    assert_false(SW_IS_ABSENT(o.sides[SW_SIDE_TOP].dryness_at_pull));

    s.hold.until.value = m->nearest + 0.05;
    assert_false(SW_IS_ABSENT(run_cook(&s, NULL).hold_end));
    s.hold.until = at(60.0);
    s.hold.temperature = zero_celsius + 55.0;
    assert_false(SW_IS_ABSENT(run_cook(&s, NULL).hold_end));
    sw_history_destroy(given_up);
    sw_history_destroy(without);
    sw_history_destroy(held);
}

/* A rest on the counter never heats the probe to 90 C: its highest reading is the carry-over. What follows does not begin. */
static void test_rest_too_cool(void **state)
{
    (void)state;
    sw_history *h;
    sw_scenario s = short_scenario();
    s.pull = at(70.0);
    s.rest.until = at(90.0);
    s.hold.until = (sw_ending){SW_ENDING_CLOCK, 12.0 * hour};
    s.cooling.until = (sw_ending){SW_ENDING_DURATION, hour};
    sw_outcome o = run_cook(&s, &h);
    assert_int_equal(h->missing_count, 3);
    assert_int_equal(h->missing[0].reason, SW_MISSING_TOO_COOL);
    assert_within(h->missing[0].nearest, zero_celsius + 70.0, zero_celsius + 80.0);
    assert_within(h->missing[0].last, zero_celsius, zero_celsius + 30.0);
    assert_int_equal(h->missing[1].end, SW_PLANNED_HOLD);
    assert_int_equal(h->missing[1].reason, SW_MISSING_NOT_BEGUN);
    assert_close_abs(h->missing[1].planned, 9.0 * hour, 1e-9);
    assert_true(SW_IS_ABSENT(h->missing[1].begin) && SW_IS_ABSENT(h->missing[1].late));
    assert_int_equal(h->missing[2].end, SW_PLANNED_COOLING);
    assert_int_equal(h->missing[2].reason, SW_MISSING_NOT_BEGUN);
    assert_close_abs(o.endless_phases, 3.0, 0.0);
    assert_true(SW_IS_ABSENT(o.late));
    sw_history_destroy(h);
}

/* A day beyond the longest phase is given up without being followed. */
static void test_day_too_far(void **state)
{
    (void)state;
    sw_history *h;
    sw_scenario s = short_scenario();
    s.hold.until = (sw_ending){SW_ENDING_CLOCK_ON_DAY, 3.0 * day};
    run_cook(&s, &h);
    assert_int_equal(h->missing_count, 1);
    assert_int_equal(h->missing[0].reason, SW_MISSING_TOO_FAR);
    assert_close_abs(h->missing[0].planned, 69.0 * hour, 1e-9);
    assert_close_abs(h->missing[0].begin, 4.25 * hour, 1e-9);
    sw_history_destroy(h);
}

/* A cooling comes after slicing: its lack leaves those figures alone. */
static void test_cooling_that_does_not_end(void **state)
{
    (void)state;
    sw_history *h;
    sw_safety safety;
    sw_scenario s = short_scenario();
    sw_outcome want = run_cook(&s, NULL);
    s.cooling.until = at(2.0);
    sw_outcome got = run_cook(&s, &h);
    assert_int_equal(sw_history_missing(h, SW_PLANNED_COOLING)->reason, SW_MISSING_TOO_HOT);
    assert_true(sw_history_is_ready(h));
    assert_close_abs(got.slice_time, want.slice_time, 0.0);
    assert_close_abs(got.yield_fraction, want.yield_fraction, 0.0);
    assert_close_abs(got.probe_collagen, want.probe_collagen, 0.0);
    assert_close_abs(got.endless_phases, 1.0, 0.0);
    sw_safety_evaluate(h, &safety);
    for (int rule = SW_SAFETY_cooling_first; rule <= SW_SAFETY_cooling_second_fsis; rule++) {
        assert_int_equal(safety.findings[rule].verdict, SW_VERDICT_NOT_ASSESSED);
        assert_true(safety.findings[rule].lacks_phase);
        assert_non_null(strstr(safety.findings[rule].reason, "cooling does not end"));
    }
    sw_history_destroy(h);
}

/* Rules on a phase that is missing are never met; what the meat has broken before stays broken. */
static void test_rules_without_their_phase(void **state)
{
    static const sw_safety_rule of_the_hold[] = {SW_SAFETY_hot_holding, SW_SAFETY_hot_holding_fsis, SW_SAFETY_holding_place};
    (void)state;
    for (int has_hold = 0; has_hold < 2; has_hold++) {
        sw_history *h;
        sw_safety safety;
        sw_scenario s = short_scenario();
        s.pull = at(90.0);
        s.hold.until = has_hold ? (sw_ending){SW_ENDING_DURATION, hour} : (sw_ending){SW_ENDING_CLOCK, 3.5 * hour};
        run_cook(&s, &h);
        sw_safety_evaluate(h, &safety);
        for (size_t i = 0; i < 3; i++) {
            const sw_safety_finding *f = &safety.findings[of_the_hold[i]];
            assert_int_equal(f->verdict, has_hold ? SW_VERDICT_MET : SW_VERDICT_NOT_ASSESSED);
            assert_int_equal(f->lacks_phase, !has_hold);
            if (!has_hold)
                assert_string_equal(f->reason, "the hold is missing, since its hour had passed");
        }
        sw_history_destroy(h);
        /* Two hours on a cold counter are too long, hold or not. */
        s.rest.until = (sw_ending){SW_ENDING_DURATION, 2.0 * hour};
        s.rest.temperature = zero_celsius + 5.0;
        run_cook(&s, &h);
        sw_safety_evaluate(h, &safety);
        assert_int_equal(safety.findings[SW_SAFETY_hot_holding].verdict, SW_VERDICT_NOT_MET);
        sw_history_destroy(h);
    }
}

/* What the pull forestalls is noted, and the cook is that without it. */
static void test_pulled_first(void **state)
{
    (void)state;
    sw_history *got, *without;
    sw_scenario s = short_scenario();
    run_cook(&s, &without);
    s.wrap.kind = SW_WRAP_OPEN_TRAY;
    s.wrap.when = (sw_ending){SW_ENDING_CLOCK, 9.0 * hour};
    sw_outcome o = run_cook(&s, &got);
    assert_int_equal(got->phase_count, without->phase_count);
    assert_close_abs(got->budget.evaporated_mass, without->budget.evaporated_mass, 1e-4);
    assert_int_equal(got->missing_count, 1);
    assert_int_equal(got->missing[0].end, SW_PLANNED_WRAP);
    assert_int_equal(got->missing[0].reason, SW_MISSING_PULLED_FIRST);
    assert_close_abs(got->missing[0].planned, 6.0 * hour, 1e-9);
    assert_close_abs(got->missing[0].begin, 4.0 * hour, 1e-6);
    assert_true(SW_IS_ABSENT(got->missing[0].late) && SW_IS_ABSENT(got->missing[0].target));
    assert_true(o.endless_phases == 0.0 && sw_history_is_ready(got));
    sw_history_destroy(got);
    sw_history_destroy(without);
    /* In the tray: neither poured at its temperature nor wrapped anew. */
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 2.0 * hour};
    s.wrap.pour = SW_POUR_OFF;
    s.wrap.pour_when = at(109.0);
    s.rewrap.kind = SW_WRAP_PAPER;
    s.rewrap.when = (sw_ending){SW_ENDING_CLOCK, 9.0 * hour};
    o = run_cook(&s, &got);
    assert_int_equal(got->missing_count, 2);
    assert_int_equal(sw_history_missing(got, SW_PLANNED_REWRAP)->reason, SW_MISSING_PULLED_FIRST);
    const sw_missing *pour = sw_history_missing(got, SW_PLANNED_POUR);
    assert_int_equal(pour->reason, SW_MISSING_PULLED_FIRST);
    assert_close_abs(pour->target, zero_celsius + 109.0, 1e-9);
    assert_true(SW_IS_ABSENT(o.pour_time) && o.endless_phases == 0.0);
    sw_history_destroy(got);
    /* Poured in time, nothing is missing. */
    s.wrap.pour_when = (sw_ending){SW_ENDING_DURATION, 3.0 * hour};
    s.rewrap.when = (sw_ending){SW_ENDING_NONE, 0.0};
    run_cook(&s, &got);
    assert_int_equal(got->missing_count, 0);
    sw_history_destroy(got);
}

/* A change of wrap and a pouring whose hour has passed when the wrap goes on do not happen. */
static void test_missed_in_the_wrap(void **state)
{
    (void)state;
    sw_history *missed, *without;
    sw_scenario s = short_scenario();
    s.wrap.kind = SW_WRAP_OPEN_TRAY;
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 2.0 * hour};
    s.rewrap.kind = SW_WRAP_NONE;
    run_cook(&s, &without);
    s.rewrap.when = (sw_ending){SW_ENDING_CLOCK, 4.0 * hour};
    s.wrap.pour = SW_POUR_OFF;
    s.wrap.pour_when = (sw_ending){SW_ENDING_CLOCK, 4.5 * hour};
    run_cook(&s, &missed);
    assert_same_but_missing(missed, without);
    assert_int_equal(missed->missing_count, 2);
    assert_close_abs(sw_history_missing(missed, SW_PLANNED_REWRAP)->late, 1.0 * hour, 1e-9);
    assert_close_abs(sw_history_missing(missed, SW_PLANNED_POUR)->late, 0.5 * hour, 1e-9);
    assert_true(SW_IS_ABSENT(missed->pour.time) && SW_IS_ABSENT(missed->pour.probe_temperature));
    sw_history_destroy(missed);

    /* Later than the wrap they do. */
    s.rewrap.when.value = 6.5 * hour;
    s.wrap.pour_when.value = 6.0 * hour;
    const sw_outcome poured = run_cook(&s, &missed);
    const double at_six = missed->pour.probe_temperature;
    assert_int_equal(missed->missing_count, 0);
    assert_close_abs(missed->phases[2].start, 3.5 * hour, 1e-6);
    assert_true(missed->budget.poured_mass > 0.0);
    assert_close_abs(missed->pour.time, 3.0 * hour, 1e-6);
    assert_close_abs(poured.pour_time, 3.0 * hour, 1e-6);
    assert_true(poured.pour_probe == missed->pour.probe_temperature);
    sw_history_destroy(missed);
    /* At a temperature of the probe, that is what the probe reads. */
    s.wrap.pour_when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, at_six - 1.0};
    run_cook(&s, &missed);
    assert_close_abs(missed->pour.probe_temperature, at_six - 1.0, 1e-4);
    assert_true(missed->pour.time > 2.0 * hour);
    sw_history_destroy(missed);
    sw_history_destroy(without);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_when_a_time_of_day_falls), cmocka_unit_test(test_missed_hold),
        cmocka_unit_test(test_lateness),                 cmocka_unit_test(test_hold_too_hot),
        cmocka_unit_test(test_rest_too_cool),            cmocka_unit_test(test_day_too_far),
        cmocka_unit_test(test_cooling_that_does_not_end), cmocka_unit_test(test_rules_without_their_phase),
        cmocka_unit_test(test_pulled_first), cmocka_unit_test(test_missed_in_the_wrap),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
