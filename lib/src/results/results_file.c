/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/results_file.h>

#include <stallwright/scenario_file.h>
#include <stallwright/scenario_keys.h>
#include <stallwright/version.h>

#include "hdf5_file.h"
#include "results_heading.h"
#include "results_layout.h"
#include "whole_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The layout of the results file, as docs/reference/results-file.md has it. */

static const char described_as[] = "the results file";

const char *sw_version_of_hdf5(void)
{
    return sw_hdf5_version();
}

/* ---- one cook ---- */

static void put_probe(sw_hdf5_writer *w, sw_hdf5_object group, const sw_history *h, size_t i,
                      const sw_hdf5_axis *const *axes)
{
    char name[64], long_name[96];
    snprintf(name, sizeof name, "probe_%zu_temperature", i + 1);
    snprintf(long_name, sizeof long_name, "temperature at the probe \"%s\"", h->probes[i].name);
    sw_hdf5_object set = sw_hdf5_values(w, group, name, 1, axes, h->probe_series[i], "K", long_name);
    sw_hdf5_text(w, set, "probe_name", h->probes[i].name);
    sw_hdf5_number(w, set, "along_m", h->probes[i].across);
    sw_hdf5_number(w, set, "height_m", h->probes[i].height);
    sw_hdf5_close(set);
}

static void put_series(sw_hdf5_writer *w, sw_hdf5_object group, const sw_history *h)
{
    sw_hdf5_axis time = sw_hdf5_coordinate(w, group, sw_series_name(SW_SERIES_time), h->row_count,
                                           h->series[SW_SERIES_time], sw_series_unit(SW_SERIES_time),
                                           sw_series_long_name(SW_SERIES_time));
    const sw_hdf5_axis *axes[] = {&time};
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        if (i != SW_SERIES_time)
            sw_hdf5_dataset(w, group, sw_series_name((sw_series)i), 1, axes, h->series[i], sw_series_unit((sw_series)i),
                            sw_series_long_name((sw_series)i));
    for (size_t i = 0; i < h->probe_count; i++)
        put_probe(w, group, h, i, axes);
    sw_hdf5_close(time.scale);
}

/* Cells in a row have an axis x and exact edges. */
static sw_hdf5_axis put_row_of_cells(sw_hdf5_writer *w, sw_hdf5_object group, const sw_history *h)
{
    sw_hdf5_axis x = sw_hdf5_coordinate(w, group, "x", h->cell_count, h->cell_position, "m",
                                        "cell centre: height, or distance from the axis or centre");
    sw_hdf5_axis pair = sw_hdf5_bare_axis(w, group, "nv", 2);
    const sw_hdf5_axis *axes[] = {&x, &pair};
    double *edges = malloc(2 * h->cell_count * sizeof *edges);
    for (size_t i = 0; edges && i < h->cell_count; i++) {
        edges[2 * i] = h->cell_bounds[i];
        edges[2 * i + 1] = h->cell_bounds[i + 1];
    }
    if (!edges)
        sw_hdf5_fail(w, "x_bnds", NULL);
    sw_hdf5_bounds(w, group, "x_bnds", axes, edges);
    sw_hdf5_text(w, x.scale, "bounds", "x_bnds");
    free(edges);
    sw_hdf5_close(pair.scale);
    return x;
}

/* Corners of all cells, one after the other, each with the number of its cell. */
static void put_cell_corners(sw_hdf5_writer *w, sw_hdf5_object group, const sw_history *h)
{
    const size_t count = h->cell_first_corner[h->cell_count];
    double *values = malloc(3 * count * sizeof *values), *along = values + count, *up = along + count;
    if (!values) {
        sw_hdf5_fail(w, "cell_corner", NULL);
        return;
    }
    for (size_t i = 0, corner = 0; i < h->cell_count; i++)
        for (; corner < h->cell_first_corner[i + 1]; corner++) {
            values[corner] = (double)i;
            along[corner] = h->cell_corners[corner][0];
            up[corner] = h->cell_corners[corner][1];
        }
    sw_hdf5_axis axis = sw_hdf5_numbered(w, group, "cell_corner", count, "number of the cells' corner, cell after cell");
    const sw_hdf5_axis *axes[] = {&axis};
    sw_hdf5_dataset(w, group, "cell_corner_of", 1, axes, values, "1", "number of the cell that the corner belongs to");
    sw_hdf5_dataset(w, group, "cell_corner_along", 1, axes, along, "m", "corner of the cell, along the section");
    sw_hdf5_dataset(w, group, "cell_corner_height", 1, axes, up, "m", "corner of the cell, above the lowest point");
    sw_hdf5_close(axis.scale);
    free(values);
}

/* The cells of a section are numbered and carry their place. */
static sw_hdf5_axis put_section_cells(sw_hdf5_writer *w, sw_hdf5_object group, const sw_history *h)
{
    sw_hdf5_axis cell = sw_hdf5_numbered(w, group, "cell", h->cell_count, "number of the cell");
    const sw_hdf5_axis *axes[] = {&cell};
    sw_hdf5_dataset(w, group, "cell_along", 1, axes, h->cell_across, "m", "cell centre along the section");
    sw_hdf5_dataset(w, group, "cell_height", 1, axes, h->cell_position, "m", "cell centre above the lowest point");
    return cell;
}

static void put_outline(sw_hdf5_writer *w, sw_hdf5_object group, const sw_history *h)
{
    double corners[SW_OUTLINE_MAX][2], along[SW_OUTLINE_MAX], height[SW_OUTLINE_MAX];
    size_t count = sw_section_outline(&h->scenario.meat, corners);
    for (size_t i = 0; i < count; i++) {
        along[i] = corners[i][0];
        height[i] = corners[i][1];
    }
    sw_hdf5_axis corner = sw_hdf5_numbered(w, group, "corner", count, "number of the outline's corner");
    const sw_hdf5_axis *axes[] = {&corner};
    sw_hdf5_dataset(w, group, "outline_along", 1, axes, along, "m", "corner of the outline, along the section");
    sw_hdf5_dataset(w, group, "outline_height", 1, axes, height, "m", "corner of the outline, above the lowest point");
    sw_hdf5_close(corner.scale);
}

/* The cells of a section lie where two variables say; those in a row have an axis. */
static void name_places(sw_hdf5_writer *w, sw_hdf5_object set, const sw_history *h)
{
    if (!h->cell_bounds)
        sw_hdf5_text(w, set, "coordinates", "cell_along cell_height");
}

/* What CF readers ask of a quantity that belongs to cells. */
static void describe_cell_quantity(sw_hdf5_writer *w, sw_hdf5_object set, const sw_history *h)
{
    sw_hdf5_text(w, set, "cell_measures", "volume: cell_volume");
    if (h->cell_bounds)
        sw_hdf5_text(w, set, "cell_methods", "field_time: point x: mean");
    name_places(w, set, h);
}

static void put_fields(sw_hdf5_writer *w, sw_hdf5_object group, const sw_history *h)
{
    sw_hdf5_axis cells = h->cell_bounds ? put_row_of_cells(w, group, h) : put_section_cells(w, group, h);
    sw_hdf5_axis time = sw_hdf5_coordinate(w, group, "field_time", h->field_count, h->field_time, "s",
                                           "time of the stored cross-sections");
    const sw_hdf5_axis *axes[] = {&time, &cells};
    sw_hdf5_object set = sw_hdf5_values(w, group, "cell_volume", 1, &axes[1], h->cell_volume, "m3",
                                        "raw volume of the cell in the whole cut");
    name_places(w, set, h);
    sw_hdf5_close(set);

    set = sw_hdf5_values(w, group, "temperature", 2, axes, h->field_temperature, "K",
                                        "temperature of the cell");
    describe_cell_quantity(w, set, h);
    sw_hdf5_close(set);

    set = sw_hdf5_values(w, group, "water_content", 2, axes, h->field_water_content, "kg kg-1",
                         "water content of the cell");
    sw_hdf5_text(w, set, "comment", "dry basis: kg water per kg dry matter, fat not counted as dry matter");
    describe_cell_quantity(w, set, h);
    sw_hdf5_close(set);

    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++) {
        const sw_reaction_law *law = sw_reaction_law_of((sw_reaction)r);
        char name[64], long_name[96];
        snprintf(name, sizeof name, "%s_at_end", law->name);
        snprintf(long_name, sizeof long_name, "share of %s at the end", law->meaning);
        set = sw_hdf5_values(w, group, name, 1, &axes[1], h->cell_extent[r], "1", long_name);
        sw_hdf5_text(w, set, "comment", "a cell of fat cap or seam has the fill value where only lean meat reacts");
        sw_hdf5_text(w, set, "cell_measures", "volume: cell_volume");
        name_places(w, set, h);
        sw_hdf5_close(set);
    }
    if (!h->cell_bounds)
        put_outline(w, group, h);
    if (h->cell_first_corner)
        put_cell_corners(w, group, h);
    sw_hdf5_close(time.scale);
    sw_hdf5_close(cells.scale);
}

/* One figure of the budget, as it stood when each phase ended. */
#define PUT_FIGURE_OF_PHASES(name, unit, long_name)                                                                    \
    for (size_t i = 0; i < h->phase_count; i++)                                                                        \
        figure[i] = h->phases[i].budget_at_end.name;                                                                   \
    sw_hdf5_dataset(w, group, #name "_at_end", 1, axes, figure, unit, long_name ", when the phase ended");

/* One figure of a side's outermost layer, as it stood when each phase ended. */
#define PUT_SIDE_OF_PHASES(name, unit, long_name)                                                                      \
    for (size_t i = 0; i < h->phase_count; i++)                                                                        \
        figure[i] = h->phases[i].sides_at_end[side].name;                                                              \
    sw_hdf5_dataset(w, group, #name, 1, axes, figure, unit, long_name ", when the phase ended");

static void put_side_of_phases(sw_hdf5_writer *w, sw_hdf5_object parent, const sw_history *h, int side,
                               const sw_hdf5_axis *const *axes)
{
    double figure[SW_PHASE_COUNT];
    char name[32];
    snprintf(name, sizeof name, SW_SIDE_GROUP, sw_side_name((sw_side)side));
    sw_hdf5_object group = sw_hdf5_group(w, parent, name);
    sw_hdf5_text(w, group, "comment", "a side that the cut does not have has the fill value");
    SW_SIDE_LIST(PUT_SIDE_OF_PHASES)
    sw_hdf5_close(group);
}

static void put_phases(sw_hdf5_writer *w, sw_hdf5_object parent, const sw_history *h)
{
    sw_hdf5_object group = sw_hdf5_group(w, parent, "phase");
    double start[SW_PHASE_COUNT], end[SW_PHASE_COUNT], probe[SW_PHASE_COUNT], top[SW_PHASE_COUNT];
    double activity[SW_PHASE_COUNT], figure[SW_PHASE_COUNT];
    const char *names[SW_PHASE_COUNT];
    for (size_t i = 0; i < h->phase_count; i++) {
        names[i] = sw_phase_name(h->phases[i].phase);
        start[i] = h->phases[i].start;
        end[i] = h->phases[i].end;
        probe[i] = h->phases[i].probe_at_end;
        top[i] = h->phases[i].top_surface_at_end;
        activity[i] = h->phases[i].top_water_activity_at_end;
    }
    sw_hdf5_axis number = sw_hdf5_numbered(w, group, "phase_number", h->phase_count, "number of the phase, in order");
    const sw_hdf5_axis *axes[] = {&number};
    sw_hdf5_texts(w, group, "name", &number, names, "name of the phase");
    sw_hdf5_dataset(w, group, "start", 1, axes, start, "s", "when the phase began");
    sw_hdf5_dataset(w, group, "end", 1, axes, end, "s", "when the phase ended");
    sw_hdf5_dataset(w, group, "probe_at_end", 1, axes, probe, "K", "probe temperature when the phase ended");
    sw_hdf5_dataset(w, group, "top_surface_at_end", 1, axes, top, "K", "top surface temperature when the phase ended");
    sw_hdf5_dataset(w, group, "top_water_activity_at_end", 1, axes, activity, "1",
                    "water activity of the top surface when the phase ended");
    SW_BUDGET_LIST(PUT_FIGURE_OF_PHASES)
    for (int side = 0; side < SW_SIDE_COUNT; side++)
        put_side_of_phases(w, group, h, side, axes);
    sw_hdf5_close(number.scale);
    sw_hdf5_close(group);
}

#define PUT_FIGURE_OF_MISSING(name, unit, long_name)                                                                   \
    for (size_t i = 0; i < h->missing_count; i++)                                                                      \
        figure[i] = h->missing[i].name;                                                                                \
    sw_hdf5_dataset(w, group, #name, 1, axes, figure, unit, long_name);

/* What was planned and did not come; no group if nothing is missing. */
static void put_missing(sw_hdf5_writer *w, sw_hdf5_object parent, const sw_history *h)
{
    double figure[SW_PLANNED_COUNT];
    const char *keys[SW_PLANNED_COUNT], *reasons[SW_PLANNED_COUNT];
    if (h->missing_count == 0)
        return;
    for (size_t i = 0; i < h->missing_count; i++) {
        keys[i] = sw_planned_end_key(h->missing[i].end);
        reasons[i] = sw_missing_reason_name(h->missing[i].reason);
    }
    sw_hdf5_object group = sw_hdf5_group(w, parent, SW_MISSING_GROUP);
    sw_hdf5_axis number = sw_hdf5_numbered(w, group, "missing_number", h->missing_count, "number of the ending");
    const sw_hdf5_axis *axes[] = {&number};
    sw_hdf5_texts(w, group, "ending", &number, keys, "key of the ending that did not come");
    sw_hdf5_texts(w, group, "reason", &number, reasons, "why it did not come");
    SW_MISSING_LIST(PUT_FIGURE_OF_MISSING)
    sw_hdf5_close(number.scale);
    sw_hdf5_close(group);
}

/* How far the reactions got, at the probes. */
static void put_reactions(sw_hdf5_writer *w, sw_hdf5_object parent, const sw_history *h)
{
    const char *names[SW_INNER_REACTION_COUNT];
    sw_hdf5_object group = sw_hdf5_group(w, parent, "reaction");
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++)
        names[r] = sw_reaction_law_of((sw_reaction)r)->name;
    sw_hdf5_axis probe = sw_hdf5_numbered(w, group, "probe_number", h->probe_count, "number of the probe, in order");
    sw_hdf5_axis number = sw_hdf5_numbered(w, group, "reaction_number", SW_INNER_REACTION_COUNT,
                                           "number of the reaction, in order");
    const sw_hdf5_axis *axes[] = {&probe, &number};
    sw_hdf5_texts(w, group, "name", &number, names, "name of the reaction");
    sw_hdf5_dataset(w, group, "probe_extent", 2, axes, h->probe_extent[0], "1", "share reacted at the probe");
    sw_hdf5_dataset(w, group, "probe_outside", 2, axes, h->probe_outside[0], "1",
                    "part of it gained outside the range that the law was fitted to");
    sw_hdf5_dataset(w, group, "cell_outside", 1, &axes[1], h->cell_outside, "1",
                    "of all that reacted in the cells, the share gained outside that range");
    sw_hdf5_close(number.scale);
    sw_hdf5_close(probe.scale);
    sw_hdf5_close(group);
}

#define PUT_FIGURE(name, unit, long_name) sw_hdf5_dataset(w, group, #name, 0, NULL, &figures->name, unit, long_name);

static void put_outcome(sw_hdf5_writer *w, sw_hdf5_object parent, const sw_history *h)
{
    sw_outcome outcome;
    const sw_outcome *figures = &outcome;
    sw_outcome_evaluate(h, &outcome);
    sw_hdf5_object group = sw_hdf5_group(w, parent, "outcome");
    sw_hdf5_text(w, group, "comment",
                 "a figure that does not exist, such as the start of a stall that did not happen, has the fill value");
    SW_OUTCOME_LIST(PUT_FIGURE)
    sw_hdf5_close(group);
}

static void put_budget(sw_hdf5_writer *w, sw_hdf5_object parent, const sw_budget *figures)
{
    sw_hdf5_object group = sw_hdf5_group(w, parent, "budget");
    SW_BUDGET_LIST(PUT_FIGURE)
    sw_hdf5_close(group);
}

static void put_solver(sw_hdf5_writer *w, sw_hdf5_object parent, const sw_history *h)
{
    sw_hdf5_object group = sw_hdf5_group(w, parent, "solver");
    sw_hdf5_text(w, group, "integrator", "CVODES, variable-order BDF");
    sw_hdf5_number(w, group, "relative_tolerance", h->scenario.solver.relative_tolerance);
    sw_hdf5_count(w, group, "cells", (int64_t)h->cell_count);
    sw_hdf5_count(w, group, "steps", h->statistics.steps);
    sw_hdf5_count(w, group, "right_hand_sides", h->statistics.right_hand_sides);
    sw_hdf5_count(w, group, "jacobians", h->statistics.jacobians);
    sw_hdf5_count(w, group, "error_test_failures", h->statistics.error_test_failures);
    sw_hdf5_count(w, group, "convergence_failures", h->statistics.convergence_failures);
    sw_hdf5_close(group);
}

static void put_cook(sw_hdf5_writer *w, sw_hdf5_object group, const sw_history *h, const char *scenario_text)
{
    sw_hdf5_text(w, group, "sw_shape", sw_shape_name(h->scenario.meat.shape));
    sw_hdf5_text(w, group, "sw_wrap", sw_wrap_name(h->scenario.wrap.kind));
#define PUT_SIZE(name, field) sw_hdf5_number(w, group, name, h->scenario.meat.field);
    SW_MODELLED_SIZE_LIST(PUT_SIZE)
    sw_hdf5_texts(w, group, "scenario_text", NULL, &scenario_text, "the scenario of this cook as it was run, as a file");
    put_series(w, group, h);
    put_fields(w, group, h);
    put_phases(w, group, h);
    put_missing(w, group, h);
    put_outcome(w, group, h);
    put_reactions(w, group, h);
    put_budget(w, group, &h->budget);
    put_solver(w, group, h);
}

/* ---- the whole file ---- */

typedef struct contents {
    size_t count;
    const sw_history *const *histories;
    const char *const *labels;
    const sw_provenance *from;
    char **scenario_texts; /* count */
    char date[SW_DATE_SIZE];
} contents;

static void put_heading(sw_hdf5_writer *w, sw_hdf5_object root, const contents *c)
{
    sw_hdf5_text(w, root, "Conventions", "CF-1.8");
    sw_hdf5_text(w, root, "title", c->histories[0]->scenario.title);
    sw_hdf5_text(w, root, "source", c->from->program ? c->from->program : "stallwright");
    sw_put_history(w, root, c->date, c->from->command_line);
    sw_hdf5_text(w, root, "sw_file_format", SW_RESULTS_FORMAT);
    sw_hdf5_text(w, root, "sw_run_status", "complete");
    if (c->count > 1)
        sw_put_joined(w, root, "sw_cooks", c->count, c->labels, " ");
}

static void put_contents(sw_hdf5_writer *w, sw_hdf5_object root, const void *data)
{
    const contents *c = data;
    put_heading(w, root, c);
    if (c->count == 1)
        put_cook(w, root, c->histories[0], c->scenario_texts[0]);
    for (size_t i = 0; c->count > 1 && i < c->count; i++) {
        sw_hdf5_object group = sw_hdf5_group(w, root, c->labels[i]);
        put_cook(w, group, c->histories[i], c->scenario_texts[i]);
        sw_hdf5_close(group);
    }
    sw_put_provenance(w, root, c->from);
}

/* Whether a text may name a group: ASCII letters, digits, '-', '_', and letters beyond ASCII. */
static bool is_label(const char *text)
{
    static const char allowed[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_";
    for (const char *at = text; *at; at++)
        if ((unsigned char)*at < 0x80 && !strchr(allowed, *at))
            return false;
    return *text && strcmp(text, SW_PROVENANCE_GROUP) != 0;
}

static sw_status check_labels(sw_context *context, size_t count, const char *const *labels)
{
    for (size_t i = 0; i < count; i++) {
        if (!is_label(labels[i]))
            return sw_fail(context, SW_ERR_ARGUMENT,
                           "a cook is called \"%.100s\"; in a results file its name may have letters, digits, '-' and "
                           "'_' only, and may not be \"%s\"",
                           labels[i], SW_PROVENANCE_GROUP);
        for (size_t k = 0; k < i; k++)
            if (strcmp(labels[i], labels[k]) == 0)
                return sw_fail(context, SW_ERR_ARGUMENT,
                               "two cooks are called \"%.100s\"; in a results file each needs a name of its own",
                               labels[i]);
    }
    return SW_OK;
}

/* ---- the scenarios ---- */

/* A size taken from the mass may be beyond what a scenario file may hold; 0 takes it from the mass again. */
static double writable(const char *key, double size)
{
    sw_range range = sw_scenario_key_find(key)->range;
    return size >= range.minimum && size <= range.maximum ? size : 0.0;
}

/* The scenario of a history as a file, in *text, which the caller frees. */
static sw_status write_scenario(sw_context *context, sw_scenario_reader *reader, const sw_history *h, char **text)
{
    sw_scenario s = h->scenario;
    size_t length;
    char *written = NULL;
    s.meat.thickness = writable("meat.thickness", s.meat.thickness);
    s.meat.width = writable("meat.width", s.meat.width);
    s.meat.end_thickness = writable("meat.end_thickness", s.meat.end_thickness);
    FILE *stream = open_memstream(&written, &length);
    if (!stream)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the text of a scenario could not be allocated");
    sw_status status = sw_scenario_write(context, reader, &s, SW_UNITS_SI, stream);
    if (fclose(stream) != 0 && status == SW_OK)
        status = sw_fail(context, SW_ERR_MEMORY, "memory for the text of a scenario could not be allocated");
    char *adopted = written ? sw_adopt_text(written) : NULL;
    if (status == SW_OK && !adopted)
        status = sw_fail(context, SW_ERR_MEMORY, "memory for the text of a scenario could not be allocated");
    if (status == SW_OK)
        *text = adopted;
    else
        free(adopted);
    return status;
}

static sw_status write_scenarios(sw_context *context, const contents *c)
{
    sw_scenario_reader *reader = NULL;
    sw_status status = sw_scenario_reader_create(context, &reader);
    for (size_t i = 0; i < c->count && status == SW_OK; i++)
        status = write_scenario(context, reader, c->histories[i], &c->scenario_texts[i]);
    sw_scenario_reader_destroy(reader);
    return status;
}

static sw_status write_file(sw_context *context, const char *path, const contents *all, bool overwrite)
{
    sw_status status = write_scenarios(context, all);
    if (status != SW_OK)
        return status;
    return sw_hdf5_write_file(context, described_as, path, overwrite, put_contents, all);
}

sw_status sw_results_write(sw_context *context, const char *path, size_t count, const sw_history *const *histories,
                           const char *const *labels, const sw_provenance *provenance, bool overwrite)
{
    static const sw_provenance unknown = {0};
    contents all = {count, histories, labels, provenance ? provenance : &unknown, NULL, ""};
    if (count == 0)
        return sw_fail(context, SW_ERR_ARGUMENT, "there is no cook to write to %s \"%.300s\"", described_as, path);
    sw_status status = count > 1 ? check_labels(context, count, labels) : SW_OK;
    if (status == SW_OK)
        status = sw_date_created(context, all.date);
    if (status == SW_OK)
        status = sw_whole_file_check(context, described_as, path, overwrite);
    if (status != SW_OK)
        return status;
    all.scenario_texts = calloc(count, sizeof *all.scenario_texts);
    if (!all.scenario_texts)
        return sw_fail(context, SW_ERR_MEMORY, "memory for %s \"%.300s\" could not be allocated", described_as, path);
    status = write_file(context, path, &all, overwrite);
    for (size_t i = 0; i < count; i++)
        free(all.scenario_texts[i]);
    free(all.scenario_texts);
    return status;
}
