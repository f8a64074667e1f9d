/* SPDX-License-Identifier: BSD-3-Clause */
/* Random outlines, star-shaped and with a bay: all mesh, all conserve heat and water to round-off, all cook, with fat and with fibres
 * aslant. */
#include "close.h"

#include "body.h"
#include "cuts.h"
#include "outlines.h"
#include "run_cook.h"

#include <math.h>
#include <stdio.h>

enum { OUTLINES = 200 };

static sw_scenario cook_of(unsigned number)
{
    sw_scenario s = pit_only_scenario();
    test_outline o = random_outline(number);
    s.meat.shape = SW_SHAPE_OUTLINE;
    s.meat.outline_count = o.count;
    s.meat.thickness = s.meat.width = 0.0;
    for (size_t i = 0; i < o.count; i++) {
        s.meat.outline[i][0] = o.v[i].x;
        s.meat.outline[i][1] = o.v[i].y;
    }
    /* A place inside any of them: the middle of the fattest cell. */
    sw_fitted_section f;
    fit_section(&o, 12, 16, 0.0003, &f);
    sw_mesh *mesh = fitted_mesh(&f);
    size_t largest = 0;
    double left = o.v[0].x, lowest = o.v[0].y;
    for (size_t i = 1; i < o.count; i++) {
        left = fmin(left, o.v[i].x);
        lowest = fmin(lowest, o.v[i].y);
    }
    for (size_t i = 1; i < mesh->cell_count; i++)
        largest = mesh->volume[i] > mesh->volume[largest] ? i : largest;
    s.meat.probe_count = 1;
    s.meat.probes[0] = (sw_probe_place){.across = mesh->across[largest] - left, .height = mesh->position[largest] - lowest};
    snprintf(s.meat.probes[0].name, sizeof s.meat.probes[0].name, "inside");
    sw_mesh_destroy(mesh);
    s.meat.mass = 4.0;
    s.meat.fat_cap_thickness = number % 4 == 1 ? 0.003 : 0.0;
    s.meat.fat_cap_side = number % 8 == 1 ? SW_SIDE_BOTTOM : SW_SIDE_TOP;
    /* The most and the least that the keys allow, and more usual values. */
    static const double conductivity[] = {3.0, 0.5, 1.2, 1.2}, permeability[] = {100.0, 0.1, 3.0, 10.0};
    if (number % 4 == 2) {
        s.meat.fibre_conductivity = conductivity[number / 4 % 4];
        s.meat.fibre_permeability = permeability[number / 4 % 4];
    }
    s.solver.rows = 10;
    s.solver.columns = 12;
    s.solver.relative_tolerance = 1e-4;
    s.pull = (sw_ending){SW_ENDING_DURATION, 4.0 * 3600.0};
    return s;
}

/* What the cells gain is what crosses the boundary. */
static void check_balance(const sw_scenario *scenario, unsigned long long *seed)
{
    sw_scenario s = *scenario;
    sw_body body;
    assert_int_equal(sw_body_init(NULL, &s, &body), SW_OK);
    const sw_mesh *mesh = body.mesh;
    double *state = test_calloc(2 * mesh->cell_count, sizeof *state), *rate = test_calloc(2 * mesh->cell_count, sizeof *rate);
    sw_surroundings around = pit_air(&s, &body);
    surround_body(&body, &s, &around, SW_WRAP_NONE);
    random_state(&body, seed, state);
    assert_int_equal(sw_transport_rate(body.transport, 0.0, state, rate), 0);
    double flow[SW_FLOW_COUNT], water = 0.0, heat = 0.0, water_scale = 0.0, heat_scale = 0.0;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        double gain = mesh->volume[i] * body.materials[mesh->region[i]]->dry_density * rate[2 * i + 1];
        double warmth = mesh->volume[i] * body.transport->value.heat_capacity[i] * rate[2 * i] +
                        body.transport->value.water_enthalpy[i] * gain;
        water += gain;
        heat += warmth;
        water_scale += fabs(gain);
        heat_scale += fabs(warmth);
    }
    assert_int_equal(sw_transport_flows(body.transport, 0.0, state, flow), 0);
    assert_close_abs(water, -flow[SW_FLOW_EVAPORATION] - flow[SW_FLOW_DRIP], 1e-12 * water_scale);
    assert_close_abs(heat, flow[SW_FLOW_CONVECTION] + flow[SW_FLOW_RADIATION] + flow[SW_FLOW_GIVEN_HEAT] -
                               flow[SW_FLOW_EVAPORATION_HEAT] - flow[SW_FLOW_VAPOUR_WARMING] - flow[SW_FLOW_DRIP_HEAT],
                     1e-12 * heat_scale);
    test_free(state);
    test_free(rate);
    sw_body_free(&body);
}

static void test_random_sections(void **state)
{
    (void)state;
    unsigned long long seed = 7;
    double least = 1.0, most = 0.0;
    for (unsigned number = 0; number < OUTLINES; number++) {
        sw_scenario s = cook_of(number);
        check_balance(&s, &seed);
        sw_history *h;
        run_cook(&s, &h);
        double lost = (h->budget.evaporated_mass + h->budget.dripped_mass) / h->budget.initial_mass;
        assert_within(lost, 0.0, 0.72); /* no more than its water */
        for (size_t i = 0; i < h->cell_count; i++) {
            double at_end = h->field_temperature[(h->field_count - 1) * h->cell_count + i];
            assert_within(at_end, s.meat.initial_temperature - 0.1, 273.15 + 121.0);
        }
        least = fmin(least, lost);
        most = fmax(most, lost);
        sw_history_destroy(h);
    }
    print_message("  %d outlines lost %.2f to %.2f of their mass in 4 h\n", OUTLINES, least, most);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_sections),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
