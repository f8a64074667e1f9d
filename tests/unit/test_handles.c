/* SPDX-License-Identifier: BSD-3-Clause */
/* The interface that lasts: what it sets and tells is what the structs hold, to the bit, and what it cannot set it refuses in a
 * sentence. */
#include "close.h"

#include <stallwright/everything.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static sw_context *context;

static int make_context(void **state)
{
    (void)state;
    return sw_context_create(&context) == SW_OK ? 0 : -1;
}

static int destroy_context(void **state)
{
    (void)state;
    sw_context_destroy(context);
    return 0;
}

static sw_setup *coarse_setup(void)
{
    sw_setup *setup;
    assert_int_equal(sw_setup_create(context, &setup), SW_OK);
    assert_int_equal(sw_setup_set_number(context, setup, "solver.cells", 20.0), SW_OK);
    assert_int_equal(sw_setup_set_word(context, setup, "wrap.kind", "paper"), SW_OK);
    return setup;
}

static void said(const char *words)
{
    if (!strstr(sw_context_message(context), words))
        fail_msg("\"%s\" is not said: %s", words, sw_context_message(context));
}

/* Every key can be read as what it holds, and set to that again. */
static void every_key_is_set_and_read(void **state)
{
    (void)state;
    sw_setup *setup, *other;
    size_t numbers = 0, words = 0, endings = 0, lists = 0;
    assert_int_equal(sw_setup_create(context, &setup), SW_OK);
    assert_int_equal(sw_setup_clone(context, setup, &other), SW_OK);
    for (size_t i = 0; i < sw_setup_key_count(); i++) {
        const char *key = sw_setup_key_name(i), *word;
        double number, row[SW_PIT_STEPS_MAX];
        size_t rows;
        assert_non_null(sw_setup_key_meaning(key));
        assert_non_null(sw_setup_key_unit(key));
        if (sw_setup_number(context, setup, key, &number) == SW_OK) {
            assert_int_equal(sw_setup_set_number(context, other, key, number), SW_OK);
            numbers++;
        } else if (sw_setup_word(context, setup, key, &word) == SW_OK) {
            assert_int_equal(sw_setup_set_word(context, other, key, word), SW_OK);
            words++;
        } else if (sw_setup_ending(context, setup, key, &word, &number) == SW_OK) {
            assert_int_equal(sw_setup_set_ending(context, other, key, word, number), SW_OK);
            endings++;
        } else if (strcmp(key, "meat.probes") != 0) {
            assert_int_equal(sw_setup_list(context, setup, key, SW_PIT_STEPS_MAX, row, &rows), SW_OK);
            assert_int_equal(sw_setup_set_list(context, other, key, rows, row), SW_OK);
            lists++;
        }
        assert_true(sw_scenario_key_same(sw_scenario_key_at(i), sw_setup_scenario(setup), sw_setup_scenario(other)));
    }
    assert_true(numbers > 60 && words > 15 && endings == 7 && lists == 3);
    assert_null(sw_setup_key_name(sw_setup_key_count()));
    assert_null(sw_setup_key_meaning("meat.colour"));
    sw_setup_destroy(other);
    sw_setup_destroy(setup);
}

static void values_reach_the_scenario(void **state)
{
    (void)state;
    static const double steps[] = {0.0, 380.0, 1.0, 3600.0, 390.0, 0.0}, openings[] = {3600.0, 7200.0},
                        corners[] = {0.0, 0.0, 0.2, 0.0, 0.2, 0.06, 0.0, 0.06};
    double read[8], number = -1.0;
    size_t rows;
    const char *word;
    sw_setup *setup = coarse_setup();
    const sw_scenario *s = sw_setup_scenario(setup);
    assert_int_equal(sw_setup_set_list(context, setup, "pit.temperature", 2, steps), SW_OK);
    assert_true(s->pit.step_count == 2 && s->pit.steps[0].ramp && !s->pit.steps[1].ramp && s->pit.steps[1].temperature == 390.0);
    assert_int_equal(sw_setup_list(context, setup, "pit.temperature", 5, read, &rows), SW_OK);
    assert_int_equal(rows, 2);
    assert_int_equal(sw_setup_list(context, setup, "pit.temperature", 6, read, &rows), SW_OK);
    assert_memory_equal(read, steps, sizeof steps);
    assert_int_equal(sw_setup_number(context, setup, "pit.temperature", &number), SW_ERR_ARGUMENT);
    assert_int_equal(sw_setup_set_list(context, setup, "pit.lid.openings", 2, openings), SW_OK);
    assert_true(s->pit.opening_count == 2 && s->pit.openings[1] == 7200.0);
    assert_int_equal(sw_setup_set_list(context, setup, "meat.outline", 4, corners), SW_OK);
    assert_int_equal(sw_setup_list(context, setup, "meat.outline", 8, read, &rows), SW_OK);
    assert_memory_equal(read, corners, sizeof corners);
    assert_int_equal(sw_setup_set_word(context, setup, "pit.convection", "usual"), SW_OK);
    assert_true(s->pit.convection == SW_USUAL);
    assert_int_equal(sw_setup_number(context, setup, "pit.convection", &number), SW_ERR_ARGUMENT);
    said("usual, which is no number");
    assert_int_equal(sw_setup_word(context, setup, "pit.convection", &word), SW_OK);
    assert_string_equal(word, "usual");
    assert_int_equal(sw_setup_set_ending(context, setup, "hold.until", "clock", 12.0 * 3600.0), SW_OK);
    assert_true(s->hold.until.kind == SW_ENDING_CLOCK && s->hold.until.value == 12.0 * 3600.0);
    assert_int_equal(sw_setup_check(context, setup), SW_ERR_RANGE);
    said("meat.shape is slab; it must be outline");
    assert_int_equal(sw_setup_set_list(context, setup, "meat.outline", 0, NULL), SW_OK);
    if (sw_setup_check(context, setup) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    sw_setup_destroy(setup);
}

static void probes_are_put_by_name(void **state)
{
    (void)state;
    static const char *const names[] = {"flat", "point", "flat", "", "a name that is longer than is allowed"};
    static const double places[] = {0.1, 0.03, 0.3, 0.04, 0.2, 0.02}, far[] = {0.1, 2.5};
    const char *name = NULL;
    double along, up = -1.0;
    sw_setup *setup = coarse_setup();
    assert_int_equal(sw_setup_probe_count(setup), 0);
    assert_int_equal(sw_setup_set_word(context, setup, "meat.shape", "packer"), SW_OK);
    assert_int_equal(sw_setup_set_probes(context, setup, 2, names, places), SW_OK);
    assert_int_equal(sw_setup_set_probes(context, setup, 3, names, places), SW_ERR_ARGUMENT);
    said("two probes have the name \"flat\"");
    assert_int_equal(sw_setup_set_probes(context, setup, 1, names + 3, places), SW_ERR_ARGUMENT);
    said("probe 1 has 0 bytes; allowed are 1 to 31");
    assert_int_equal(sw_setup_set_probes(context, setup, 1, names + 4, places), SW_ERR_ARGUMENT);
    assert_int_equal(sw_setup_set_probes(context, setup, 1, names, far), SW_ERR_RANGE);
    said("\"flat\" is 2.5 m up; allowed -1 m to 2 m");
    assert_int_equal(sw_setup_set_probes(context, setup, SW_PROBES_MAX + 1, names, places), SW_ERR_RANGE);
    assert_int_equal(sw_setup_probe(context, setup, 2, &name, &along, &up), SW_ERR_RANGE);
    assert_null(name);
    assert_int_equal(sw_setup_probe_count(setup), 2);
    assert_int_equal(sw_setup_probe(context, setup, 1, &name, &along, &up), SW_OK);
    assert_string_equal(name, "point");
    assert_true(along == 0.3 && up == 0.04);
    assert_true(sw_setup_scenario(setup)->meat.probe_count == 2 && sw_setup_scenario(setup)->meat.probes[0].across == 0.1);
    assert_int_equal(sw_setup_set_probes(context, setup, 0, NULL, NULL), SW_OK);
    assert_int_equal(sw_setup_probe_count(setup), 0);
    sw_setup_destroy(setup);
}

static void what_is_wrong_is_refused(void **state)
{
    (void)state;
    double values[3] = {1.0, 1.0, 1.0}, number = -1.0;
    size_t rows;
    sw_setup *setup = coarse_setup();
    const sw_scenario before = *sw_setup_scenario(setup);
    assert_int_equal(sw_setup_set_number(context, setup, "meat.colour", 1.0), SW_ERR_ARGUMENT);
    said("\"meat.colour\" is no key");
    assert_int_equal(sw_setup_set_number(context, setup, "pit.temperature", 2000.0), SW_ERR_RANGE);
    said("pit.temperature");
    assert_int_equal(sw_setup_set_word(context, setup, "wrap.kind", "wool"), SW_ERR_ARGUMENT);
    said("allowed none, paper");
    assert_int_equal(sw_setup_set_word(context, setup, "meat.mass", "usual"), SW_ERR_ARGUMENT);
    assert_int_equal(sw_setup_set_ending(context, setup, "pull", "soon", 1.0), SW_ERR_ARGUMENT);
    said("\"soon\"");
    assert_int_equal(sw_setup_set_ending(context, setup, "pull", "temperature", 2000.0), SW_ERR_RANGE);
    assert_int_equal(sw_setup_set_list(context, setup, "meat.mass", 1, values), SW_ERR_ARGUMENT);
    assert_int_equal(sw_setup_set_list(context, setup, "pit.temperature", 0, values), SW_ERR_RANGE);
    assert_int_equal(sw_setup_set_list(context, setup, "pit.lid.openings", SW_PIT_OPENINGS_MAX + 1, values), SW_ERR_RANGE);
    assert_int_equal(sw_setup_set_list(context, setup, "meat.outline", SW_OUTLINE_MAX + 1, values), SW_ERR_RANGE);
    assert_int_equal(sw_setup_list(context, setup, "title", 3, values, &rows), SW_ERR_ARGUMENT);
    assert_int_equal(sw_setup_number(NULL, setup, "title", &number), SW_ERR_ARGUMENT);
    assert_true(number == -1.0);
    assert_memory_equal(&before, sw_setup_scenario(setup), sizeof before);
    sw_setup_destroy(setup);
}

static int count_calls(double time, double probe_temperature, void *data)
{
    assert_true(time >= 0.0 && probe_temperature > 250.0);
    ++*(int *)data;
    return 0;
}

static int cancel(double time, double probe_temperature, void *data)
{
    (void)probe_temperature;
    (void)data;
    return time > 3600.0;
}

static void a_cook_tells_what_the_structs_hold(void **state)
{
    (void)state;
    sw_setup *setup = coarse_setup();
    sw_cooked *cooked = NULL;
    sw_history *history;
    sw_outcome outcome;
    int calls = 0;
    double value;
    const double *values;
    size_t length;
    const char *word;
    assert_int_equal(sw_setup_cook(context, setup, cancel, NULL, &cooked), SW_ERR_CANCELLED);
    assert_null(cooked);
    assert_int_equal(sw_setup_cook(context, setup, count_calls, &calls, &cooked), SW_OK);
    assert_true(calls > 10);
    assert_int_equal(sw_cook_run(context, sw_setup_scenario(setup), NULL, NULL, &history), SW_OK);
    sw_outcome_evaluate(history, &outcome);
    const struct {
        const char *name;
        double expected;
    } some[] = {{"done_time", outcome.done_time},
                {"unmet_rules", outcome.unmet_rules},
                {"at_pull.evaporated_mass", outcome.at_pull.evaporated_mass},
                {"at_end.water_residual", outcome.at_end.water_residual},
                {"top.bark", outcome.sides[SW_SIDE_TOP].bark},
                {"bottom.softening", outcome.sides[SW_SIDE_BOTTOM].softening}};
    for (size_t i = 0; i < sizeof some / sizeof *some; i++) {
        assert_int_equal(sw_cooked_figure(context, cooked, some[i].name, &value), SW_OK);
        assert_true(value == some[i].expected);
    }
    for (size_t i = 0; i < sw_cooked_figure_count(); i++) {
        const char *name = sw_cooked_figure_name(i);
        assert_int_equal(sw_cooked_figure(context, cooked, name, &value), SW_OK);
        assert_true(*sw_cooked_figure_unit(name) && *sw_cooked_figure_meaning(name));
    }
    for (size_t i = 0; i < sw_cooked_curve_count(); i++) {
        const char *name = sw_cooked_curve_name(i);
        assert_int_equal(sw_cooked_curve(context, cooked, name, &values, &length), SW_OK);
        assert_int_equal(length, history->row_count);
        assert_memory_equal(values, history->series[i], length * sizeof *values);
        assert_true(*sw_cooked_curve_unit(name) && *sw_cooked_curve_meaning(name));
    }
    assert_int_equal(sw_cooked_curve(context, cooked, "probe_1_temperature", &values, &length), SW_OK);
    assert_memory_equal(values, history->probe_series[0], length * sizeof *values);
    assert_int_equal(sw_cooked_curve(context, cooked, "probe_2_temperature", &values, &length), SW_ERR_ARGUMENT);
    assert_int_equal(sw_cooked_word(context, cooked, "tenderness", &word), SW_OK);
    assert_string_equal(word, sw_tenderness_name(outcome.tenderness));
    assert_int_equal(sw_cooked_word(context, cooked, "top_state_at_pull", &word), SW_OK);
    assert_string_equal(word, sw_surface_state_name(outcome.top_state_at_pull));
    assert_int_equal(sw_cooked_word(context, cooked, "colour", &word), SW_ERR_ARGUMENT);
    assert_int_equal(sw_cooked_figure(context, cooked, "colour", &value), SW_ERR_ARGUMENT);
    assert_null(sw_cooked_figure_unit("colour"));
    sw_history_destroy(history);
    sw_cooked_destroy(cooked);
    sw_setup_destroy(setup);
}

typedef struct taken {
    size_t good, failed, stop_after;
    double done[3];
} taken;

static int take(size_t number, const sw_cooked *cooked, const char *failure, void *data)
{
    taken *t = data;
    assert_true((cooked == NULL) == (failure != NULL));
    if (cooked) {
        assert_int_equal(sw_cooked_figure(NULL, cooked, "done_time", &t->done[number]), SW_OK);
        t->good++;
    } else {
        assert_non_null(strstr(failure, "pit"));
        t->failed++;
    }
    return t->good + t->failed == t->stop_after;
}

static void many_are_taken_one_by_one(void **state)
{
    (void)state;
    sw_setup *setups[3];
    taken t = {0}, stopped = {.stop_after = 1};
    sw_cooked *alone;
    double done;
    for (size_t i = 0; i < 3; i++) {
        setups[i] = coarse_setup();
        assert_int_equal(sw_setup_set_number(context, setups[i], "pit.temperature", i == 1 ? 330.0 : 390.0 + 10.0 * (double)i), SW_OK);
    }
    const sw_setup *const all[] = {setups[0], setups[1], setups[2]};
    assert_int_equal(sw_setups_cook(context, 3, all, 2, take, &t), SW_OK);
    assert_true(t.good == 2 && t.failed == 1 && t.done[0] > t.done[2]);
    assert_int_equal(sw_setup_cook(context, setups[2], NULL, NULL, &alone), SW_OK);
    assert_int_equal(sw_cooked_figure(context, alone, "done_time", &done), SW_OK);
    assert_true(done == t.done[2]);
    sw_cooked_destroy(alone);
    assert_int_equal(sw_setups_cook(context, 3, all, 1, take, &stopped), SW_ERR_CANCELLED);
    assert_int_equal(stopped.good + stopped.failed, 1);
    assert_int_equal(sw_setups_cook(context, 3, all, 0, take, &t), SW_ERR_ARGUMENT);
    for (size_t i = 0; i < 3; i++)
        sw_setup_destroy(setups[i]);
}

static void an_account_tells_what_the_explanation_holds(void **state)
{
    (void)state;
    sw_setup *setup = coarse_setup();
    sw_account *account;
    sw_explanation *explanation;
    const sw_cooked *cooked;
    double value, hours[SW_HEAT_HOURS_MAX];
    size_t count;
    assert_int_equal(sw_setup_explain(context, setup, &account), SW_OK);
    assert_int_equal(sw_explain(context, sw_setup_scenario(setup), NULL, &explanation), SW_OK);
    assert_string_equal(sw_account_ending(account), sw_stall_ending_name(explanation->ending));
    assert_int_equal(sw_account_cook(context, account, "planned", &cooked), SW_OK);
    assert_int_equal(sw_cooked_figure(context, cooked, "done_time", &value), SW_OK);
    assert_true(value == explanation->cook.outcome.done_time);
    for (size_t i = 1; i < sw_account_cook_count(); i++) {
        const sw_changed_cook *changed = &explanation->changed[i - 1];
        assert_int_equal(sw_account_cook(context, account, sw_account_cook_name(i), &cooked), SW_OK);
        assert_true((cooked != NULL) == (!changed->is_no_change && changed->run.status == SW_OK));
        if (!cooked)
            continue;
        assert_int_equal(sw_cooked_figure(context, cooked, "done_time", &value), SW_OK);
        assert_true(value == changed->run.outcome.done_time);
    }
    assert_int_equal(sw_account_hours(context, account, "evaporation", SW_HEAT_HOURS_MAX, hours, &count), SW_OK);
    assert_int_equal(count, explanation->heat.count);
    for (size_t i = 0; i < count; i++)
        assert_true(hours[i] == explanation->heat.heat[i].item[SW_HEAT_evaporation]);
    assert_int_equal(sw_account_hours(context, account, "probe", SW_HEAT_HOURS_MAX, hours, &count), SW_OK);
    assert_true(hours[count - 1] == explanation->heat.probe[count - 1]);
    hours[0] = -1.0;
    assert_int_equal(sw_account_hours(context, account, "end", count - 1, hours, &count), SW_OK);
    assert_true(hours[0] == -1.0 && count == explanation->heat.count);
    assert_int_equal(sw_account_hours(context, account, "colour", SW_HEAT_HOURS_MAX, hours, &count), SW_ERR_ARGUMENT);
    assert_int_equal(sw_account_cook(context, account, "colour", &cooked), SW_ERR_ARGUMENT);
    sw_explanation_destroy(explanation);
    sw_account_destroy(account);
    sw_setup_destroy(setup);
}

static void versions_compare(void **state)
{
    (void)state;
    assert_true(SW_VERSION_AT_LEAST(SW_VERSION_MAJOR, SW_VERSION_MINOR, SW_VERSION_PATCH));
    assert_true(SW_VERSION_AT_LEAST(0, 0, 99));
    assert_false(SW_VERSION_AT_LEAST(SW_VERSION_MAJOR, SW_VERSION_MINOR, SW_VERSION_PATCH + 1));
    assert_false(SW_VERSION_AT_LEAST(SW_VERSION_MAJOR, SW_VERSION_MINOR + 1, 0));
    assert_false(SW_VERSION_AT_LEAST(SW_VERSION_MAJOR + 1, 0, 0));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_key_is_set_and_read),
        cmocka_unit_test(values_reach_the_scenario),
        cmocka_unit_test(probes_are_put_by_name),
        cmocka_unit_test(what_is_wrong_is_refused),
        cmocka_unit_test(a_cook_tells_what_the_structs_hold),
        cmocka_unit_test(many_are_taken_one_by_one),
        cmocka_unit_test(an_account_tells_what_the_explanation_holds),
        cmocka_unit_test(versions_compare),
    };
    return cmocka_run_group_tests(tests, make_context, destroy_context);
}
