/* SPDX-License-Identifier: BSD-3-Clause */
/* A pit's temperature from steps with ramps, from a measured log, and the lid's openings: read, refused, written back. */
#include "close.h"

#include <stallwright/scenario_file.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static sw_context *context;
static sw_scenario_reader *reader;
static char folder[] = "/tmp/stallwright-log-XXXXXX";
static char log_path[64], scenario_path[64];

static int set_up(void **state)
{
    (void)state;
    assert_int_equal(sw_context_create(&context), SW_OK);
    assert_int_equal(sw_scenario_reader_create(context, &reader), SW_OK);
    assert_non_null(mkdtemp(folder));
    snprintf(log_path, sizeof log_path, "%s/pit.csv", folder);
    snprintf(scenario_path, sizeof scenario_path, "%s/cook.yaml", folder);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    unlink(log_path);
    unlink(scenario_path);
    rmdir(folder);
    sw_scenario_reader_destroy(reader);
    sw_context_destroy(context);
    return 0;
}

static void write_file(const char *path, const char *text, size_t length)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, length, file), length);
    fclose(file);
}

static sw_status read_log_of(const char *text, size_t length, sw_scenario *scenario)
{
    write_file(log_path, text, length);
    static const char cook[] = "pit: {temperature: pit.csv}\n";
    write_file(scenario_path, cook, sizeof cook - 1);
    sw_scenario_init(scenario);
    return sw_scenario_read(context, reader, scenario_path, scenario);
}

static void assert_read(const char *text)
{
    sw_scenario s;
    if (read_log_of(text, strlen(text), &s) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    assert_int_equal(s.pit.step_count, 3);
    static const double minutes[] = {0.0, 5.0, 12.5}, celsius[] = {120.0, 115.0, 130.0};
    for (size_t i = 0; i < 3; i++) {
        assert_close_rel(s.pit.steps[i].start, 60.0 * minutes[i], 4e-16);
        assert_close_rel(s.pit.steps[i].temperature, celsius[i] + 273.15, 4e-16);
        assert_int_equal(s.pit.steps[i].ramp, i < 2);
    }
    assert_int_equal(sw_scenario_check(context, &s), SW_OK);
}

/* Both ways of writing a unit, other units, a byte order mark, line ends of another system, empty lines, blanks. */
static void test_logs(void **state)
{
    (void)state;
    assert_read("time [min],temperature [C]\n0,120\n5,115\n12.5,130\n");
    assert_read("time min,temperature F\n0,248\n5,239\n12.5,266");
    assert_read("time [s], temperature [\u00b0F]\n0,248\n300,239.0\n\n750,2.66e2\n\n");
    assert_read("\xef\xbb\xbftime [h],temperature [K]\r\n0,393.15\r\n 0.083333333333333333 , 388.15\r\n0.20833333333333333,403.15\r\n");
}

typedef struct bad_log {
    const char *text, *where, *held;
} bad_log;

static void test_bad_logs(void **state)
{
    (void)state;
#define HEADING "time [min],temperature [C]\n0,120\n"
    static const bad_log rows[] = {
        {"", ":1:1: ", "empty"},
        {"time [min],temperature [C]\n", ":1:1: ", "no rows"},
        {"Zeit [min];Temperatur [C]\n0;120,5\n", ":1:11: ", "semicolon"},
        {"Zeit [min],Temperatur [C]\n0,120\n", ":1:1: ", "\"time [min],temperature [F]\""},
        {"time [min],Temperatur [C]\n0,120\n", ":1:12: ", "\"time [min],temperature [F]\""},
        {"time,temperature\n0,120\n", ":1:6: ", "with their unit"},
        {"time,temperature [C]\n0,120\n", ":2:1: ", "has no unit"},
        {"time [min],temperature [kg]\n0,120\n", ":2:3: ", "temperature"},
        {"time [C],temperature [C]\n0,120\n", ":2:1: ", "duration"},
        {"time [min],temperature [C],lid\n0,120\n", ":2:1: ", "names 3 fields, this line has 2"},
        {"time [min],temperature [C],temperature [F]\n0,120,1\n", ":1:28: ", "two columns"},
        {"time [min],from [min],temperature [C]\n0,0,120\n", ":1:1: ", "not both"},
        {"temperature [C]\n120\n", ":1:1: ", "names the columns"},
        {HEADING "5,5,118,2\n", ":3:4: ", "decimal point, never a comma"},
        {HEADING "5;118\n", ":3:2: ", "decimal points"},
        {HEADING "5\n", ":3:1: ", "this line has 1"},
        {HEADING "5,245 F\n", ":3:3: ", "stands in the heading"},
        {HEADING "5 h,118\n", ":3:1: ", "stands in the heading"},
        {HEADING "22:05,118\n", ":3:1: ", "like that of the first row"},
        {HEADING "5,\n", ":3:3: ", "missing"},
        {HEADING ",118\n", ":3:1: ", "missing"},
        {HEADING "5,err\n", ":3:3: ", "not a plain number"},
        {HEADING "5,1.1.8\n", ":3:3: ", "1.1.8"},
        {HEADING "5,nan\n", ":3:3: ", "not a plain number"},
        {HEADING "5,118\n5,119\n", ":4:1: ", "given twice"},
        {HEADING "5,118\n4,119\n", ":4:1: ", "goes back from 5 min to 4 min"},
        {HEADING "-5,118\n", ":3:1: ", "range"},
        {HEADING "5,118\n66,118\n", ":4:1: ", "gap of 61 min"},
        {"time [min],temperature [C]\n1,120\n", ":2:1: ", "at 0"},
        {HEADING "5,30\n", ":3:3: ", "40 to 190 C"},
        {HEADING "5,1000\n", ":3:3: ", "40 to 190 C"},
        {HEADING "5,\xef\xbb\xbf" "118\n", ":3:3: ", "not a plain number"},
        {"\xff\xfet", ":1:1: ", "not UTF-8"},
        {HEADING "\x80\n", ":3:1: ", "not UTF-8"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_scenario s;
        assert_int_equal(read_log_of(rows[i].text, strlen(rows[i].text), &s), SW_ERR_INPUT);
        const char *said = sw_context_message(context);
        char begins[96];
        snprintf(begins, sizeof begins, "%s%s", log_path, rows[i].where);
        if (strncmp(said, begins, strlen(begins)) != 0 || !strstr(said, rows[i].held))
            fail_msg("log %zu: \"%s\" does not begin \"%s\" or hold \"%s\"", i, said, begins, rows[i].held);
        assert_int_equal(s.pit.step_count, 1);
    }
}

/* A log by the clock counts from the start, 22:00; what was measured before is left out, with the air at the start between two
 * rows. More columns do no harm, and each way to write a time gives the same steps. */
static void test_logs_by_the_clock(void **state)
{
    (void)state;
    static const char *const logs[] = {
        "time,temperature [C]\n22:00,120\n22:05,115\n22:12:30,130\n",
        "probe [C],time,note,temperature [C]\n5,21:50,\"lit, at last\",100\n5,21:55,,115\n5,22:05,,115\n6,22:12:30,,130\n",
        "time,temperature [C]\n2026-02-28T22:00+01:00,120\n2026-02-28 22:05:00.0+0100,115\n2026-02-28T21:12:30Z,130\n",
        "temperature [C],time\n120,0:00\n115,0:05\n130,0:12:30\n",
        "time,temperature [C]\n10 pm,120\n10:05 pm,115\n22:12:30,130\n",
    };
    for (size_t i = 0; i < sizeof logs / sizeof *logs; i++) {
        sw_scenario s;
        if (read_log_of(logs[i], strlen(logs[i]), &s) != SW_OK)
            fail_msg("log %zu: %s", i, sw_context_message(context));
        assert_true(s.pit.is_log);
        assert_int_equal(s.pit.step_count, 3);
        static const double minutes[] = {0.0, 5.0, 12.5}, celsius[] = {120.0, 115.0, 130.0};
        for (size_t k = 0; k < 3; k++) {
            assert_close_abs(s.pit.steps[k].start, 60.0 * minutes[k], 1e-6);
            assert_close_abs(s.pit.steps[k].temperature, (i == 1 && k == 0 ? 115.0 : celsius[k]) + 273.15, 1e-9);
        }
    }
}

/* Over midnight, over the end of a leap year's February, and by h:mm past a day. */
static void test_logs_over_midnight(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double last;
    } logs[] = {{"time,temperature [C]\n21:50,100\n22:40,110\n23:30,110\n0:20,110\n1:10,110\n", 190.0},
                {"time,temperature [C]\n2028-02-29T22:00,100\n2028-02-29T23:00,110\n2028-03-01T00:00,110\n", 120.0},
                {"time,temperature [C]\n2026-02-28T22:00,100\n2026-02-28T23:00,110\n2026-03-01T00:00,110\n", 120.0}};
    for (size_t i = 0; i < sizeof logs / sizeof *logs; i++) {
        sw_scenario s;
        if (read_log_of(logs[i].text, strlen(logs[i].text), &s) != SW_OK)
            fail_msg("log %zu: %s", i, sw_context_message(context));
        assert_close_abs(s.pit.steps[s.pit.step_count - 1].start, 60.0 * logs[i].last, 1e-6);
    }
    static const bad_log rows[] = {
        {"time,temperature [C]\n22:15,100\n", ":2:1: ", "15 min after the meat went on at start, 22:00"},
        {"time,temperature [C]\n22:00,100\n21:55,100\n", ":3:1: ", "gap of 1435 min"},
        {"time,temperature [C]\n22:00,100\n22:61,100\n", ":3:1: ", "is no time"},
        {"time,temperature [C]\n2026-02-29T22:00,100\n", ":2:1: ", "is no time"},
        {"time,temperature [C]\n22:00,100\n5,100\n", ":3:1: ", "like that of the first row"},
        {"time,temperature [C]\n0:10,100\n", ":2:1: ", "130 min after"},
        {"time,temperature [C]\n21:00,100\n21:50,100\n", "", "ends 10 min before"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_scenario s;
        assert_int_equal(read_log_of(rows[i].text, strlen(rows[i].text), &s), SW_ERR_INPUT);
        if (!strstr(sw_context_message(context), rows[i].where) || !strstr(sw_context_message(context), rows[i].held))
            fail_msg("log %zu: %s", i, sw_context_message(context));
    }
}

/* Steps hold until the next one and may be as far apart as those of a list. */
static void test_steps_in_a_file(void **state)
{
    (void)state;
    static const char text[] = "from [h],temperature [F],ramp\n0,225,no\n6,225,yes\n7,275,\n";
    sw_scenario s, listed;
    assert_int_equal(read_log_of(text, strlen(text), &s), SW_OK);
    sw_scenario_init(&listed);
    assert_int_equal(sw_scenario_set(context, reader,
                                     "pit.temperature=[{from: 0h, temperature: 225F}, {from: 6h, temperature: 225F, ramp: yes}, "
                                     "{from: 7h, temperature: 275F}]", &listed), SW_OK);
    assert_false(s.pit.is_log);
    assert_int_equal(s.pit.step_count, 3);
    for (size_t i = 0; i < 3; i++) {
        assert_close_abs(s.pit.steps[i].start, listed.pit.steps[i].start, 0.0);
        assert_close_abs(s.pit.steps[i].temperature, listed.pit.steps[i].temperature, 0.0);
        assert_int_equal(s.pit.steps[i].ramp, listed.pit.steps[i].ramp);
    }
    static const char bad[] = "from [h],temperature [F],ramp\n0,225,perhaps\n";
    assert_int_equal(read_log_of(bad, strlen(bad), &s), SW_ERR_INPUT);
    assert_non_null(strstr(sw_context_message(context), "pit.csv:2:7: ramp is neither yes nor no"));
}

static void test_limits_of_a_log(void **state)
{
    (void)state;
    char *text = malloc(40 + 16 * (SW_PIT_STEPS_MAX + 1));
    size_t length = (size_t)sprintf(text, "time [s],temperature [C]\n");
    for (int i = 0; i < SW_PIT_STEPS_MAX; i++)
        length += (size_t)sprintf(text + length, "%d,120\n", i);
    sw_scenario s;
    assert_int_equal(read_log_of(text, length, &s), SW_OK);
    assert_int_equal(s.pit.step_count, SW_PIT_STEPS_MAX);
    length += (size_t)sprintf(text + length, "%d,120\n", SW_PIT_STEPS_MAX);
    assert_int_equal(read_log_of(text, length, &s), SW_ERR_INPUT);
    assert_non_null(strstr(sw_context_message(context), "pit.csv:1026:1: a log has at most 1024 rows"));
    free(text);
    write_file(scenario_path, "pit: {temperature: none.csv}\n", 29);
    assert_int_equal(sw_scenario_read(context, reader, scenario_path, &s), SW_ERR_FILE);
}

static sw_status read_text(const char *text, sw_scenario *scenario)
{
    sw_scenario_init(scenario);
    return sw_scenario_read_text(context, reader, "f.yaml", text, strlen(text), scenario);
}

static void test_ramps_and_openings(void **state)
{
    (void)state;
    sw_scenario s;
    if (read_text("pit:\n"
                  "  temperature:\n"
                  "    - {from: 0 h, temperature: 107 C, ramp: yes}\n"
                  "    - {from: 6 h, temperature: 121 C, ramp: no}\n"
                  "    - {from: 7 h, temperature: 130 C}\n"
                  "  cycle: {swing: 18 F, period: 20 min}\n"
                  "  lid: {openings: [2 h, 4 h 30 min], duration: 45 s, drop: 60 %, recovery: 4 min}\n"
                  "  air_flow: 60 kg/h\n"
                  "  air_speed: 60 ft/min\n"
                  "  pan: {area: 600 cm2, depth: 2 in}\n",
                  &s) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    assert_true(s.pit.steps[0].ramp);
    assert_false(s.pit.steps[1].ramp);
    assert_false(s.pit.steps[2].ramp);
    assert_close_rel(s.pit.cycle_swing, 10.0, 4e-16);
    assert_int_equal(s.pit.opening_count, 2);
    assert_close_abs(s.pit.openings[1], 16200.0, 0.0);
    assert_close_rel(s.pit.air_flow, 1.0 / 60.0, 4e-16);
    assert_close_rel(s.pit.air_speed, 0.3048, 4e-16);
    assert_close_rel(s.pit.pan_area, 0.06, 4e-16);
    assert_close_rel(s.pit.pan_depth, 0.0508, 4e-16);
    assert_int_equal(sw_scenario_set(context, reader, "pit.lid.openings=3 h", &s), SW_OK);
    assert_int_equal(s.pit.opening_count, 1);
    assert_int_equal(sw_scenario_set(context, reader, "pit.lid.openings=none", &s), SW_OK);
    assert_int_equal(s.pit.opening_count, 0);
}

static void test_bad_pits(void **state)
{
    (void)state;
    static const char *const rows[][3] = {
        {"pit: {temperature: [{from: 0 h, temperature: 100 C, ramp: yes}]}", "f.yaml:1:20: pit.temperature: ", "last step"},
        {"pit: {temperature: [{from: 0 h, temperature: 100 C, ramp: 3}]}", "f.yaml:1:59: pit.temperature: ", "yes nor no"},
        {"pit: {lid: {openings: [2 h, 2 h]}}", "f.yaml:1:29: pit.lid.openings: ", "later"},
        {"pit: {lid: {openings: [2 h, 1 h]}}", "f.yaml:1:29: pit.lid.openings: ", "later"},
        {"pit: {lid: {openings: [-2 h]}}", "f.yaml:1:24: pit.lid.openings: ", "range"},
        {"pit: {lid: {openings: [[2 h]]}}", "f.yaml:1:24: pit.lid.openings: ", "single value"},
        {"pit: {air_flow: -3 kg/h}", "f.yaml:1:17: pit.air_flow: ", "0 to 1000 kg/h"},
        {"pit: {air_flow: 3}", "f.yaml:1:17: pit.air_flow: ", "kg/h, kg/s or lb/h"},
        {"pit: {air_speed: 3 kg}", "f.yaml:1:18: pit.air_speed: ", "speed"},
        {"pit: {pan: {area: 3 cm}}", "f.yaml:1:19: pit.pan.area: ", "area"},
        {"pit: {cycle: {period: 0 h}}", "f.yaml:1:23: pit.cycle.period: ", "0.01667 to 4 h"},
        {"pit: {kind: kettel}", "f.yaml:1:13: pit.kind: ", "did you mean \"kettle\""},
        {"pit: {outside: {relative_humidity: 110 %}}", "f.yaml:1:36: pit.outside.relative_humidity: ", "0 to 1"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_scenario s;
        assert_int_equal(read_text(rows[i][0], &s), SW_ERR_INPUT);
        const char *said = sw_context_message(context);
        if (strncmp(said, rows[i][1], strlen(rows[i][1])) != 0 || !strstr(said, rows[i][2]))
            fail_msg("\"%s\" does not begin \"%s\" or hold \"%s\"", said, rows[i][1], rows[i][2]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_logs),           cmocka_unit_test(test_bad_logs),
        cmocka_unit_test(test_limits_of_a_log), cmocka_unit_test(test_ramps_and_openings),
        cmocka_unit_test(test_bad_pits),        cmocka_unit_test(test_logs_by_the_clock),
        cmocka_unit_test(test_logs_over_midnight), cmocka_unit_test(test_steps_in_a_file),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
