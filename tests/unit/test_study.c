/* SPDX-License-Identifier: BSD-3-Clause */
/* Studies: designs against published points and closed forms, runs against single cooks, whatever the threads and order;
 * the journal against damage; what is typed against what is meant. */
#include "close.h"

#include "coarse_cook.h"
#include "halton.h"
#include "run_cook.h"

#include <stallwright/everything.h>

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static sw_context *context;
static sw_scenario_reader *reader;

static int set_up(void **state)
{
    (void)state;
    return sw_context_create(&context) == SW_OK && sw_scenario_reader_create(context, &reader) == SW_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    sw_scenario_reader_destroy(reader);
    sw_context_destroy(context);
    return 0;
}

static sw_study *study_of(const sw_scenario *base, size_t count, const char *const *variations, sw_design design,
                          size_t runs, uint64_t seed)
{
    sw_study *study;
    assert_int_equal(sw_study_create(context, base, &study), SW_OK);
    for (size_t i = 0; i < count; i++)
        if (sw_study_vary(context, reader, study, variations[i]) != SW_OK)
            fail_msg("%s", sw_context_message(context));
    if (sw_study_set_design(context, study, design, runs, seed) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return study;
}

/* ---- designs ---- */

/* Radical inverses in bases 2 and 3: the first points as in J. H. Halton, Numerische Mathematik 2 (1960) 84-90, and every
 * textbook since; from memory. */
static void test_halton_points(void **state)
{
    static const double two[] = {1.0 / 2, 1.0 / 4, 3.0 / 4, 1.0 / 8, 5.0 / 8, 3.0 / 8, 7.0 / 8, 1.0 / 16, 9.0 / 16};
    static const double three[] = {1.0 / 3, 2.0 / 3, 1.0 / 9, 4.0 / 9, 7.0 / 9, 2.0 / 9, 5.0 / 9, 8.0 / 9, 1.0 / 27};
    (void)state;
    for (unsigned i = 0; i < 9; i++) {
        assert_close_abs(sw_halton(i + 1, 2), two[i], 0.0);
        assert_close_abs(sw_halton(i + 1, 3), three[i], 3e-16);
    }
}

/* A study's first runs are these points, stretched over the ranges. */
static void test_halton_runs(void **state)
{
    static const char *const vary[] = {"pit.convection=uniform(10 W/m2/K,20 W/m2/K)", "meat.thickness=uniform(6cm,9cm)"};
    (void)state;
    sw_scenario base = coarse_scenario(), first;
    sw_study *study = study_of(&base, 2, vary, SW_DESIGN_HALTON, 4, 0);
    assert_close_abs(sw_study_number(study, 0, 0), 15.0, 1e-12);
    assert_close_abs(sw_study_number(study, 2, 0), 17.5, 1e-12);
    assert_close_abs(sw_study_number(study, 0, 1), 0.07, 1e-12);
    sw_study_scenario(study, 0, &first);
    assert_close_abs(first.pit.convection, 15.0, 1e-12);
    assert_close_abs(first.meat.thickness, 0.07, 1e-12);
    assert_close_abs(first.meat.mass, base.meat.mass, 0.0);
    sw_study_destroy(study);
}

/* A seed moves every point, each factor by its own amount, and keeps distances around the interval. */
static void test_seed(void **state)
{
    static const char *const vary[] = {"pit.convection=uniform(10 W/m2/K,20 W/m2/K)", "meat.thickness=uniform(6cm,9cm)"};
    (void)state;
    sw_scenario base = coarse_scenario();
    sw_study *plain = study_of(&base, 2, vary, SW_DESIGN_HALTON, 64, 0), *seeded = study_of(&base, 2, vary, SW_DESIGN_HALTON, 64, 7);
    double shift[2];
    for (size_t f = 0; f < 2; f++) {
        const double width = f == 0 ? 10.0 : 0.03;
        shift[f] = sw_halton_shift(7, (unsigned)f);
        for (size_t run = 0; run < 64; run++) {
            double moved = (sw_study_number(seeded, run, f) - sw_study_number(plain, run, f)) / width;
            assert_close_abs(moved - floor(moved), shift[f], 1e-9);
        }
    }
    assert_true(fabs(shift[0] - shift[1]) > 1e-3 && shift[0] > 0.0 && shift[1] > 0.0);
    sw_study_destroy(plain);
    sw_study_destroy(seeded);
}

/* A grid has every combination once, the last factor changing fastest. */
static void test_grid(void **state)
{
    static const char *const vary[] = {"pit.temperature=225F:275F:25F", "wrap.kind=none,paper"};
    (void)state;
    sw_scenario base = coarse_scenario(), s;
    sw_study *study = study_of(&base, 2, vary, SW_DESIGN_GRID, 0, 0);
    assert_int_equal(sw_study_run_count(study), 6);
    sw_study_scenario(study, 3, &s);
    assert_int_equal(s.wrap.kind, SW_WRAP_PAPER);
    /* 250 F by the definition of the scale. */
    assert_close_abs(s.pit.steps[0].temperature, (250.0 - 32.0) / 1.8 + 273.15, 1e-9);
    assert_string_equal(sw_study_listed_label(study, 0, 1), "250 F");
    sw_study_destroy(study);
}

/* A value of a range is the one that is typed alone, to the bit. */
static void test_range_is_as_typed(void **state)
{
    static const char *const vary[] = {"meat.thickness=2.1in:3.3in:0.1in"};
    (void)state;
    sw_scenario base = coarse_scenario(), typed = base;
    sw_study *study = study_of(&base, 1, vary, SW_DESIGN_GRID, 0, 0);
    assert_int_equal(sw_study_run_count(study), 13);
    assert_int_equal(sw_scenario_set(context, reader, "meat.thickness=2.7in", &typed), SW_OK);
    assert_true(sw_study_number(study, 6, 0) == typed.meat.thickness);
    sw_study_destroy(study);
}

/* Any key can be varied: words, endings, whole numbers, switches, lists. */
static void test_every_kind_of_key(void **state)
{
    static const char *const vary[] = {"pull=93C,95C,4h", "solver.cells=12:14:1", "solver.evaporation=yes,no",
                                       "start=20:00,21:30", "title=one,two", "meat.fat_cap.side=top,bottom"};
    (void)state;
    sw_scenario base = coarse_scenario(), s;
    sw_study *study = study_of(&base, 6, vary, SW_DESIGN_GRID, 0, 0);
    assert_int_equal(sw_study_run_count(study), 3 * 3 * 2 * 2 * 2 * 2);
    sw_study_scenario(study, sw_study_run_count(study) - 1, &s);
    assert_int_equal(s.pull.kind, SW_ENDING_DURATION);
    assert_close_abs(s.pull.value, 4 * 3600.0, 0.0);
    assert_int_equal(s.solver.cells, 14);
    assert_false(s.solver.evaporation);
    assert_close_abs(s.start_clock, 21.5 * 3600.0, 0.0);
    assert_string_equal(s.title, "two");
    assert_int_equal(s.meat.fat_cap_side, SW_SIDE_BOTTOM);
    assert_false(sw_study_factor(study, 0).has_numbers); /* temperatures and durations are no one quantity */
    assert_true(sw_study_factor(study, 3).has_numbers);
    sw_study_destroy(study);
}

/* ---- quantiles ---- */

/* Definition 7 by hand on 1..5: position 0.25 * 4 = 1, position 0.9 * 4 = 3.6. */
static void test_quantile_by_hand(void **state)
{
    double values[] = {4.0, NAN, 2.0, 5.0, 1.0, 3.0}, none[] = {NAN};
    (void)state;
    assert_close_abs(sw_quantile(values, 6, 0.25), 2.0, 0.0);
    assert_close_abs(sw_quantile(values, 6, 0.9), 4.6, 1e-14);
    assert_close_abs(sw_quantile(values, 6, 0.0), 1.0, 0.0);
    assert_close_abs(sw_quantile(values, 6, 1.0), 5.0, 0.0);
    assert_true(SW_IS_ABSENT(sw_quantile(none, 1, 0.5)));
}

/* Percentage points of the normal distribution: Abramowitz and Stegun 1964, table 26.5; from memory. */
static void test_normal_quantile(void **state)
{
    static const double rows[][2] = {{0.5, 0.0}, {0.95, 1.644854}, {0.975, 1.959964}, {0.999, 3.090232}, {0.05, -1.644854}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_close_abs(sw_normal_quantile(rows[i][0]), rows[i][1], 5e-7);
    /* The way back through the library's own error function, far into the tail. */
    for (double share = 1e-12; share < 0.5; share *= 3.0)
        assert_close_rel(0.5 * erfc(-sw_normal_quantile(share) / sqrt(2.0)), share, 1e-12);
}

/* A figure linear in two factors, each evenly distributed: of the sum of two uniform numbers the share x^2 / 2 is below
 * x < 1, and 1 - (2 - x)^2 / 2 below x > 1 (triangular distribution). A normal factor has the normal distribution. */
static void test_quantiles_of_linear_case(void **state)
{
    static const char *const vary[] = {"meat.mass=uniform(5kg,7kg)", "pit.convection=uniform(10 W/m2/K,20 W/m2/K)",
                                       "meat.thickness=normal(8cm,0.5cm)"};
    enum { RUNS = 4096 };
    static double sum[RUNS], thickness[RUNS];
    (void)state;
    sw_scenario base = coarse_scenario(), s;
    for (uint64_t seed = 0; seed < 3; seed++) {
        sw_study *study = study_of(&base, 3, vary, SW_DESIGN_HALTON, RUNS, seed);
        for (size_t run = 0; run < RUNS; run++) {
            sw_study_scenario(study, run, &s);
            sum[run] = (s.meat.mass - 5.0) / 2.0 + (s.pit.convection - 10.0) / 10.0;
            thickness[run] = s.meat.thickness;
        }
        for (double p = 0.05; p < 1.0; p += 0.05) {
            double of_sum = sw_quantile(sum, RUNS, p), z = (sw_quantile(thickness, RUNS, p) - 0.08) / 0.005;
            double below_sum = of_sum < 1.0 ? 0.5 * of_sum * of_sum : 1.0 - 0.5 * (2.0 - of_sum) * (2.0 - of_sum);
            /* Shares of 4096 Halton points err by their discrepancy, a few times log(4096) / 4096 = 2e-3 a dimension. */
            assert_close_abs(below_sum, p, 4e-3);
            assert_close_abs(0.5 * erfc(-z / sqrt(2.0)), p, 2e-3);
        }
        sw_study_destroy(study);
    }
}

/* ---- running ---- */

/* The packed results of all runs, in the order of their numbers. */
typedef struct gathered {
    size_t count, taken;
    void **bytes;
    size_t *sizes;
    size_t stop_after; /* 0: never */
    const size_t *order; /* NULL: as they come */
    size_t given;
} gathered;

static sw_status gather(sw_context *of_thread, const sw_study_result *result, void *data)
{
    gathered *g = data;
    if (sw_study_result_pack(of_thread, result, &g->bytes[result->run], &g->sizes[result->run]) != SW_OK)
        return SW_ERR_MEMORY;
    g->taken++;
    if (g->stop_after && g->taken >= g->stop_after)
        return sw_fail(of_thread, SW_ERR_CANCELLED, "enough");
    return SW_OK;
}

static bool next_in_order(size_t *run, void *data)
{
    gathered *g = data;
    if (g->given == g->count)
        return false;
    *run = g->order[g->given++];
    return true;
}

static gathered run_study(const sw_study *study, size_t threads, const size_t *order)
{
    gathered g = {.count = sw_study_run_count(study), .order = order};
    g.bytes = calloc(g.count, sizeof *g.bytes);
    g.sizes = calloc(g.count, sizeof *g.sizes);
    sw_study_work work = {.threads = threads, .next = order ? next_in_order : NULL, .take = gather, .data = &g};
    if (sw_study_run(context, study, &work) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    assert_int_equal(g.taken, g.count);
    return g;
}

static void free_gathered(gathered *g)
{
    for (size_t i = 0; i < g->count; i++)
        free(g->bytes[i]);
    free(g->bytes);
    free(g->sizes);
}

static void assert_same(const gathered *a, const gathered *b)
{
    for (size_t i = 0; i < a->count; i++) {
        assert_int_equal(a->sizes[i], b->sizes[i]);
        assert_memory_equal(a->bytes[i], b->bytes[i], a->sizes[i]);
    }
}

static const char *const mixed[] = {"pit.temperature=110C:140C:10C", "wrap.kind=none,paper,closed-foil",
                                    "meat.thickness=5cm,8cm"};

/* Threads and order change nothing, not a bit. */
static void test_threads_and_order(void **state)
{
    (void)state;
    sw_scenario base = coarse_scenario();
    sw_study *study = study_of(&base, 3, mixed, SW_DESIGN_GRID, 0, 0);
    size_t backwards[24];
    for (size_t i = 0; i < 24; i++)
        backwards[i] = 23 - i;
    gathered one = run_study(study, 1, NULL), five = run_study(study, 5, NULL), other = run_study(study, 2, backwards);
    assert_same(&one, &five);
    assert_same(&one, &other);
    free_gathered(&one);
    free_gathered(&five);
    free_gathered(&other);
    sw_study_destroy(study);
}

/* Cooks of a sweep that differ only in how they are wrapped are made together: each is what it is on its own, whichever threads and
 * order, and where the wraps do not come last in the grid none are. */
static void test_wraps_swept_together(void **state)
{
    (void)state;
    static const char *const vary[] = {"meat.thickness=5cm,8cm", "wrap.kind=none,paper,open-tray,closed-foil", "wrap.when=64C,72C"};
    sw_scenario base = coarse_scenario();
    sw_study *study = study_of(&base, 3, vary, SW_DESIGN_GRID, 0, 0), *apart = study_of(&base, 3, mixed, SW_DESIGN_GRID, 0, 0);
    assert_int_equal(sw_study_alike_runs(study), 8);
    assert_int_equal(sw_study_alike_runs(apart), 1);
    sw_study_destroy(apart);
    size_t backwards[16];
    for (size_t i = 0; i < 16; i++)
        backwards[i] = 15 - i;
    gathered alone = {.count = 16};
    alone.bytes = calloc(16, sizeof *alone.bytes);
    alone.sizes = calloc(16, sizeof *alone.sizes);
    for (size_t i = 0; i < 16; i++) {
        sw_study_result r;
        assert_int_equal(sw_study_cook(context, study, i, NULL, &r), SW_OK);
        assert_int_equal(gather(context, &r, &alone), SW_OK);
        sw_study_result_free(&r);
    }
    gathered two = run_study(study, 2, NULL), other = run_study(study, 1, backwards);
    assert_same(&alone, &two);
    assert_same(&alone, &other);
    free_gathered(&alone);
    free_gathered(&two);
    free_gathered(&other);
    sw_study_destroy(study);
}

/* A sweep of one is the cook itself, in every figure and in its curve. */
static void test_sweep_of_one(void **state)
{
    (void)state;
    sw_scenario base;
    sw_scenario_init(&base);
    sw_history *history;
    sw_outcome outcome = run_cook(&base, &history);
    sw_study *study = study_of(&base, 0, NULL, SW_DESIGN_GRID, 0, 0);
    sw_study_result result;
    assert_int_equal(sw_study_run_count(study), 1);
    assert_int_equal(sw_study_cook(context, study, 0, NULL, &result), SW_OK);
#define SAME(name, unit, long_name)                                                                                    \
    assert_true(result.outcome.name == outcome.name ||                                                                 \
                (SW_IS_ABSENT(result.outcome.name) && SW_IS_ABSENT(outcome.name)));
    SW_OUTCOME_LIST(SAME)
#undef SAME
    assert_true(result.outcome.at_end.evaporated_mass == outcome.at_end.evaporated_mass);
    /* Rows fall on the points of the common axis, if the output interval divides it. */
    size_t row = 0;
    for (size_t i = 0; i < result.point_count; i++) {
        double t = (double)i * SW_STUDY_CURVE_INTERVAL;
        while (history->series[SW_SERIES_time][row] < t - 1e-6)
            row++;
        if (fabs(history->series[SW_SERIES_time][row] - t) < 1e-6)
            assert_close_abs(result.curves[SW_CURVE_PROBE][i], history->series[SW_SERIES_probe_temperature][row],
                             128.0 * FLT_EPSILON + 1e-6); /* rounded to single precision, 256 to 512 K */
        assert_within(result.curves[SW_CURVE_PROBE][i], 273.0, 400.0);
    }
    assert_true(row > result.point_count / 2);
    sw_study_result_free(&result);
    sw_study_destroy(study);
    sw_history_destroy(history);
}

/* An impossible cook is a result with a sentence and without figures; the others go on. */
static void test_failures(void **state)
{
    static const char *const vary[] = {"pit.temperature=60C,120C", "meat.composition.fat=0.08,0.5"};
    (void)state;
    sw_scenario base = coarse_scenario();
    sw_study *study = study_of(&base, 2, vary, SW_DESIGN_GRID, 0, 0);
    gathered g = run_study(study, 2, NULL);
    static const sw_status want[] = {SW_ERR_NEVER_ENDS, SW_ERR_RANGE, SW_OK, SW_ERR_RANGE};
    for (size_t i = 0; i < 4; i++) {
        sw_study_result r;
        assert_int_equal(sw_study_result_unpack(context, g.bytes[i], g.sizes[i], &r), SW_OK);
        if (want[i] == SW_OK || want[i] == SW_ERR_NEVER_ENDS)
            assert_int_equal(r.status, want[i]);
        assert_int_equal(r.status == SW_OK, want[i] == SW_OK);
        assert_int_equal(strlen(r.failure) > 20, r.status != SW_OK);
        assert_int_equal(SW_IS_ABSENT(r.outcome.done_time), r.status != SW_OK);
        assert_int_equal(r.point_count == 0, r.status != SW_OK);
        sw_study_result_free(&r);
    }
    free_gathered(&g);
    sw_study_destroy(study);
}

static void check_cancelling(const char *const *vary)
{
    sw_scenario base = coarse_scenario();
    sw_study *study = study_of(&base, 3, vary, SW_DESIGN_GRID, 0, 0);
    gathered g = {.count = 24, .stop_after = 3};
    g.bytes = calloc(g.count, sizeof *g.bytes);
    g.sizes = calloc(g.count, sizeof *g.sizes);
    sw_study_work work = {.threads = 2, .take = gather, .data = &g};
    assert_int_equal(sw_study_run(context, study, &work), SW_ERR_CANCELLED);
    assert_string_equal(sw_context_message(context), "enough");
    /* Cooks in hand are finished: at most one more. */
    assert_within((double)g.taken, 3.0, 4.0);
    work.threads = 0;
    assert_int_equal(sw_study_run(context, study, &work), SW_ERR_ARGUMENT);
    free_gathered(&g);
    sw_study_destroy(study);
}

/* Also where a thread has several runs in hand that begin alike. */
static void test_cancelling(void **state)
{
    (void)state;
    static const char *const alike[] = {"pit.temperature=110C:130C:10C", "wrap.kind=none,paper,open-tray,closed-foil", "wrap.when=64C,72C"};
    check_cancelling(mixed);
    check_cancelling(alike);
}

/* ---- the journal ---- */

static const char journal_path[] = "test_study.journal";

static sw_study_journal *open_journal(const sw_study *study, bool resume)
{
    sw_study_journal *journal;
    if (sw_study_journal_open(context, reader, journal_path, study, resume, false, &journal) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return journal;
}

static long size_of_journal(void)
{
    FILE *file = fopen(journal_path, "rb");
    assert_non_null(file);
    fseek(file, 0, SEEK_END);
    long size = ftell(file);
    fclose(file);
    return size;
}

/* Cut at any place, as a killed program or a full disk leaves it, a journal opens and holds every result before the cut
 * to the bit; more can be appended. */
static void test_journal_cut_anywhere(void **state)
{
    static const char *const vary[] = {"pit.temperature=60C,120C,130C"};
    (void)state;
    sw_scenario base = coarse_scenario();
    sw_study *study = study_of(&base, 1, vary, SW_DESIGN_GRID, 0, 0);
    gathered g = run_study(study, 1, NULL);
    unlink(journal_path);
    long ends[4];
    sw_study_journal *journal = open_journal(study, false);
    ends[0] = size_of_journal();
    for (size_t i = 0; i < 3; i++) {
        sw_study_result r;
        assert_int_equal(sw_study_result_unpack(context, g.bytes[i], g.sizes[i], &r), SW_OK);
        assert_int_equal(sw_study_journal_append(context, journal, &r), SW_OK);
        sw_study_result_free(&r);
        ends[i + 1] = size_of_journal();
    }
    sw_study_journal_close(journal, true);
    for (long cut = ends[3]; cut >= 0; cut -= 97) {
        assert_int_equal(truncate(journal_path, cut), 0);
        journal = open_journal(study, true);
        size_t whole = 0;
        while (whole < 3 && ends[whole + 1] <= cut)
            whole++;
        assert_int_equal(sw_study_journal_count(journal), whole);
        assert_int_equal(sw_study_journal_failures(journal), whole > 0);
        for (size_t i = 0; i < whole; i++) {
            sw_study_result r;
            void *bytes;
            size_t size;
            assert_int_equal(sw_study_journal_read(context, journal, i, &r), SW_OK);
            assert_int_equal(sw_study_result_pack(context, &r, &bytes, &size), SW_OK);
            assert_int_equal(size, g.sizes[i]);
            assert_memory_equal(bytes, g.bytes[i], size);
            free(bytes);
            sw_study_result_free(&r);
        }
        sw_study_journal_close(journal, true);
    }
    unlink(journal_path);
    free_gathered(&g);
    sw_study_destroy(study);
}

/* Bytes that changed under way are noticed: that record and those behind it are run again. */
static void test_journal_changed_bytes(void **state)
{
    static const char *const vary[] = {"pit.temperature=120C,130C"};
    (void)state;
    sw_scenario base = coarse_scenario();
    sw_study *study = study_of(&base, 1, vary, SW_DESIGN_GRID, 0, 0);
    unlink(journal_path);
    sw_study_journal *journal = open_journal(study, false);
    long first = size_of_journal();
    for (size_t i = 0; i < 2; i++) {
        sw_study_result r;
        assert_int_equal(sw_study_cook(context, study, i, NULL, &r), SW_OK);
        assert_int_equal(sw_study_journal_append(context, journal, &r), SW_OK);
        sw_study_result_free(&r);
    }
    sw_study_journal_close(journal, true);
    FILE *file = fopen(journal_path, "r+b");
    assert_non_null(file);
    fseek(file, first + 200, SEEK_SET);
    fputc('x', file);
    fclose(file);
    journal = open_journal(study, true);
    assert_int_equal(sw_study_journal_count(journal), 0);
    sw_study_journal_close(journal, false);
    assert_int_equal(access(journal_path, F_OK), -1);
    sw_study_destroy(study);
}

static void test_journal_of_another_study(void **state)
{
    static const char *const vary[] = {"pit.temperature=120C,130C"}, *const other[] = {"pit.temperature=120C,131C"};
    (void)state;
    sw_scenario base = coarse_scenario();
    sw_study *a = study_of(&base, 1, vary, SW_DESIGN_GRID, 0, 0), *b = study_of(&base, 1, other, SW_DESIGN_GRID, 0, 0);
    sw_study_journal *journal, *second;
    unlink(journal_path);
    journal = open_journal(a, false);
    sw_study_journal_close(journal, true);
    assert_int_equal(sw_study_journal_open(context, reader, journal_path, b, true, false, &second), SW_ERR_INPUT);
    assert_non_null(strstr(sw_context_message(context), "another sweep: it has \"vary pit.temperature:"));
    assert_int_equal(sw_study_journal_open(context, reader, journal_path, a, false, false, &second), SW_ERR_EXISTS);
    assert_int_equal(sw_study_journal_open(context, reader, journal_path, b, false, true, &second), SW_OK);
    sw_study_journal_close(second, false);
    FILE *file = fopen(journal_path, "w");
    assert_non_null(file);
    fputs("Something else altogether, and not short.\n", file);
    fclose(file);
    assert_int_equal(sw_study_journal_open(context, reader, journal_path, a, true, false, &second), SW_ERR_INPUT);
    unlink(journal_path);
    sw_study_destroy(a);
    sw_study_destroy(b);
}

/* ---- what is typed ---- */

static void test_refusals(void **state)
{
    static const struct {
        const char *text, *words;
    } rows[] = {
        {"pit.temperatur=110C", "--vary pit.temperatur: unknown name, did you mean \"pit.temperature\"?"},
        {"pit=110C", "this is a group, not a value"},
        {"pit.temperature", "write a name, an equals sign and values"},
        {"pit.temperature=", "missing"},
        {"pit.temperature=110C,,120C", "missing"},
        {"pit.temperature=110C:140C", "no range; a range is written as from:to:step"},
        {"pit.temperature=110C:140C:10C:5C", "no range"},
        {"pit.temperature=110C:140C:18F", "mixes units"},
        {"pit.temperature=110C:140C:-10C", "empty range"},
        {"pit.temperature=140C:110C:10C", "empty range"},
        {"pit.temperature=110C:140C:0C", "step of 0"},
        {"pit.temperature=110C:140C:0.0001C", "more than 10000 values"},
        {"pit.temperature=110:140:10", "no unit"},
        {"pit.temperature=110C,110C", "twice"},
        {"pit.temperature=110kg", "pit.temperature"},
        {"pit.temperature=10C:140C:10C", "allowed range"},
        {"wrap.kind=none,papr", "did you mean \"paper\"?"},
        {"meat.thickness=uniform(9cm,6cm)", "range of meat.thickness is empty"},
        {"meat.thickness=uniform(6cm)", "needs two values"},
        {"meat.thickness=uniform(6cm,7cm,8cm)", "needs two values"},
        {"meat.thickness=normal(8cm,0cm)", "must be above 0"},
        {"meat.thickness=normal(8cm,-1cm)", "meat.thickness"},
        {"meat.thickness=normal(8cm,1kg)", "meat.thickness"},
        {"meat.thickness=uniform(1kg,2kg)", "meat.thickness"},
        {"wrap.kind=normal(none,paper)", "no quantity"},
        {"solver.cells=uniform(10,20)", "no quantity"},
        {"pull=uniform(93C,12h)", "empty"},
    };
    (void)state;
    sw_scenario base = coarse_scenario();
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_study *study;
        assert_int_equal(sw_study_create(context, &base, &study), SW_OK);
        sw_status status = sw_study_vary(context, reader, study, rows[i].text);
        if (status == SW_OK || !strstr(sw_context_message(context), rows[i].words) ||
            strncmp(sw_context_message(context), "--vary ", 7) != 0)
            fail_msg("\"%s\" gives status %d: %s", rows[i].text, status, sw_context_message(context));
        sw_study_destroy(study);
    }
}

static void test_refused_designs(void **state)
{
    static const char *const wide[] = {"pit.temperature=110C:140C:0.01C", "meat.thickness=6cm:8cm:0.001cm"};
    (void)state;
    sw_scenario base = coarse_scenario();
    sw_study *study;
    assert_int_equal(sw_study_create(context, &base, &study), SW_OK);
    assert_int_equal(sw_study_vary(context, reader, study, wide[0]), SW_OK);
    assert_int_equal(sw_study_vary(context, reader, study, wide[1]), SW_OK);
    assert_int_equal(sw_study_vary(context, reader, study, wide[0]), SW_ERR_INPUT);
    assert_non_null(strstr(sw_context_message(context), "given twice"));
    assert_int_equal(sw_study_set_design(context, study, SW_DESIGN_GRID, 0, 0), SW_ERR_ARGUMENT);
    assert_non_null(strstr(sw_context_message(context), "6005001 cooks; at most 1000000"));
    assert_int_equal(sw_study_set_design(context, study, SW_DESIGN_HALTON, 1000000000, 0), SW_ERR_ARGUMENT);
    assert_int_equal(sw_study_set_design(context, study, SW_DESIGN_HALTON, 0, 0), SW_ERR_ARGUMENT);
    assert_int_equal(sw_study_vary(context, reader, study, "meat.mass=normal(6kg,1kg)"), SW_OK);
    assert_int_equal(sw_study_set_design(context, study, SW_DESIGN_GRID, 0, 0), SW_ERR_ARGUMENT);
    assert_non_null(strstr(sw_context_message(context), "meat.mass has a distribution"));
    sw_study_destroy(study);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_halton_points),
        cmocka_unit_test(test_halton_runs),
        cmocka_unit_test(test_seed),
        cmocka_unit_test(test_grid),
        cmocka_unit_test(test_range_is_as_typed),
        cmocka_unit_test(test_every_kind_of_key),
        cmocka_unit_test(test_quantile_by_hand),
        cmocka_unit_test(test_normal_quantile),
        cmocka_unit_test(test_quantiles_of_linear_case),
        cmocka_unit_test(test_threads_and_order),
        cmocka_unit_test(test_wraps_swept_together),
        cmocka_unit_test(test_sweep_of_one),
        cmocka_unit_test(test_failures),
        cmocka_unit_test(test_cancelling),
        cmocka_unit_test(test_journal_cut_anywhere),
        cmocka_unit_test(test_journal_changed_bytes),
        cmocka_unit_test(test_journal_of_another_study),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_refused_designs),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
