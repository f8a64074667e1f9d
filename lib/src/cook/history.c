/* SPDX-License-Identifier: BSD-3-Clause */
#include "history.h"

#include "course.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SERIES_NAME(name, unit, long_name) #name,
#define SERIES_UNIT(name, unit, long_name) unit,
#define SERIES_LONG_NAME(name, unit, long_name) long_name,

const char *sw_series_name(sw_series series)
{
    static const char *const names[SW_SERIES_COUNT] = {SW_SERIES_LIST(SERIES_NAME)};
    return names[series];
}

const char *sw_series_unit(sw_series series)
{
    static const char *const units[SW_SERIES_COUNT] = {SW_SERIES_LIST(SERIES_UNIT)};
    return units[series];
}

const char *sw_series_long_name(sw_series series)
{
    static const char *const names[SW_SERIES_COUNT] = {SW_SERIES_LIST(SERIES_LONG_NAME)};
    return names[series];
}

const char *sw_phase_name(sw_phase phase)
{
    static const char *const names[SW_PHASE_COUNT] = {"pit", "wrapped", "rewrapped", "rest", "hold", "cooling"};
    return phase >= 0 && phase < SW_PHASE_COUNT ? names[phase] : "unknown phase";
}

static double *copy_of(const double *values, size_t count)
{
    double *copy = malloc(count * sizeof *copy);
    if (copy)
        memcpy(copy, values, count * sizeof *copy);
    return copy;
}

static bool copy_corners(sw_history *history, const sw_mesh *mesh)
{
    if (!mesh->corners)
        return true;
    const size_t n = mesh->cell_count, count = mesh->first_corner[n];
    history->cell_first_corner = malloc((n + 1) * sizeof *history->cell_first_corner);
    history->cell_corners = malloc((count + 1) * sizeof *history->cell_corners);
    if (!history->cell_first_corner || !history->cell_corners)
        return false;
    memcpy(history->cell_first_corner, mesh->first_corner, (n + 1) * sizeof *mesh->first_corner);
    for (size_t i = 0; i < count; i++) {
        history->cell_corners[i][0] = mesh->corners[i].x;
        history->cell_corners[i][1] = mesh->corners[i].y;
    }
    return true;
}

sw_history *sw_history_create(const sw_scenario *scenario, const sw_mesh *mesh, size_t probe_count,
                              const sw_probe_place *probes)
{
    sw_history *history = calloc(1, sizeof *history);
    if (!history)
        return NULL;
    history->scenario = *scenario;
    history->pour = (sw_milestone){SW_ABSENT, SW_ABSENT};
    history->cell_count = mesh->cell_count;
    history->probe_count = probe_count;
    memcpy(history->probes, probes, probe_count * sizeof *probes);
    history->cell_position = copy_of(mesh->position, mesh->cell_count);
    history->cell_across = copy_of(mesh->across, mesh->cell_count);
    if (mesh->bounds)
        history->cell_bounds = copy_of(mesh->bounds, mesh->cell_count + 1);
    history->cell_volume = copy_of(mesh->volume, mesh->cell_count);
    if (!history->cell_position || !history->cell_across || (mesh->bounds && !history->cell_bounds) ||
        !history->cell_volume || !copy_corners(history, mesh)) {
        sw_history_destroy(history);
        return NULL;
    }
    return history;
}

const char *sw_planned_end_key(sw_planned_end end)
{
    static const char *const keys[SW_PLANNED_COUNT] = {"wrap.when",  "wrap.pour_when", "rewrap.when",
                                                       "rest.until", "hold.until",     "cooling.until"};
    return keys[end];
}

const char *sw_missing_reason_name(sw_missing_reason reason)
{
    static const char *const names[SW_MISSING_REASON_COUNT] = {"hour passed", "too cool",  "too hot",
                                                                 "too far",     "not begun", "pulled first"};
    return names[reason];
}

const sw_missing *sw_history_missing(const sw_history *history, sw_planned_end end)
{
    for (size_t i = 0; i < history->missing_count; i++)
        if (history->missing[i].end == end)
            return &history->missing[i];
    return NULL;
}

bool sw_history_is_ready(const sw_history *history)
{
    for (size_t i = 0; i < history->missing_count; i++) {
        const sw_missing *m = &history->missing[i];
        if ((m->end == SW_PLANNED_REST || m->end == SW_PLANNED_HOLD) && m->reason != SW_MISSING_HOUR_PASSED)
            return false;
    }
    return true;
}

void sw_history_destroy(sw_history *history)
{
    if (!history)
        return;
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        free(history->series[i]);
    for (int i = 0; i < SW_PROBES_MAX; i++)
        free(history->probe_series[i]);
    free(history->cell_position);
    free(history->cell_across);
    free(history->cell_bounds);
    free(history->cell_volume);
    free(history->cell_first_corner);
    free(history->cell_corners);
    for (int i = 0; i < SW_INNER_REACTION_COUNT; i++)
        free(history->cell_extent[i]);
    free(history->field_time);
    free(history->field_temperature);
    free(history->field_water_content);
    free(history);
}

/* Arrays grow when their length is a power of two (or 0), to twice that, at least 256. */
static int grow(double **values, size_t count, size_t width)
{
    if (count != 0 && (count < 256 || (count & (count - 1)) != 0))
        return 0;
    size_t capacity = count == 0 ? 256 : 2 * count;
    double *larger = realloc(*values, capacity * width * sizeof *larger);
    if (!larger)
        return -1;
    *values = larger;
    return 0;
}

int sw_history_append_row(sw_history *history, const double *row, const double *readings)
{
    for (size_t i = 0; i < history->probe_count; i++) {
        if (grow(&history->probe_series[i], history->row_count, 1) != 0)
            return -1;
        history->probe_series[i][history->row_count] = readings[i];
    }
    for (int i = 0; i < SW_SERIES_COUNT; i++) {
        if (grow(&history->series[i], history->row_count, 1) != 0)
            return -1;
        history->series[i][history->row_count] = row[i];
    }
    history->row_count++;
    return 0;
}

int sw_history_append_field(sw_history *history, double time, const double *state)
{
    size_t n = history->cell_count, k = history->field_count;
    if (grow(&history->field_time, k, 1) != 0 || grow(&history->field_temperature, k, n) != 0 ||
        grow(&history->field_water_content, k, n) != 0)
        return -1;
    history->field_time[k] = time;
    for (size_t i = 0; i < n; i++) {
        history->field_temperature[k * n + i] = state[2 * i];
        history->field_water_content[k * n + i] = state[2 * i + 1];
    }
    history->field_count++;
    return 0;
}

static int append_rows(sw_history *history, const sw_history *from)
{
    double row[SW_SERIES_COUNT], readings[SW_PROBES_MAX];
    for (size_t k = 0; k < from->row_count; k++) {
        for (int i = 0; i < SW_SERIES_COUNT; i++)
            row[i] = from->series[i][k];
        for (size_t i = 0; i < from->probe_count; i++)
            readings[i] = from->probe_series[i][k];
        if (sw_history_append_row(history, row, readings) != 0)
            return -1;
    }
    return 0;
}

int sw_history_append_all(sw_history *history, const sw_history *from)
{
    const size_t n = from->cell_count;
    double *state = malloc(2 * n * sizeof *state);
    int failed = state ? append_rows(history, from) : -1;
    for (size_t k = 0; failed == 0 && k < from->field_count; k++) {
        for (size_t i = 0; i < n; i++) {
            state[2 * i] = from->field_temperature[k * n + i];
            state[2 * i + 1] = from->field_water_content[k * n + i];
        }
        failed = sw_history_append_field(history, from->field_time[k], state);
    }
    free(state);
    return failed;
}

size_t sw_history_milestones(const sw_history *history, size_t probe, sw_unit_system units, sw_milestone *milestones)
{
    if (history->row_count == 0)
        return 0;
    const sw_course course = sw_course_of_probe(history, probe, INFINITY);
    return sw_course_milestones(&course, units, milestones);
}

void sw_history_find_milestones(sw_history *history)
{
    if (history->row_count == 0)
        return;
    const sw_course course = sw_course_of(history, INFINITY);
    history->milestone_count = sw_course_milestones(&course, SW_UNITS_SI, history->milestones);
}
