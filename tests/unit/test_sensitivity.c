/* SPDX-License-Identifier: BSD-3-Clause */
/* Sensitivity: differences of figures that are straight and bent by construction, how each uncertain input moves, and a cook
 * against the same scenario moved and run by hand. */
#include "close.h"

#include "coarse_cook.h"
#include "differences.h"
#include "run_cook.h"
#include "shared_context.h"
#include <stallwright/scenario_keys.h>

#include <math.h>
#include <string.h>

static const sw_scenario_key *input_of(const char *name)
{
    const sw_scenario_key *key = sw_scenario_key_find(name);
    if (!key || key->uncertain.kind == SW_UNCERTAINTY_NONE)
        fail_msg("%s is no uncertain input", name);
    return key;
}

/* y = a + b x + c x^2 at the steps: low and high are -b + c and b + c, both slopes b whatever c. With x^3 the slope is b + c
 * and the half slope b + c / 4. */
static void test_differences(void **state)
{
    (void)state;
    const double a = 5e4, b = 3e3, c = 400.0;
    double square[SW_STEP_COUNT], cube[SW_STEP_COUNT];
    for (int i = 0; i < SW_STEP_COUNT; i++) {
        const double x = sw_difference_steps[i];
        square[i] = a + b * x + c * x * x;
        cube[i] = a + b * x + c * x * x * x;
    }
    const sw_change bowl = sw_change_of(a, square), bent = sw_change_of(a, cube);
    assert_close_abs(bowl.low, -b + c, 1e-9);
    assert_close_abs(bowl.high, b + c, 1e-9);
    assert_close_abs(bowl.slope, b, 1e-9);
    assert_close_abs(bowl.half_slope, b, 1e-9);
    assert_close_abs(bent.slope, b + c, 1e-9);
    assert_close_abs(bent.half_slope, b + 0.25 * c, 1e-9);
}

/* Slopes differ by 0.75 c: a fifth of the slope allows that up to c = b * 0.2 / 0.55; below 2 min it never matters. */
static void test_straightness(void **state)
{
    static const struct {
        double slope, half_slope;
        sw_sensitive figure;
        bool straight;
    } rows[] = {
        {1000.0, 801.0, SW_SENSITIVE_done, true},    {1000.0, 799.0, SW_SENSITIVE_done, false},
        {-1000.0, -1199.0, SW_SENSITIVE_done, true}, {-1000.0, -1201.0, SW_SENSITIVE_stall, false},
        {100.0, 219.0, SW_SENSITIVE_done, true},     {100.0, 221.0, SW_SENSITIVE_done, false},
        {0.0, 0.0009, SW_SENSITIVE_yield, true},     {0.0, 0.0011, SW_SENSITIVE_yield, false},
        {SW_ABSENT, 1.0, SW_SENSITIVE_stall, false},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const sw_change c = {.slope = rows[i].slope, .half_slope = rows[i].half_slope};
        assert_int_equal(sw_change_is_straight(&c, rows[i].figure), rows[i].straight);
    }
}

/* Every input moves up by what its kind says, down and back, and both ways stay apart. */
static void test_every_input_moves(void **state)
{
    (void)state;
    for (size_t i = 0; i < sw_uncertain_input_count(); i++) {
        const sw_scenario_key *input = sw_uncertain_input_at(i);
        sw_scenario s = coarse_scenario(), up, down;
        const sw_uncertainty *by = sw_uncertain_input_given(input, &s);
        s.wrap.kind = SW_WRAP_PAPER;
        s.meat.thickness = 0.07;
        s.meat.fat_cap_thickness = 0.006;
        up = down = s;
        sw_uncertain_input_move(input, by, 2.0, &up);
        sw_uncertain_input_move(input, by, -2.0, &down);
        const double value = sw_uncertain_input_value(input, &s), high = sw_uncertain_input_value(input, &up);
        assert_close_rel(high, by->kind == SW_UNCERTAINTY_DIFFERENCE ? value + 2.0 * by->deviation
                               : by->kind == SW_UNCERTAINTY_SHARE    ? value * (1.0 + 2.0 * by->deviation)
                                                                     : value * by->deviation * by->deviation, 1e-12);
        assert_true(sw_uncertain_input_value(input, &down) < value && value < high);
        assert_true(by->deviation > 0.0 && (by->kind != SW_UNCERTAINTY_FACTOR || by->deviation > 1.0));
        sw_uncertain_input_move(input, by, -2.0, &up);
        if (by->kind != SW_UNCERTAINTY_SHARE)
            assert_close_rel(sw_uncertain_input_value(input, &up), value, 1e-12);
        assert_true(strlen(by->source) > 10);
    }
    assert_int_equal(sw_uncertain_input_quantity(input_of("wrap.when")), SW_QUANTITY_TEMPERATURE);
    assert_int_equal(sw_uncertain_input_quantity(input_of("pit.temperature")), SW_QUANTITY_TEMPERATURE);
    assert_int_equal(sw_uncertain_input_quantity(input_of("meat.thickness")), SW_QUANTITY_LENGTH);
}

/* The places of the uncertain inputs are 1, 2, 3, ..., each once, and no other key has one. */
static void test_places(void **state)
{
    (void)state;
    size_t of_place[64] = {0}, with_place = 0;
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_uncertainty *u = &sw_scenario_key_at(i)->uncertain;
        assert_int_equal(u->place > 0, u->kind != SW_UNCERTAINTY_NONE);
        if (u->place == 0)
            continue;
        assert_true(u->place < 64);
        assert_int_equal(of_place[u->place]++, 0);
        assert_ptr_equal(sw_uncertain_input_at((size_t)u->place - 1), sw_scenario_key_at(i));
        with_place++;
    }
    assert_int_equal(with_place, sw_uncertain_input_count());
    for (size_t place = 1; place <= with_place; place++)
        assert_int_equal(of_place[place], 1);
    assert_true(with_place > 20 && with_place <= SW_SENSITIVITY_ROWS_MAX);
}

static void move(const char *name, double deviations, const sw_scenario *stated, sw_scenario *moved)
{
    sw_uncertain_input_move(input_of(name), sw_uncertain_input_given(input_of(name), stated), deviations, moved);
}

/* Each moves its own field and, of the fields a cook reads, no other but those said here. */
static void test_what_moves_along(void **state)
{
    (void)state;
    sw_scenario s = coarse_scenario();
    s.pit.step_count = 2;
    s.pit.steps[1] = (sw_pit_step){.start = 7200.0, .temperature = 400.0};
    sw_scenario moved = s;
    move("pit.temperature", 1.0, &s, &moved);
    assert_close_abs(moved.pit.steps[0].temperature, s.pit.steps[0].temperature + 6.0, 1e-9);
    assert_close_abs(moved.pit.steps[1].temperature, 406.0, 1e-9);
    moved = s;
    move("meat.composition.fat", -0.5, &s, &moved);
    assert_close_abs(moved.meat.composition.fat, s.meat.composition.fat - 0.01, 1e-12);
    assert_close_abs(moved.meat.composition.water, s.meat.composition.water + 0.01, 1e-12);
    assert_int_equal(sw_scenario_check(context, &moved), SW_OK);
    moved = s;
    move("pull", 1.0, &s, &moved);
    assert_close_abs(moved.pull.value, s.pull.value + 1.5, 1e-9);
    moved = s;
    move("meat.mass", 1.0, &s, &moved);
    assert_close_rel(moved.meat.mass, 1.05 * s.meat.mass, 1e-12);
}

static bool counts(const char *key, const sw_scenario *s)
{
    return sw_uncertain_input_counts(input_of(key), s);
}

static void test_which_count(void **state)
{
    (void)state;
    sw_scenario s = coarse_scenario();
    sw_scenario_settle(&s);
    assert_true(counts("pit.convection", &s) && counts("pull", &s) && counts("meat.thickness", &s));
    assert_false(counts("wrap.when", &s) || counts("meat.fat_cap.thickness", &s) || counts("wrap.paper.permeance", &s));
    s.wrap.kind = SW_WRAP_PAPER;
    s.meat.fat_cap_thickness = 0.004;
    assert_true(counts("wrap.when", &s) && counts("meat.fat_cap.thickness", &s) && counts("wrap.paper.permeance", &s));
    assert_false(counts("wrap.foil.emissivity", &s) || counts("wrap.tray.convection", &s));
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 3600.0};
    s.pull = (sw_ending){SW_ENDING_DURATION, 36000.0};
    s.meat.thickness = 0.0;
    assert_false(counts("wrap.when", &s) || counts("pull", &s) || counts("meat.thickness", &s));
    s.wrap.kind = SW_WRAP_OPEN_TRAY;
    assert_true(counts("wrap.tray.resistance", &s));
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;
    assert_true(counts("wrap.foil.resistance", &s));
}

static sw_run cooked(const sw_scenario *scenario)
{
    sw_run run = {.scenario = *scenario};
    if (sw_run_cook(context, &run, NULL) != SW_OK)
        fail_msg("%s", run.failure);
    return run;
}

static const sw_sensitivity_row *row_of(const sw_sensitivity *s, const char *key)
{
    for (size_t i = 0; i < s->row_count; i++)
        if (strcmp(s->rows[i].input->name, key) == 0)
            return &s->rows[i];
    fail_msg("%s has no row", key);
    return NULL;
}

static void test_cooks_by_hand(void **state)
{
    (void)state;
    sw_scenario s = coarse_scenario();
    s.meat.thickness = 0.06;
    sw_scenario_settle(&s);
    sw_run base = cooked(&s);
    sw_sensitivity found;
    assert_int_equal(sw_sensitivity_find(context, &base, NULL, &found), SW_OK);
    static const double hotter[SW_STEP_COUNT] = {-6.0, -3.0, 3.0, 6.0};
    double done[SW_STEP_COUNT];
    for (int i = 0; i < SW_STEP_COUNT; i++) {
        sw_scenario by_hand = s;
        by_hand.pit.steps[0].temperature += hotter[i];
        done[i] = run_cook(&by_hand, NULL).done_time;
    }
    const sw_sensitivity_row *pit = row_of(&found, "pit.temperature");
    const sw_change *c = &pit->changes[SW_SENSITIVE_done];
    assert_close_abs(pit->high - pit->value, 6.0, 1e-9);
    assert_close_abs(pit->value - pit->low, 6.0, 1e-9);
    assert_close_abs(c->low, done[0] - base.outcome.done_time, 1e-6);
    assert_close_abs(c->high, done[3] - base.outcome.done_time, 1e-6);
    assert_close_abs(c->slope, 0.5 * (done[3] - done[0]), 1e-6);
    assert_close_abs(c->half_slope, done[2] - done[1], 1e-6);
    assert_true(c->low > 0.0 && c->high < 0.0);
    double squares = 0.0;
    for (size_t i = 0; i < found.row_count; i++)
        squares += pow(found.rows[i].changes[SW_SENSITIVE_yield].slope, 2.0);
    assert_close_rel(found.together[SW_SENSITIVE_yield], sqrt(squares), 1e-12);
    sw_run_free(&base);
}

/* In one dimension more mass of the same thickness is a wider cut, which cooks alike if it has no ends: nothing but round-off and, in steps of the
 * integrator, its tolerance. A thickness that was left open stays what the planned mass gave. */
static void test_mass_of_a_slab(void **state)
{
    (void)state;
    sw_scenario s = coarse_scenario();
    s.meat.has_edges = false;
    sw_run base = cooked(&s);
    sw_sensitivity found;
    assert_int_equal(sw_sensitivity_find(context, &base, NULL, &found), SW_OK);
    const sw_change *c = &row_of(&found, "meat.mass")->changes[SW_SENSITIVE_done];
    assert_close_abs(c->slope, 0.0, 60.0);
    assert_true(row_of(&found, "meat.thickness")->value > 0.0);
    sw_run_free(&base);
}

static bool after_two(void *data)
{
    const int *begun = data;
    return *begun == 2;
}

static void count_begun(const char *label, void *data)
{
    int *begun = data;
    assert_string_equal(label, "meat.mass");
    ++*begun;
}

static void test_failures(void **state)
{
    (void)state;
    sw_scenario s = coarse_scenario();
    sw_sensitivity found = {.row_count = 77};
    sw_run base = {.scenario = s, .status = SW_ERR_SOLVER};
    assert_int_equal(sw_sensitivity_find(context, &base, NULL, &found), SW_ERR_ARGUMENT);
    base = cooked(&s);
    int begun = 0;
    const sw_watch watch = {.begin = count_begun, .is_cancelled = after_two, .data = &begun};
    assert_int_equal(sw_sensitivity_find(context, &base, &watch, &found), SW_ERR_CANCELLED);
    assert_int_equal(found.row_count, 77);
    assert_int_equal(begun, 2);
    sw_run_free(&base);
    /* The meat is colder than a scenario may have it one deviation down: no figure there, and no slope. */
    s.meat.initial_temperature = 273.15 + 0.5;
    base = cooked(&s);
    assert_int_equal(sw_sensitivity_find(context, &base, NULL, &found), SW_OK);
    const sw_change *c = &row_of(&found, "meat.initial_temperature")->changes[SW_SENSITIVE_done];
    assert_true(SW_IS_ABSENT(c->low) && SW_IS_ABSENT(c->slope) && !SW_IS_ABSENT(c->high));
    assert_false(SW_IS_ABSENT(found.together[SW_SENSITIVE_done]));
    sw_run_free(&base);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_differences),      cmocka_unit_test(test_straightness), cmocka_unit_test(test_every_input_moves),
        cmocka_unit_test(test_places),
        cmocka_unit_test(test_what_moves_along), cmocka_unit_test(test_which_count),  cmocka_unit_test(test_cooks_by_hand),
        cmocka_unit_test(test_mass_of_a_slab),   cmocka_unit_test(test_failures),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
