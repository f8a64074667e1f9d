/* SPDX-License-Identifier: BSD-3-Clause */
/* Water and energy: what the cells gain is what crosses the boundary, to round-off in the right-hand side, and to the
 * integration's own accuracy over whole cooks. */
#include "close.h"

#include "cuts.h"
#include "transport_problem.h"

#include <stallwright/cook.h>

#include <math.h>
#include <stdlib.h>

/* Gains of all cells against the flows over the boundary, for one state. */
static void check_balance(sw_body *body, const double *state, double *rate)
{
    const sw_transport *t = body->transport;
    const sw_mesh *mesh = body->mesh;
    double flow[SW_FLOW_COUNT], water = 0.0, heat = 0.0, water_scale = 0.0, heat_scale = 0.0;
    assert_int_equal(sw_transport_rate(body->transport, 0.0, state, rate), 0);
    for (size_t i = 0; i < mesh->cell_count; i++) {
        double dry = mesh->volume[i] * body->materials[mesh->region[i]]->dry_density;
        double water_gain = dry * rate[2 * i + 1];
        double heat_gain = mesh->volume[i] * t->value.heat_capacity[i] * rate[2 * i] +
                           t->value.water_enthalpy[i] * water_gain;
        water += water_gain;
        heat += heat_gain;
        water_scale += fabs(water_gain);
        heat_scale += fabs(heat_gain);
    }
    assert_int_equal(sw_transport_flows(body->transport, 0.0, state, flow), 0);
    double heat_in = flow[SW_FLOW_CONVECTION] + flow[SW_FLOW_RADIATION] + flow[SW_FLOW_GIVEN_HEAT] -
                     flow[SW_FLOW_EVAPORATION_HEAT] - flow[SW_FLOW_VAPOUR_WARMING] - flow[SW_FLOW_DRIP_HEAT];
    double water_in = -flow[SW_FLOW_EVAPORATION] - flow[SW_FLOW_DRIP];
    assert_close_abs(water, water_in, 1e-12 * water_scale);
    assert_close_abs(heat, heat_in, 1e-12 * heat_scale);
}

static void test_right_hand_side(void **unused)
{
    (void)unused;
    unsigned long long seed = 1;
    for (int cut = 0; cut < CUT_COUNT; cut++) {
        sw_scenario scenario;
        cut_scenario(cut, &scenario);
        scenario.meat.fibre_conductivity = 1.2;
        scenario.meat.fibre_permeability = 3.0;
        sw_body body;
        assert_int_equal(sw_body_init(NULL, &scenario, &body), SW_OK);
        double *state = malloc(2 * body.mesh->cell_count * sizeof *state);
        double *rate = malloc(2 * body.mesh->cell_count * sizeof *rate);
        assert_true(state && rate);
        for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++)
            for (int i = 0; i < 10; i++) {
                sw_surroundings around = pit_air(&scenario, &body);
                surround_body(&body, &scenario, &around, (sw_wrap_kind)wrap);
                random_state(&body, &seed, state);
                check_balance(&body, state, rate);
            }
        free(state);
        free(rate);
        sw_body_free(&body);
    }
}

/* The enthalpy and water of the whole body change as the rates say: a difference quotient along the rate. */
static void test_enthalpy_of_the_body(void **unused)
{
    (void)unused;
    unsigned long long seed = 2;
    for (int cut = 0; cut < CUT_COUNT; cut++) {
        sw_scenario scenario;
        cut_scenario(cut, &scenario);
        sw_body body;
        assert_int_equal(sw_body_init(NULL, &scenario, &body), SW_OK);
        size_t n = 2 * body.mesh->cell_count;
        double *state = malloc(4 * n * sizeof *state);
        assert_true(state != NULL);
        double *rate = state + n, *before = state + 2 * n, *after = state + 3 * n;
        sw_surroundings around = pit_air(&scenario, &body);
        surround_body(&body, &scenario, &around, SW_WRAP_NONE);
        random_state(&body, &seed, state);
        double flow[SW_FLOW_COUNT];
        assert_int_equal(sw_transport_rate(body.transport, 0.0, state, rate), 0);
        assert_int_equal(sw_transport_flows(body.transport, 0.0, state, flow), 0);
        /* So short a step that no cell moves by more than 1 mK or 1e-5 kg/kg. */
        double step = HUGE_VAL;
        for (size_t i = 0; i < n; i++)
            step = fmin(step, (i % 2 ? 1e-5 : 1e-3) / fabs(rate[i]));
        for (size_t i = 0; i < n; i++) {
            before[i] = state[i] - step * rate[i];
            after[i] = state[i] + step * rate[i];
        }
        double gain = (sw_transport_enthalpy(body.transport, after) - sw_transport_enthalpy(body.transport, before)) /
                      (2.0 * step);
        double heat_in = flow[SW_FLOW_CONVECTION] + flow[SW_FLOW_RADIATION] - flow[SW_FLOW_EVAPORATION_HEAT] -
                         flow[SW_FLOW_VAPOUR_WARMING] - flow[SW_FLOW_DRIP_HEAT];
        double water = (sw_transport_water(body.transport, after) - sw_transport_water(body.transport, before)) /
                       (2.0 * step);
        double scale = 0.0;
        for (size_t i = 0; i < body.mesh->cell_count; i++)
            scale += fabs(body.mesh->volume[i] * body.transport->value.heat_capacity[i] * rate[2 * i]);
        assert_close_abs(gain, heat_in, 1e-5 * scale);
        assert_close_rel(water, -flow[SW_FLOW_EVAPORATION] - flow[SW_FLOW_DRIP], 1e-4);
        free(state);
        sw_body_free(&body);
    }
}

static void set_short_rest(sw_scenario *s)
{
    s->rest.until = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + 80.0};
    s->hold.until = (sw_ending){SW_ENDING_DURATION, 2 * 3600.0};
}

/* What the history says of the heat in every row: what came in is found again, and melting is a share of what stayed. */
static void check_heat_of_rows(const sw_history *h)
{
    const double *const *s = (const double *const *)h->series;
    for (size_t i = 1; i < h->row_count; i++) {
        double received = s[SW_SERIES_convection_heat][i] + s[SW_SERIES_radiation_heat][i];
        double lost = s[SW_SERIES_evaporation_heat][i] + s[SW_SERIES_vapour_warming_heat][i] + s[SW_SERIES_drip_heat][i] +
                      s[SW_SERIES_rendered_fat_heat][i];
        /* Early rows have moved little heat: the last row gives the scale. */
        assert_close_abs(received, lost + s[SW_SERIES_warming_heat][i],
                         1e-4 * fabs(s[SW_SERIES_evaporation_heat][h->row_count - 1]));
        assert_true(s[SW_SERIES_melting_heat][i] >= 0.0);
        assert_true(s[SW_SERIES_melting_heat][i] <= s[SW_SERIES_warming_heat][i] + 1e-9 * received);
    }
    /* All fat has melted once the coldest place is above 50 C; what rendered took its melting heat along. */
    const size_t last = h->row_count - 1;
    if (s[SW_SERIES_lowest_temperature][last] > 273.15 + 50.0 && h->scenario.meat.fat_cap_thickness == 0.0) {
        double fat = h->scenario.meat.composition.fat * h->scenario.meat.mass;
        assert_close_rel(s[SW_SERIES_melting_heat][last], 80e3 * (fat - s[SW_SERIES_rendered_mass][last]), 1e-9);
    }
    assert_close_rel(s[SW_SERIES_melting_heat][last], h->budget.melting_heat, 1e-12);
    assert_close_rel(s[SW_SERIES_warming_heat][last], h->budget.warming_heat, 1e-4);
}

/* Largest residuals of the budgets of a cook, at the end of each phase. */
static void residuals_of_cook(int cut, sw_wrap_kind wrap, double *heat, double *water)
{
    sw_context *context;
    sw_scenario scenario;
    sw_history *history;
    assert_int_equal(sw_context_create(&context), SW_OK);
    cut_scenario(cut, &scenario);
    set_short_rest(&scenario);
    scenario.wrap.kind = wrap;
    if (sw_cook_run(context, &scenario, NULL, NULL, &history) != SW_OK)
        fail_msg("%s, %s: %s", cut_name(cut), sw_wrap_name(wrap), sw_context_message(context));
    check_heat_of_rows(history);
    *heat = *water = 0.0;
    for (size_t i = 0; i < history->phase_count; i++) {
        *heat = fmax(*heat, fabs(history->phases[i].budget_at_end.heat_residual));
        *water = fmax(*water, fabs(history->phases[i].budget_at_end.water_residual));
        /* Juice in pool and paper, evaporated, lost or poured off is the juice that left the meat. */
        *water = fmax(*water, fabs(history->phases[i].budget_at_end.liquid_residual));
    }
    print_message("  %-28s %-12s tolerance %.0e: heat %.2e, water %.2e\n", cut_name(cut), sw_wrap_name(wrap),
                  scenario.solver.relative_tolerance, *heat, *water);
    sw_history_destroy(history);
    sw_context_destroy(context);
}

static void test_cooks_at_default_tolerance(void **unused)
{
    (void)unused;
    for (int cut = 0; cut < CUT_COUNT; cut++)
        for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++) {
            double heat, water;
            residuals_of_cook(cut, (sw_wrap_kind)wrap, &heat, &water);
            assert_true(heat < 1e-4);
            assert_true(water < 1e-4);
        }
}

static void run_to(sw_integrator *integrator, double from, double to)
{
    const sw_roots none = {.count = 0};
    double time = from;
    assert_int_equal(sw_integrator_start(integrator, from, to, &none), SW_OK);
    for (sw_step_end end = {.ended = false}; !end.ended;)
        assert_int_equal(sw_integrator_step(integrator, &time, &end), SW_OK);
}

/* 6 h bare and 6 h wrapped, as tight as makes sense; in one dimension, where that is cheap. What is left of the
 * residuals is the integration's own error: it falls with the tolerance as far as one cares to go. */
static void check_tight_integration(int cut, sw_wrap_kind wrap)
{
    sw_scenario scenario;
    cut_scenario(cut, &scenario);
    sw_body body;
    sw_integrator *integrator;
    assert_int_equal(sw_body_init(NULL, &scenario, &body), SW_OK);
    assert_int_equal(sw_transport_integrator(NULL, body.transport, 1e-11, &integrator), SW_OK);
    double *state = sw_integrator_state(integrator);
    sw_body_raw_state(&body, &scenario, state);
    double enthalpy = -sw_transport_enthalpy(body.transport, state);
    double water_before = sw_transport_water(body.transport, state);
    sw_surroundings around = pit_air(&scenario, &body);
    surround_body(&body, &scenario, &around, SW_WRAP_NONE);
    run_to(integrator, 0.0, 6 * 3600.0);
    surround_body(&body, &scenario, &around, wrap);
    run_to(integrator, 6 * 3600.0, 12 * 3600.0);

    const double *flow = sw_integrator_sums(integrator);
    double received = flow[SW_FLOW_CONVECTION] + flow[SW_FLOW_RADIATION];
    enthalpy += sw_transport_enthalpy(body.transport, state);
    double heat = (received - flow[SW_FLOW_EVAPORATION_HEAT] - flow[SW_FLOW_VAPOUR_WARMING] - flow[SW_FLOW_DRIP_HEAT] -
                   enthalpy) / received;
    double water = (water_before - sw_transport_water(body.transport, state) - flow[SW_FLOW_EVAPORATION] -
                    flow[SW_FLOW_DRIP]) / water_before;
    print_message("  %-28s %-12s tolerance 1e-11: heat %.2e, water %.2e\n", cut_name(cut), sw_wrap_name(wrap), heat,
                  water);
    assert_true(fabs(heat) < 1e-8);
    assert_true(fabs(water) < 1e-8);
    sw_integrator_destroy(integrator);
    sw_body_free(&body);
}

static void test_tight_integration(void **unused)
{
    (void)unused;
    for (int cut = 0; cut < 5; cut++)
        for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++)
            check_tight_integration(cut, (sw_wrap_kind)wrap);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_right_hand_side),
        cmocka_unit_test(test_enthalpy_of_the_body),
        cmocka_unit_test(test_cooks_at_default_tolerance),
        cmocka_unit_test(test_tight_integration),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
