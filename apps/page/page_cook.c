/* SPDX-License-Identifier: BSD-3-Clause */
#include "page_cook.h"

#include "json_output.h"
#include "section_surface.h"

#include <math.h>
#include <stdlib.h>

/* Numbers of charts are rounded: the page says to what. */
static json_t *rounded(double value, double per_unit)
{
    return isfinite(value) ? json_real(round(value * per_unit) / per_unit) : json_null();
}

/* Rows of the history at which a cross-section is stored. */
typedef struct moments {
    size_t count;
    size_t *row, *field;
} moments;

static bool find_moments(const sw_run *run, page_detail detail, moments *m)
{
    const sw_history *h = run->history;
    const size_t most = detail.moments;
    const double *time = h->series[SW_SERIES_time], until = detail.to_the_end ? INFINITY : run->outcome.done_time;
    m->count = 0;
    m->row = malloc(h->field_count * sizeof *m->row);
    m->field = malloc(h->field_count * sizeof *m->field);
    if (!m->row || !m->field)
        return false;
    size_t row = 0, all = 0;
    for (size_t f = 0; f < h->field_count && h->field_time[f] <= until + 1e-6; f++) {
        while (row + 1 < h->row_count && time[row] < h->field_time[f] - 1e-6)
            row++;
        m->row[all] = row;
        m->field[all++] = f;
    }
    const size_t stride = all > most ? (all + most - 2) / (most - 1) : 1;
    for (size_t i = 0; i < all; i += stride) {
        m->row[m->count] = m->row[i];
        m->field[m->count++] = m->field[i];
    }
    if (all > 0 && (all - 1) % stride != 0) {
        m->row[m->count] = m->row[all - 1];
        m->field[m->count++] = m->field[all - 1];
    }
    return true;
}

static json_t *series_of(const double *values, const moments *m, double per_unit)
{
    json_t *list = json_array();
    for (size_t i = 0; i < m->count; i++)
        json_array_append_new(list, rounded(values[m->row[i]], per_unit));
    return list;
}

static json_t *heat_of(const sw_history *h, const moments *m)
{
    json_t *object = json_object();
    for (int item = 0; item < SW_HEAT_ITEM_COUNT; item++) {
        json_t *list = json_array();
        for (size_t i = 0; i < m->count; i++) {
            const sw_heat_budget b = sw_heat_in_row(h, m->row[i]);
            json_array_append_new(list, rounded(b.item[item], 0.1));
        }
        json_object_set_new(object, sw_heat_name((sw_heat_item)item), list);
    }
    return object;
}

/* Which cells are taken: in one dimension at most so many, the outermost always. */
static size_t choose_cells(const sw_history *h, size_t most, size_t *cells)
{
    const size_t n = h->cell_count;
    if (!h->cell_bounds || n <= most) {
        for (size_t i = 0; i < n; i++)
            cells[i] = i;
        return n;
    }
    for (size_t k = 0; k < most; k++)
        cells[k] = (k * (n - 1) + (most - 1) / 2) / (most - 1);
    return most;
}

static json_t *places_of(const double *values, const size_t *cells, size_t count)
{
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++)
        json_array_append_new(list, rounded(values[cells[i]], 1e5));
    return list;
}

/* Whole numbers: tenths of a kelvin above 0 C, or hundredths of a kilogram of water to one of dry matter. */
static json_t *fields_of(const sw_history *h, const double *values, const moments *m, const size_t *cells, size_t count,
                         double offset, double per_unit)
{
    json_t *list = json_array();
    for (size_t i = 0; i < m->count; i++) {
        json_t *field = json_array();
        for (size_t k = 0; k < count; k++)
            json_array_append_new(field, json_integer(lround(
                                             (values[m->field[i] * h->cell_count + cells[k]] - offset) * per_unit)));
        json_array_append_new(list, field);
    }
    return list;
}

/* Corners of the cells, each once, and which of them a cell has, counter-clockwise; where only a half was computed the cells of
 * its mirror image follow, in the same order. */
static void add_cells(json_t *object, const sw_history *h)
{
    section_surface s;
    json_t *corners = json_array(), *cells = json_array();
    if (section_surface_init(h, &s)) {
        for (size_t i = s.cell_count; i < s.vertex_count; i++)
            json_array_append_new(corners, json_pack("[o, o]", rounded(s.x[i], 1e5), rounded(s.y[i], 1e5)));
        for (size_t i = 0, t = 0; i < s.cell_count; i++) {
            json_t *cell = json_array();
            for (; t < s.triangle_count && s.triangles[t][0] == i; t++)
                json_array_append_new(cell, json_integer((json_int_t)(s.triangles[t][1] - s.cell_count)));
            json_array_append_new(cells, cell);
        }
    }
    section_surface_free(&s);
    json_object_set_new(object, "corners", corners);
    json_object_set_new(object, "cells", cells);
}

static void add_section(json_t *object, const sw_history *h, const moments *m, size_t layers)
{
    size_t *cells = malloc(h->cell_count * sizeof *cells);
    if (!cells)
        return;
    const size_t count = choose_cells(h, layers, cells);
    json_object_set_new(object, "height", places_of(h->cell_position, cells, count));
    if (sw_shape_is_section(h->scenario.meat.shape)) {
        static double corners[SW_OUTLINE_MAX][2];
        const size_t corner_count = sw_section_outline(&h->scenario.meat, corners);
        json_t *outline = json_array();
        for (size_t i = 0; i < corner_count; i++)
            json_array_append_new(outline, json_pack("[o, o]", rounded(corners[i][0], 1e5), rounded(corners[i][1], 1e5)));
        json_object_set_new(object, "outline", outline);
        json_object_set_new(object, "along", places_of(h->cell_across, cells, count));
        add_cells(object, h);
    }
    json_object_set_new(object, "layers", json_integer((json_int_t)h->cell_count));
    json_object_set_new(object, "celsius_tenths", fields_of(h, h->field_temperature, m, cells, count, 273.15, 10.0));
    json_object_set_new(object, "water_hundredths", fields_of(h, h->field_water_content, m, cells, count, 0.0, 100.0));
    free(cells);
}

static void add_figures(json_t *object, const sw_outcome *o, bool never_ends)
{
    json_put_number(object, never_ends ? "followed_s" : "done_s", o->done_time);
    json_put_number(object, "stall_start_s", o->stall_start);
    json_put_number(object, "stall_end_s", o->stall_end);
    json_put_number(object, "stall_length_s", o->stall_length);
    json_put_number(object, "stall_probe_k", o->stall_probe);
    json_put_number(object, "wrap_time_s", o->wrap_time);
    json_put_number(object, "yield_at_pull", o->yield_at_pull);
    json_put_number(object, "evaporated_kg", o->at_pull.evaporated_mass);
    json_put_number(object, "dripped_kg", o->at_pull.dripped_mass);
    json_put_number(object, "rendered_kg", o->at_pull.rendered_mass);
}

json_t *page_cook(const sw_run *run, bool never_ends, page_detail detail)
{
    json_t *object = json_object();
    moments m = {0};
    json_put_text(object, "label", run->label);
    json_put_text(object, "error", run->status == SW_OK ? NULL : run->failure);
    json_object_set_new(object, "never_ends", json_boolean(never_ends));
    if (run->status != SW_OK)
        return object;
    const sw_history *h = run->history;
    add_figures(object, &run->outcome, never_ends);
    json_object_set_new(object, "missing", json_missing(h));
    if (find_moments(run, detail, &m)) {
        json_object_set_new(object, "time_s", series_of(h->series[SW_SERIES_time], &m, 1e3));
        json_object_set_new(object, "probe_k", series_of(h->series[SW_SERIES_probe_temperature], &m, 100.0));
        json_object_set_new(object, "surface_k", series_of(h->series[SW_SERIES_top_surface_temperature], &m, 100.0));
        json_object_set_new(object, "air_k", series_of(h->series[SW_SERIES_air_temperature], &m, 100.0));
        json_object_set_new(object, "evaporation_rate_kg_per_s", series_of(h->series[SW_SERIES_evaporation_rate], &m, 1e8));
        json_object_set_new(object, "heat_j", heat_of(h, &m));
        if (detail.layers > 0)
            add_section(object, h, &m, detail.layers);
    }
    free(m.row);
    free(m.field);
    return object;
}
