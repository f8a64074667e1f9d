/* SPDX-License-Identifier: BSD-3-Clause */
/* What a results file gives back is what was written, to the bit: nothing is computed in between. */
#include "close.h"
#include "run_cook.h"

#include <stallwright/results_file.h>

#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[] = "/tmp/sw_reader_XXXXXX";
static char path[512];
static sw_context *context;

static int set_up_folder(void **state)
{
    (void)state;
    if (!mkdtemp(folder) || sw_context_create(&context) != SW_OK)
        return -1;
    snprintf(path, sizeof path, "%s/run.h5", folder);
    return 0;
}

static int tear_down_folder(void **state)
{
    (void)state;
    sw_context_destroy(context);
    unlink(path);
    return rmdir(folder);
}

static sw_results *write_and_read(size_t count, const sw_history *const *histories, const char *const *labels)
{
    const sw_provenance from = {"stallwright test", NULL, NULL};
    sw_results *results = NULL;
    if (sw_results_write(context, path, count, histories, labels, &from, true) != SW_OK ||
        sw_results_read(context, path, &results) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    assert_int_equal(results->count, count);
    return results;
}

/* Bytes are compared, so that NaN equals itself and -0 differs from 0. */
static void assert_same(const char *what, size_t count, const double *got, const double *want)
{
    if (!got != !want || (want && memcmp(got, want, count * sizeof *want) != 0))
        fail_msg("%s is not what was written", what);
}

#define ASSERT_SAME_FIGURE(name, unit, long_name) assert_same(#name, 1, &got->name, &want->name);

static void assert_same_budget(const sw_budget *got, const sw_budget *want)
{
    SW_BUDGET_LIST(ASSERT_SAME_FIGURE)
}

static void assert_same_outcome(const sw_history *read, const sw_history *written)
{
    sw_outcome outcomes[2];
    const sw_outcome *got = &outcomes[0], *want = &outcomes[1];
    sw_outcome_evaluate(read, &outcomes[0]);
    sw_outcome_evaluate(written, &outcomes[1]);
    SW_OUTCOME_LIST(ASSERT_SAME_FIGURE)
    assert_int_equal(got->top_state_at_pull, want->top_state_at_pull);
    assert_same_budget(&got->at_pull, &want->at_pull);
    assert_same_budget(&got->at_end, &want->at_end);
}

static void assert_same_rows(const sw_history *got, const sw_history *want)
{
    assert_int_equal(got->row_count, want->row_count);
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        assert_same(sw_series_name((sw_series)i), want->row_count, got->series[i], want->series[i]);
    assert_int_equal(got->probe_count, want->probe_count);
    for (size_t i = 0; i < want->probe_count; i++) {
        assert_same("a probe", want->row_count, got->probe_series[i], want->probe_series[i]);
        assert_string_equal(got->probes[i].name, want->probes[i].name);
        assert_same("a probe's place along", 1, &got->probes[i].across, &want->probes[i].across);
        assert_same("a probe's height", 1, &got->probes[i].height, &want->probes[i].height);
    }
    assert_same("the pour", 1, &got->pour.time, &want->pour.time);
    assert_same("the probe at the pour", 1, &got->pour.probe_temperature, &want->pour.probe_temperature);
    assert_int_equal(got->milestone_count, want->milestone_count);
    for (size_t i = 0; i < want->milestone_count; i++) {
        assert_same("a milestone", 1, &got->milestones[i].time, &want->milestones[i].time);
        assert_same("a milestone's temperature", 1, &got->milestones[i].probe_temperature,
                    &want->milestones[i].probe_temperature);
    }
}

static void assert_same_fields(const sw_history *got, const sw_history *want)
{
    size_t n = want->cell_count, k = want->field_count;
    assert_int_equal(got->cell_count, n);
    assert_int_equal(got->field_count, k);
    assert_same("cell_position", n, got->cell_position, want->cell_position);
    assert_same("cell_across", n, got->cell_across, want->cell_across);
    assert_same("cell_bounds", n + 1, got->cell_bounds, want->cell_bounds);
    assert_same("cell_volume", n, got->cell_volume, want->cell_volume);
    assert_int_equal(got->cell_corners != NULL, want->cell_corners != NULL);
    if (want->cell_corners) {
        for (size_t i = 0; i <= n; i++)
            assert_int_equal(got->cell_first_corner[i], want->cell_first_corner[i]);
        assert_same("cell_corners", 2 * want->cell_first_corner[n], got->cell_corners[0], want->cell_corners[0]);
    }
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++)
        assert_same("cell_extent", n, got->cell_extent[r], want->cell_extent[r]);
    assert_same("probe_extent", want->probe_count * SW_INNER_REACTION_COUNT, got->probe_extent[0], want->probe_extent[0]);
    assert_same("probe_outside", want->probe_count * SW_INNER_REACTION_COUNT, got->probe_outside[0],
                want->probe_outside[0]);
    assert_same("cell_outside", SW_INNER_REACTION_COUNT, got->cell_outside, want->cell_outside);
    assert_same("field_time", k, got->field_time, want->field_time);
    assert_same("field_temperature", n * k, got->field_temperature, want->field_temperature);
    assert_same("field_water_content", n * k, got->field_water_content, want->field_water_content);
}

static void assert_same_phases(const sw_history *got, const sw_history *want)
{
    assert_int_equal(got->phase_count, want->phase_count);
    for (size_t i = 0; i < want->phase_count; i++) {
        const sw_phase_record *a = &got->phases[i], *b = &want->phases[i];
        assert_int_equal(a->phase, b->phase);
        assert_same("start", 1, &a->start, &b->start);
        assert_same("end", 1, &a->end, &b->end);
        assert_same("probe_at_end", 1, &a->probe_at_end, &b->probe_at_end);
        assert_same("top_surface_at_end", 1, &a->top_surface_at_end, &b->top_surface_at_end);
        assert_same("top_water_activity_at_end", 1, &a->top_water_activity_at_end, &b->top_water_activity_at_end);
        assert_same_budget(&a->budget_at_end, &b->budget_at_end);
        for (int side = 0; side < SW_SIDE_COUNT; side++)
            assert_same(sw_side_name((sw_side)side), sizeof a->sides_at_end[side] / sizeof(double),
                        &a->sides_at_end[side].area, &b->sides_at_end[side].area);
    }
}

static void assert_same_missing(const sw_history *got, const sw_history *want)
{
    assert_int_equal(got->missing_count, want->missing_count);
    for (size_t i = 0; i < want->missing_count; i++) {
        const sw_missing *a = &got->missing[i], *b = &want->missing[i];
        assert_int_equal(a->end, b->end);
        assert_int_equal(a->reason, b->reason);
#define ASSERT_SAME_MISSING(name, unit, long_name) assert_same(#name, 1, &a->name, &b->name);
        SW_MISSING_LIST(ASSERT_SAME_MISSING)
    }
}

static void assert_same_scenario(const sw_scenario *got, const sw_scenario *want)
{
    double corners[2][SW_OUTLINE_MAX][2];
    assert_string_equal(got->title, want->title);
    assert_string_equal(got->meat.name, want->meat.name);
    assert_int_equal(got->meat.shape, want->meat.shape);
    assert_int_equal(got->wrap.kind, want->wrap.kind);
    assert_int_equal(got->pit.step_count, want->pit.step_count);
    for (size_t i = 0; i < want->pit.step_count; i++) {
        assert_same("a step's start", 1, &got->pit.steps[i].start, &want->pit.steps[i].start);
        assert_same("a step's temperature", 1, &got->pit.steps[i].temperature, &want->pit.steps[i].temperature);
    }
    assert_same("mass", 1, &got->meat.mass, &want->meat.mass);
    assert_same("thickness", 1, &got->meat.thickness, &want->meat.thickness);
    assert_same("width", 1, &got->meat.width, &want->meat.width);
    assert_same("end_thickness", 1, &got->meat.end_thickness, &want->meat.end_thickness);
    assert_same("stall.rate", 1, &got->stall.rate, &want->stall.rate);
    assert_same("start_clock", 1, &got->start_clock, &want->start_clock);
    assert_same("wrap.when", 1, &got->wrap.when.value, &want->wrap.when.value);
    size_t count = sw_section_outline(&want->meat, corners[1]);
    assert_int_equal(sw_section_outline(&got->meat, corners[0]), count);
    assert_same("the outline", 2 * count, corners[0][0], corners[1][0]);
}

static void assert_same_history(const sw_history *got, const sw_history *want)
{
    assert_same_scenario(&got->scenario, &want->scenario);
    assert_same_rows(got, want);
    assert_same_fields(got, want);
    assert_same_phases(got, want);
    assert_same_missing(got, want);
    assert_same_budget(&got->budget, &want->budget);
    assert_memory_equal(&got->statistics, &want->statistics, sizeof got->statistics);
    assert_same_outcome(got, want);
}

/* A cook that is quick to compute and has every phase. */
static sw_scenario quick_scenario(sw_wrap_kind wrap)
{
    sw_scenario s;
    sw_scenario_init(&s);
    snprintf(s.title, sizeof s.title, "Village hall supper: \"f\u00eate\" #1");
    s.wrap.kind = wrap;
    s.solver.relative_tolerance = 1e-4;
    s.solver.cells = 24;
    s.pit.step_count = 2;
    s.pit.steps[1] = (sw_pit_step){4.1 * 3600.0, 400.123456789, false};
    return s;
}

static void test_one_cook(void **state)
{
    (void)state;
    sw_scenario s = quick_scenario(SW_WRAP_PAPER);
    sw_history *written;
    run_cook(&s, &written);
    assert_int_equal(written->phase_count, 4);
    const sw_history *histories[] = {written};
    sw_results *results = write_and_read(1, histories, NULL);
    assert_string_equal(results->labels[0], "");
    assert_same_history(results->histories[0], written);
    sw_results_destroy(results);
    sw_history_destroy(written);
}

static void test_several_cooks(void **state)
{
    (void)state;
    sw_scenario open = quick_scenario(SW_WRAP_NONE), tray = quick_scenario(SW_WRAP_OPEN_TRAY);
    open.rest.until.kind = SW_ENDING_NONE;
    tray.wrap.pour = SW_POUR_OFF;
    sw_history *written[2];
    run_cook(&open, &written[0]);
    run_cook(&tray, &written[1]);
    assert_true(written[1]->pour.time > 0.0);
    const sw_history *histories[] = {written[0], written[1]};
    const char *const labels[] = {"none", "open-tray-74\u00b0C"};
    sw_results *results = write_and_read(2, histories, labels);
    for (int i = 0; i < 2; i++) {
        assert_string_equal(results->labels[i], labels[i]);
        assert_same_history(results->histories[i], written[i]);
        sw_history_destroy(written[i]);
    }
    sw_results_destroy(results);
}

static void assert_comes_back(const sw_scenario *s)
{
    sw_history *written;
    run_cook(s, &written);
    const sw_history *histories[] = {written};
    sw_results *results = write_and_read(1, histories, NULL);
    assert_same_history(results->histories[0], written);
    sw_results_destroy(results);
    sw_history_destroy(written);
}

/* What did not come is written and read too: an hour that had passed, a temperature waited for in vain, what lies behind. */
static void test_missing(void **state)
{
    (void)state;
    sw_scenario s = quick_scenario(SW_WRAP_NONE);
    sw_history *written;
    s.solver.longest_phase = 8.0 * 3600.0;
    s.pull = (sw_ending){SW_ENDING_DURATION, 4.0 * 3600.0};
    s.rest.until = (sw_ending){SW_ENDING_CLOCK, s.start_clock + 60.0};
    s.hold.until = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 320.0};
    s.cooling.until = (sw_ending){SW_ENDING_DURATION, 3600.0};
    run_cook(&s, &written);
    assert_int_equal(written->missing_count, 3);
    sw_history_destroy(written);
    assert_comes_back(&s);
}

/* The model fills in sizes and probes that these scenarios leave open. */
static void test_sections(void **state)
{
    (void)state;
    static const sw_shape shapes[] = {SW_SHAPE_PACKER, SW_SHAPE_TAPER, SW_SHAPE_SHORT_CYLINDER, SW_SHAPE_OUTLINE};
    static const double outline[][2] = {{0.01, 0.0}, {0.2, 0.01}, {0.19, 0.08}, {0.02, 0.07}};
    for (size_t i = 0; i < sizeof shapes / sizeof *shapes; i++) {
        sw_scenario s = quick_scenario(SW_WRAP_NONE);
        s.meat.shape = shapes[i];
        s.meat.thickness = s.meat.width = 0.0;
        s.solver.rows = 8;
        s.solver.columns = 10;
        if (shapes[i] == SW_SHAPE_OUTLINE) {
            s.meat.outline_count = sizeof outline / sizeof *outline;
            memcpy(s.meat.outline, outline, sizeof outline);
        }
        assert_comes_back(&s);
    }
}

/* 6.5 kg in a cylinder of 5 cm are over three metres long, more than a scenario file may ask for. */
static void test_size_beyond_a_scenario_file(void **state)
{
    (void)state;
    sw_scenario s = quick_scenario(SW_WRAP_NONE);
    s.meat.shape = SW_SHAPE_CYLINDER;
    s.meat.thickness = 0.05;
    s.meat.width = 0.0;
    assert_comes_back(&s);
}

/* Writes the results of a quick cook; returns the size of the file. */
static long write_quick_file(void)
{
    sw_scenario s = quick_scenario(SW_WRAP_NONE);
    sw_history *written;
    run_cook(&s, &written);
    const sw_history *histories[] = {written};
    sw_results_destroy(write_and_read(1, histories, NULL));
    sw_history_destroy(written);
    struct stat about;
    assert_int_equal(stat(path, &about), 0);
    return (long)about.st_size;
}

/* Cut anywhere, a file is refused with a sentence, and the results stay as they were. */
static void test_cut_file(void **state)
{
    (void)state;
    sw_results *results = NULL;
    long size = write_quick_file();
    for (int i = 19; i >= 0; i--) {
        assert_int_equal(truncate(path, size * i / 20), 0);
        assert_int_equal(sw_results_read(context, path, &results), SW_ERR_INPUT);
        assert_non_null(strstr(sw_context_message(context), path));
        assert_null(results);
    }
    unlink(path);
    assert_int_equal(sw_results_read(context, path, &results), SW_ERR_FILE);
    assert_null(results);
    sw_results_destroy(NULL);
}

/* Puts another byte in the place of one, and sees that the file is refused in one sentence. */
static void assert_flip_is_refused(int file, long place, unsigned char difference)
{
    sw_results *results = NULL;
    unsigned char before, flipped;
    assert_int_equal(pread(file, &before, 1, place), 1);
    flipped = before ^ difference;
    assert_int_equal(pwrite(file, &flipped, 1, place), 1);
    if (sw_results_read(context, path, &results) != SW_ERR_INPUT)
        fail_msg("byte %ld changed from 0x%02x to 0x%02x goes unseen", place, before, flipped);
    assert_null(results);
    assert_non_null(strstr(sw_context_message(context), path));
    assert_null(strchr(sw_context_message(context), '\n'));
    assert_int_equal(pwrite(file, &before, 1, place), 1);
}

/* Seeded, so that a failure comes again. */
static uint64_t next_random(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u; /* Knuth's MMIX generator */
    return *state >> 33;
}

static void test_changed_bytes(void **state)
{
    (void)state;
    const long size = write_quick_file(), beginning = 200, end = 40;
    uint64_t random = 1;
    int file = open(path, O_RDWR);
    assert_true(file >= 0 && size > beginning + end);
    for (int i = 0; i < 1000; i++)
        assert_flip_is_refused(file, (long)(next_random(&random) % (uint64_t)size),
                               (unsigned char)(1 + next_random(&random) % 255));
    for (long place = 0; place < beginning; place++)
        assert_flip_is_refused(file, place, 0x01);
    for (long place = size - end; place < size; place++)
        assert_flip_is_refused(file, place, 0x20);
    close(file);
    sw_results *results = NULL;
    assert_int_equal(sw_results_read(context, path, &results), SW_OK);
    sw_results_destroy(results);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_cook),
        cmocka_unit_test(test_several_cooks),
        cmocka_unit_test(test_missing),
        cmocka_unit_test(test_sections),
        cmocka_unit_test(test_size_beyond_a_scenario_file),
        cmocka_unit_test(test_cut_file),
        cmocka_unit_test(test_changed_bytes),
    };
    return cmocka_run_group_tests(tests, set_up_folder, tear_down_folder);
}
