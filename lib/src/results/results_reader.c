/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/results_file.h>
#include <stallwright/scenario_file.h>

#include "hdf5_reader.h"
#include "history.h"
#include "results_layout.h"
#include "whole_file.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Reads the layout that results_file.c writes and docs/reference/results-file.md describes. */

static const char described_as[] = "the results file";

/* What is read, and what reading needs. */
typedef struct results_reading {
    sw_context *context;
    sw_scenario_reader *reader;
    const char *path;
    sw_results *results;
    sw_status status; /* of what is not HDF5's: the scenarios */
} results_reading;

void sw_results_destroy(sw_results *results)
{
    if (!results)
        return;
    for (size_t i = 0; results->histories && i < results->count; i++)
        sw_history_destroy(results->histories[i]);
    for (size_t i = 0; results->labels && i < results->count; i++)
        free(results->labels[i]);
    free(results->histories);
    free(results->labels);
    free(results);
}

/* ---- one cook ---- */

static void read_scenario(results_reading *reading, sw_hdf5_reader *r, sw_hdf5_object group, const char *label,
                          sw_history *h)
{
    char *text, name[256];
    sw_hdf5_read_texts(r, group, "scenario_text", 1, &text);
    if (!text)
        return;
    snprintf(name, sizeof name, "%.150s%s%.60s:scenario_text", reading->path, *label ? ":" : "", label);
    sw_scenario_init(&h->scenario);
    reading->status =
        sw_scenario_read_text(reading->context, reading->reader, name, text, strlen(text), &h->scenario);
    free(text);
    if (reading->status != SW_OK)
        sw_hdf5_refuse(r, "its scenario cannot be read");
    sw_scenario_settle(&h->scenario); /* as the cook did */
#define READ_SIZE(name, field) h->scenario.meat.field = sw_hdf5_read_number(r, group, name);
    SW_MODELLED_SIZE_LIST(READ_SIZE)
}

static bool is_rising(size_t count, const double *values)
{
    for (size_t i = 0; i < count; i++)
        if (!isfinite(values[i]) || (i > 0 && !(values[i] > values[i - 1])))
            return false;
    return true;
}

static void read_series(sw_hdf5_reader *r, sw_hdf5_object group, sw_history *h)
{
    h->row_count = sw_hdf5_read_size(r, group, sw_series_name(SW_SERIES_time));
    if (h->row_count == 0)
        sw_hdf5_refuse(r, "it has no rows");
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        h->series[i] = sw_hdf5_read_values(r, group, sw_series_name((sw_series)i), h->row_count);
    if (sw_hdf5_is_good(r) && !is_rising(h->row_count, h->series[SW_SERIES_time]))
        sw_hdf5_refuse(r, "its times do not rise");
}

static void read_probe(sw_hdf5_reader *r, sw_hdf5_object group, const char *dataset, sw_history *h)
{
    sw_probe_place *place = &h->probes[h->probe_count];
    h->probe_series[h->probe_count] = sw_hdf5_read_values(r, group, dataset, h->row_count);
    sw_hdf5_object set = sw_hdf5_open(r, group, dataset);
    char *name = sw_hdf5_read_text(r, set, "probe_name");
    place->across = sw_hdf5_read_number(r, set, "along_m");
    place->height = sw_hdf5_read_number(r, set, "height_m");
    if (name)
        snprintf(place->name, sizeof place->name, "%s", name);
    free(name);
    sw_hdf5_close(set);
    h->probe_count++;
}

static void read_probes(sw_hdf5_reader *r, sw_hdf5_object group, sw_history *h)
{
    char dataset[64];
    do {
        snprintf(dataset, sizeof dataset, "probe_%zu_temperature", h->probe_count + 1);
        read_probe(r, group, dataset, h);
        snprintf(dataset, sizeof dataset, "probe_%zu_temperature", h->probe_count + 1);
    } while (h->probe_count < SW_PROBES_MAX && sw_hdf5_has(r, group, dataset));
}

/* The upper edge of each cell is the lower edge of the next. */
static void read_row_of_cells(sw_hdf5_reader *r, sw_hdf5_object group, sw_history *h)
{
    h->cell_count = sw_hdf5_read_size(r, group, "x");
    size_t n = h->cell_count;
    h->cell_position = sw_hdf5_read_values(r, group, "x", n);
    double *pairs = sw_hdf5_read_values(r, group, "x_bnds", 2 * n);
    h->cell_across = calloc(n + 1, sizeof *h->cell_across);
    h->cell_bounds = calloc(n + 1, sizeof *h->cell_bounds);
    if (!h->cell_across || !h->cell_bounds)
        sw_hdf5_refuse(r, NULL);
    for (size_t i = 0; sw_hdf5_is_good(r) && i < n; i++) {
        h->cell_bounds[i] = pairs[2 * i];
        h->cell_bounds[i + 1] = pairs[2 * i + 1];
    }
    free(pairs);
}

/* Corners come cell after cell, so the first of a cell follows from how many come before. */
static void read_cell_corners(sw_hdf5_reader *r, sw_hdf5_object group, sw_history *h)
{
    const size_t count = sw_hdf5_read_size(r, group, "cell_corner");
    double *of = sw_hdf5_read_values(r, group, "cell_corner_of", count);
    double *along = sw_hdf5_read_values(r, group, "cell_corner_along", count);
    double *up = sw_hdf5_read_values(r, group, "cell_corner_height", count);
    h->cell_first_corner = calloc(h->cell_count + 1, sizeof *h->cell_first_corner);
    h->cell_corners = calloc(count + 1, sizeof *h->cell_corners);
    if (!h->cell_first_corner || !h->cell_corners)
        sw_hdf5_refuse(r, NULL);
    size_t cell = 0;
    for (size_t i = 0; sw_hdf5_is_good(r) && i < count; i++) {
        if (!(of[i] >= (double)cell && of[i] < (double)h->cell_count)) {
            sw_hdf5_refuse(r, "corners of its cells are not in their order");
            break;
        }
        for (; cell < (size_t)of[i]; cell++)
            h->cell_first_corner[cell + 1] = i;
        h->cell_corners[i][0] = along[i];
        h->cell_corners[i][1] = up[i];
    }
    for (; sw_hdf5_is_good(r) && cell < h->cell_count; cell++)
        h->cell_first_corner[cell + 1] = count;
    free(of);
    free(along);
    free(up);
}

static void read_section_cells(sw_hdf5_reader *r, sw_hdf5_object group, sw_history *h)
{
    h->cell_count = sw_hdf5_read_size(r, group, "cell");
    h->cell_position = sw_hdf5_read_values(r, group, "cell_height", h->cell_count);
    h->cell_across = sw_hdf5_read_values(r, group, "cell_along", h->cell_count);
    if (sw_hdf5_has(r, group, "cell_corner"))
        read_cell_corners(r, group, h);
}

static void read_fields(sw_hdf5_reader *r, sw_hdf5_object group, sw_history *h)
{
    if (sw_shape_is_section(h->scenario.meat.shape))
        read_section_cells(r, group, h);
    else
        read_row_of_cells(r, group, h);
    h->cell_volume = sw_hdf5_read_values(r, group, "cell_volume", h->cell_count);
    h->field_count = sw_hdf5_read_size(r, group, "field_time");
    h->field_time = sw_hdf5_read_values(r, group, "field_time", h->field_count);
    h->field_temperature = sw_hdf5_read_values(r, group, "temperature", h->field_count * h->cell_count);
    h->field_water_content = sw_hdf5_read_values(r, group, "water_content", h->field_count * h->cell_count);
    for (int i = 0; i < SW_INNER_REACTION_COUNT; i++) {
        char name[64];
        snprintf(name, sizeof name, "%s_at_end", sw_reaction_law_of((sw_reaction)i)->name);
        h->cell_extent[i] = sw_hdf5_read_values(r, group, name, h->cell_count);
    }
    if (h->cell_count == 0 || h->field_count == 0)
        sw_hdf5_refuse(r, "it has no cross-sections");
}

/* Phases come in their order, and the first is the pit: the outcome relies on it. */
static void read_phase_names(sw_hdf5_reader *r, sw_hdf5_object group, sw_history *h)
{
    char *names[SW_PHASE_COUNT];
    sw_hdf5_read_texts(r, group, "name", h->phase_count, names);
    int phase = -1;
    for (size_t i = 0; sw_hdf5_is_good(r) && i < h->phase_count; i++) {
        do
            phase++;
        while (phase < SW_PHASE_COUNT && strcmp(names[i], sw_phase_name((sw_phase)phase)) != 0);
        if (phase == SW_PHASE_COUNT || (i == 0 && phase != SW_PHASE_PIT))
            sw_hdf5_refuse(r, "its phases are not those of a cook");
        h->phases[i].phase = (sw_phase)phase;
    }
    for (size_t i = 0; i < h->phase_count; i++)
        free(names[i]);
}

/* One figure of all phases, into the field of that name. */
#define READ_OF_PHASES(dataset, field)                                                                                 \
    sw_hdf5_read_into(r, group, dataset, h->phase_count, figure);                                                      \
    for (size_t i = 0; sw_hdf5_is_good(r) && i < h->phase_count; i++)                                                  \
        h->phases[i].field = figure[i];
#define READ_BUDGET_OF_PHASES(name, unit, long_name) READ_OF_PHASES(#name "_at_end", budget_at_end.name)

#define READ_SIDE_OF_PHASES(name, unit, long_name) READ_OF_PHASES(#name, sides_at_end[side].name)

static void read_side_of_phases(sw_hdf5_reader *r, sw_hdf5_object parent, sw_history *h, int side)
{
    double figure[SW_PHASE_COUNT];
    char name[32];
    snprintf(name, sizeof name, SW_SIDE_GROUP, sw_side_name((sw_side)side));
    sw_hdf5_object group = sw_hdf5_open(r, parent, name);
    SW_SIDE_LIST(READ_SIDE_OF_PHASES)
    sw_hdf5_close(group);
}

static void read_phases(sw_hdf5_reader *r, sw_hdf5_object parent, sw_history *h)
{
    double figure[SW_PHASE_COUNT];
    sw_hdf5_object group = sw_hdf5_open(r, parent, "phase");
    size_t count = sw_hdf5_read_size(r, group, "phase_number");
    if (count == 0 || count > SW_PHASE_COUNT)
        sw_hdf5_refuse(r, "its phases are not those of a cook");
    else
        h->phase_count = count;
    read_phase_names(r, group, h);
    READ_OF_PHASES("start", start)
    READ_OF_PHASES("end", end)
    READ_OF_PHASES("probe_at_end", probe_at_end)
    READ_OF_PHASES("top_surface_at_end", top_surface_at_end)
    READ_OF_PHASES("top_water_activity_at_end", top_water_activity_at_end)
    SW_BUDGET_LIST(READ_BUDGET_OF_PHASES)
    for (int side = 0; side < SW_SIDE_COUNT; side++)
        read_side_of_phases(r, group, h, side);
    sw_hdf5_close(group);
}

static void read_missing_names(sw_hdf5_reader *r, sw_hdf5_object group, sw_history *h)
{
    char *keys[SW_PLANNED_COUNT] = {0}, *reasons[SW_PLANNED_COUNT] = {0};
    sw_hdf5_read_texts(r, group, "ending", h->missing_count, keys);
    sw_hdf5_read_texts(r, group, "reason", h->missing_count, reasons);
    for (size_t i = 0; sw_hdf5_is_good(r) && i < h->missing_count; i++) {
        int end = 0, reason = 0;
        while (end < SW_PLANNED_COUNT && strcmp(keys[i], sw_planned_end_key((sw_planned_end)end)) != 0)
            end++;
        while (reason < SW_MISSING_REASON_COUNT && strcmp(reasons[i], sw_missing_reason_name((sw_missing_reason)reason)) != 0)
            reason++;
        if (end == SW_PLANNED_COUNT || reason == SW_MISSING_REASON_COUNT) {
            sw_hdf5_refuse(r, "it misses endings that no cook has");
            break;
        }
        h->missing[i].end = (sw_planned_end)end;
        h->missing[i].reason = (sw_missing_reason)reason;
    }
    for (size_t i = 0; i < h->missing_count; i++) {
        free(keys[i]);
        free(reasons[i]);
    }
}

#define READ_OF_MISSING(name, unit, long_name)                                                                         \
    sw_hdf5_read_into(r, group, #name, h->missing_count, figure);                                                      \
    for (size_t i = 0; sw_hdf5_is_good(r) && i < h->missing_count; i++)                                                \
        h->missing[i].name = figure[i];

static void read_missing(sw_hdf5_reader *r, sw_hdf5_object parent, sw_history *h)
{
    double figure[SW_PLANNED_COUNT];
    if (!sw_hdf5_is_good(r) || !sw_hdf5_has(r, parent, SW_MISSING_GROUP))
        return;
    sw_hdf5_object group = sw_hdf5_open(r, parent, SW_MISSING_GROUP);
    size_t count = sw_hdf5_read_size(r, group, "missing_number");
    if (count == 0 || count > SW_PLANNED_COUNT)
        sw_hdf5_refuse(r, "it misses endings that no cook has");
    else
        h->missing_count = count;
    read_missing_names(r, group, h);
    SW_MISSING_LIST(READ_OF_MISSING)
    sw_hdf5_close(group);
}

static void read_reactions(sw_hdf5_reader *r, sw_hdf5_object parent, sw_history *h)
{
    sw_hdf5_object group = sw_hdf5_open(r, parent, "reaction");
    size_t count = h->probe_count * SW_INNER_REACTION_COUNT;
    sw_hdf5_read_into(r, group, "probe_extent", count, h->probe_extent[0]);
    sw_hdf5_read_into(r, group, "probe_outside", count, h->probe_outside[0]);
    sw_hdf5_read_into(r, group, "cell_outside", SW_INNER_REACTION_COUNT, h->cell_outside);
    sw_hdf5_close(group);
}

#define READ_FIGURE(name, unit, long_name) sw_hdf5_read_into(r, group, #name, 1, &h->budget.name);

static void read_budget(sw_hdf5_reader *r, sw_hdf5_object parent, sw_history *h)
{
    sw_hdf5_object group = sw_hdf5_open(r, parent, "budget");
    SW_BUDGET_LIST(READ_FIGURE)
    sw_hdf5_close(group);
}

/* Figures of the outcome that cannot be worked out again from the rest. */
static void read_outcome(sw_hdf5_reader *r, sw_hdf5_object parent, sw_history *h)
{
    sw_hdf5_object group = sw_hdf5_open(r, parent, "outcome");
    sw_hdf5_read_into(r, group, "pour_time", 1, &h->pour.time);
    sw_hdf5_read_into(r, group, "pour_probe", 1, &h->pour.probe_temperature);
    sw_hdf5_close(group);
}

static void read_statistics(sw_hdf5_reader *r, sw_hdf5_object parent, sw_solver_statistics *s)
{
    sw_hdf5_object group = sw_hdf5_open(r, parent, "solver");
    s->steps = (long)sw_hdf5_read_count(r, group, "steps");
    s->right_hand_sides = (long)sw_hdf5_read_count(r, group, "right_hand_sides");
    s->jacobians = (long)sw_hdf5_read_count(r, group, "jacobians");
    s->error_test_failures = (long)sw_hdf5_read_count(r, group, "error_test_failures");
    s->convergence_failures = (long)sw_hdf5_read_count(r, group, "convergence_failures");
    sw_hdf5_close(group);
}

/* The part that failed leaves the rest of the history empty; the caller destroys it. */
static sw_history *read_cook(results_reading *reading, sw_hdf5_reader *r, sw_hdf5_object group, const char *label)
{
    sw_history *h = calloc(1, sizeof *h);
    if (!h) {
        sw_hdf5_refuse(r, NULL);
        return NULL;
    }
    read_scenario(reading, r, group, label, h);
    read_series(r, group, h);
    read_probes(r, group, h);
    read_fields(r, group, h);
    read_phases(r, group, h);
    read_missing(r, group, h);
    read_outcome(r, group, h);
    read_reactions(r, group, h);
    read_budget(r, group, h);
    read_statistics(r, group, &h->statistics);
    if (sw_hdf5_is_good(r))
        sw_history_find_milestones(h);
    return h;
}

/* ---- the whole file ---- */

static void check_format(sw_hdf5_reader *r, sw_hdf5_object root)
{
    if (!sw_hdf5_has_attribute(r, root, "sw_file_format")) {
        sw_hdf5_refuse(r, "it is an HDF5 file, but no results file of stallwright");
        return;
    }
    char *format = sw_hdf5_read_text(r, root, "sw_file_format"), why[128];
    if (format && strncmp(format, "sweep ", 6) == 0) {
        sw_hdf5_refuse(r, "it holds a sweep, whose cooks have no fields; a file of one cook or of a comparison is read");
    } else if (format && strcmp(format, SW_RESULTS_FORMAT) != 0) {
        snprintf(why, sizeof why, "it has the format %.20s; this version of stallwright reads %s", format,
                 SW_RESULTS_FORMAT);
        sw_hdf5_refuse(r, why);
    }
    free(format);
}

/* Splits the names of the cooks, with a space between; a file of one cook names none. */
static void read_labels(sw_hdf5_reader *r, sw_hdf5_object root, sw_results *results)
{
    bool many = sw_hdf5_has_attribute(r, root, "sw_cooks");
    char *list = many ? sw_hdf5_read_text(r, root, "sw_cooks") : NULL, *rest = NULL;
    size_t room = 1;
    for (const char *at = list; at && *at; at++)
        room += *at == ' ';
    results->labels = calloc(room, sizeof *results->labels);
    results->histories = calloc(room, sizeof *results->histories);
    if (!results->labels || !results->histories)
        sw_hdf5_refuse(r, NULL);
    for (char *word = list ? strtok_r(list, " ", &rest) : NULL; word && sw_hdf5_is_good(r);
         word = strtok_r(NULL, " ", &rest)) {
        results->labels[results->count] = strdup(word);
        if (!results->labels[results->count++])
            sw_hdf5_refuse(r, NULL);
    }
    if (!many && sw_hdf5_is_good(r)) {
        results->labels[results->count++] = strdup("");
        if (!results->labels[0])
            sw_hdf5_refuse(r, NULL);
    }
    if (results->count == 0)
        sw_hdf5_refuse(r, "it names no cooks");
    free(list);
}

/* Not before the file is known to be a good one: it takes longer than to refuse a bad one. */
static void create_reader(results_reading *reading, sw_hdf5_reader *r)
{
    if (!sw_hdf5_is_good(r))
        return;
    reading->status = sw_scenario_reader_create(reading->context, &reading->reader);
    if (reading->status != SW_OK)
        sw_hdf5_refuse(r, "its scenario cannot be read");
}

static void read_contents(sw_hdf5_reader *r, sw_hdf5_object root, void *data)
{
    results_reading *reading = data;
    sw_results *results = reading->results;
    check_format(r, root);
    create_reader(reading, r);
    read_labels(r, root, results);
    for (size_t i = 0; sw_hdf5_is_good(r) && i < results->count; i++) {
        const char *label = results->labels[i];
        sw_hdf5_object group = *label ? sw_hdf5_open(r, root, label) : root;
        results->histories[i] = read_cook(reading, r, group, label);
        if (*label)
            sw_hdf5_close(group);
    }
}

static sw_status read_file(results_reading *all)
{
    sw_hdf5_reading found = sw_hdf5_read(all->path, read_contents, all);
    if (all->status != SW_OK || found.good)
        return all->status;
    if (found.no_memory)
        return sw_fail(all->context, SW_ERR_MEMORY, "memory to read \"%.300s\" could not be allocated", all->path);
    return sw_fail(all->context, SW_ERR_INPUT, "%s \"%.300s\" cannot be read: %s", described_as,
                   all->path, found.failure);
}

sw_status sw_results_read(sw_context *context, const char *path, sw_results **results)
{
    results_reading all = {.context = context, .path = path, .status = SW_OK};
    /* HDF5 tells a missing file from a damaged one by its own words only. */
    sw_status status = sw_whole_file_check_readable(context, described_as, path);
    if (status != SW_OK)
        return status;
    all.results = calloc(1, sizeof *all.results);
    status = all.results ? read_file(&all)
                         : sw_fail(context, SW_ERR_MEMORY, "memory to read \"%.300s\" could not be allocated", path);
    sw_scenario_reader_destroy(all.reader);
    if (status == SW_OK)
        *results = all.results;
    else
        sw_results_destroy(all.results);
    return status;
}
