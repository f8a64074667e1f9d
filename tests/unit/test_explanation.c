/* SPDX-License-Identifier: BSD-3-Clause */
/* An explanation, each of its cooks against the same scenario changed and run by hand. */
#include "close.h"

#include "coarse_cook.h"
#include "run_cook.h"
#include "shared_context.h"

#include <math.h>
#include <string.h>

static sw_explanation *explanation_of(const sw_scenario *scenario)
{
    sw_explanation *e;
    if (sw_explain(context, scenario, NULL, &e) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return e;
}

static void assert_runs_like(const sw_run *run, const sw_scenario *by_hand)
{
    const sw_outcome o = run_cook(by_hand, NULL);
    assert_int_equal(run->status, SW_OK);
    assert_close_abs(run->outcome.done_time, o.done_time, 0.0);
    assert_close_abs(run->outcome.yield_at_pull, o.yield_at_pull, 0.0);
    assert_int_equal(SW_IS_ABSENT(run->outcome.stall_length), SW_IS_ABSENT(o.stall_length));
}

/* A bare cook: what each cause changes, written out here. */
static void test_one_cause_changed(void **state)
{
    (void)state;
    const sw_scenario planned = coarse_scenario();
    sw_explanation *e = explanation_of(&planned);
    sw_scenario s = planned;
    assert_runs_like(&e->cook, &s);
    s.solver.evaporation = false;
    assert_runs_like(&e->changed[SW_CAUSE_no_evaporation].run, &s);
    s = planned;
    s.pit.humidity_ratio = 0.15;
    assert_true(e->cook.history->scenario.pit.humidity_ratio < 0.075);
    assert_runs_like(&e->changed[SW_CAUSE_damp_pit].run, &s);
    s = planned;
    s.pit.convection = 2.0 * e->cook.history->scenario.pit.convection;
    assert_runs_like(&e->changed[SW_CAUSE_twice_the_draught].run, &s);
    s = planned;
    s.meat.thickness = 0.5 * e->cook.history->scenario.meat.thickness;
    assert_runs_like(&e->changed[SW_CAUSE_half_the_thickness].run, &s);
    s = planned;
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 0.0};
    assert_runs_like(&e->changed[SW_CAUSE_wrapped_from_the_start].run, &s);
    s = planned;
    s.meat.water_holding_loss = 0.0;
    assert_runs_like(&e->changed[SW_CAUSE_holds_its_water].run, &s);
    for (int i = 0; i < SW_CAUSE_COUNT; i++)
        assert_false(e->changed[i].is_no_change || e->changed[i].is_impossible);
    assert_string_equal(e->changed[SW_CAUSE_holds_its_water].run.label, "holds-its-water");
    sw_explanation_destroy(e);
}

/* A section halves all that is measured across it, and nothing along it. */
static void test_half_a_section(void **state)
{
    (void)state;
    sw_scenario planned = coarse_scenario(), half;
    planned.meat.shape = SW_SHAPE_TAPER;
    planned.meat.fat_cap_thickness = 0.006;
    planned.meat.seam_thickness = 0.004;
    planned.meat.probe_count = 1;
    planned.meat.probes[0] = (sw_probe_place){.across = 0.1, .height = 0.03};
    sw_scenario modelled = planned;
    modelled.meat.thickness = 0.08;
    modelled.meat.width = 0.3;
    modelled.meat.end_thickness = 0.04;
    half = planned;
    assert_true(sw_cause_change(SW_CAUSE_half_the_thickness, &modelled, &half));
    assert_close_abs(half.meat.thickness, 0.04, 1e-15);
    assert_close_abs(half.meat.width, 0.3, 1e-15);
    assert_close_abs(half.meat.end_thickness, 0.02, 1e-15);
    assert_close_abs(half.meat.fat_cap_thickness, 0.003, 1e-15);
    assert_close_abs(half.meat.seam_thickness, 0.002, 1e-15);
    assert_close_abs(half.meat.probes[0].height, 0.015, 1e-15);
    assert_close_abs(half.meat.probes[0].across, 0.1, 1e-15);
}

static void test_no_change(void **state)
{
    (void)state;
    sw_scenario s = coarse_scenario();
    s.solver.evaporation = false;
    s.meat.water_holding_loss = 0.0;
    s.wrap.kind = SW_WRAP_PAPER;
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 0.0};
    sw_explanation *e = explanation_of(&s);
    for (int i = 0; i < SW_CAUSE_COUNT; i++) {
        const bool same = i == SW_CAUSE_no_evaporation || i == SW_CAUSE_holds_its_water || i == SW_CAUSE_wrapped_from_the_start;
        assert_int_equal(e->changed[i].is_no_change, same);
        assert_int_equal(e->changed[i].run.history == NULL, same);
    }
    sw_explanation_destroy(e);
    /* Wrapped later: the same wrap, from the start. A pit damper than half of all: no more than all. */
    s.wrap.when.value = 3600.0;
    s.pit.humidity_ratio = 0.7;
    assert_true(sw_cause_change(SW_CAUSE_wrapped_from_the_start, &s, &s));
    assert_int_equal(s.wrap.kind, SW_WRAP_PAPER);
    assert_close_abs(s.wrap.when.value, 0.0, 0.0);
    assert_true(sw_cause_change(SW_CAUSE_damp_pit, &s, &s));
    assert_close_abs(s.pit.humidity_ratio, 1.0, 0.0);
}

/* The heat of what does not make the stall, from the mass; that of the fat from the budget. */
static void test_common_explanations(void **state)
{
    (void)state;
    sw_scenario s = coarse_scenario();
    sw_explanation *e = explanation_of(&s);
    const sw_budget *b = &e->cook.outcome.at_pull;
    assert_close_rel(e->common[0].low, b->melting_heat + b->rendered_fat_heat, 1e-9);
    assert_close_rel(e->common[0].high, e->common[0].low, 0.0);
    assert_close_rel(e->common[1].low, 3000.0 * s.meat.mass, 1e-12);
    assert_close_rel(e->common[1].high, 3900.0 * s.meat.mass, 1e-12);
    assert_close_rel(e->common[2].low, 100.0 * s.meat.mass, 1e-12);
    assert_close_rel(e->common[2].high, 720.0 * s.meat.mass, 1e-12);
    sw_explanation_destroy(e);
}

/* A cook that never ends is followed for the longest phase and explained as far as that. */
static void test_never_ends(void **state)
{
    (void)state;
    sw_scenario s = coarse_scenario();
    s.pit.steps[0].temperature = 273.15 + 90.0;
    s.pull.value = 273.15 + 95.0;
    s.solver.longest_phase = 20.0 * 3600.0;
    sw_explanation *e = explanation_of(&s);
    assert_true(e->never_ends);
    assert_non_null(strstr(e->never_ends_reason, "95"));
    assert_close_abs(e->cook.outcome.done_time, s.solver.longest_phase, 1e-6);
    assert_close_abs(e->heat.end[e->heat.count - 1], s.solver.longest_phase, 1e-6);
    /* The changed cooks wait for the temperature that was planned. */
    assert_int_equal(e->changed[SW_CAUSE_damp_pit].run.status, SW_ERR_NEVER_ENDS);
    assert_non_null(strstr(e->changed[SW_CAUSE_damp_pit].run.failure, "95"));
    sw_explanation_destroy(e);
}

static void test_failures(void **state)
{
    (void)state;
    sw_explanation *e = NULL;
    sw_scenario s = coarse_scenario();
    s.pit.steps[0].temperature = 1000.0;
    assert_int_equal(sw_explain(context, &s, NULL, &e), SW_ERR_RANGE);
    assert_non_null(strstr(sw_context_message(context), "pit.temperature"));
    assert_null(e);
    /* Possible as planned, but no draught of twice that. */
    s = coarse_scenario();
    s.pit.convection = 60.0;
    e = explanation_of(&s);
    assert_true(e->changed[SW_CAUSE_twice_the_draught].is_impossible);
    assert_non_null(strstr(e->changed[SW_CAUSE_twice_the_draught].run.failure, "pit.convection"));
    sw_explanation_destroy(e);
}

/* Watches, and stops in a cook or before one. */
typedef struct watcher {
    int begun, ended, stop_in, cancel_before;
    char labels[8][SW_RUN_LABEL_SIZE];
} watcher;

static void note_begin(const char *label, void *data)
{
    watcher *w = data;
    snprintf(w->labels[w->begun++], SW_RUN_LABEL_SIZE, "%s", label);
}

static void note_end(void *data)
{
    watcher *w = data;
    w->ended++;
}

static int observe(double time, double probe, void *data)
{
    const watcher *w = data;
    assert_true(time >= 0.0 && probe > 250.0);
    return w->begun == w->stop_in;
}

static bool is_cancelled(void *data)
{
    const watcher *w = data;
    return w->begun == w->cancel_before;
}

static void test_watching(void **state)
{
    (void)state;
    const sw_scenario s = coarse_scenario();
    sw_explanation *e = NULL;
    watcher w = {.stop_in = -1, .cancel_before = -1};
    const sw_watch watch = {note_begin, observe, note_end, is_cancelled, &w};
    assert_int_equal(sw_explain(context, &s, &watch, &e), SW_OK);
    assert_int_equal(w.begun, 1 + SW_CAUSE_COUNT);
    assert_int_equal(w.ended, w.begun);
    assert_string_equal(w.labels[0], "as-planned");
    assert_string_equal(w.labels[2], "damp-pit");
    sw_explanation_destroy(e);
    e = NULL;
    w = (watcher){.stop_in = 3, .cancel_before = -1};
    assert_int_equal(sw_explain(context, &s, &watch, &e), SW_ERR_CANCELLED);
    assert_int_equal(w.begun, 3);
    assert_int_equal(w.ended, 3);
    assert_null(e);
    w = (watcher){.stop_in = -1, .cancel_before = 0};
    assert_int_equal(sw_explain(context, &s, &watch, &e), SW_ERR_CANCELLED);
    assert_int_equal(w.begun, 0);
    assert_null(e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_cause_changed), cmocka_unit_test(test_half_a_section), cmocka_unit_test(test_no_change),
        cmocka_unit_test(test_common_explanations), cmocka_unit_test(test_never_ends), cmocka_unit_test(test_failures),
        cmocka_unit_test(test_watching),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
