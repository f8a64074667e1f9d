/* SPDX-License-Identifier: BSD-3-Clause */
/* Reactions, bark and what is kept, followed as a cook runs: against the same laws applied afterwards to what the history
 * holds, against balances, and for their direction. No number of the default cook is told. */
#include "close.h"
#include "run_cook.h"

#include <math.h>

static const double hour = 3600.0;

static sw_scenario wrapped_scenario(sw_wrap_kind kind)
{
    sw_scenario s = reference_scenario();
    s.wrap.kind = kind;
    return s;
}

/* The probe's readings, a row a minute, give the same shares as the steps of the integrator. */
static void test_probe_follows_its_readings(void **state)
{
    (void)state;
    sw_scenario s = wrapped_scenario(SW_WRAP_CLOSED_FOIL);
    sw_history *h;
    s.solver.output_interval = 60.0;
    run_cook(&s, &h);
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++) {
        sw_reaction_progress p;
        assert_int_equal(sw_reaction_follow(sw_reaction_law_of((sw_reaction)r), h->row_count, h->series[SW_SERIES_time],
                                            h->series[SW_SERIES_probe_temperature], &p),
                         SW_OK);
        assert_close_abs(h->probe_extent[0][r], p.extent, 1e-3);
        assert_close_abs(h->probe_outside[0][r], p.outside, 1e-2);
    }
    sw_history_destroy(h);
}

/* Fat rendered by mass is the share rendered in the cells, times the fat that was there. */
static void test_rendered_fat(void **state)
{
    (void)state;
    sw_scenario s = wrapped_scenario(SW_WRAP_NONE);
    sw_outcome o = run_cook(&s, NULL);
    assert_close_rel(o.at_end.rendered_mass, o.reactions[SW_REACTION_RENDERING].mean * s.meat.composition.fat * s.meat.mass,
                     1e-3);
    assert_close_abs(o.at_end.cap_rendered_mass, 0.0, 0.0);
    s.meat.fat_cap_thickness = 0.006;
    sw_outcome capped = run_cook(&s, NULL);
    assert_true(capped.at_end.cap_rendered_mass > 0.0 && capped.at_end.cap_rendered_mass < capped.at_end.rendered_mass);
    assert_true(capped.at_end.rendered_mass > o.at_end.rendered_mass);
}

/* Rendering applied a second time to the cross-sections, one a minute: how much fat renders, the heat it carries off (sensible by Choi
 * and Okos, melting 80 kJ/kg), and how much of it outside 60 to 95 C. Twice as fast by the scenario. */
static void test_rendering_by_the_cross_sections(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    s.meat.fat_rendering = 2.0;
    s.solver.output_interval = s.solver.field_interval = 60.0;
    sw_history *h;
    const sw_outcome o = run_cook(&s, &h);
    double volume = 0.0, mass = 0.0, heat = 0.0, outside = 0.0;
    for (size_t i = 0; i < h->cell_count; i++)
        volume += h->cell_volume[i];
    for (size_t i = 0; i < h->cell_count; i++) {
        const double fat = s.meat.composition.fat * s.meat.mass * h->cell_volume[i] / volume;
        double left = 1.0, before = 0.0;
        for (size_t f = 0; f < h->field_count; f++) {
            const double celsius = h->field_temperature[f * h->cell_count + i] - 273.15;
            const double rate = 2.0 * 7e-6 * exp(-110e3 / 8.314462618 * (1.0 / (celsius + 273.15) - 1.0 / 353.15));
            if (f > 0) {
                const double lost = fat * left * -expm1(-0.5 * (before + rate) * (h->field_time[f] - h->field_time[f - 1]));
                const double warmth = 1984.2 * (celsius - 5.0) + 1.4733 / 2.0 * (celsius * celsius - 25.0) -
                                      4.8008e-3 / 3.0 * (pow(celsius, 3.0) - 125.0);
                mass += lost;
                heat += lost * (warmth + (celsius > 50.0 ? 80e3 : 0.0));
                const double middle = 0.5 * (celsius + h->field_temperature[(f - 1) * h->cell_count + i] - 273.15);
                outside += middle < 60.0 || middle > 95.0 ? lost : 0.0;
                left -= lost / fat;
            }
            before = rate;
        }
        assert_close_abs(h->cell_extent[SW_REACTION_RENDERING][i], 1.0 - left, 1e-4);
    }
    print_message("  %.4f kg with %.2f kJ; the cross-sections: %.4f kg with %.2f kJ\n", h->budget.rendered_mass,
                  1e-3 * h->budget.rendered_fat_heat, mass, 1e-3 * heat);
    assert_close_rel(h->budget.rendered_mass, mass, 1e-4);
    /* Taken at the temperature a step ends with: minutes at some kelvin an hour, of 240 kJ/kg. */
    assert_close_rel(h->budget.rendered_fat_heat, heat, 3e-3);
    assert_close_abs(o.reactions[SW_REACTION_RENDERING].outside, outside / mass, 2e-3);
    sw_history_destroy(h);
}

static void test_hotter_pull_and_longer_hold(void **state)
{
    (void)state;
    double before = 0.0;
    for (double pull = 80.0; pull < 96.0; pull += 5.0) {
        sw_scenario s = wrapped_scenario(SW_WRAP_CLOSED_FOIL);
        s.pull.value = pull + 273.15;
        double short_hold = run_cook(&s, NULL).probe_collagen;
        s.hold.until.value = 14.0 * hour;
        sw_outcome o = run_cook(&s, NULL);
        assert_true(short_hold > before && o.probe_collagen > short_hold);
        assert_true(o.probe_collagen_low < o.probe_collagen && o.probe_collagen < o.probe_collagen_high);
        assert_true(o.probe_collagen_at_pull < o.probe_collagen);
        const sw_reaction_outcome *r = &o.reactions[SW_REACTION_COLLAGEN];
        assert_true(r->least <= r->probe && r->probe <= r->most && r->least < r->mean && r->mean < r->most);
        before = short_hold;
    }
}

/* 68 C in the middle for a day is enough for collagen and not for a good deal of actin's share at 95 C; it is less than what
 * a cook to 95 C and a night's hold do. */
static void test_cool_and_slow(void **state)
{
    (void)state;
    sw_scenario s = wrapped_scenario(SW_WRAP_CLOSED_FOIL);
    s.wrap.when.value = 60.0 + 273.15;
    s.pull.value = 68.0 + 273.15;
    s.rest.until.kind = SW_ENDING_NONE;
    s.hold.temperature = 68.0 + 273.15;
    s.hold.humidity_ratio = 0.2;
    s.hold.until = (sw_ending){SW_ENDING_DURATION, 40.0 * hour};
    sw_outcome slow = run_cook(&s, NULL);
    assert_true(slow.probe_collagen > SW_TENDER_COLLAGEN && slow.probe_collagen_at_pull < SW_TENDER_COLLAGEN);
    assert_true(slow.tender_time > slow.done_time);
}

static void test_bark_of_wraps(void **state)
{
    (void)state;
    sw_outcome o[SW_WRAP_COUNT];
    for (int kind = 0; kind < SW_WRAP_COUNT; kind++) {
        sw_scenario s = wrapped_scenario((sw_wrap_kind)kind);
        o[kind] = run_cook(&s, NULL);
        double wrapped = kind == SW_WRAP_NONE ? o[kind].done_time : o[kind].wrap_time;
        const sw_side_outcome *top = &o[kind].sides[SW_SIDE_TOP], *bottom = &o[kind].sides[SW_SIDE_BOTTOM];
        assert_close_abs(bottom->open_time, wrapped, 1e-6 * wrapped);
        assert_close_abs(top->open_time, kind == SW_WRAP_OPEN_TRAY ? o[kind].done_time : wrapped, 1e-6 * wrapped);
        assert_true(SW_IS_ABSENT(o[kind].sides[SW_SIDE_END].area)); /* a slab has none */
        assert_within(o[kind].bark, 0.0, 1.0);
    }
    assert_true(o[SW_WRAP_NONE].bark > o[SW_WRAP_OPEN_TRAY].bark);
    assert_true(o[SW_WRAP_OPEN_TRAY].bark > o[SW_WRAP_CLOSED_FOIL].bark);
    assert_true(SW_IS_ABSENT(o[SW_WRAP_NONE].softening) && o[SW_WRAP_CLOSED_FOIL].softening > 0.5);
    assert_true(o[SW_WRAP_CLOSED_FOIL].sides[SW_SIDE_TOP].water_content_at_end >
                o[SW_WRAP_CLOSED_FOIL].sides[SW_SIDE_TOP].water_content_at_wrap);
    assert_true(o[SW_WRAP_CLOSED_FOIL].kept_juice_mass > 0.0);
    assert_true(o[SW_WRAP_CLOSED_FOIL].kept_juice_mass <= o[SW_WRAP_CLOSED_FOIL].at_end.dripped_mass);
    assert_true(o[SW_WRAP_CLOSED_FOIL].kept_fat_mass <= o[SW_WRAP_CLOSED_FOIL].at_end.rendered_mass);
}

/* A packer has ends, a fat cap and two probes; the tougher one counts. */
static void test_section(void **state)
{
    (void)state;
    sw_scenario s = wrapped_scenario(SW_WRAP_OPEN_TRAY);
    s.meat.shape = SW_SHAPE_PACKER;
    s.meat.thickness = 0.0;
    s.meat.fat_cap_thickness = 0.006;
    s.wrap.tray_rim = 0.03; /* half-way up the steep parts of the outline */
    s.solver.rows = 10;
    s.solver.columns = 12;
    sw_history *h;
    sw_outcome o = run_cook(&s, &h);
    assert_int_equal(h->probe_count, 2);
    assert_close_abs(o.probe_collagen,
                     fmin(h->probe_extent[0][SW_REACTION_COLLAGEN], h->probe_extent[1][SW_REACTION_COLLAGEN]), 1e-12);
    const sw_side_outcome *end = &o.sides[SW_SIDE_END];
    assert_true(end->open_time > o.wrap_time && end->open_time <= o.done_time); /* partly below the tray's rim */
    assert_true(o.kept_cap_fat_mass > 0.0 && o.kept_cap_fat_mass < o.kept_fat_mass);
    bool has_fat = false;
    for (size_t i = 0; i < h->cell_count; i++) {
        has_fat = has_fat || SW_IS_ABSENT(h->cell_extent[SW_REACTION_COLLAGEN][i]);
        assert_false(SW_IS_ABSENT(h->cell_extent[SW_REACTION_RENDERING][i]));
    }
    assert_true(has_fat);
    sw_history_destroy(h);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_probe_follows_its_readings), cmocka_unit_test(test_rendered_fat),
        cmocka_unit_test(test_rendering_by_the_cross_sections),
        cmocka_unit_test(test_hotter_pull_and_longer_hold), cmocka_unit_test(test_cool_and_slow),
        cmocka_unit_test(test_bark_of_wraps),               cmocka_unit_test(test_section),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
