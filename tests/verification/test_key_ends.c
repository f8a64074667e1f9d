/* SPDX-License-Identifier: BSD-3-Clause */
/* Every key of a scenario at both ends of its range, with every wrap and shape: each cook runs to its end with finite figures,
 * or is refused in a sentence that names a key. The rows come from the table of keys; the grid is coarse and the cook short. */
#include "close.h"
#include "key_table.h"

#include <stallwright/everything.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double hour = 3600.0, zero_celsius = 273.15;

static sw_ending after(double seconds)
{
    return (sw_ending){SW_ENDING_DURATION, seconds};
}

/* A short cook that uses what it can: a damp pit that is opened, a pan, spritz, liquid, pouring, a second wrap, a
 * box, the cooling pit. */
static sw_scenario full_scenario(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.meat.initial_temperature = zero_celsius + 30.0;
    s.pit.humidity = SW_HUMIDITY_BALANCE;
    s.pit.convection = 0.0;
    s.pit.steps[0].temperature = zero_celsius + 140.0;
    s.pit.opening_count = 1;
    s.pit.openings[0] = 0.05 * hour;
    s.pit.pan_area = 0.02;
    s.spritz.amount = 0.02;
    s.spritz.from = 0.1 * hour;
    s.wrap.when = after(0.15 * hour);
    s.wrap.liquid = 0.05;
    s.wrap.pour = SW_POUR_OVER;
    s.wrap.pour_when = after(0.25 * hour);
    s.rewrap.when = after(0.35 * hour);
    s.pull = after(0.5 * hour);
    s.rest.until = s.hold.until = s.cooling.until = after(0.1 * hour);
    s.rest.kind = SW_PLACE_BOX;
    s.hold.kind = SW_PLACE_COOLING_PIT;
    return s;
}

static void shape_scenario(sw_shape shape, sw_scenario *s)
{
    static const double corners[][2] = {{0.0, 0.0}, {0.2, 0.0}, {0.16, 0.06}, {0.02, 0.05}};
    s->meat.shape = shape;
    s->solver.cells = 12;
    s->solver.rows = s->solver.columns = 8;
    s->solver.surface_cell = 0.001;
    s->solver.relative_tolerance = 1e-4;
    if (shape == SW_SHAPE_OUTLINE) {
        s->meat.outline_count = sizeof corners / sizeof *corners;
        memcpy(s->meat.outline, corners, sizeof corners);
    }
}

/* All times by a factor, so that two dimensions, fine grids and tight tolerances are quick too. */
static void shorten(sw_scenario *s, double factor)
{
    double *const times[] = {&s->pit.openings[0],   &s->spritz.from,       &s->wrap.when.value, &s->wrap.pour_when.value,
                             &s->rewrap.when.value, &s->pull.value,        &s->rest.until.value, &s->hold.until.value,
                             &s->cooling.until.value};
    for (size_t i = 0; i < sizeof times / sizeof *times; i++)
        *times[i] *= factor;
}

/* Names, servings and what counts as a stall do nothing to the meat: one shape will do. */
static bool is_of_no_shape(const sw_scenario_key *key)
{
    return key->type == SW_KEY_TEXT || strncmp(key->name, "serving.", 8) == 0 || strncmp(key->name, "stall.", 6) == 0;
}

/* Values of one key. */
enum { WAYS_MAX = 10 };

typedef struct ways {
    size_t count;
    char name[WAYS_MAX][32];
    sw_scenario scenario[WAYS_MAX];
} ways;

static void *field_of(sw_scenario *s, const sw_scenario_key *key)
{
    return sw_key_field(key, s);
}

static sw_scenario *add(ways *w, const sw_scenario *base, const char *name)
{
    sw_scenario *s = &w->scenario[w->count];
    assert_true(w->count < WAYS_MAX);
    *s = *base;
    snprintf(w->name[w->count++], sizeof w->name[0], "%s", name);
    return s;
}

static void add_endings(ways *w, const sw_scenario *base, const sw_scenario_key *key)
{
    const sw_ending_limits *l = &key->ending;
    const sw_ending endings[] = {
        {SW_ENDING_PROBE_TEMPERATURE, l->temperature.minimum}, {SW_ENDING_PROBE_TEMPERATURE, l->temperature.maximum},
        {SW_ENDING_DURATION, l->duration.minimum}, {SW_ENDING_CLOCK, 0.0}, {SW_ENDING_NONE, 0.0}, {SW_ENDING_BARK, 0.0}};
    static const char *const names[] = {"coldest", "hottest", "soonest", "midnight", "none", "bark"};
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++)
        *(sw_ending *)field_of(add(w, base, names[i]), key) = endings[i];
}

static void add_list(ways *w, const sw_scenario *base, const sw_scenario_key *key)
{
    const double ends[] = {key->range.minimum, key->range.maximum};
    for (int i = 0; i < 2; i++) {
        sw_scenario *s = add(w, base, i == 0 ? "lowest" : "highest");
        if (key->type == SW_KEY_SCHEDULE) {
            s->pit.steps[0].temperature = ends[i];
        } else if (key->type == SW_KEY_TIMES) {
            s->pit.opening_count = 1;
            s->pit.openings[0] = ends[i];
        } else if (key->type == SW_KEY_LEARNED) {
            s->pit.learned = (sw_pit_learned){10, i == 0 ? -15.0 : 15.0, 2.0, i == 0 ? 4.0 : 25.0, 1.1, i == 0 ? 0.01 : 0.2, 1.2, -0.5, 0.0, 0.1};
        } else if (key->type == SW_KEY_OUTLINE) {
            s->meat.outline_count = 3;
            memcpy(s->meat.outline, (double[3][2]){{0.0, 0.0}, {0.1, 0.0}, {ends[i], ends[i]}}, 6 * sizeof(double));
        } else {
            s->meat.probe_count = 1;
            s->meat.probes[0] = (sw_probe_place){"tip", ends[i], ends[i]};
        }
    }
}

/* Fractions of a composition: the others make room. */
static void set_number(sw_scenario *s, const sw_scenario_key *key, double value)
{
    double *number = field_of(s, key);
    sw_composition *c = &s->meat.composition;
    if (strncmp(key->name, "meat.composition.", 17) == 0) {
        const double share = (1.0 - value) / (1.0 - *number);
        double *const all[] = {&c->water, &c->protein, &c->fat, &c->carbohydrate, &c->ash};
        for (size_t i = 0; i < sizeof all / sizeof *all; i++)
            *all[i] *= share;
    }
    *number = value;
}

static void find_ways(ways *w, const sw_scenario *base, const sw_scenario_key *key)
{
    w->count = 0;
    switch (key->type) {
    case SW_KEY_TEXT:
        memset(field_of(add(w, base, "empty"), key), 0, SW_TEXT_MAX);
        break;
    case SW_KEY_CHOICE:
        for (int i = 0; i < key->choice_count; i++)
            *(int *)field_of(add(w, base, key->choice_name(i)), key) = i;
        break;
    case SW_KEY_SWITCH:
        for (int i = 0; i < 2; i++)
            *(bool *)field_of(add(w, base, i ? "yes" : "no"), key) = i;
        break;
    case SW_KEY_WHOLE:
        *(int *)field_of(add(w, base, "lowest"), key) = (int)key->range.minimum;
        *(int *)field_of(add(w, base, "highest"), key) = (int)key->range.maximum;
        break;
    case SW_KEY_VALUE:
        set_number(add(w, base, "lowest"), key, key->range.minimum);
        set_number(add(w, base, "highest"), key, key->range.maximum);
        break;
    case SW_KEY_ENDING:
        add_endings(w, base, key);
        break;
    default:
        add_list(w, base, key);
    }
}

static bool is_finite_throughout(const sw_history *h)
{
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        for (size_t row = 0; row < h->row_count; row++)
            if (!isfinite(h->series[i][row]))
                return false;
    return true;
}

/* A refusal names a key: what is typed, what is allowed. */
static bool is_proper(sw_status status, const char *sentence)
{
    /* The solver itself may only ask for a tighter tolerance, which a cook so short and coarse needs now and then. */
    const bool asks = status == SW_ERR_SOLVER && strstr(sentence, "is too loose for this cook");
    if (status != SW_ERR_RANGE && status != SW_ERR_ARGUMENT && status != SW_ERR_NEVER_ENDS && !asks)
        return false;
    if (strstr(sentence, "nan") || strstr(sentence, "inf"))
        return false;
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        if (strstr(sentence, sw_scenario_key_at(i)->name))
            return true;
    return strstr(sentence, "meat.composition") || strstr(sentence, "probe \"tip\"");
}

static sw_context *context;
static size_t runs, refusals, failures;

static void try(const sw_scenario *s, const char *key, const char *way)
{
    sw_history *h = NULL;
    const sw_status status = sw_cook_run(context, s, NULL, NULL, &h);
    const bool good = status == SW_OK ? is_finite_throughout(h) : is_proper(status, sw_context_message(context));
    *(status == SW_OK ? &runs : &refusals) += 1;
    if (!good) {
        failures++;
        print_error("  %s %s, %s, %s: %s\n", key, way, sw_shape_name(s->meat.shape), sw_wrap_name(s->wrap.kind),
                    status == SW_OK ? "a figure is not finite" : sw_context_message(context));
    }
    sw_history_destroy(h);
}

static void test_every_key_at_both_ends(void **state)
{
    (void)state;
    ways *w = malloc(sizeof *w);
    assert_non_null(w);
    for (int shape = 0; shape < SW_SHAPE_COUNT; shape++)
        for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++)
            for (size_t i = 0; i < sw_scenario_key_count(); i++) {
                const sw_scenario_key *key = sw_scenario_key_at(i);
                if (shape > 0 && is_of_no_shape(key))
                    continue;
                sw_scenario base = full_scenario();
                if (strncmp(key->name, "pit.cycle.", 10) == 0)
                    base.pit.cycle_swing = 5.0;
                base.wrap.kind = (sw_wrap_kind)wrap;
                base.rewrap.kind = (sw_wrap_kind)((wrap + 1) % SW_WRAP_COUNT);
                if (wrap == SW_WRAP_PAPER) /* the tray is the second wrap */
                    base.wrap.pour_when = after(0.4 * hour);
                shape_scenario((sw_shape)shape, &base);
                if (sw_shape_is_section(base.meat.shape))
                    shorten(&base, 0.25);
                if (strncmp(key->name, "solver.", 7) == 0)
                    shorten(&base, 0.1);
                find_ways(w, &base, key);
                /* In one dimension everything with everything; in two each way of a key with one wrap, in turn. */
                for (size_t k = 0; k < w->count; k++)
                    if (!sw_shape_is_section(base.meat.shape) || (i + k + (size_t)shape) % SW_WRAP_COUNT == (size_t)wrap)
                        try(&w->scenario[k], key->name, w->name[k]);
            }
    assert_true(runs > 3 * refusals);
    print_message("  %zu cooks ran, %zu were refused\n", runs, refusals);
    free(w);
    assert_int_equal(failures, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_every_key_at_both_ends)};
    if (sw_context_create(&context) != SW_OK)
        return 1;
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    sw_context_destroy(context);
    return failed;
}
