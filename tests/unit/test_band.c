/* SPDX-License-Identifier: BSD-3-Clause */
/* Bands of a cook: against draws run one by one and counted by hand, whatever the threads; what is stated narrows them. */
#include "close.h"

#include "draw_cooked.h"
#include "shared_context.h"
#include <stallwright/everything.h>

#include <math.h>

enum { DRAWS = 40 };

static sw_scenario open_scenario(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.rest.until.kind = s.hold.until.kind = SW_ENDING_NONE;
    return s;
}

typedef sw_status (*seer)(sw_context *context, size_t number, const sw_run *draw, void *data);

static sw_band band_seen(const sw_scenario *s, size_t threads, seer see, void *data)
{
    sw_run run = {.scenario = *s};
    sw_band band;
    assert_int_equal(sw_run_cook(context, &run, NULL), SW_OK);
    const sw_band_question question = {.stated = s, .run = &run, .draws = DRAWS, .seed = 5, .threads = threads, .see = see, .data = data};
    if (sw_band_find(context, &question, &band) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    sw_run_free(&run);
    return band;
}

static sw_band band_of(const sw_scenario *s, size_t threads)
{
    return band_seen(s, threads, NULL, NULL);
}

/* Quantiles of 40 sorted draws by Hyndman and Fan's definition 7: at 0.1 the place 0.1 * 39 = 3.9, at 0.5 19.5, at 0.9 35.1. */
static void test_against_draws_by_hand(void **state)
{
    (void)state;
    const sw_scenario s = open_scenario();
    const sw_band band = band_of(&s, 2);
    sw_population p;
    sw_scenario middle;
    const double at_origin[SW_POPULATION_INPUTS_MAX] = {0.0};
    double done[DRAWS], yields[DRAWS];
    assert_int_equal(sw_population_given(context, &s, &p), SW_OK);
    sw_population_scenario(&p, at_origin, &middle);
    const sw_outcome fine = draw_cooked(s, false), coarse = draw_cooked(middle, true);
    const double fine_over_coarse = fine.done_time / coarse.done_time;
    for (size_t i = 0; i < DRAWS; i++) {
        double normal[SW_POPULATION_INPUTS_MAX];
        sw_scenario drawn;
        sw_population_draw(&p, 5, i, normal);
        sw_population_scenario(&p, normal, &drawn);
        const sw_outcome o = draw_cooked(drawn, true);
        const double value = o.done_time * fine_over_coarse;
        yields[i] = o.yield_at_pull + fine.yield_at_pull - coarse.yield_at_pull;
        size_t k = i;
        for (; k > 0 && done[k - 1] > value; k--)
            done[k] = done[k - 1];
        done[k] = value;
    }
    const sw_interval *found = &band.of[SW_SENSITIVE_done];
    assert_close_rel(found->low, done[3] + 0.9 * (done[4] - done[3]), 1e-9);
    assert_close_rel(found->middle, done[19] + 0.5 * (done[20] - done[19]), 1e-9);
    assert_close_rel(found->high, done[35] + 0.1 * (done[36] - done[35]), 1e-9);
    /* A share is moved by a difference, not by a ratio. */
    assert_close_rel(band.of[SW_SENSITIVE_yield].low, sw_quantile(yields, DRAWS, 0.1), 1e-9);
    assert_close_rel(band.of[SW_SENSITIVE_yield].high, sw_quantile(yields, DRAWS, 0.9), 1e-9);
    assert_int_equal(band.draws, DRAWS);
    assert_int_equal(band.never_done, 0);
}

static void test_threads_change_nothing(void **state)
{
    (void)state;
    const sw_scenario s = open_scenario();
    const sw_band one = band_of(&s, 1), three = band_of(&s, 3);
    assert_memory_equal(&one, &three, sizeof one);
}

static double width(const sw_scenario *s)
{
    const sw_band band = band_of(s, 2);
    return log(band.of[SW_SENSITIVE_done].high / band.of[SW_SENSITIVE_done].low);
}

static void test_what_is_stated_narrows(void **state)
{
    (void)state;
    sw_scenario s = open_scenario();
    const double open = width(&s);
    s.meat.thickness = 0.066;
    const double thick = width(&s);
    s.pit.convection = 9.1;
    s.pit.humidity_ratio = 0.037;
    const double aired = width(&s);
    assert_true(thick < 0.95 * open && aired < 0.98 * thick);
}

/* In a pit a few degrees above the pull some cooks never get there: their end of the band does not exist. */
static void test_some_are_never_done(void **state)
{
    (void)state;
    sw_scenario s = open_scenario();
    s.pit.steps[0].temperature = 273.15 + 101.0;
    s.meat.thickness = 0.05;
    const sw_band band = band_of(&s, 2);
    assert_true(band.never_done > DRAWS / 10 && band.never_done < DRAWS / 2);
    assert_true(SW_IS_ABSENT(band.of[SW_SENSITIVE_done].high));
    assert_true(band.of[SW_SENSITIVE_done].middle > band.of[SW_SENSITIVE_done].low);
    /* A pit below the pull, about a cook that went well elsewhere: no figure is told of what none comes to. */
    sw_run run = {.scenario = s};
    assert_int_equal(sw_run_cook(context, &run, NULL), SW_OK);
    s.pit.steps[0].temperature = 273.15 + 70.0;
    sw_band none;
    const sw_band_question question = {.stated = &s, .run = &run, .draws = 10, .seed = 5, .threads = 2};
    assert_int_equal(sw_band_find(context, &question, &none), SW_OK);
    assert_int_equal(none.never_done, 10);
    const sw_interval *done = &none.of[SW_SENSITIVE_done];
    assert_true(SW_IS_ABSENT(done->low) && SW_IS_ABSENT(done->middle) && SW_IS_ABSENT(done->high));
    sw_run_free(&run);
}

/* By number; the last is the median cook. */
typedef struct seen_draws {
    size_t times[DRAWS + 1];
    double done[DRAWS + 1];
} seen_draws;

static sw_status see(sw_context *in, size_t number, const sw_run *draw, void *data)
{
    seen_draws *seen = data;
    (void)in;
    assert_true(number <= DRAWS && draw->status == SW_OK && draw->history->row_count > 10);
    seen->times[number]++;
    seen->done[number] = draw->outcome.done_time;
    return SW_OK;
}

/* Each draw is shown once, and the median of what is shown, made as fine, is that of the band. */
static void test_draws_are_shown(void **state)
{
    (void)state;
    const sw_scenario s = open_scenario();
    seen_draws seen = {0};
    const sw_band band = band_seen(&s, 2, see, &seen);
    for (size_t i = 0; i <= DRAWS; i++)
        assert_int_equal(seen.times[i], 1);
    const double middle = sw_quantile(seen.done, DRAWS, 0.5);
    assert_close_rel(middle * draw_cooked(s, false).done_time / seen.done[DRAWS], band.of[SW_SENSITIVE_done].middle, 1e-9);
}

static sw_status stop_at_once(sw_context *in, size_t number, const sw_run *draw, void *data)
{
    (void)number, (void)draw, (void)data;
    return sw_fail(in, SW_ERR_CANCELLED, "seen enough");
}

static void test_who_sees_may_stop(void **state)
{
    (void)state;
    const sw_scenario s = open_scenario();
    sw_run run = {.scenario = s};
    sw_band band = {.draws = 99};
    assert_int_equal(sw_run_cook(context, &run, NULL), SW_OK);
    const sw_band_question question = {.stated = &s, .run = &run, .draws = DRAWS, .threads = 1, .see = stop_at_once};
    assert_int_equal(sw_band_find(context, &question, &band), SW_ERR_CANCELLED);
    assert_string_equal(sw_context_message(context), "seen enough");
    assert_int_equal(band.draws, 99);
    sw_run_free(&run);
}

/* Bands of several wraps found together are those found one by one, to the bit. */
static void test_bands_together(void **state)
{
    (void)state;
    enum { WRAPS = 4 };
    sw_run runs[WRAPS];
    sw_band_question questions[WRAPS];
    sw_band together[WRAPS];
    for (size_t i = 0; i < WRAPS; i++) {
        runs[i] = (sw_run){.scenario = open_scenario()};
        runs[i].scenario.wrap.kind = (sw_wrap_kind)i;
        assert_int_equal(sw_run_cook(context, &runs[i], NULL), SW_OK);
        questions[i] = (sw_band_question){.stated = &runs[i].scenario, .run = &runs[i], .draws = 10, .seed = 5, .threads = 2};
    }
    assert_int_equal(sw_bands_find(context, WRAPS, questions, together), SW_OK);
    for (size_t i = 0; i < WRAPS; i++) {
        sw_band alone;
        assert_int_equal(sw_band_find(context, &questions[i], &alone), SW_OK);
        assert_memory_equal(&together[i], &alone, sizeof alone);
        sw_run_free(&runs[i]);
    }
}

static void test_no_band(void **state)
{
    (void)state;
    sw_scenario s = open_scenario();
    s.pull = (sw_ending){SW_ENDING_DURATION, 3600.0};
    sw_run run = {.scenario = s};
    sw_band band = {.draws = 99};
    assert_int_equal(sw_run_cook(context, &run, NULL), SW_OK);
    const sw_band_question question = {.stated = &s, .run = &run, .draws = DRAWS, .seed = 5, .threads = 1};
    assert_int_equal(sw_band_find(context, &question, &band), SW_ERR_ARGUMENT);
    assert_int_equal(band.draws, 99);
    sw_run_free(&run);
}

static void test_parts_make_the_whole(void **state)
{
    (void)state;
    const sw_scenario s = open_scenario();
    const sw_band whole = band_of(&s, 1);
    sw_run run = {.scenario = s};
    sw_band band = {.draws = 99};
    double figures[(DRAWS + 1) * SW_SENSITIVE_COUNT];
    assert_int_equal(sw_run_cook(context, &run, NULL), SW_OK);
    const sw_band_question question = {.stated = &s, .run = &run, .draws = DRAWS, .seed = 5, .threads = 1};
    /* The later ones first. */
    assert_int_equal(sw_band_draw(context, &question, 17, DRAWS + 1 - 17, figures + 17 * SW_SENSITIVE_COUNT), SW_OK);
    assert_int_equal(sw_band_draw(context, &question, 0, 17, figures), SW_OK);
    assert_int_equal(sw_band_gather(context, &question, figures, &band), SW_OK);
    assert_memory_equal(band.of, whole.of, sizeof band.of);
    assert_int_equal(band.draws, DRAWS);
    assert_int_equal(sw_band_draw(context, &question, 1, DRAWS + 1, figures), SW_ERR_ARGUMENT);
    assert_int_equal(sw_band_draw(context, &question, DRAWS + 2, 0, figures), SW_ERR_ARGUMENT);
    assert_int_equal(sw_band_draw(context, &question, 0, SIZE_MAX, figures), SW_ERR_ARGUMENT);
    sw_run_free(&run);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_against_draws_by_hand), cmocka_unit_test(test_threads_change_nothing),
        cmocka_unit_test(test_what_is_stated_narrows), cmocka_unit_test(test_some_are_never_done),
        cmocka_unit_test(test_draws_are_shown), cmocka_unit_test(test_who_sees_may_stop), cmocka_unit_test(test_no_band),
        cmocka_unit_test(test_parts_make_the_whole),
        cmocka_unit_test(test_bands_together),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
