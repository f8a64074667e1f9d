/* SPDX-License-Identifier: BSD-3-Clause */
/* Scenario files: values against hand conversions, each kind of error with its place, writing and reading back. */
#include "close.h"

#include "scenario_key_text.h"

#include <stallwright/scenario_file.h>

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static sw_context *context;
static sw_scenario_reader *reader;

static int set_up(void **state)
{
    (void)state;
    if (sw_context_create(&context) != SW_OK)
        return -1;
    return sw_scenario_reader_create(context, &reader) == SW_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    sw_scenario_reader_destroy(reader);
    sw_context_destroy(context);
    return 0;
}

static sw_status read_text(const char *text, sw_scenario *scenario)
{
    return sw_scenario_read_text(context, reader, "f.yaml", text, strlen(text), scenario);
}

/* Reads text onto the defaults. */
static sw_scenario read_good(const char *text)
{
    sw_scenario scenario;
    sw_scenario_init(&scenario);
    if (read_text(text, &scenario) != SW_OK)
        fail_msg("refused: %s", sw_context_message(context));
    return scenario;
}

static sw_scenario set_good(const char *assignment)
{
    sw_scenario scenario;
    sw_scenario_init(&scenario);
    if (sw_scenario_set(context, reader, assignment, &scenario) != SW_OK)
        fail_msg("refused: %s", sw_context_message(context));
    return scenario;
}

/* Whether a field has the same bits in both; compares no padding. */
static void assert_same_scenario(const sw_scenario *got, const sw_scenario *want)
{
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        if (!sw_scenario_key_same(sw_scenario_key_at(i), got, want))
            fail_msg("%s is not the same", sw_scenario_key_at(i)->name);
}

/* ---- good values ---- */

/* Factors as in test_units.c. */
static void test_values_in_both_systems(void **state)
{
    (void)state;
    sw_scenario si = read_good("title: Fete\n"
                               "start: 6:05\n"
                               "meat:\n"
                               "  name: 'a \"flat\"'\n"
                               "  shape: cylinder\n"
                               "  mass: 6.4kg\n"
                               "  thickness: 8.5 cm\n"
                               "  initial_temperature: 4C\n"
                               "  composition: {water: 70 %, protein: 0.21, fat: 8%, carbohydrate: 0, ash: .01}\n"
                               "  fat_cap: {thickness: 6 mm, side: bottom}\n"
                               "  permeability: 1e-16 m2\n"
                               "pit:\n"
                               "  temperature: 121C\n"
                               "  humidity_ratio: 20 g/kg\n"
                               "  convection: 8 W/m2/K\n"
                               "  wall_offset: 10 K\n"
                               "  altitude: 300 m\n"
                               "wrap:\n"
                               "  kind: closed-foil\n"
                               "  when: 74 C\n"
                               "pull: 12 h\n"
                               "rest: {keep_wrap: no, until: none}\n"
                               "hold: {keep_wrap: true, until: 17:30}\n"
                               "stall: {above: 55 C, rate: 3 K/h, duration: 45m}\n"
                               "solver: {cells: 80, evaporation: no}\n");
    assert_string_equal(si.title, "Fete");
    assert_string_equal(si.meat.name, "a \"flat\"");
    assert_close_abs(si.start_clock, 6 * 3600.0 + 5 * 60.0, 0.0);
    assert_int_equal(si.meat.shape, SW_SHAPE_CYLINDER);
    assert_close_abs(si.meat.mass, 6.4, 0.0);
    assert_close_abs(si.meat.thickness, 0.085, 0.0);
    assert_close_abs(si.meat.initial_temperature, 277.15, 0.0);
    assert_close_abs(si.meat.composition.water, 0.7, 0.0);
    assert_close_abs(si.meat.composition.fat, 0.08, 0.0);
    assert_close_abs(si.meat.composition.ash, 0.01, 0.0);
    assert_close_abs(si.meat.fat_cap_thickness, 0.006, 0.0);
    assert_int_equal(si.meat.fat_cap_side, SW_SIDE_BOTTOM);
    assert_close_abs(si.pit.steps[0].temperature, 394.15, 0.0);
    assert_close_abs(si.pit.humidity_ratio, 0.02, 0.0);
    assert_close_abs(si.pit.wall_offset, 10.0, 0.0);
    assert_close_abs(si.pit.altitude, 300.0, 0.0);
    assert_int_equal(si.wrap.kind, SW_WRAP_CLOSED_FOIL);
    assert_int_equal(si.wrap.when.kind, SW_ENDING_PROBE_TEMPERATURE);
    assert_close_abs(si.wrap.when.value, 347.15, 0.0);
    assert_int_equal(si.pull.kind, SW_ENDING_DURATION);
    assert_close_abs(si.pull.value, 43200.0, 0.0);
    assert_false(si.rest.keep_wrap);
    assert_int_equal(si.rest.until.kind, SW_ENDING_NONE);
    assert_true(si.hold.keep_wrap);
    assert_int_equal(si.hold.until.kind, SW_ENDING_CLOCK);
    assert_close_abs(si.hold.until.value, 63000.0, 0.0);
    assert_close_abs(si.stall.rate, 3.0 / 3600.0, 0.0);
    assert_close_abs(si.stall.duration, 2700.0, 0.0);
    assert_int_equal(si.solver.cells, 80);
    assert_false(si.solver.evaporation);

    sw_scenario us =
        read_good("meat: {mass: 14 lb 6 oz, thickness: 3in, initial_temperature: 40 \u00b0F}\n"
                  "pit: {temperature: 250F, convection: 8 W m-2 K-1, wall_offset: 18 F, altitude: 1000 ft}\n"
                  "pull: 203 deg F\n"
                  "rest: {until: 1 h 30 min}\n"
                  "hold: {until: 2h30m}\n"
                  "stall: {rate: 5.4 F/h}\n");
    assert_close_rel(us.meat.mass, (14.0 + 6.0 / 16.0) * 0.45359237, 4e-16);
    assert_close_rel(us.meat.thickness, 0.0762, 4e-16);
    assert_close_rel(us.meat.initial_temperature, 8.0 / 1.8 + 273.15, 4e-16);
    assert_close_rel(us.pit.steps[0].temperature, 218.0 / 1.8 + 273.15, 4e-16);
    assert_close_rel(us.pit.wall_offset, 10.0, 4e-16);
    assert_close_rel(us.pit.altitude, 304.8, 4e-16);
    assert_close_rel(us.pull.value, 95.0 + 273.15, 4e-16);
    assert_close_abs(us.rest.until.value, 5400.0, 0.0);
    assert_close_abs(us.hold.until.value, 9000.0, 0.0);
    assert_close_rel(us.stall.rate, 3.0 / 3600.0, 4e-16);
}

static void test_keys_left_out_keep_their_values(void **state)
{
    (void)state;
    sw_scenario defaults, scenario = read_good("meat: {mass: 5 kg}\n");
    sw_scenario_init(&defaults);
    defaults.meat.mass = 5.0;
    assert_same_scenario(&scenario, &defaults);
    scenario = read_good("{}\n");
    sw_scenario_init(&defaults);
    assert_same_scenario(&scenario, &defaults);
}

static void test_pit_steps(void **state)
{
    (void)state;
    sw_scenario s = read_good("pit:\n"
                              "  temperature:\n"
                              "    - {from: 0 h, temperature: 107 C}\n"
                              "    - temperature: 250 F\n"
                              "      from: 6 h 30 min\n");
    assert_int_equal(s.pit.step_count, 2);
    assert_close_abs(s.pit.steps[0].start, 0.0, 0.0);
    assert_close_abs(s.pit.steps[0].temperature, 380.15, 0.0);
    assert_close_abs(s.pit.steps[1].start, 23400.0, 0.0);
    assert_close_rel(s.pit.steps[1].temperature, 218.0 / 1.8 + 273.15, 4e-16);
    assert_int_equal(sw_scenario_set(context, reader, "pit.temperature=275F", &s), SW_OK);
    assert_int_equal(s.pit.step_count, 1);
    assert_close_rel(s.pit.steps[0].temperature, 135.0 + 273.15, 4e-16);
}

/* A byte order mark, line ends of another system, dotted keys and a document mark are all the same scenario. */
static void test_forms_of_a_file(void **state)
{
    (void)state;
    static const char *const forms[] = {
        "\xef\xbb\xbfmeat:\r\n  mass: 5 kg\r\n",
        "---\nmeat: {mass: 5 kg}\n...\n",
        "meat.mass: 5 kg",
        "# comment\n\nmeat:\n  mass: \"5 kg\"  # behind\n",
        "meat: {mass:   5   kg  }",
    };
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
        assert_close_abs(read_good(forms[i]).meat.mass, 5.0, 0.0);
}

static void test_set(void **state)
{
    (void)state;
    assert_close_abs(set_good("meat.mass=5kg").meat.mass, 5.0, 0.0);
    assert_close_abs(set_good(" meat.mass =  5 kg ").meat.mass, 5.0, 0.0);
    assert_string_equal(set_good("title=a = b").title, "a = b");
    assert_int_equal(set_good("wrap.kind=paper").wrap.kind, SW_WRAP_PAPER);
    assert_int_equal(set_good("pull=17:30:15").pull.kind, SW_ENDING_CLOCK);
    assert_close_abs(set_good("pull=17:30:15").pull.value, 63015.0, 0.0);
    assert_int_equal(set_good("hold.until=13:00").hold.until.kind, SW_ENDING_CLOCK);
    static const char *const tomorrow[] = {"hold.until=13:00 +1 day", "hold.until=13:00+1day", "hold.until= 13:00 + 1 days "};
    for (size_t i = 0; i < sizeof tomorrow / sizeof *tomorrow; i++) {
        assert_int_equal(set_good(tomorrow[i]).hold.until.kind, SW_ENDING_CLOCK_ON_DAY);
        assert_close_abs(set_good(tomorrow[i]).hold.until.value, 86400.0 + 46800.0, 0.0);
    }
    assert_close_abs(set_good("cooling.until=00:00 +30 days").cooling.until.value, 30 * 86400.0, 0.0);
    assert_int_equal(set_good("hold.until=1.2e+1 h").hold.until.kind, SW_ENDING_DURATION);
    assert_close_abs(set_good("serving.time=18:30").serving.time, 66600.0, 0.0);
    assert_close_abs(set_good("serving.time=1 pm +2 days").serving.time, 2 * 86400.0 + 46800.0, 0.0);
}

/* Times of day in words are those of the 24-hour clock, wherever one may stand. */
static void test_clock_in_words(void **state)
{
    (void)state;
    static const struct {
        const char *typed;
        double minutes;
    } cases[] = {{"9pm", 1260},       {"9:30 pm", 1290}, {"9:30PM", 1290}, {"noon", 720},  {"Midnight", 0},
                 {"12 am", 0},        {"12:15 am", 15},  {"12pm", 720},    {"1 a.m.", 60}, {"11:59 p.m.", 1439}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char assignment[64];
        snprintf(assignment, sizeof assignment, "start=%s", cases[i].typed);
        assert_close_abs(set_good(assignment).start_clock, 60.0 * cases[i].minutes, 0.0);
        snprintf(assignment, sizeof assignment, "hold.until=%s", cases[i].typed);
        const sw_scenario s = set_good(assignment);
        assert_int_equal(s.hold.until.kind, SW_ENDING_CLOCK);
        assert_close_abs(s.hold.until.value, 60.0 * cases[i].minutes, 0.0);
    }
}

/* A list that is set is that of a file, with its errors. */
static void test_set_lists(void **state)
{
    (void)state;
    sw_scenario s = set_good("pit.lid.openings=[2h, 4 h 30 min]");
    assert_int_equal(s.pit.opening_count, 2);
    assert_close_abs(s.pit.openings[0], 7200.0, 0.0);
    assert_close_abs(s.pit.openings[1], 16200.0, 0.0);
    s = set_good("pit.temperature=[{from: 0h, temperature: 225F}, {from: 9h, temperature: 275F}]");
    assert_int_equal(s.pit.step_count, 2);
    assert_close_abs(s.pit.steps[1].start, 9 * 3600.0, 0.0);
    assert_close_abs(s.pit.steps[1].temperature, 408.15, 1e-9);
    assert_false(s.pit.steps[0].ramp);
    assert_string_equal(set_good("title=[2h]").title, "[2h]");
    assert_int_equal(sw_scenario_set(context, reader, "pit.lid.openings=[3h,2h]", &s), SW_ERR_INPUT);
    assert_string_equal(sw_context_message(context),
                        "--set pit.lid.openings: each opening is later than the one before it");
    assert_int_equal(sw_scenario_set(context, reader, "pit.lid.openings=[3h", &s), SW_ERR_INPUT);
    assert_int_equal(s.pit.step_count, 2);
}

/* The mass is said in one of two ways. In a file, naming both is an error that has both places; --set takes the place of what
 * was said before. */
static void test_two_ways_to_say_the_mass(void **state)
{
    (void)state;
    sw_scenario s = read_good("meat: {bought_mass: 8 kg}\nserving: {trimming: 25 %}\n");
    assert_close_abs(s.meat.mass, 0.0, 0.0);
    assert_int_equal(sw_scenario_check(context, &s), SW_OK);
    sw_scenario_settle(&s);
    assert_close_rel(s.meat.mass, 6.0, 4e-16);
    assert_close_abs(s.meat.bought_mass, 0.0, 0.0);
    assert_int_equal(read_text("meat:\n  mass: 6 kg\n  bought_mass: 8 kg\n", &s), SW_ERR_INPUT);
    assert_string_equal(sw_context_message(context),
                        "f.yaml:3:16: meat.bought_mass: the mass is already given by meat.mass, f.yaml:2:9; write one of the "
                        "two, the trimmed cut or the cut as bought");
    assert_int_equal(read_text("meat:\n  bought_mass: 8 kg\n  mass: 6 kg\n", &s), SW_ERR_INPUT);
    assert_close_abs(read_good("meat:\n  bought_mass: 0 kg\n  mass: 6 kg\n").meat.mass, 6.0, 0.0);
    assert_close_abs(read_good("meat:\n  mass: 0 kg\n  bought_mass: 8 kg\n").meat.bought_mass, 8.0, 0.0);
    s = read_good("meat: {bought_mass: 8 kg}\n");
    assert_int_equal(sw_scenario_set(context, reader, "meat.mass=5kg", &s), SW_OK);
    assert_close_abs(s.meat.bought_mass, 0.0, 0.0);
    s.meat.bought_mass = 8.0;
    assert_int_equal(sw_scenario_check(context, &s), SW_ERR_RANGE);
    assert_non_null(strstr(sw_context_message(context), "meat.mass is 5 kg and meat.bought_mass is 8 kg"));
    s.meat.mass = s.meat.bought_mass = 0.0;
    assert_int_equal(sw_scenario_check(context, &s), SW_ERR_RANGE);
    s.meat.bought_mass = 0.22;
    assert_int_equal(sw_scenario_check(context, &s), SW_ERR_RANGE);
    assert_non_null(strstr(sw_context_message(context), "serving.trimming 0.18 leaves 0.1804 kg; allowed are 0.2 kg to 30 kg"));
}

/* What cooks call a key or a choice is told by the name it has here. */
static void test_other_words(void **state)
{
    (void)state;
    static const struct {
        const char *assignment, *meant;
    } cases[] = {{"wrap.kind=foil", "closed-foil"}, {"wrap.kind=butcher-paper", "paper"}, {"wrap.kind=tray", "open-tray"},
                 {"meat.weight=5kg", "meat.mass"},  {"pit.temp=250F", "pit.temperature"}, {"mass=5kg", "meat.mass"},
                 {"weight=5kg", "meat.mass"},       {"temp=250F", "pit.temperature"},     {"hold.kind=cooler", "box"},
                 {"hold.temp=150F", "hold.temperature"}, {"people=9", "serving.people"}, {"thickness=3in", "meat.thickness"},
                 {"pull.temp=203F", "pull"},        {"wrap.temperature=165F", "wrap.when"}, {"wrap.time=3h", "wrap.when"},
                 {"hold.time=2h", "hold.until"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        sw_scenario s;
        char said[96];
        sw_scenario_init(&s);
        assert_int_equal(sw_scenario_set(context, reader, cases[i].assignment, &s), SW_ERR_INPUT);
        snprintf(said, sizeof said, "did you mean \"%s\"?", cases[i].meant);
        if (!strstr(sw_context_message(context), said))
            fail_msg("%s: %s", cases[i].assignment, sw_context_message(context));
    }
}

/* A limit typed in the other system is the limit, although its conversion may be a rounding error beyond. */
static void test_limits_are_allowed(void **state)
{
    (void)state;
    assert_close_abs(set_good("pit.temperature=374 F").pit.steps[0].temperature, 463.15, 0.0);
    assert_close_abs(set_good("pit.temperature=104 F").pit.steps[0].temperature, 313.15, 0.0);
    assert_close_abs(set_good("meat.initial_temperature=32 F").meat.initial_temperature, 273.15, 0.0);
    assert_close_abs(set_good("meat.thickness=400 mm").meat.thickness, 0.4, 0.0);
    assert_close_abs(set_good("stall.rate=0.018 F/h").stall.rate, 0.01 / 3600.0, 0.0);
    assert_close_abs(set_good("meat.water_diffusivity=0.1 mm2/s").meat.water_diffusivity, 1e-7, 0.0);
}

static void test_values_for_apps(void **state)
{
    (void)state;
    double value = -1.0;
    sw_ending ending = {SW_ENDING_NONE, -1.0};
    assert_int_equal(sw_read_value(context, reader, "--step", "10m", SW_QUANTITY_DURATION, 60.0, 3600.0, &value),
                     SW_OK);
    assert_close_abs(value, 600.0, 0.0);
    assert_int_equal(
        sw_read_value(context, reader, "--mark", "165F", SW_QUANTITY_TEMPERATURE, -INFINITY, INFINITY, &value), SW_OK);
    assert_close_rel(value, 133.0 / 1.8 + 273.15, 4e-16);
    assert_int_equal(sw_read_value(context, reader, "--serve", "17:30", SW_QUANTITY_CLOCK, 0.0, 0.0, &value), SW_OK);
    assert_close_abs(value, 63000.0, 0.0);
    assert_int_equal(sw_read_value(context, reader, "--step", "2 h", SW_QUANTITY_DURATION, 60.0, 3600.0, &value),
                     SW_ERR_INPUT);
    assert_close_abs(value, 63000.0, 0.0);
    assert_string_equal(sw_context_message(context), "--step: \"2 h\" is outside the allowed range, 0.01667 to 1 h");
    assert_int_equal(sw_read_ending(context, reader, "--pull", "203F", &ending), SW_OK);
    assert_int_equal(ending.kind, SW_ENDING_PROBE_TEMPERATURE);
    assert_int_equal(sw_read_ending(context, reader, "--pull", "soon", &ending), SW_ERR_INPUT);
    assert_close_rel(ending.value, 368.15, 4e-16);
    assert_memory_equal(sw_context_message(context), "--pull: \"soon\"", 14);
}

/* ---- errors ---- */

/* text as a file must be refused with a sentence that starts so and holds the rest, and change nothing. */
static void assert_refused(const char *text, size_t length, const char *start, const char *held)
{
    sw_scenario scenario, before;
    sw_scenario_init(&scenario);
    before = scenario;
    sw_status status = sw_scenario_read_text(context, reader, "f.yaml", text, length, &scenario);
    const char *message = sw_context_message(context);
    if (status != SW_ERR_INPUT || strncmp(message, start, strlen(start)) != 0 || !strstr(message, held))
        fail_msg("\n%s\ngave status %d: %s\nexpected: %s ... %s", text, (int)status, status ? message : "", start,
                 held);
    assert_same_scenario(&scenario, &before);
    assert_null(strchr(message, '\n'));
}

static void test_errors_in_a_file(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        const char *start;
        const char *held;
    } cases[] = {
        /* names */
        {"title: x\nmeet: {mass: 5 kg}\n", "f.yaml:2:1: unknown key \"meet\"", "did you mean \"meat\"?"},
        {"meat:\n  mas: 5 kg\n", "f.yaml:2:3: unknown key \"meat.mas\"", "did you mean \"meat.mass\"?"},
        {"meat:\n  side: top\n", "f.yaml:2:3: ", "did you mean \"meat.fat_cap.side\"?"},
        {"meat:\n  xylophone: 1\n", "f.yaml:2:3: unknown key", "docs/reference/scenario.md"},
        {"meat: {mass: 5 kg}\nmeat: {thickness: 8 cm}\n",
         "f.yaml:2:1: meat: ", "given twice; the first time is in line 1"},
        {"meat:\n  mass: 5 kg\n  mass: 6 kg\n", "f.yaml:3:3: meat.mass: ", "given twice; the first time is in line 2"},
        {"meat.mass: 5 kg\nmeat: {mass: 6 kg}\n", "f.yaml:2:8: meat.mass: ", "given twice"},
        /* kinds of value */
        {"meat: 5 kg\n", "f.yaml:1:7: meat: ", "name, cut, shape, mass"},
        {"meat: [1, 2]\n", "f.yaml:1:7: meat: ", "this is a group"},
        {"meat:\ntitle: x\n", "f.yaml:1:1: meat: ", "this is a group"},
        {"meat: {mass: {kg: 5}}\n", "f.yaml:1:14: meat.mass: ", "not a group of keys"},
        {"meat: {mass: [5 kg]}\n", "f.yaml:1:14: meat.mass: ", "not a list"},
        {"meat:\n  mass:\n", "f.yaml:2:3: meat.mass: ", "the value is missing"},
        {"just text\n", "f.yaml:1:1: ", "begins with keys"},
        {"- a\n", "f.yaml:1:1: ", "begins with keys"},
        {"? [a]\n: 1\n", "f.yaml:1:3: ", "where a key is expected"},
        /* units and numbers */
        {"meat:\n  mass: 6.5\n", "f.yaml:2:9: meat.mass: \"6.5\" has no unit", "lb, oz, kg or g"},
        {"pit: {temperature: 250}\n", "f.yaml:1:20: pit.temperature: \"250\" has no unit", "F, C or K"},
        {"meat: {mass: 8 cm}\n", "f.yaml:1:14: meat.mass: \"8 cm\" is not a mass", ""},
        {"meat: {mass: 8 kgg}\n", "f.yaml:1:14: meat.mass: \"8 kgg\" has \"kgg\" where a unit is expected", ""},
        {"meat: {mass: heavy}\n", "f.yaml:1:14: meat.mass: \"heavy\" is not a mass", ""},
        {"meat: {mass: \"6,5 kg\"}\n", "f.yaml:1:14: meat.mass: \"6,5 kg\"", "decimal point"},
        {"meat: {mass: 0x5 kg}\n", "f.yaml:1:14: meat.mass: \"0x5 kg\"", ""},
        {"meat: {mass: nan kg}\n", "f.yaml:1:14: meat.mass: \"nan kg\" is not a mass", ""},
        {"meat: {mass: inf kg}\n", "f.yaml:1:14: meat.mass: \"inf kg\" is not a mass", ""},
        {"meat: {mass: 1e308 kg}\n", "f.yaml:1:14: meat.mass: \"1e308 kg\" is outside", "0 to 30 kg"},
        {"meat: {mass: 1e309 kg}\n", "f.yaml:1:14: meat.mass: \"1e309 kg\"", "too large or too small"},
        {"pit: {altitude: 1e-400 m}\n", "f.yaml:1:17: pit.altitude: ", "too large or too small"},
        {"meat: {mass: 5 6 kg}\n", "f.yaml:1:14: meat.mass: ", "is not a mass"},
        {"meat: {mass: 5 kg 6}\n", "f.yaml:1:14: meat.mass: ", "no unit behind its last number"},
        {"meat: {mass: 6 oz 14 lb}\n", "f.yaml:1:14: meat.mass: ", "do not add up"},
        {"meat: {mass: 14 lb -6 oz}\n", "f.yaml:1:14: meat.mass: ", "do not add up"},
        {"meat: {mass: 1.2.3 kg}\n", "f.yaml:1:14: meat.mass: ", "is not a mass"},
        {"pit: {temperature: 250 F F}\n", "f.yaml:1:20: pit.temperature: ", "is not a temperature"},
        {"pit: {humidity_ratio: 40 %}\n", "f.yaml:1:23: pit.humidity_ratio: ", "no relative humidity"},
        {"meat: {composition: {water: 70}}\n", "f.yaml:1:29: meat.composition.water: \"70\" is outside", "0 to 1"},
        {"meat: {composition: {water: 170 %}}\n", "f.yaml:1:29: meat.composition.water: ", "0 to 100 %"},
        {"wrap: {paper: {resistance: 150 W/m2/K}}\n",
         "f.yaml:1:28: wrap.paper.resistance: ", "is not a thermal resistance"},
        /* ranges, in the unit typed */
        {"meat: {mass: 100 lb}\n", "f.yaml:1:14: meat.mass: \"100 lb\" is outside", "0 to 66.13 lb"},
        {"pit: {temperature: 1000 F}\n", "f.yaml:1:20: pit.temperature: ", "104 to 374 F"},
        {"pit: {temperature: -300 C}\n", "f.yaml:1:20: pit.temperature: ", "40 to 190 C"},
        {"pit: {wall_offset: -200 F}\n", "f.yaml:1:20: pit.wall_offset: ", "-90 to 108 F"},
        {"meat: {thickness: 3 m}\n", "f.yaml:1:19: meat.thickness: ", "0 to 0.4 m"},
        {"stall: {duration: 2 s}\n", "f.yaml:1:19: stall.duration: ", "60 to 86400 s"},
        {"solver: {cells: 5}\n", "f.yaml:1:17: solver.cells: \"5\" is outside", "10 to 2000"},
        {"solver: {cells: 60.5}\n", "f.yaml:1:17: solver.cells: ", "whole number"},
        {"solver: {cells: 99999999999}\n", "f.yaml:1:17: solver.cells: ", "whole number"},
        {"solver: {cells: -60}\n", "f.yaml:1:17: solver.cells: ", "whole number"},
        /* choices, switches, clock, endings */
        {"wrap: {kind: papr}\n", "f.yaml:1:14: wrap.kind: \"papr\" is not one of none, paper, open-tray, closed-foil",
         "did you mean \"paper\"?"},
        {"meat: {shape: cube}\n", "f.yaml:1:15: meat.shape: \"cube\" is not one of slab, cylinder, sphere", ""},
        {"rest: {keep_wrap: maybe}\n", "f.yaml:1:19: rest.keep_wrap: \"maybe\" is neither yes nor no", ""},
        {"start: 24:00\n", "f.yaml:1:8: start: \"24:00\" is not a time of day", "17:30"},
        {"start: 22:60\n", "f.yaml:1:8: start: ", "is not a time of day"},
        {"start: 22:5\n", "f.yaml:1:8: start: ", "is not a time of day"},
        {"start: 22:00:60\n", "f.yaml:1:8: start: ", "is not a time of day"},
        {"start: 13 pm\n", "f.yaml:1:8: start: ", "is not a time of day"},
        {"start: 0 am\n", "f.yaml:1:8: start: ", "is not a time of day"},
        {"start: 9:60 pm\n", "f.yaml:1:8: start: ", "is not a time of day"},
        {"start: 9 pm sharp\n", "f.yaml:1:8: start: ", "is not a time of day"},
        {"start: noonish\n", "f.yaml:1:8: start: ", "is not a time of day"},
        {"start: 22\n", "f.yaml:1:8: start: ", "is not a time of day"},
        {"pull: 203\n", "f.yaml:1:7: pull: \"203\" has no unit", "a temperature such as 165 F"},
        {"pull: 5 kg\n", "f.yaml:1:7: pull: \"5 kg\" is neither a temperature nor a duration", ""},
        {"pull: none\n", "f.yaml:1:7: pull: \"none\" is not possible here", ""},
        {"pull: bark\n", "f.yaml:1:7: pull: \"bark\" is not possible here", ""},
        {"wrap: {when: usual}\n", "f.yaml:1:14: wrap.when: \"usual\" is not possible here", ""},
        {"pull: tender\n", "f.yaml:1:7: pull: \"tender\" is not an ending", ""},
        {"pull: 300 F\n", "f.yaml:1:7: pull: ", "50 to 230 F"},
        {"hold: {until: 25:00}\n", "f.yaml:1:15: hold.until: ", "is not a time of day"},
        {"hold: {until: 24:00 +1 day}\n", "f.yaml:1:15: hold.until: \"24:00 +1 day\"", "is not a time of day"},
        {"hold: {until: 13:00 +0 days}\n", "f.yaml:1:15: hold.until: \"13:00 +0 days\"", "+1 day to +30 days"},
        {"hold: {until: 13:00 +31 days}\n", "f.yaml:1:15: hold.until: ", "+1 day to +30 days"},
        {"hold: {until: 13:00 +1}\n", "f.yaml:1:15: hold.until: ", "+1 day to +30 days"},
        {"hold: {until: 13:00 +1 h}\n", "f.yaml:1:15: hold.until: ", "+1 day to +30 days"},
        {"hold: {until: 4 h +1 day}\n", "f.yaml:1:15: hold.until: ", "has a day but no time of day"},
        {"serving: {time: 13:00 +31 days}\n", "f.yaml:1:17: serving.time: ", "+1 day to +30 days"},
        {"start: 13:00 +1 day\n", "f.yaml:1:8: start: \"13:00 +1 day\"", "is not a time of day"},
        /* steps of the pit */
        {"pit: {temperature: []}\n", "f.yaml:1:20: pit.temperature: ", "empty"},
        {"pit: {temperature: [121 C]}\n", "f.yaml:1:21: pit.temperature: ", "a step is written as"},
        {"pit:\n  temperature:\n    - {from: 1 h, temperature: 121 C}\n", "f.yaml:3:7: pit.temperature: ", "from 0 h"},
        {"pit:\n  temperature:\n    - {from: 0 h, temperature: 121 C}\n    - {from: 0 h, temperature: 99 C}\n",
         "f.yaml:4:7: pit.temperature: ", "later than the one before"},
        {"pit:\n  temperature:\n    - {from: 0 h}\n", "f.yaml:3:7: pit.temperature: ", "no \"temperature\""},
        {"pit:\n  temperature:\n    - {temperature: 121 C}\n", "f.yaml:3:7: pit.temperature: ", "no \"from\""},
        {"pit:\n  temperature:\n    - {from: 0 h, temprature: 121 C}\n",
         "f.yaml:3:19: pit.temperature: ", "is unknown"},
        {"pit:\n  temperature:\n    - {from: 0 h, from: 1 h}\n", "f.yaml:3:19: pit.temperature: ", "is given twice"},
        {"pit:\n  temperature:\n    - {from: 0 h, temperature: 121}\n", "f.yaml:3:32: pit.temperature: \"121\"",
         "no unit"},
        {"pit:\n  temperature:\n    - {from: [], temperature: 121 C}\n",
         "f.yaml:3:14: pit.temperature: ", "not a list"},
        /* text */
        {"title: \"a\\nb\"\n", "f.yaml:1:8: title: ", "control character"},
        {"title: \"\\e[31m\"\n", "f.yaml:1:8: title: ", "control character"},
        {"title: \"a\\u202eb\"\n", "f.yaml:1:8: title: ", "control character"},
        {"title: \"a\\0b\"\n", "f.yaml:1:8: ", "NUL"},
        {"title: |\n  a\n  b\n", "f.yaml:", "control character"},
        {"a\xffz: 1\n", "f.yaml:1:2: ", "0xff is not UTF-8"},
        {"title: x\nmeat: \xc3(\n", "f.yaml:2:7: ", "0xc3 is not UTF-8"},
        {"title: \xed\xa0\x80\n", "f.yaml:1:8: ", "is not UTF-8"},
        {"title: a\001b\n", "f.yaml:1:9: ", "U+0001"},
        /* YAML */
        {"", "f.yaml:1:1: ", "empty"},
        {"# nothing\n", "f.yaml:1:1: ", "empty"},
        {"title: [a\n", "f.yaml:2:1: ", "not valid YAML"},
        {"title: 'a\n", "f.yaml:1:9: ", "not valid YAML"},
        {"meat:\n\tmass: 5 kg\n", "f.yaml:2:1: ", "not valid YAML"},
        {"meat: mass: 5 kg\n", "f.yaml:1:", "not valid YAML"},
        {"title: @x\n", "f.yaml:1:8: ", "not valid YAML"},
        {"%YAML 9.9\n---\ntitle: x\n", "f.yaml:1:1: ", "not valid YAML"},
        {"title: &a x\n", "f.yaml:1:8: ", "anchors"},
        {"title: *a\n", "f.yaml:1:8: ", "aliases"},
        {"title: x\nmeat: &m {mass: 5 kg}\n", "f.yaml:2:7: ", "anchors"},
        {"title: !!str x\n", "f.yaml:1:8: ", "tags"},
        {"title: x\n---\ntitle: y\n", "f.yaml:2:1: ", "second document"},
        {"a: [[[[[[[[[[x]]]]]]]]]]\n", "f.yaml:1:11: ", "nested deeper"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_refused(cases[i].text, strlen(cases[i].text), cases[i].start, cases[i].held);
    assert_refused("title: a\0b\n", 11, "f.yaml:1:9: ", "U+0000");
}

static void test_long_text(void **state)
{
    (void)state;
    char text[256] = "title: ", *end = text + strlen(text);
    memset(end, 'x', SW_TEXT_MAX - 1);
    assert_int_equal(strlen(read_good(text).title), SW_TEXT_MAX - 1);
    end[SW_TEXT_MAX - 1] = 'y';
    assert_refused(text, strlen(text), "f.yaml:1:8: title: ", "128 bytes, at most 127");
}

static void test_large_inputs(void **state)
{
    (void)state;
    size_t size = (1 << 20) + 1;
    char *text = malloc(size);
    assert_non_null(text);
    memset(text, '\n', size);
    assert_refused(text, size, "f.yaml:1:1: ", "1 MiB");
    memcpy(text, "a: [", 4);
    for (size_t i = 4; i + 1 < size; i += 2)
        memcpy(text + i, "1,", 2);
    assert_refused(text, size - 1, "f.yaml:1:", "far more values");
    memset(text, '[', size);
    assert_refused(text, size - 1, "f.yaml:1:", "");
    free(text);
}

/* libfyaml takes minutes over a text of very many empty lines, whatever they are made of. */
static void test_empty_lines(void **state)
{
    (void)state;
    static const char *const empty[] = {"\n", "\r\n", "\r", "  \n", "\t\n"};
    for (size_t i = 0; i < sizeof empty / sizeof *empty; i++) {
        char text[1024] = "title: supper\n";
        for (int line = 0; line < 100; line++)
            strcat(text, empty[i]);
        size_t used = strlen(text);
        strcat(text, "timezone: none\n");
        assert_refused(text, strlen(text), "f.yaml:102:1: ", "unknown key");
        snprintf(text + used, sizeof text - used, "%smeat:\n", empty[i]);
        assert_refused(text, strlen(text), "f.yaml:102:1: ", "more than 100 empty lines");
    }
}

/* A section of micrometres would be solved in steps of microseconds. */
static void test_smallest_outline(void **state)
{
    (void)state;
    static const double sizes[][2] = {{0.02, 0.01}, {0.0199, 0.01}, {0.02, 0.0099}, {1e-5, 1e-5}};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        sw_scenario s;
        sw_scenario_init(&s);
        s.meat.shape = SW_SHAPE_OUTLINE;
        s.meat.outline_count = 3;
        s.meat.outline[1][0] = s.meat.outline[2][0] = sizes[i][0];
        s.meat.outline[2][1] = sizes[i][1];
        assert_int_equal(sw_scenario_check(context, &s), i == 0 ? SW_OK : SW_ERR_RANGE);
        if (i > 0)
            assert_non_null(strstr(sw_context_message(context), "thick; allowed 20 mm and 10 mm or more"));
    }
}

static void test_long_values_are_cut_in_sentences(void **state)
{
    (void)state;
    char text[700] = "meat: {mass: \"\\e[31m";
    memset(text + strlen(text), 'k', 600);
    strcat(text, "\"}\n");
    assert_refused(text, strlen(text), "f.yaml:1:14: meat.mass: \"\\x1b[31mkkk", "...\"");
    assert_in_range(strlen(sw_context_message(context)), 1, 300);
}

static void assert_set_refused(const char *assignment, const char *sentence)
{
    sw_scenario scenario, before;
    sw_scenario_init(&scenario);
    before = scenario;
    assert_int_equal(sw_scenario_set(context, reader, assignment, &scenario), SW_ERR_INPUT);
    assert_string_equal(sw_context_message(context), sentence);
    assert_same_scenario(&scenario, &before);
}

static void test_errors_of_set(void **state)
{
    (void)state;
    assert_set_refused("pit.temperatur=275F", "--set pit.temperatur: unknown name, did you mean \"pit.temperature\"?");
    assert_set_refused("pit=275F",
                       "--set pit: this is a group, not a value; it contains kind, temperature, cycle, "
                       "lid, humidity, humidity_ratio, convection, draught, air_speed, wall_offset, altitude, heat_up, learned, fuel, fuel_moisture, "
                       "air_flow, air_heat_share, outside, height, pan, pieces");
    assert_set_refused("meat.mass=40kg", "--set meat.mass: \"40kg\" is outside the allowed range, 0 to 30 kg");
    assert_set_refused("meat.mass=", "--set meat.mass: the value is missing");
    assert_set_refused("meat.mass", "--set \"meat.mass\": write a name, an equals sign and a value, such as "
                                    "pit.temperature=275F");
    assert_set_refused("=5", "--set : unknown name; docs/reference/scenario.md lists all");
    assert_set_refused("title=\xff", "--set title: the text is not UTF-8");
}

/* ---- files ---- */

static void test_files(void **state)
{
    (void)state;
    sw_scenario scenario;
    sw_scenario_init(&scenario);
    assert_int_equal(sw_scenario_read(context, reader, "/nowhere/x.yaml", &scenario), SW_ERR_FILE);
    assert_non_null(strstr(sw_context_message(context), "\"/nowhere/x.yaml\" cannot be read: No such file"));
    assert_int_equal(sw_scenario_read(context, reader, "/", &scenario), SW_ERR_FILE);
    assert_non_null(strstr(sw_context_message(context), "it is a directory"));
    char path[] = "/tmp/stallwright-test-XXXXXX";
    int descriptor = mkstemp(path);
    assert_true(descriptor >= 0);
    FILE *file = fdopen(descriptor, "w");
    assert_non_null(file);
    fputs("meat: {mass: 5 kg}\n", file);
    fflush(file);
    assert_int_equal(sw_scenario_read(context, reader, path, &scenario), SW_OK);
    assert_close_abs(scenario.meat.mass, 5.0, 0.0);
    for (int i = 0; i < (1 << 20); i++)
        fputc('#', file);
    fclose(file);
    sw_status status = sw_scenario_read(context, reader, path, &scenario);
    unlink(path);
    assert_int_equal(status, SW_ERR_FILE);
    assert_non_null(strstr(sw_context_message(context), "larger than 1 MiB"));
}

static void test_scenarios_of_the_project(void **state)
{
    (void)state;
    static const char *const names[] = {"village_hall_supper", "thin_flat", "pork_shoulder", "packer_section",
                                        "kettle_night"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        char path[512];
        sw_scenario scenario;
        sw_scenario_init(&scenario);
        snprintf(path, sizeof path, "%s/apps/scenarios/%s.yaml", SW_SOURCE_DIR, names[i]);
        if (sw_scenario_read(context, reader, path, &scenario) != SW_OK)
            fail_msg("%s", sw_context_message(context));
        sw_scenario_settle(&scenario);
        const sw_composition *c = &scenario.meat.composition;
        assert_close_abs(c->water + c->protein + c->fat + c->carbohydrate + c->ash, 1.0, 1e-12);
    }
}

/* ---- writing ---- */

static char *written(const sw_scenario *scenario, sw_unit_system units)
{
    char *text = NULL;
    size_t length = 0;
    FILE *stream = open_memstream(&text, &length);
    assert_non_null(stream);
    sw_status status = sw_scenario_write(context, reader, scenario, units, stream);
    fclose(stream);
    if (status != SW_OK)
        fail_msg("not written: %s", sw_context_message(context));
    return text;
}

static void assert_same_after_writing(const sw_scenario *scenario, sw_unit_system units)
{
    char *text = written(scenario, units);
    sw_scenario again;
    memset(&again, 0, sizeof again);
    if (read_text(text, &again) != SW_OK)
        fail_msg("%s\n%s", text, sw_context_message(context));
    free(text);
    assert_same_scenario(&again, scenario);
}

static unsigned long long random_state;

static double random_fraction(void)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 7;
    random_state ^= random_state << 17;
    return (double)(random_state >> 11) / 9007199254740992.0;
}

static double random_in(sw_range range)
{
    double value = range.minimum + random_fraction() * (range.maximum - range.minimum);
    return value < range.maximum ? value : range.minimum;
}

static sw_ending random_ending(const sw_ending_limits *limits)
{
    switch ((int)(random_fraction() * (limits->may_be_none ? 4.0 : 3.0))) {
    case 0:
        return (sw_ending){SW_ENDING_PROBE_TEMPERATURE, random_in(limits->temperature)};
    case 1:
        return (sw_ending){SW_ENDING_DURATION, random_in(limits->duration)};
    case 2:
        return random_fraction() < 0.5
                   ? (sw_ending){SW_ENDING_CLOCK, random_in((sw_range){0.0, 86400.0})}
                   : (sw_ending){SW_ENDING_CLOCK_ON_DAY, random_in((sw_range){86400.0, 31 * 86400.0})};
    default:
        return (sw_ending){SW_ENDING_NONE, 0.0};
    }
}

static void fill_schedule(sw_pit *pit, sw_range range)
{
    memset(pit->steps, 0, sizeof pit->steps);
    pit->step_count = 1 + (size_t)(random_fraction() * 32);
    for (size_t i = 0; i < pit->step_count; i++)
        pit->steps[i] =
            (sw_pit_step){i == 0 ? 0.0 : pit->steps[i - 1].start + 1.0 + 10000.0 * random_fraction(), random_in(range),
                          i + 1 < pit->step_count && random_fraction() < 0.5};
}

/* Damp that cold air can hold, air enough for any fire, and a pan that fits: a file may not say otherwise. */
static void make_air_possible(sw_scenario *scenario)
{
    scenario->pit.humidity_ratio *= 0.003;
    scenario->pit.air_heat_share = 0.1 + 0.8 * scenario->pit.air_heat_share;
    scenario->pit.pan_depth *= 0.04;
}

/* One way to say the mass. */
static void make_one_mass(sw_scenario *scenario)
{
    *(random_fraction() < 0.5 ? &scenario->meat.mass : &scenario->meat.bought_mass) = 0.0;
}

/* Every field any value its key allows, numbers with all their digits. */
static void fill_at_random(sw_scenario *scenario)
{
    memset(scenario, 0, sizeof *scenario);
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        void *field = sw_key_field(key, scenario);
        switch (key->type) {
        case SW_KEY_TEXT:
            snprintf(field, SW_TEXT_MAX, "%s", random_fraction() < 0.5 ? "a: \"b\" \\ # {c}, \u00e9 - *d" : "");
            break;
        case SW_KEY_CHOICE:
            *(int *)field = (int)(random_fraction() * key->choice_count);
            break;
        case SW_KEY_SWITCH:
            *(bool *)field = random_fraction() < 0.5;
            break;
        case SW_KEY_WHOLE:
            *(int *)field = (int)random_in(key->range);
            break;
        case SW_KEY_VALUE:
            *(double *)field = random_in(key->range);
            break;
        case SW_KEY_ENDING:
            *(sw_ending *)field = random_ending(&key->ending);
            break;
        case SW_KEY_SCHEDULE:
            fill_schedule(field, key->range);
            break;
        case SW_KEY_TIMES:
            scenario->pit.opening_count = (size_t)(random_fraction() * (SW_PIT_OPENINGS_MAX + 1));
            for (size_t j = 0; j < scenario->pit.opening_count; j++)
                scenario->pit.openings[j] = (j == 0 ? 0.0 : scenario->pit.openings[j - 1] + 1.0) + 9999.0 * random_fraction();
            break;
        case SW_KEY_OUTLINE:
            scenario->meat.outline_count = random_fraction() < 0.5 ? 0 : 3 + (size_t)(random_fraction() * 200);
            for (size_t j = 0; j < scenario->meat.outline_count; j++)
                for (int axis = 0; axis < 2; axis++)
                    scenario->meat.outline[j][axis] = random_in(key->range);
            break;
        case SW_KEY_LEARNED:
            scenario->pit.learned = (sw_pit_learned){1 + (int)(9.0 * random_fraction()), 20.0 * random_fraction() - 10.0, 1.0 + random_fraction(),
                                                     5.0 + random_fraction(), 1.1 + random_fraction(), 0.02 + 0.1 * random_fraction(),
                                                     1.1 + random_fraction(), -0.5 * random_fraction(), 0.4 * random_fraction(), 0.4 * random_fraction()};
            break;
        case SW_KEY_PROBES:
            scenario->meat.probe_count = (size_t)(random_fraction() * (SW_PROBES_MAX + 1));
            for (size_t j = 0; j < scenario->meat.probe_count; j++) {
                sw_probe_place *probe = &scenario->meat.probes[j];
                snprintf(probe->name, sizeof probe->name, "probe %zu", j);
                probe->across = random_in(key->range);
                probe->height = random_in(key->range);
            }
            break;
        }
    }
}

static void test_round_trip(void **state)
{
    (void)state;
    sw_scenario scenario;
    sw_scenario_init(&scenario);
    assert_same_after_writing(&scenario, SW_UNITS_SI);
    assert_same_after_writing(&scenario, SW_UNITS_US);
    random_state = 20240611;
    for (int i = 0; i < 100; i++) {
        fill_at_random(&scenario);
        make_air_possible(&scenario);
        make_one_mass(&scenario);
        assert_same_after_writing(&scenario, SW_UNITS_SI);
        assert_same_after_writing(&scenario, SW_UNITS_US);
    }
}

static void test_written_form(void **state)
{
    (void)state;
    sw_scenario scenario;
    sw_scenario_init(&scenario);
    scenario.pit.steps[0].temperature = 121.0 + 273.15;
    scenario.meat.mass = 14.375 * 0.45359237;
    scenario.start_clock = 22 * 3600.0;
    scenario.stall.duration = 9000.0;
    scenario.rest.until = (sw_ending){SW_ENDING_CLOCK, 63000.0};
    scenario.hold.until = (sw_ending){SW_ENDING_CLOCK_ON_DAY, 86400.0 + 46800.0};
    scenario.cooling.until = (sw_ending){SW_ENDING_CLOCK_ON_DAY, 2 * 86400.0 + 29700.0};
    char *si = written(&scenario, SW_UNITS_SI), *us = written(&scenario, SW_UNITS_US);
    assert_non_null(strstr(si, "\n  temperature: 121 C\n"));
    assert_non_null(strstr(us, "\n  temperature: 249.8 F\n"));
    assert_non_null(strstr(us, "\n  mass: 14.375 lb\n"));
    assert_non_null(strstr(us, "\nstart: 22:00\n"));
    assert_non_null(strstr(si, "\n  duration: 2 h 30 min\n"));
    assert_non_null(strstr(si, "\n  until: 17:30\n"));
    assert_non_null(strstr(si, "\n  until: 13:00 +1 day\n"));
    assert_non_null(strstr(us, "\n  until: 08:15 +2 days\n"));
    assert_non_null(strstr(si, "\n  # of the whole trimmed raw cut, 0.2 kg (0.44 lb) or more; "));
    free(si);
    free(us);
}

/* What a file could not hold is not written at all. */
static void test_refusals_of_the_writer(void **state)
{
    (void)state;
    sw_scenario good, bad[8];
    sw_scenario_init(&good);
    for (size_t i = 0; i < 8; i++)
        bad[i] = good;
    bad[0].meat.mass = (double)NAN;
    bad[1].meat.mass = 1000.0;
    bad[2].meat.shape = SW_SHAPE_COUNT;
    memset(bad[3].title, 'x', SW_TEXT_MAX);
    strcpy(bad[4].title, "a\nb");
    bad[5].pit.step_count = 0;
    bad[6].pit.steps[0].temperature = -(double)INFINITY;
    bad[7].pull.kind = SW_ENDING_NONE;
    for (size_t i = 0; i < 8; i++) {
        char *text = NULL;
        size_t length = 0;
        FILE *stream = open_memstream(&text, &length);
        assert_int_equal(sw_scenario_write(context, reader, &bad[i], SW_UNITS_SI, stream), SW_ERR_RANGE);
        fclose(stream);
        assert_int_equal(length, 0);
        assert_memory_equal(sw_context_message(context), "the scenario cannot be written: ", 32);
        free(text);
    }
    FILE *full = fopen("/dev/full", "w");
    if (full) {
        assert_int_equal(sw_scenario_write(context, reader, &good, SW_UNITS_SI, full), SW_ERR_FILE);
        assert_non_null(strstr(sw_context_message(context), "could not be written: "));
        fclose(full);
    }
}

/* A program whose locale writes 6,5 reads and writes 6.5 all the same. */
static void test_locale(void **state)
{
    (void)state;
    static const char *const with_comma[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "de_DE", "nl_NL.UTF-8"};
    const char *set = NULL;
    for (size_t i = 0; i < sizeof with_comma / sizeof *with_comma && !set; i++)
        set = setlocale(LC_ALL, with_comma[i]);
    if (!set)
        skip();
    assert_close_abs(set_good("meat.mass=6.5 kg").meat.mass, 6.5, 0.0);
    sw_scenario scenario;
    sw_scenario_init(&scenario);
    assert_same_after_writing(&scenario, SW_UNITS_US);
    setlocale(LC_ALL, "C");
}

/* ---- damaged files ---- */

/* Whatever the bytes, reading ends with a status and an unchanged scenario or a good one; no crash, no leak. */
static void test_damaged_files(void **state)
{
    (void)state;
    static const char signs[] = "{}[]:-?,&*!|>'\"%@`#\n\t \\~.0aeE+/\x80\xff";
    static const char base[] = "title: supper\nmeat:\n  mass: 14 lb 6 oz\n  composition: {water: 70 %, fat: 0.1}\n"
                               "pit:\n  temperature:\n    - {from: 0 h, temperature: 107 C}\n"
                               "    - {from: 2h30m, temperature: 250 F}\npull: 203 F\nhold: {until: 17:30}\n";
    sw_scenario defaults;
    sw_scenario_init(&defaults);
    random_state = 7;
    int good = 0, refused = 0;
    for (int round = 0; round < 3000; round++) {
        size_t length = sizeof base - 1;
        char *text = malloc(length);
        assert_non_null(text);
        memcpy(text, base, length);
        int damages = 1 + (int)(4.0 * random_fraction());
        for (int i = 0; i < damages; i++) {
            size_t place = (size_t)(random_fraction() * (double)length);
            double how = random_fraction();
            if (how < 0.3)
                text[place] = (char)(256.0 * random_fraction());
            else if (how < 0.8)
                text[place] = signs[(size_t)(random_fraction() * (sizeof signs - 1))];
            else if (how < 0.95)
                memmove(text + place, text + place + 1, --length - place);
            else
                length = place + 1;
        }
        /* A copy without a byte to spare lets the address sanitizer see a read beyond the end. */
        char *exact = malloc(length);
        assert_non_null(exact);
        memcpy(exact, text, length);
        sw_scenario scenario = defaults;
        sw_status status = sw_scenario_read_text(context, reader, "f.yaml", exact, length, &scenario);
        free(text);
        free(exact);
        assert_true(status == SW_OK || status == SW_ERR_INPUT);
        if (status == SW_ERR_INPUT) {
            assert_same_scenario(&scenario, &defaults);
            assert_memory_equal(sw_context_message(context), "f.yaml:", 7);
        }
        good += status == SW_OK;
        refused += status == SW_ERR_INPUT;
    }
    /* Both must happen, or the damage is too light or too heavy to test anything. */
    assert_in_range(good, 30, 2970);
    assert_in_range(refused, 30, 2970);
}

/* ---- the reference ---- */

static char *read_reference(void)
{
    char *text = calloc(1, 1 << 17);
    FILE *file = fopen(SW_SOURCE_DIR "/docs/reference/scenario.md", "r");
    assert_non_null(text);
    assert_non_null(file);
    assert_in_range(fread(text, 1, (1 << 17) - 1, file), 1000, (1 << 17) - 2);
    fclose(file);
    return text;
}

/* Finds the row of docs/reference/scenario.md whose first cell is the name; the row ends at a line end. */
static const char *row_of(const char *reference, const char *name)
{
    char cell[SW_KEY_NAME_SIZE + 16];
    snprintf(cell, sizeof cell, "\n| `%s` |", name);
    return strstr(reference, cell);
}

static void test_reference_lists_every_key(void **state)
{
    (void)state;
    char *reference = read_reference();
    sw_units *units;
    assert_int_equal(sw_units_create(context, &units), SW_OK);
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        const char *row = row_of(reference, key->name);
        if (!row)
            fail_msg("docs/reference/scenario.md has no row for %s", key->name);
        char line[1024];
        snprintf(line, sizeof line, "%.*s", (int)strcspn(row + 1, "\n"), row + 1);
        char held[1024], condition[SW_KEY_CONDITION_SIZE], allowed[2][SW_KEY_ALLOWED_SIZE];
        snprintf(held, sizeof held, "| %s%s%s |", key->meaning, *sw_scenario_key_condition(key, condition) ? "; counts if " : "", condition);
        assert_int_equal(sw_scenario_key_allowed(context, units, key, SW_UNITS_SI, allowed[0]), SW_OK);
        assert_int_equal(sw_scenario_key_allowed(context, units, key, SW_UNITS_US, allowed[1]), SW_OK);
        if (!strstr(line, held) || !strstr(line, allowed[0]) || !strstr(line, allowed[1]))
            fail_msg("docs/reference/scenario.md says \"%s\", the program: %s; %s; %s", line, held, allowed[0], allowed[1]);
    }
    sw_units_destroy(units);
    free(reference);
}

static void test_reference_lists_nothing_else(void **state)
{
    (void)state;
    char *reference = read_reference();
    size_t rows = 0;
    for (const char *row = strstr(reference, "\n| `"); row; row = strstr(row + 1, "\n| `")) {
        char name[SW_KEY_NAME_SIZE];
        snprintf(name, sizeof name, "%.*s", (int)strcspn(row + 4, "`"), row + 4);
        if (!sw_scenario_key_find(name))
            fail_msg("docs/reference/scenario.md lists %s, which is no key", name);
        rows++;
    }
    assert_int_equal(rows, sw_scenario_key_count());
    free(reference);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_values_in_both_systems),
        cmocka_unit_test(test_keys_left_out_keep_their_values),
        cmocka_unit_test(test_pit_steps),
        cmocka_unit_test(test_forms_of_a_file),
        cmocka_unit_test(test_set),
        cmocka_unit_test(test_clock_in_words),
        cmocka_unit_test(test_set_lists),
        cmocka_unit_test(test_two_ways_to_say_the_mass),
        cmocka_unit_test(test_other_words),
        cmocka_unit_test(test_limits_are_allowed),
        cmocka_unit_test(test_values_for_apps),
        cmocka_unit_test(test_errors_in_a_file),
        cmocka_unit_test(test_long_text),
        cmocka_unit_test(test_empty_lines),
        cmocka_unit_test(test_smallest_outline),
        cmocka_unit_test(test_large_inputs),
        cmocka_unit_test(test_long_values_are_cut_in_sentences),
        cmocka_unit_test(test_errors_of_set),
        cmocka_unit_test(test_files),
        cmocka_unit_test(test_scenarios_of_the_project),
        cmocka_unit_test(test_round_trip),
        cmocka_unit_test(test_written_form),
        cmocka_unit_test(test_refusals_of_the_writer),
        cmocka_unit_test(test_locale),
        cmocka_unit_test(test_damaged_files),
        cmocka_unit_test(test_reference_lists_every_key),
        cmocka_unit_test(test_reference_lists_nothing_else),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
