/* SPDX-License-Identifier: BSD-3-Clause */
/* Every key is set and read by its name in SI units and words, round and back, and refuses what it may not hold; every key, also a
 * list, is told from another value and copied alone. */
#include "close.h"
#include "shared_context.h"

#include <stallwright/scenario_keys.h>

#include <math.h>
#include <string.h>

static const sw_scenario nothing;

static sw_scenario defaults(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    return s;
}

static bool holds_number(const sw_scenario_key *key)
{
    return key->type == SW_KEY_VALUE || key->type == SW_KEY_WHOLE || key->type == SW_KEY_SCHEDULE;
}

static bool holds_word(const sw_scenario_key *key)
{
    return key->type == SW_KEY_TEXT || key->type == SW_KEY_CHOICE || key->type == SW_KEY_SWITCH;
}

/* The sentence of the last error begins with the name of the key. */
static void assert_named(const sw_scenario_key *key)
{
    const char *said = sw_context_message(context);
    if (strncmp(said, key->name, strlen(key->name)) != 0)
        fail_msg("\"%s\" does not begin with %s", said, key->name);
}

static void assert_refuses_number(const sw_scenario_key *key, double number, sw_status expected)
{
    sw_scenario s = defaults(), before = s;
    const sw_status status = sw_scenario_set_number(context, &s, key->name, number);
    if (status != expected)
        fail_msg("%s takes %g: %d", key->name, number, (int)status);
    assert_named(key);
    assert_true(sw_scenario_key_same(key, &s, &before));
}

static void test_numbers(void **state)
{
    (void)state;
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        if (!holds_number(key)) {
            double number = 7.0;
            assert_refuses_number(key, 1.0, SW_ERR_ARGUMENT);
            sw_scenario s = defaults();
            assert_int_equal(sw_scenario_number(context, &s, key->name, &number), SW_ERR_ARGUMENT);
            assert_true(number == 7.0);
            continue;
        }
        const sw_range r = key->range;
        const double middle = key->type == SW_KEY_WHOLE ? floor(0.5 * (r.minimum + r.maximum)) : 0.37 * r.minimum + 0.63 * r.maximum;
        const double values[] = {r.minimum, middle, r.maximum};
        for (size_t k = 0; k < 3; k++) {
            sw_scenario s = defaults();
            double number = NAN;
            if (sw_scenario_set_number(context, &s, key->name, values[k]) != SW_OK)
                fail_msg("%s", sw_context_message(context));
            assert_int_equal(sw_scenario_number(context, &s, key->name, &number), SW_OK);
            if (number != values[k])
                fail_msg("%s is %g, not %g", key->name, number, values[k]);
        }
        const double step = key->type == SW_KEY_WHOLE ? 1.0 : 0.01 * (r.maximum - r.minimum);
        assert_refuses_number(key, r.minimum - step, SW_ERR_RANGE);
        assert_refuses_number(key, r.maximum + step, SW_ERR_RANGE);
        assert_refuses_number(key, NAN, SW_ERR_RANGE);
        if (key->type == SW_KEY_WHOLE)
            assert_refuses_number(key, middle + 0.5, SW_ERR_RANGE);
    }
}

/* The field of a number is the one that its name says, and no other. */
static void test_fields(void **state)
{
    (void)state;
    sw_scenario s = defaults();
    assert_int_equal(sw_scenario_set_number(context, &s, "pit.wall_offset", 12.0), SW_OK);
    assert_true(s.pit.wall_offset == 12.0);
    assert_int_equal(sw_scenario_set_number(context, &s, "hold.room_temperature", 290.0), SW_OK);
    assert_true(s.hold.room_temperature == 290.0 && s.rest.room_temperature == 293.15);
    assert_int_equal(sw_scenario_set_number(context, &s, "pit.pieces", 3.0), SW_OK);
    assert_true(s.pit.pieces == 3.0);
    assert_int_equal(sw_scenario_set_word(context, &s, "wrap.kind", "closed-foil"), SW_OK);
    assert_int_equal(s.wrap.kind, SW_WRAP_CLOSED_FOIL);
    assert_int_equal(sw_scenario_set_word(context, &s, "rest.keep_wrap", "no"), SW_OK);
    assert_false(s.rest.keep_wrap);
    assert_true(s.hold.keep_wrap);
    assert_int_equal(sw_scenario_set_ending(context, &s, "wrap.when", (sw_ending){SW_ENDING_DURATION, 7200.0}), SW_OK);
    assert_int_equal(s.wrap.when.kind, SW_ENDING_DURATION);
}

static void test_a_schedule_is_a_number_while_it_has_one_step(void **state)
{
    (void)state;
    sw_scenario s = defaults();
    double number = 0.0;
    s.pit.step_count = 2;
    s.pit.is_log = true;
    s.pit.steps[1] = (sw_pit_step){.start = 3600.0, .temperature = 400.0};
    assert_int_equal(sw_scenario_number(context, &s, "pit.temperature", &number), SW_ERR_ARGUMENT);
    assert_string_equal(sw_context_message(context), "pit.temperature has 2 steps and is not one number");
    assert_int_equal(sw_scenario_set_number(context, &s, "pit.temperature", 380.0), SW_OK);
    assert_int_equal(s.pit.step_count, 1);
    assert_false(s.pit.is_log);
    assert_true(s.pit.steps[0].temperature == 380.0 && s.pit.steps[0].start == 0.0 && s.pit.steps[1].temperature == 0.0);
}

static void test_one_mass_takes_the_place_of_the_other(void **state)
{
    (void)state;
    sw_scenario s = defaults();
    assert_int_equal(sw_scenario_set_number(context, &s, "meat.bought_mass", 8.0), SW_OK);
    assert_true(s.meat.mass == 0.0 && s.meat.bought_mass == 8.0);
    assert_int_equal(sw_scenario_set_number(context, &s, "meat.mass", 6.0), SW_OK);
    assert_true(s.meat.mass == 6.0 && s.meat.bought_mass == 0.0);
}

static void assert_word(const char *name, const char *word)
{
    sw_scenario s = defaults();
    const char *read = NULL;
    if (sw_scenario_set_word(context, &s, name, word) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    assert_int_equal(sw_scenario_word(context, &s, name, &read), SW_OK);
    assert_string_equal(read, word);
}

static void test_words(void **state)
{
    (void)state;
    char longest[SW_TEXT_MAX + 1];
    memset(longest, 'x', sizeof longest);
    longest[SW_TEXT_MAX] = '\0';
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        sw_scenario s = defaults(), before = s;
        const char *word = NULL;
        const sw_status wrong = sw_scenario_set_word(context, &s, key->name, holds_word(key) ? longest : "yes");
        assert_int_equal(wrong, key->type == SW_KEY_TEXT ? SW_ERR_RANGE : SW_ERR_ARGUMENT);
        assert_named(key);
        assert_true(sw_scenario_key_same(key, &s, &before));
        if (!holds_word(key)) {
            assert_int_equal(sw_scenario_word(context, &s, key->name, &word), SW_ERR_ARGUMENT);
            continue;
        }
        if (key->type == SW_KEY_TEXT)
            assert_word(key->name, "a \"supper\"");
        for (int choice = 0; key->type == SW_KEY_CHOICE && choice < key->choice_count; choice++) {
            assert_word(key->name, key->choice_name(choice));
            assert_non_null(strstr(sw_scenario_set_word(context, &s, key->name, "such") == SW_OK ? "" : sw_context_message(context),
                                   key->choice_name(choice)));
        }
        if (key->type == SW_KEY_SWITCH) {
            assert_word(key->name, "yes");
            assert_word(key->name, "no");
        }
    }
    longest[SW_TEXT_MAX - 1] = '\0';
    assert_word("title", longest);
}

/* Endings of every kind, and whether a key may hold them. */
static void test_endings(void **state)
{
    (void)state;
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        sw_scenario s = defaults(), before = s;
        sw_ending read = {SW_ENDING_NONE, 0.0};
        if (key->type != SW_KEY_ENDING) {
            assert_int_equal(sw_scenario_set_ending(context, &s, key->name, read), SW_ERR_ARGUMENT);
            assert_named(key);
            assert_int_equal(sw_scenario_ending(context, &s, key->name, &read), SW_ERR_ARGUMENT);
            continue;
        }
        const struct {
            sw_ending ending;
            sw_status status;
        } tries[] = {
            {{SW_ENDING_PROBE_TEMPERATURE, key->ending.temperature.minimum}, SW_OK},
            {{SW_ENDING_PROBE_TEMPERATURE, key->ending.temperature.maximum}, SW_OK},
            {{SW_ENDING_PROBE_TEMPERATURE, key->ending.temperature.maximum + 0.1}, SW_ERR_RANGE},
            {{SW_ENDING_DURATION, key->ending.duration.minimum}, SW_OK},
            {{SW_ENDING_DURATION, key->ending.duration.maximum + 1.0}, SW_ERR_RANGE},
            {{SW_ENDING_CLOCK, 43200.0}, SW_OK},
            {{SW_ENDING_CLOCK, -1.0}, SW_ERR_RANGE},
            {{SW_ENDING_CLOCK_ON_DAY, 129600.0}, SW_OK},
            {{SW_ENDING_BARK, 0.0}, key->ending.may_be_bark ? SW_OK : SW_ERR_ARGUMENT},
            {{SW_ENDING_USUAL, 0.0}, key->ending.may_be_usual ? SW_OK : SW_ERR_ARGUMENT},
        };
        for (size_t k = 0; k < sizeof tries / sizeof *tries; k++) {
            s = before;
            if (sw_scenario_set_ending(context, &s, key->name, tries[k].ending) != tries[k].status)
                fail_msg("%s: ending %zu: %s", key->name, k, sw_context_message(context));
            assert_int_equal(sw_scenario_ending(context, &s, key->name, &read), SW_OK);
            if (tries[k].status != SW_OK)
                assert_true(sw_scenario_key_same(key, &s, &before));
            else
                assert_true(read.kind == tries[k].ending.kind && read.value == tries[k].ending.value);
        }
    }
}

static void test_names(void **state)
{
    (void)state;
    sw_scenario s = defaults();
    double number;
    assert_null(sw_scenario_key_find("meat"));
    assert_null(sw_scenario_key_find(""));
    assert_int_equal(sw_scenario_set_number(context, &s, "meat.weight", 1.0), SW_ERR_ARGUMENT);
    assert_string_equal(sw_context_message(context), "\"meat.weight\" is no key of a scenario");
    assert_int_equal(sw_scenario_number(context, &s, "meat.weight", &number), SW_ERR_ARGUMENT);
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        assert_ptr_equal(sw_scenario_key_find(key->name), key);
        assert_int_equal(sw_scenario_key_number(key), i);
        assert_true(strlen(key->meaning) > 5 && strlen(key->name) < SW_KEY_NAME_SIZE);
    }
}

/* Another value of a key than the default. */
static void change(const sw_scenario_key *key, sw_scenario *s)
{
    double number = 0.0;
    const char *word;
    sw_ending ending;
    switch (key->type) {
    case SW_KEY_TEXT:
        assert_int_equal(sw_scenario_set_word(context, s, key->name, "another"), SW_OK);
        return;
    case SW_KEY_CHOICE:
        assert_int_equal(sw_scenario_word(context, s, key->name, &word), SW_OK);
        word = key->choice_name(strcmp(word, key->choice_name(0)) == 0 ? 1 : 0);
        assert_int_equal(sw_scenario_set_word(context, s, key->name, word), SW_OK);
        return;
    case SW_KEY_SWITCH:
        assert_int_equal(sw_scenario_word(context, s, key->name, &word), SW_OK);
        assert_int_equal(sw_scenario_set_word(context, s, key->name, strcmp(word, "yes") == 0 ? "no" : "yes"), SW_OK);
        return;
    case SW_KEY_WHOLE:
    case SW_KEY_VALUE:
        assert_int_equal(sw_scenario_number(context, s, key->name, &number), SW_OK);
        number = number == key->range.maximum ? key->range.minimum : key->range.maximum;
        assert_int_equal(sw_scenario_set_number(context, s, key->name, number), SW_OK);
        return;
    case SW_KEY_ENDING:
        ending = (sw_ending){SW_ENDING_CLOCK, 100.0};
        assert_int_equal(sw_scenario_set_ending(context, s, key->name, ending), SW_OK);
        return;
    case SW_KEY_SCHEDULE:
        s->pit.step_count = 2;
        s->pit.steps[1] = (sw_pit_step){.start = 60.0, .temperature = 350.0};
        return;
    case SW_KEY_TIMES:
        s->pit.opening_count = 2;
        s->pit.openings[1] = 60.0;
        return;
    case SW_KEY_OUTLINE:
        s->meat.outline_count = 3;
        s->meat.outline[2][1] = 0.05;
        return;
    case SW_KEY_LEARNED:
        s->pit.learned = (sw_pit_learned){2, -3.0, 2.0, 9.0, 1.1, 0.03, 1.2, -0.5, 0.0, 0.1};
        return;
    case SW_KEY_PROBES:
        s->meat.probe_count = 1;
        strcpy(s->meat.probes[0].name, "flat");
        return;
    }
}

/* A change of one key is seen in that key alone, and can be copied alone. */
static void test_same_and_copy(void **state)
{
    (void)state;
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        const bool mass = strcmp(key->name, "meat.bought_mass") == 0;
        sw_scenario before = defaults(), changed = before, copied = before;
        change(key, &changed);
        assert_false(sw_scenario_key_same(key, &before, &changed));
        sw_scenario_key_copy(key, &changed, &copied);
        for (size_t k = 0; k < sw_scenario_key_count(); k++) {
            const sw_scenario_key *other = sw_scenario_key_at(k);
            if (!sw_scenario_key_same(other, &changed, &copied))
                fail_msg("%s is not copied with %s", other->name, key->name);
            if (k != i && !(mass && strcmp(other->name, "meat.mass") == 0) && !sw_scenario_key_same(other, &before, &changed))
                fail_msg("%s changes with %s", other->name, key->name);
        }
    }
}

/* Lists differ in their last entry, and in how many there are. */
static void test_lists_are_told_apart(void **state)
{
    (void)state;
    const sw_scenario_key *key = sw_scenario_key_find("pit.temperature");
    sw_scenario one = nothing, other;
    one.pit.step_count = 2;
    one.pit.steps[1].temperature = 400.0;
    other = one;
    assert_true(sw_scenario_key_same(key, &one, &other));
    other.pit.steps[1].ramp = true;
    assert_false(sw_scenario_key_same(key, &one, &other));
    other = one;
    other.pit.steps[1].start = 1.0;
    assert_false(sw_scenario_key_same(key, &one, &other));
    other = one;
    other.pit.steps[2].temperature = 5.0; /* behind its end */
    assert_true(sw_scenario_key_same(key, &one, &other));
    key = sw_scenario_key_find("meat.probes");
    one.meat.probe_count = other.meat.probe_count = 1;
    other.meat.probes[0].height = 0.01;
    assert_false(sw_scenario_key_same(key, &one, &other));
}

/* Words of conditions, among them the names of the wraps that are so. */
static void test_conditions_in_words(void **state)
{
    (void)state;
    static const char *const rows_[][2] = {
        {"title", ""},
        {"pit.pieces", "pit.humidity is balance or pit.humidity_ratio usual"},
        {"wrap.paper.greasy", "wrap.kind or rewrap.kind is paper"},
        {"wrap.liquid", "wrap.kind or rewrap.kind is open-tray, closed-foil or covered-pan"},
        {"wrap.tray.rim", "meat.shape is in two dimensions and wrap.kind or rewrap.kind is open-tray or covered-pan"},
        {"cooling.loss", "cooling.until is not none and cooling.kind is box or cooling-pit"},
    };
    char text[SW_KEY_CONDITION_SIZE];
    for (size_t i = 0; i < sizeof rows_ / sizeof *rows_; i++)
        assert_string_equal(sw_scenario_key_condition(sw_scenario_key_find(rows_[i][0]), text), rows_[i][1]);
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        assert_true(strlen(sw_scenario_key_condition(sw_scenario_key_at(i), text)) < SW_KEY_CONDITION_SIZE - 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_numbers),
        cmocka_unit_test(test_fields),
        cmocka_unit_test(test_a_schedule_is_a_number_while_it_has_one_step),
        cmocka_unit_test(test_one_mass_takes_the_place_of_the_other),
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_endings),
        cmocka_unit_test(test_names),
        cmocka_unit_test(test_same_and_copy),
        cmocka_unit_test(test_lists_are_told_apart),
        cmocka_unit_test(test_conditions_in_words),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
