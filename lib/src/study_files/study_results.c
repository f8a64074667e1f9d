/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/study_file.h>

#include "hdf5_file.h"
#include "hdf5_reader.h"
#include "results_heading.h"
#include "study_description.h"
#include "study_figures.h"
#include "whole_file.h"


#include <ctype.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The layout of a sweep's results file, as docs/reference/sweep-file.md has it. */

#define SWEEP_FORMAT "sweep 1.2"

static const char described_as[] = "the results file";

/* Runs are read and written so many at a time. */
enum { BLOCK = 512, NAME_SIZE = 80 };

typedef struct contents {
    const sw_study *study;
    const sw_study_journal *journal;
    const sw_provenance *from;
    const char *run_status;
    const char *description;
    sw_context *context;
    size_t points;     /* of the time axis */
    char *coordinates; /* names of the factors, one blank between */
    char date[SW_DATE_SIZE];
} contents;

/* The open datasets, and one block of what goes into them. */
typedef struct sheet {
    sw_hdf5_object factors[SW_STUDY_FACTORS_MAX], figures[SW_STUDY_FIGURE_COUNT], curves[SW_STUDY_CURVE_COUNT];
    sw_hdf5_object status, failure;
    double *figure_rows; /* BLOCK for each figure */
    double *curve_rows;  /* BLOCK by points for each curve */
    const char *status_rows[BLOCK];
    char *failure_rows[BLOCK];
} sheet;

/* "pit.temperature" as the name of a variable: "pit_temperature". */
static const char *variable_name(const char *key, char name[NAME_SIZE])
{
    snprintf(name, NAME_SIZE, "%s", key);
    for (char *at = name; *at; at++)
        *at = isalnum((unsigned char)*at) ? *at : '_';
    return name;
}

static char *join_names(const sw_study *study)
{
    char *names = calloc(sw_study_factor_count(study) + 1, NAME_SIZE), name[NAME_SIZE];
    for (size_t i = 0; names && i < sw_study_factor_count(study); i++) {
        strcat(names, i ? " " : "");
        strcat(names, variable_name(sw_study_factor(study, i).key, name));
    }
    return names;
}

/* ---- what stands before the runs ---- */

static void put_heading(sw_hdf5_writer *w, sw_hdf5_object root, const contents *c)
{
    char seed[32];
    snprintf(seed, sizeof seed, "%" PRIu64, sw_study_seed(c->study));
    sw_hdf5_text(w, root, "Conventions", "CF-1.8");
    sw_hdf5_text(w, root, "title", sw_study_base(c->study)->title);
    sw_hdf5_text(w, root, "source", c->from->program ? c->from->program : "stallwright");
    sw_put_history(w, root, c->date, c->from->command_line);
    sw_hdf5_text(w, root, "sw_file_format", SWEEP_FORMAT);
    sw_hdf5_text(w, root, "sw_run_status", c->run_status);
    sw_hdf5_text(w, root, "sw_design", sw_design_name(sw_study_design(c->study)));
    sw_hdf5_text(w, root, "sw_seed", seed);
    sw_hdf5_text(w, root, "sw_factors", c->coordinates);
    sw_hdf5_count(w, root, "sw_runs_made", (int64_t)sw_study_journal_count(c->journal));
    sw_hdf5_count(w, root, "sw_runs_failed", (int64_t)sw_study_journal_failures(c->journal));
}

static void put_provenance(sw_hdf5_writer *w, sw_hdf5_object root, const contents *c)
{
    sw_hdf5_object group = sw_provenance_group(w, root, c->from->command_line);
    sw_hdf5_texts(w, group, "study_text", NULL, &c->description, "design, factors and base scenario of the sweep");
    sw_hdf5_close(group);
}

static void put_time(sw_hdf5_writer *w, sw_hdf5_object root, const contents *c, sw_hdf5_axis *axis)
{
    double *times = malloc(c->points * sizeof *times);
    for (size_t i = 0; times && i < c->points; i++)
        times[i] = (double)i * SW_STUDY_CURVE_INTERVAL;
    if (!times)
        sw_hdf5_fail(w, "time", NULL);
    *axis = sw_hdf5_coordinate(w, root, "time", c->points, times, "s", "time since the meat went on the pit");
    free(times);
}

/* ---- factors: known of every run, made or not ---- */

static const char *word_of(const sw_study *study, size_t run, size_t factor)
{
    return sw_study_listed_label(study, factor, sw_study_choice(study, run, factor));
}

static sw_hdf5_object reserve_factor(sw_hdf5_writer *w, sw_hdf5_object root, const sw_study *study, size_t factor,
                                     const sw_hdf5_axis *const *axes)
{
    const sw_factor_view f = sw_study_factor(study, factor);
    char name[NAME_SIZE];
    variable_name(f.key, name);
    sw_hdf5_object set =
        f.has_numbers ? sw_hdf5_reserve(w, root, name, 1, axes, BLOCK, false, sw_quantity_si_unit(f.quantity), f.key)
                      : sw_hdf5_reserve_texts(w, root, name, axes[0], BLOCK, f.key);
    sw_hdf5_text(w, set, "sw_key", f.key);
    return set;
}

static void put_factor_rows(sw_hdf5_writer *w, const sw_study *study, size_t factor, sw_hdf5_object set, size_t first,
                            size_t count)
{
    double numbers[BLOCK];
    const char *words[BLOCK];
    const bool has_numbers = sw_study_factor(study, factor).has_numbers;
    for (size_t i = 0; i < count; i++)
        if (has_numbers)
            numbers[i] = sw_study_number(study, first + i, factor);
        else
            words[i] = word_of(study, first + i, factor);
    if (has_numbers)
        sw_hdf5_write_rows(w, set, first, count, numbers);
    else
        sw_hdf5_write_text_rows(w, set, first, count, words);
}

/* ---- results ---- */

/* Tells readers that the factors are coordinates of the runs. */
static void name_coordinates(sw_hdf5_writer *w, sw_hdf5_object set, const contents *c)
{
    if (*c->coordinates)
        sw_hdf5_text(w, set, "coordinates", c->coordinates);
}

static void open_sheet(sw_hdf5_writer *w, sw_hdf5_object root, const contents *c, const sw_hdf5_axis *run,
                       const sw_hdf5_axis *time, sheet *s)
{
    const sw_hdf5_axis *axes[] = {run, time};
    /* About 128 KiB of single precision. */
    const size_t curve_chunk = c->points < 32768 ? 32768 / c->points : 1;
    for (size_t i = 0; i < sw_study_factor_count(c->study); i++)
        s->factors[i] = reserve_factor(w, root, c->study, i, axes);
    s->status = sw_hdf5_reserve_texts(w, root, "status", run, BLOCK, "done, failed or not run");
    s->failure = sw_hdf5_reserve_texts(w, root, "failure", run, BLOCK, "why the cook failed");
    for (size_t i = 0; i < SW_STUDY_FIGURE_COUNT; i++) {
        const sw_study_figure *f = sw_study_figure_at(i);
        s->figures[i] = sw_hdf5_reserve(w, root, f->name, 1, axes, BLOCK, false, f->unit, f->long_name);
        name_coordinates(w, s->figures[i], c);
    }
    for (int i = 0; i < SW_STUDY_CURVE_COUNT; i++) {
        sw_series series = sw_study_curve_series((sw_study_curve)i);
        s->curves[i] = sw_hdf5_reserve(w, root, sw_series_name(series), 2, axes, curve_chunk, true,
                                       sw_series_unit(series), sw_series_long_name(series));
        name_coordinates(w, s->curves[i], c);
    }
    s->figure_rows = malloc(BLOCK * SW_STUDY_FIGURE_COUNT * sizeof *s->figure_rows);
    s->curve_rows = malloc(BLOCK * c->points * SW_STUDY_CURVE_COUNT * sizeof *s->curve_rows);
    if (!s->figure_rows || !s->curve_rows)
        sw_hdf5_fail(w, "the runs", NULL);
}

static void close_sheet(const contents *c, sheet *s)
{
    for (size_t i = 0; i < sw_study_factor_count(c->study); i++)
        sw_hdf5_close(s->factors[i]);
    for (size_t i = 0; i < SW_STUDY_FIGURE_COUNT; i++)
        sw_hdf5_close(s->figures[i]);
    for (int i = 0; i < SW_STUDY_CURVE_COUNT; i++)
        sw_hdf5_close(s->curves[i]);
    sw_hdf5_close(s->status);
    sw_hdf5_close(s->failure);
    free(s->figure_rows);
    free(s->curve_rows);
}

static void clear_row(const contents *c, sheet *s, size_t row)
{
    for (size_t i = 0; i < SW_STUDY_FIGURE_COUNT; i++)
        s->figure_rows[i * BLOCK + row] = SW_ABSENT;
    for (size_t i = 0; i < SW_STUDY_CURVE_COUNT; i++)
        for (size_t k = 0; k < c->points; k++)
            s->curve_rows[(i * BLOCK + row) * c->points + k] = SW_ABSENT;
    s->status_rows[row] = "not run";
    s->failure_rows[row] = NULL;
}

static void fill_row(sw_hdf5_writer *w, const contents *c, sheet *s, size_t row, size_t run)
{
    sw_study_result result;
    clear_row(c, s, row);
    if (!sw_study_journal_has(c->journal, run))
        return;
    sw_status status = sw_study_journal_read(c->context, c->journal, run, &result);
    if (status != SW_OK) {
        sw_hdf5_fail(w, "a run", status == SW_ERR_MEMORY ? NULL : "the journal cannot be read");
        return;
    }
    for (size_t i = 0; i < SW_STUDY_FIGURE_COUNT; i++)
        s->figure_rows[i * BLOCK + row] = *sw_study_figure_of(&result.outcome, i);
    for (size_t i = 0; i < SW_STUDY_CURVE_COUNT; i++)
        memcpy(s->curve_rows + (i * BLOCK + row) * c->points, result.curves[i], result.point_count * sizeof(double));
    s->status_rows[row] = result.status == SW_OK ? "done" : "failed";
    if (result.status != SW_OK && !(s->failure_rows[row] = strdup(result.failure)))
        sw_hdf5_fail(w, "a failure", NULL);
    sw_study_result_free(&result);
}

static void put_block(sw_hdf5_writer *w, const contents *c, sheet *s, size_t first, size_t count)
{
    const char *failures[BLOCK];
    for (size_t i = 0; i < count; i++) {
        fill_row(w, c, s, i, first + i);
        failures[i] = s->failure_rows[i] ? s->failure_rows[i] : "";
    }
    for (size_t i = 0; i < sw_study_factor_count(c->study); i++)
        put_factor_rows(w, c->study, i, s->factors[i], first, count);
    sw_hdf5_write_text_rows(w, s->status, first, count, s->status_rows);
    sw_hdf5_write_text_rows(w, s->failure, first, count, failures);
    for (size_t i = 0; i < SW_STUDY_FIGURE_COUNT; i++)
        sw_hdf5_write_rows(w, s->figures[i], first, count, s->figure_rows + i * BLOCK);
    for (size_t i = 0; i < SW_STUDY_CURVE_COUNT; i++)
        sw_hdf5_write_rows(w, s->curves[i], first, count, s->curve_rows + i * BLOCK * c->points);
    for (size_t i = 0; i < count; i++)
        free(s->failure_rows[i]);
}

static void put_contents(sw_hdf5_writer *w, sw_hdf5_object root, const void *data)
{
    const contents *c = data;
    const size_t runs = sw_study_run_count(c->study);
    sheet s = {0};
    sw_hdf5_axis time;
    put_heading(w, root, c);
    sw_hdf5_axis run = sw_hdf5_numbered(w, root, "run", runs, "number of the run");
    put_time(w, root, c, &time);
    open_sheet(w, root, c, &run, &time, &s);
    for (size_t first = 0; first < runs && s.figure_rows && s.curve_rows; first += BLOCK)
        put_block(w, c, &s, first, runs - first < BLOCK ? runs - first : BLOCK);
    close_sheet(c, &s);
    sw_hdf5_close(run.scale);
    sw_hdf5_close(time.scale);
    put_provenance(w, root, c);
}

sw_status sw_study_results_write(sw_context *context, sw_scenario_reader *reader, const char *path, const sw_study *study,
                                 const sw_study_journal *journal, const sw_provenance *provenance,
                                 const char *run_status, bool overwrite)
{
    char *description;
    size_t points = sw_study_journal_longest(journal);
    contents c = {.study = study, .journal = journal, .from = provenance, .run_status = run_status, .context = context,
                  .points = points ? points : 1};
    sw_status status = sw_date_created(context, c.date);
    if (status == SW_OK)
        status = sw_whole_file_check(context, described_as, path, overwrite);
    if (status == SW_OK)
        status = sw_study_describe(context, reader, study, &description);
    if (status != SW_OK)
        return status;
    c.description = description;
    c.coordinates = join_names(study);
    status = c.coordinates ? sw_hdf5_write_file(context, described_as, path, overwrite, put_contents, &c)
                           : sw_fail(context, SW_ERR_MEMORY, "memory for %s could not be allocated", described_as);
    free(c.coordinates);
    free(description);
    return status;
}

/* ---- reading a complete file back ---- */

typedef struct results_reading {
    const sw_study *study;
    sw_study_journal *journal;
    const char *path, *description;
    sw_context *context;
    sw_status status; /* of what is not HDF5's */
    size_t points;    /* of the time axis */
} results_reading;

/* The same study, and complete; the first thing that is not so is said. */
static void check_study(results_reading *reading, sw_hdf5_reader *r, sw_hdf5_object root)
{
    char *description = NULL, *run_status = sw_hdf5_read_text(r, root, "sw_run_status");
    sw_hdf5_object group = sw_hdf5_open(r, root, "provenance");
    sw_hdf5_read_texts(r, group, "study_text", 1, &description);
    sw_hdf5_close(group);
    if (sw_hdf5_is_good(r) && strcmp(description, reading->description) != 0)
        reading->status = sw_fail(reading->context, SW_ERR_INPUT, "%s \"%.300s\" is of another sweep", described_as,
                                  reading->path);
    else if (sw_hdf5_is_good(r) && strcmp(run_status, "complete") != 0)
        reading->status = sw_fail(reading->context, SW_ERR_INPUT,
                                  "%s \"%.300s\" is of a sweep that was cut short, and its journal is gone", described_as,
                                  reading->path);
    free(run_status);
    free(description);
}

static void read_block(const results_reading *reading, sw_hdf5_reader *r, sw_hdf5_object root, size_t first, size_t count,
                       const sheet *s)
{
    const sw_hdf5_rows rows = {first, count, 1}, wide = {first, count, reading->points};
    for (size_t i = 0; i < SW_STUDY_FIGURE_COUNT; i++)
        sw_hdf5_read_rows(r, root, sw_study_figure_at(i)->name, &rows, s->figure_rows + i * BLOCK);
    for (int i = 0; i < SW_STUDY_CURVE_COUNT; i++)
        sw_hdf5_read_rows(r, root, sw_series_name(sw_study_curve_series((sw_study_curve)i)), &wide,
                          s->curve_rows + (size_t)i * BLOCK * reading->points);
}

/* How many points of a curve there are: fill values stand after its end. */
static size_t point_count(const double *curve, size_t points)
{
    while (points > 0 && isnan(curve[points - 1]))
        points--;
    return points;
}

/* One row as the result that it was written from. A file says that a cook failed and with which sentence, not with which
 * status. */
static sw_status keep_row(const results_reading *reading, const sheet *s, size_t row, size_t run, const char *failure)
{
    double *curve = s->curve_rows + row * reading->points;
    sw_study_result result = {.run = run, .status = *failure ? SW_ERR_SOLVER : SW_OK};
    snprintf(result.failure, sizeof result.failure, "%s", failure);
    for (size_t i = 0; i < SW_STUDY_FIGURE_COUNT; i++) {
        const double figure = s->figure_rows[i * BLOCK + row];
        *sw_study_figure_of(&result.outcome, i) = isnan(figure) ? SW_ABSENT : figure;
    }
    result.outcome.top_state_at_pull =
        sw_surface_state_of(result.outcome.top_water_activity_at_pull, result.outcome.top_film_share_at_pull);
    result.point_count = point_count(curve, reading->points);
    for (int i = 0; i < SW_STUDY_CURVE_COUNT; i++)
        result.curves[i] = curve + (size_t)i * BLOCK * reading->points;
    return sw_study_journal_append(reading->context, reading->journal, &result);
}

static void keep_block(results_reading *reading, sw_hdf5_reader *r, sw_hdf5_object root, size_t first, const sheet *s)
{
    const size_t left = sw_study_run_count(reading->study) - first, count = left < BLOCK ? left : BLOCK;
    const sw_hdf5_rows rows = {first, count, 1};
    char *failures[BLOCK];
    read_block(reading, r, root, first, count, s);
    sw_hdf5_read_text_rows(r, root, "failure", &rows, failures);
    for (size_t i = 0; i < count && sw_hdf5_is_good(r) && reading->status == SW_OK; i++)
        reading->status = keep_row(reading, s, i, first + i, failures[i]);
    for (size_t i = 0; i < count; i++)
        free(failures[i]);
}

static void read_contents(sw_hdf5_reader *r, sw_hdf5_object root, void *data)
{
    results_reading *reading = data;
    sheet s = {0};
    check_study(reading, r, root);
    if (!sw_hdf5_is_good(r) || reading->status != SW_OK)
        return;
    reading->points = sw_hdf5_read_size(r, root, sw_series_name(SW_SERIES_time));
    s.figure_rows = malloc(BLOCK * SW_STUDY_FIGURE_COUNT * sizeof *s.figure_rows);
    s.curve_rows = malloc((BLOCK * reading->points * SW_STUDY_CURVE_COUNT + 1) * sizeof *s.curve_rows);
    if (!s.figure_rows || !s.curve_rows)
        sw_hdf5_refuse(r, NULL);
    for (size_t first = 0; first < sw_study_run_count(reading->study) && sw_hdf5_is_good(r) && reading->status == SW_OK;
         first += BLOCK)
        keep_block(reading, r, root, first, &s);
    free(s.figure_rows);
    free(s.curve_rows);
}

static sw_status read_file(results_reading *reading)
{
    const sw_hdf5_reading found = sw_hdf5_read(reading->path, read_contents, reading);
    if (reading->status != SW_OK || found.good)
        return reading->status;
    if (found.no_memory)
        return sw_fail(reading->context, SW_ERR_MEMORY, "memory to read \"%.300s\" could not be allocated", reading->path);
    return sw_fail(reading->context, SW_ERR_INPUT, "\"%.300s\" is no results file of a sweep: %s", reading->path,
                   found.failure);
}

sw_status sw_study_results_read(sw_context *context, sw_scenario_reader *reader, const char *path, const sw_study *study,
                                sw_study_journal **journal)
{
    char *description;
    results_reading reading = {.study = study, .path = path, .context = context};
    sw_status status = sw_whole_file_check_readable(context, described_as, path);
    if (status == SW_OK)
        status = sw_study_describe(context, reader, study, &description);
    if (status != SW_OK)
        return status;
    reading.description = description;
    status = sw_study_journal_open(context, reader, NULL, study, false, false, &reading.journal);
    if (status == SW_OK)
        status = read_file(&reading);
    free(description);
    if (status == SW_OK)
        *journal = reading.journal;
    else
        sw_study_journal_close(reading.journal, false);
    return status;
}
