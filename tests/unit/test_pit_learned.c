/* SPDX-License-Identifier: BSD-3-Clause */
/* What cooks tell of their pit: exact where the answer is known by hand, as wide as it is wrong where cooks are simulated, read back from its file. */
#include "close.h"

#include "error_model.h"
#include "estimate.h"
#include "shared_context.h"

#include <stallwright/everything.h>

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Of the key table and of population.c, again: deviations from cook to cook, the share of their variance that lies between pits. */
static const double spread_offset = 6.0, between = 0.7;

static sw_scenario open_scenario(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.rest.until.kind = s.hold.until.kind = s.cooling.until.kind = SW_ENDING_NONE;
    return s;
}

static size_t input_of(const sw_population *p, const char *name)
{
    size_t k = 0;
    while (strcmp(p->inputs[k].key->name, name) != 0)
        k++;
    return k;
}

/* A cook that is known so well, in normal coordinates: precision 1 tells nothing. */
static sw_track told_cook(double offset, double precision)
{
    sw_track t = {.used = 5};
    const sw_scenario s = open_scenario();
    assert_int_equal(sw_population_given(context, &s, &t.population), SW_OK);
    for (size_t k = 0; k < t.population.count; k++)
        t.precision[k * t.population.count + k] = precision;
    t.best[input_of(&t.population, "pit.temperature")] = offset / spread_offset;
    return t;
}

static void learn(const sw_track *t, sw_pit_learned *learned)
{
    sw_track_question q = {.scenario = open_scenario()};
    if (sw_track_learn(context, &q, t, learned) != SW_OK)
        fail_msg("%s", sw_context_message(context));
}

/* Means of a pit and its cooks, both normal (Gelman and others, Bayesian Data Analysis, 2.5; from memory): of n cooks known exactly the precision
 * is 1/tau2 + n/omega2, and the mean weighted so. */
static void test_exact(void **state)
{
    const double offsets[] = {-9.0, -3.0, -6.0, -5.0}, tau2 = between * 36.0, omega2 = (1.0 - between) * 36.0;
    sw_pit_learned l = {0};
    double sum = 0.0;
    (void)state;
    for (int n = 1; n <= 4; n++) {
        const sw_track t = told_cook(offsets[n - 1], 1e9);
        learn(&t, &l);
        sum += offsets[n - 1];
        const double precision = 1.0 / tau2 + n / omega2;
        assert_int_equal(l.cooks, n);
        assert_close_abs(l.offset_spread, 1.0 / sqrt(precision), 1e-5);
        assert_close_abs(l.offset, sum / omega2 / precision, 1e-5);
        assert_close_abs(log(l.convection_spread), log(1.24) / sqrt(precision * 36.0), 1e-6);
        assert_close_abs(l.offset_with_convection, 0.0, 1e-6);
    }
}

/* A cook known only as well as the population tells of it leaves the pit as it was. */
static void test_nothing_told(void **state)
{
    const sw_track t = told_cook(0.0, 1.0);
    sw_pit_learned l = {0};
    (void)state;
    learn(&t, &l);
    assert_close_abs(l.offset, 0.0, 1e-9);
    assert_close_abs(l.offset_spread, sqrt(between) * spread_offset, 1e-6);
    assert_close_abs(l.convection, t.population.inputs[input_of(&t.population, "pit.convection")].middle, 1e-9);
    assert_close_abs(log(l.humidity_ratio_spread), sqrt(between) * log(1.5), 1e-9);
    sw_track_question q = {.scenario = open_scenario()};
    const sw_track none = {.used = 0};
    assert_int_equal(sw_track_learn(context, &q, &none, &l), SW_ERR_ARGUMENT);
    assert_int_equal(l.cooks, 1);
}

/* A warmer pit or a stronger film: where only their sum is told, one makes up for the other. What the meat shares with them is no pit's. */
static void test_sums(void **state)
{
    sw_track t = told_cook(0.0, 1.0);
    const size_t n = t.population.count, i = input_of(&t.population, "pit.temperature"), j = input_of(&t.population, "pit.convection"),
                 m = input_of(&t.population, "meat.thickness");
    sw_pit_learned l = {0}, shared = {0};
    (void)state;
    t.precision[i * n + i] += 100.0;
    t.precision[j * n + j] += 100.0;
    t.precision[i * n + j] = t.precision[j * n + i] = 100.0;
    learn(&t, &l);
    assert_true(l.offset_with_convection < -0.2 && l.offset_spread < sqrt(between) * spread_offset);
    t = told_cook(0.0, 1.0);
    t.precision[i * n + i] += 100.0;
    t.precision[m * n + m] += 100.0;
    t.precision[i * n + m] = t.precision[m * n + i] = 100.0;
    learn(&t, &shared);
    /* By hand: of the sum known with precision 100 the offset alone keeps the variance 101/201, which readings of precision 100/101 would leave. */
    assert_close_abs(shared.offset_spread, 1.0 / sqrt(1.0 / (between * 36.0) + 1.0 / (36.0 * 1.01 + (1.0 - between) * 36.0)), 1e-6);
    assert_close_abs(shared.offset_with_convection, 0.0, 1e-9);
}

/* What was learned narrows the next cook's distribution: the pit's own spread and what comes again with each cook. */
static void test_taken(void **state)
{
    sw_scenario s = open_scenario();
    sw_population usual, known;
    (void)state;
    assert_int_equal(sw_population_given(context, &s, &usual), SW_OK);
    s.pit.learned = (sw_pit_learned){4, -5.0, 1.5, 8.0, 1.05, 0.03, 1.1, -0.4, 0.0, 0.0};
    assert_int_equal(sw_population_given(context, &s, &known), SW_OK);
    const sw_population_input *pit = &known.inputs[input_of(&known, "pit.temperature")], *film = &known.inputs[input_of(&known, "pit.convection")];
    assert_close_abs(pit->middle, s.pit.steps[0].temperature - 5.0, 1e-9);
    assert_close_abs(pit->spread, sqrt(1.5 * 1.5 + (1.0 - between) * 36.0), 1e-9);
    assert_close_abs(film->middle, 8.0, 1e-12);
    assert_close_abs(film->spread, hypot(log(1.05), sqrt(1.0 - between) * log(1.24)), 1e-12);
    assert_close_abs(known.inputs[input_of(&known, "meat.thickness")].spread, usual.inputs[input_of(&usual, "meat.thickness")].spread, 0.0);
    /* Correlated as learned: the root's rows have length 1. */
    const size_t i = input_of(&known, "pit.temperature"), j = input_of(&known, "pit.convection"), later = i > j ? i : j, sooner = i > j ? j : i;
    assert_close_abs(known.root[later][sooner], -0.4 * 1.5 * log(1.05) / (pit->spread * film->spread), 1e-9);
    assert_close_abs(hypot(known.root[later][sooner], known.root[later][later]), 1.0, 1e-9);
    /* Settled twice is settled once; a number of the author's goes before. */
    sw_scenario once = s, twice;
    sw_scenario_settle(&once);
    twice = once;
    sw_scenario_settle(&twice);
    assert_true(once.pit.steps[0].temperature == twice.pit.steps[0].temperature);
    s.pit.convection = 12.0;
    assert_int_equal(sw_population_given(context, &s, &known), SW_OK);
    assert_close_abs(known.inputs[input_of(&known, "pit.convection")].middle, 12.0, 1e-12);
}

/* ---- simulated cooks of one pit ---- */

enum { PITS = 3, COOKS = 10, READINGS = 14 };
static const double every = 1800.0;

static void simulate(const sw_population *p, const double *z, uint64_t number, sw_reading *list)
{
    double time[READINGS], temperature[READINGS], numbers[READINGS + 1], path[READINGS];
    sw_run run = {.label = "cook"};
    sw_population_scenario(p, z, &run.scenario);
    sw_population_coarsen(&run.scenario);
    run.scenario.solver.relative_tolerance = 1e-4;
    run.scenario.pull = (sw_ending){SW_ENDING_DURATION, every * (READINGS + 1)};
    if (sw_run_cook(context, &run, NULL) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    for (size_t i = 0; i <= READINGS; i++)
        numbers[i] = sw_random_normal(7, number, 100 + i);
    for (size_t i = 0; i < READINGS; i++) {
        time[i] = every * (double)(i + 1);
        temperature[i] = sw_curve_at(run.history->row_count, run.history->series[SW_SERIES_time], run.history->series[SW_SERIES_probe_temperature], time[i]);
    }
    sw_offset_path(READINGS, time, temperature, numbers, path);
    for (size_t i = 0; i < READINGS; i++)
        list[i] = (sw_reading){.time = time[i], .temperature = temperature[i] + path[i] + 1.0 * sw_random_normal(7, number, 200 + i)};
    sw_run_free(&run);
}

/* Ten cooks in a pit, which differs from others; how far the pit lies from where it is found, in told deviations. */
static double learn_pit(const sw_population *p, uint64_t pit, sw_pit_learned *l)
{
    double own[SW_POPULATION_INPUTS_MAX], z[SW_POPULATION_INPUTS_MAX];
    sw_reading list[READINGS];
    for (size_t k = 0; k < p->count; k++)
        own[k] = sw_random_normal(11, pit, k);
    for (uint64_t cook = 0; cook < COOKS; cook++) {
        for (size_t k = 0; k < p->count; k++) {
            const double anew = sw_random_normal(12, 100 * pit + cook, k);
            z[k] = strcmp(p->inputs[k].key->name, "meat.thickness") == 0 ? anew : sqrt(between) * own[k] + sqrt(1.0 - between) * anew;
        }
        simulate(p, z, 100 * pit + cook, list);
        sw_track_question q = {.scenario = open_scenario(), .now = list[READINGS - 1].time, .serve = SW_ABSENT, .draws = 10, .threads = 2, .seed = 1};
        q.readings = (sw_readings){.count = READINGS, .list = list};
        sw_track *t;
        if (sw_track_find(context, &q, &t) != SW_OK || sw_track_learn(context, &q, t, l) != SW_OK)
            fail_msg("%s", sw_context_message(context));
        sw_track_destroy(t);
    }
    return (l->offset - sqrt(between) * own[input_of(p, "pit.temperature")] * spread_offset) / l->offset_spread;
}

static void test_ten_cooks(void **state)
{
    const sw_scenario s = open_scenario();
    sw_population p;
    double squares = 0.0;
    (void)state;
    assert_int_equal(sw_population_given(context, &s, &p), SW_OK);
    for (uint64_t pit = 0; pit < PITS; pit++) {
        sw_pit_learned l = {0};
        squares += pow(learn_pit(&p, pit, &l), 2.0);
        assert_int_equal(l.cooks, COOKS);
        /* Between what ten exact cooks would leave and what no cook would. */
        assert_true(l.offset_spread > 1.0 / sqrt(1.0 / (between * 36.0) + COOKS / ((1.0 - between) * 36.0)));
        assert_true(l.offset_spread < 0.9 * sqrt(between) * spread_offset);
    }
    /* Chi-square of three: above 16.3 once in a thousand. */
    assert_true(squares < 16.3);
}

/* ---- the file ---- */

static bool are_same(const sw_pit_learned *a, const sw_pit_learned *b)
{
    return a->cooks == b->cooks && memcmp(&a->offset, &b->offset, sizeof *a - offsetof(sw_pit_learned, offset)) == 0;
}

static void test_file(void **state)
{
    static const struct {
        const char *from, *to, *said;
    } bad[] = {{"cooks: 4", "cooks: 0", "cooks"},
               {"offset: ", "offset: 99 K # ", "offset"},
               {"offset_spread", "ofset_spread", "nothing that is learned of a pit is called so"},
               {"convection: ", "offset: 1 K\nconvection: ", "twice"},
               {"humidity_ratio: ", "# ", "there is no \"humidity_ratio\""},
               {"convection_spread: 1.05", "convection_spread: 0.9", "convection_spread"},
               {"offset_with_humidity_ratio: ", "offset_with_humidity_ratio: 0.99 # ", "cannot be together"}};
    const sw_pit_learned l = {4, -5.123, 1.5, 8.0, 1.05, 0.03, 1.1, -0.99, 0.05, 0.0};
    char path[] = "/tmp/stallwright-learned-XXXXXX", text[4000] = "";
    sw_scenario_reader *reader;
    sw_pit_learned back = {0};
    (void)state;
    assert_int_equal(sw_scenario_reader_create(context, &reader), SW_OK);
    FILE *file = fdopen(mkstemp(path), "w+");
    assert_int_equal(sw_pit_learned_write(context, reader, &l, SW_UNITS_SI, file), SW_OK);
    assert_int_equal(sw_pit_learned_read(context, reader, path, &back), SW_OK);
    assert_true(are_same(&l, &back));
    rewind(file);
    assert_true(fread(text, 1, sizeof text - 1, file) > 100);
    fclose(file);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        const char *at = strstr(text, bad[i].from);
        assert_non_null(at);
        file = fopen(path, "w");
        fprintf(file, "%.*s%s%s", (int)(at - text), text, bad[i].to, at + strlen(bad[i].from));
        fclose(file);
        assert_int_equal(sw_pit_learned_read(context, reader, path, &back), SW_ERR_INPUT);
        if (!strstr(sw_context_message(context), bad[i].said) || !strstr(sw_context_message(context), path))
            fail_msg("\"%s\" is not said: %s", bad[i].said, sw_context_message(context));
        assert_true(are_same(&l, &back));
    }
    unlink(path);
    sw_scenario_reader_destroy(reader);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_exact), cmocka_unit_test(test_nothing_told), cmocka_unit_test(test_sums),
                                       cmocka_unit_test(test_taken), cmocka_unit_test(test_ten_cooks), cmocka_unit_test(test_file)};
    return cmocka_run_group_tests(tests, open_context, close_context);
}
