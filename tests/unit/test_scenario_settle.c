/* SPDX-License-Identifier: BSD-3-Clause */
/* What follows from other values: the thickness of a slab, a usual pull; and sentences in the units of the reader. */
#include "close.h"

#include <stallwright/moist_air.h>
#include <stallwright/scenario.h>

#include <math.h>
#include <string.h>

static sw_scenario settled(const sw_scenario *asked)
{
    sw_scenario s = *asked;
    sw_scenario_settle(&s);
    return s;
}

/* Cuts of one shape: eight times the mass is twice as thick. 6.5 kg as bought are 6.35 cm, fitted to measured cooks: the mass
 * that is given is what trimming leaves of it. */
static void test_thickness_follows_from_mass(void **state)
{
    (void)state;
    sw_scenario s;
    sw_scenario_init(&s);
    s.meat.mass = 6.5 * (1.0 - 0.18);
    assert_close_rel(settled(&s).meat.thickness, 0.0635, 4e-16);
    s.serving.trimming = 0.0;
    s.meat.mass = 6.5;
    assert_close_rel(settled(&s).meat.thickness, 0.0635, 4e-16);
    s.meat.mass = 8.0 * 6.5 / 2.0;
    const double thick = settled(&s).meat.thickness;
    s.meat.mass = 6.5 / 2.0;
    assert_close_rel(thick, 2.0 * settled(&s).meat.thickness, 4e-16);
    s.meat.mass = 0.0;
    s.meat.bought_mass = 6.5;
    s.serving.trimming = 0.3;
    assert_close_rel(settled(&s).meat.thickness, 0.0635, 4e-16);
    assert_close_rel(settled(&s).meat.mass, 0.7 * 6.5, 4e-16);
    s.meat.thickness = 0.05;
    assert_close_abs(settled(&s).meat.thickness, 0.05, 0.0);
}

/* A usual pull is 95 C as long as water boils 2 K above it, and 2 K under the boiling point above that. */
static void test_usual_pull_follows_boiling_point(void **state)
{
    (void)state;
    sw_scenario s;
    double pressure, boiling;
    sw_scenario_init(&s);
    assert_int_equal(s.pull.kind, SW_ENDING_USUAL);
    s.pit.altitude = 500.0;
    assert_int_equal(settled(&s).pull.kind, SW_ENDING_PROBE_TEMPERATURE);
    assert_close_abs(settled(&s).pull.value, 95.0 + 273.15, 0.0);
    s.pit.altitude = 1600.0;
    assert_int_equal(sw_pressure_at_altitude(1600.0, &pressure), SW_OK);
    assert_int_equal(sw_saturation_temperature(pressure, &boiling), SW_OK);
    assert_close_abs(settled(&s).pull.value, boiling - 2.0, 1e-9);
    assert_int_equal(sw_scenario_check(NULL, &s), SW_OK);
    s.pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 90.0 + 273.15};
    assert_close_abs(settled(&s).pull.value, 90.0 + 273.15, 0.0);
    s.hold.until = (sw_ending){SW_ENDING_USUAL, 0.0};
    assert_int_equal(sw_scenario_check(NULL, &s), SW_ERR_ARGUMENT);
}

/* A pull that was asked for and cannot be is refused with one that can. Boiling points: steam tables at the pressure of the
 * standard atmosphere, 94.6 C and 202.4 F at 1600 m (5249 ft). */
static void test_sentences_in_both_units(void **state)
{
    (void)state;
    static const struct {
        sw_unit_system units;
        const char *pull, *fat, *wrap;
    } cases[] = {{SW_UNITS_SI, "pull is 95.0 C; allowed below 94.1 C: wet meat does not get hotter than boiling water, which at "
                               "pit.altitude 1600 m is 94.6 C; 92.6 C works (pull: usual takes it)",
                  "meat.fat_cap.thickness is 4 cm; allowed 0 to less than half of meat.thickness, 3.75 cm",
                  "wrap.when is 96.0 C; allowed below pull, 95.0 C"},
                 {SW_UNITS_US, "pull is 203.0 F; allowed below 201.5 F: wet meat does not get hotter than boiling water, which at "
                               "pit.altitude 5249 ft is 202.4 F; 198.8 F works (pull: usual takes it)",
                  "meat.fat_cap.thickness is 1.575 in; allowed 0 to less than half of meat.thickness, 1.476 in",
                  "wrap.when is 204.8 F; allowed below pull, 203.0 F"}};
    sw_context *context;
    assert_int_equal(sw_context_create(&context), SW_OK);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        sw_scenario s;
        sw_context_set_units(context, cases[i].units);
        sw_scenario_init(&s);
        s.pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 95.0 + 273.15};
        s.pit.altitude = 1600.0;
        assert_int_equal(sw_scenario_check(context, &s), SW_ERR_RANGE);
        assert_string_equal(sw_context_message(context), cases[i].pull);
        sw_scenario_init(&s);
        s.meat.thickness = 0.075;
        s.meat.fat_cap_thickness = 0.04;
        assert_int_equal(sw_scenario_check(context, &s), SW_ERR_RANGE);
        assert_string_equal(sw_context_message(context), cases[i].fat);
        sw_scenario_init(&s);
        s.wrap.kind = SW_WRAP_PAPER;
        s.wrap.when.value = 96.0 + 273.15;
        assert_int_equal(sw_scenario_check(context, &s), SW_ERR_RANGE);
        assert_string_equal(sw_context_message(context), cases[i].wrap);
    }
    sw_context_destroy(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_thickness_follows_from_mass),
        cmocka_unit_test(test_usual_pull_follows_boiling_point),
        cmocka_unit_test(test_sentences_in_both_units),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
