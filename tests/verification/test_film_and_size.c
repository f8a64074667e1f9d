/* SPDX-License-Identifier: BSD-3-Clause */
/* The film of juice and the meat's shrinkage at their limits: without them surface and mesh are those of meat that has neither,
 * to the bit; a film over all is a wet surface; shrunken meat is meat meshed smaller; and nothing is lost on the way. */
#include "close.h"
#include "cuts.h"
#include "run_cook.h"
#include "surround.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A cut in its surroundings, and room for two rates. */
typedef struct subject {
    sw_scenario scenario;
    sw_body body;
    sw_around around;
    double *state, *lumped, *rate, *other;
    size_t cells;
} subject;

static void subject_init(subject *s, const sw_scenario *scenario, sw_wrap_kind wrap)
{
    s->scenario = *scenario;
    assert_int_equal(sw_body_init(NULL, &s->scenario, &s->body), SW_OK);
    assert_int_equal(sw_surround_init(NULL, &s->scenario, &s->body, &s->around), SW_OK);
    s->cells = s->body.mesh->cell_count;
    const size_t unknowns = sw_transport_unknowns(s->body.transport);
    s->state = calloc(3 * unknowns, sizeof *s->state);
    assert_non_null(s->state);
    s->lumped = s->state + 2 * s->cells;
    s->rate = s->state + unknowns;
    s->other = s->rate + unknowns;
    sw_around_start(&s->around, s->lumped);
    sw_around_enter(&s->around, NULL, wrap, 0.0, 0.0, s->scenario.meat.initial_temperature, s->lumped);
}

static void subject_free(subject *s)
{
    free(s->state);
    sw_body_free(&s->body);
}

static void wet_and_shrink(subject *s)
{
    s->lumped[SW_AROUND_FILM] = 0.012;
    s->lumped[SW_AROUND_FILM_ADDED] = 0.003;
    s->around.added_warming = 2e5;
    s->lumped[SW_AROUND_POOL_TEMPERATURE] = 273.15 + 72.0;
    s->lumped[SW_AROUND_POOL_WATER] = 0.2;
    s->lumped[SW_AROUND_LOST_WATER] = 0.3;
}

/* No film, no shrinkage: the rates of cells whose surfaces and mesh know of neither. */
static void test_neither_film_nor_shrinkage(void **unused)
{
    (void)unused;
    unsigned long long seed = 5;
    for (int cut = 0; cut < CUT_COUNT; cut++)
        for (int none = 0; none < 2; none++) {
            sw_scenario scenario;
            cut_scenario(cut, &scenario);
            scenario.meat.shrinkage_area = scenario.meat.shrinkage_thickness = 0.0;
            if (none)
                scenario.meat.juice.wet_share = 0.0;
            subject s;
            subject_init(&s, &scenario, SW_WRAP_NONE);
            random_state(&s.body, &seed, s.state);
            wet_and_shrink(&s);
            sw_body plain;
            sw_scenario same = scenario;
            assert_int_equal(sw_body_init(NULL, &same, &plain), SW_OK);
            const sw_surroundings around = pit_air(&scenario, &plain);
            surround_body(&plain, &scenario, &around, SW_WRAP_NONE);
            assert_int_equal(sw_transport_rate(plain.transport, 0.0, s.state, s.other), 0);
            sw_surround_stretch(&s.body, &s.around, 0.0, s.lumped);
            assert_int_equal(sw_transport_rate(s.body.transport, 0.0, s.state, s.rate), 0);
            const bool alike = memcmp(s.rate, s.other, 2 * s.cells * sizeof *s.rate) == 0;
            assert_int_equal(alike, none);
            sw_body_free(&plain);
            subject_free(&s);
        }
}

/* A film over all of a dry surface is a surface as wet as the film, which gives all that evaporates. */
static void test_film_over_all(void **unused)
{
    (void)unused;
    sw_water_table water;
    assert_int_equal(sw_water_table_init(NULL, &water, 278.15), 0);
    sw_surface s = {.air_temperature = 394.15, .wall_temperature = 394.15, .pressure = 101325.0, .vapour_pressure = 3157.0,
                    .convection = 20.0, .emissivity = 0.0};
    s.vapour_coefficient = sw_open_vapour_coefficient(20.0, 0.0, s.pressure);
    /* Behind it nothing: the balance of air and water alone. 121 C, W 0.02, h 20, no radiation: 40.78 C and 2.330 kg/m2h with
     * Le 0.85 (computed by an independent program). By this film's activity of 0.98 and Le of 0.86 the surface is warmer: at
     * wet-bulb the slope of p_s is 5.2 % a kelvin, and the heat taken falls by 20 h a kelvin beside 1580 W/m2. */
    const sw_behind dry = {300.0, 1e-9, 0.1}, wet = {300.0, 1e-9, 0.98};
    sw_surface_balance of_film, of_tissue;
    assert_int_equal(sw_surface_solve(&s, &water, &wet, 310.0, &of_tissue), 0);
    s.film_share = 1.0;
    assert_int_equal(sw_surface_solve(&s, &water, &dry, 310.0, &of_film), 0);
    print_message("  film over all: %.3f C, %.4f kg/m2h\n", of_film.temperature - 273.15, 3600.0 * of_film.evaporation);
    assert_close_abs(of_film.temperature, of_tissue.temperature, 1e-9);
    assert_close_rel(of_film.evaporation, of_tissue.evaporation, 1e-9);
    assert_close_abs(of_film.film_part, 1.0, 1e-15);
    assert_close_abs(of_tissue.film_part, 0.0, 0.0);
    assert_close_abs(of_film.temperature, 273.15 + 40.78, 0.6);
    assert_close_rel(3600.0 * of_film.evaporation, 2.330, 0.01);
    sw_water_table_free(&water);
}

/* Meat that has shrunk is meat meshed with smaller areas and distances, its dry matter and heat the same. */
static void test_shrunken_meat_is_smaller(void **unused)
{
    (void)unused;
    unsigned long long seed = 6;
    for (int cut = 0; cut < CUT_COUNT; cut++)
        for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++) {
            sw_scenario scenario;
            cut_scenario(cut, &scenario);
            subject s, small;
            subject_init(&s, &scenario, (sw_wrap_kind)wrap);
            scenario.meat.shrinkage_area = scenario.meat.shrinkage_thickness = 0.0;
            subject_init(&small, &scenario, (sw_wrap_kind)wrap);
            random_state(&s.body, &seed, s.state);
            wet_and_shrink(&s);
            sw_mesh *mesh = small.body.mesh;
            for (size_t i = 0; i < mesh->face_count; i++) {
                mesh->faces[i].area *= 1.0 - 0.45 * 0.3;
                mesh->faces[i].distance_a *= 1.0 - 0.1 * 0.3;
                mesh->faces[i].distance_b *= 1.0 - 0.1 * 0.3;
            }
            for (size_t i = 0; i < mesh->boundary_face_count; i++) {
                mesh->boundary_faces[i].area *= 1.0 - 0.45 * 0.3;
                mesh->boundary_faces[i].distance *= 1.0 - 0.1 * 0.3;
            }
            /* The areas are taken again. */
            sw_face_columns_free(&small.body.transport->faces);
            assert_int_equal(sw_face_columns_init(&small.body.transport->faces, mesh), 0);
            sw_around_enter(&small.around, NULL, (sw_wrap_kind)wrap, 0.0, 0.0, s.scenario.meat.initial_temperature, small.lumped);
            sw_surround_stretch(&s.body, &s.around, 0.0, s.lumped);
            sw_surround_stretch(&small.body, &small.around, 0.0, s.lumped);
            assert_int_equal(sw_transport_rate(s.body.transport, 0.0, s.state, s.rate), 0);
            assert_int_equal(sw_transport_rate(small.body.transport, 0.0, s.state, s.other), 0);
            double most[2] = {0.0, 0.0};
            for (size_t i = 0; i < 2 * s.cells; i++)
                most[i % 2] = fmax(most[i % 2], fabs(s.other[i]));
            for (size_t i = 0; i < 2 * s.cells; i++)
                assert_close_abs(s.rate[i], s.other[i], 1e-11 * most[i % 2]);
            for (size_t i = 2 * s.cells; i < 2 * s.cells + SW_AROUND_LOST_WATER; i++)
                assert_close_abs(s.rate[i], s.other[i], 1e-9 * fabs(s.other[i]));
            subject_free(&s);
            subject_free(&small);
        }
}

/* Gains of the cells against the flows over the boundary, and liquid outside the meat: to round-off, whatever wets and shrinks. */
static void check_balances(subject *s)
{
    const sw_transport *t = s->body.transport;
    const sw_mesh *mesh = s->body.mesh;
    double flow[SW_FLOW_COUNT], water = 0.0, heat = 0.0, water_scale = 0.0, heat_scale = 0.0;
    assert_int_equal(sw_transport_rate(s->body.transport, 0.0, s->state, s->rate), 0);
    for (size_t i = 0; i < s->cells; i++) {
        const double dry = mesh->volume[i] * s->body.materials[mesh->region[i]]->dry_density;
        const double water_gain = dry * s->rate[2 * i + 1];
        const double heat_gain =
            mesh->volume[i] * t->value.heat_capacity[i] * s->rate[2 * i] + t->value.water_enthalpy[i] * water_gain;
        water += water_gain;
        heat += heat_gain;
        water_scale += fabs(water_gain);
        heat_scale += fabs(heat_gain);
    }
    const double *lumped_rate = s->rate + 2 * s->cells;
    assert_int_equal(sw_transport_flows(s->body.transport, 0.0, s->state, flow), 0);
    const double *lumped_flow = flow + SW_FLOW_LUMPED;
    assert_close_abs(water, -flow[SW_FLOW_EVAPORATION] - flow[SW_FLOW_DRIP], 1e-12 * water_scale);
    assert_close_abs(heat, flow[SW_FLOW_CONVECTION] + flow[SW_FLOW_RADIATION] - flow[SW_FLOW_EVAPORATION_HEAT] -
                               flow[SW_FLOW_VAPOUR_WARMING] - flow[SW_FLOW_DRIP_HEAT], 1e-12 * heat_scale);
    const double liquid = flow[SW_FLOW_DRIP] + lumped_flow[SW_AROUND_INSIDE] - flow[SW_FLOW_FILM] -
                          lumped_flow[SW_AROUND_POOL_VAPOUR] - lumped_flow[SW_AROUND_AWAY];
    const double liquid_scale = flow[SW_FLOW_DRIP] + fabs(flow[SW_FLOW_FILM]) + fabs(lumped_flow[SW_AROUND_INSIDE]) +
                                fabs(lumped_flow[SW_AROUND_POOL_VAPOUR]);
    assert_close_abs(lumped_rate[SW_AROUND_FILM] + lumped_rate[SW_AROUND_POOL_WATER], liquid, 1e-12 * liquid_scale);
    /* The water lost is that of the meat at the start, which the cells know too. */
    double raw = 0.0;
    for (size_t i = 0; i < s->cells; i++) {
        const sw_material *material = s->body.materials[mesh->region[i]];
        raw += mesh->volume[i] * material->dry_density * material->initial_water;
    }
    assert_close_abs(raw * lumped_rate[SW_AROUND_LOST_WATER], -water, 1e-12 * water_scale);
}

static void test_balances(void **unused)
{
    (void)unused;
    unsigned long long seed = 7;
    for (int cut = 0; cut < CUT_COUNT; cut++)
        for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++) {
            sw_scenario scenario;
            cut_scenario(cut, &scenario);
            scenario.spritz.amount = 0.03;
            scenario.meat.fibre_permeability = 3.0;
            subject s;
            subject_init(&s, &scenario, (sw_wrap_kind)wrap);
            for (int i = 0; i < 5; i++) {
                random_state(&s.body, &seed, s.state);
                wet_and_shrink(&s);
                sw_surround_stretch(&s.body, &s.around, 0.0, s.lumped);
                check_balances(&s);
            }
            subject_free(&s);
        }
}

/* The done time on the usual cells, of the fastest and of the wettest kind of cook, against cells four times finer. */
static void test_cells_are_fine_enough(void **unused)
{
    (void)unused;
    for (int wrap = SW_WRAP_NONE; wrap <= SW_WRAP_PAPER; wrap++) {
        sw_scenario s = pit_only_scenario();
        s.wrap.kind = (sw_wrap_kind)wrap;
        const double usual = run_cook(&s, NULL).done_time;
        s.solver.cells *= 4;
        s.solver.surface_cell /= 4.0;
        const double fine = run_cook(&s, NULL).done_time;
        print_message("  %-6s done after %.3f h, on the finer cells %.3f h\n", sw_wrap_name((sw_wrap_kind)wrap), usual / 3600.0,
                      fine / 3600.0);
        assert_close_rel(usual, fine, 5e-3);
    }
}

/* What the laws are for, in kind (common practice, no source, but for the second): paper does not slow a cook down, foil is done
 * before it; meat stalls hotter in a damp pit, its surface being held up by its wet-bulb (Bengtsson and others 1976, abstract) and is
 * done earlier there; most of what is lost evaporates, and a pan under an open brisket collects juice all the same. */
static void test_what_the_trade_knows(void **unused)
{
    (void)unused;
    sw_scenario s = pit_only_scenario();
    s.solver.cells = 30;
    s.solver.surface_cell = 0.0006;
    s.pit.steps[0].temperature = 273.15 + 107.0;
    s.pit.convection = 9.1;
    s.pit.humidity_ratio = 0.037;
    const sw_outcome none = run_cook(&s, NULL);
    s.wrap.kind = SW_WRAP_PAPER;
    const sw_outcome paper = run_cook(&s, NULL);
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;
    const sw_outcome foil = run_cook(&s, NULL);
    s.wrap.kind = SW_WRAP_NONE;
    s.pit.humidity_ratio = 0.12;
    const sw_outcome damp = run_cook(&s, NULL);
    const double dripped = none.at_pull.dripped_mass / (none.at_pull.dripped_mass + none.at_pull.evaporated_mass);
    print_message("  none %.1f h, paper %.1f h, foil %.1f h, damp %.1f h; stalls at %.1f C, damp at %.1f C; %.0f %% drips\n",
                  none.done_time / 3600.0, paper.done_time / 3600.0, foil.done_time / 3600.0, damp.done_time / 3600.0,
                  none.stall_probe - 273.15, damp.stall_probe - 273.15, 100.0 * dripped);
    assert_true(paper.done_time < none.done_time - 600.0);
    assert_true(foil.done_time < paper.done_time - 3600.0);
    assert_true(damp.done_time < none.done_time - 3600.0);
    assert_true(damp.stall_probe > none.stall_probe + 2.0);
    assert_within(none.stall_probe, 273.15 + 60.0, 273.15 + 70.0);
    assert_within(dripped, 0.1, 0.4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_neither_film_nor_shrinkage),
        cmocka_unit_test(test_film_over_all),
        cmocka_unit_test(test_shrunken_meat_is_smaller),
        cmocka_unit_test(test_balances),
        cmocka_unit_test(test_cells_are_fine_enough),
        cmocka_unit_test(test_what_the_trade_knows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
