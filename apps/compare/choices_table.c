/* SPDX-License-Identifier: BSD-3-Clause */
#include "choices_table.h"

#include "cook_band.h"
#include "probe_table.h"
#include "quality_table.h"
#include "quantity.h"
#include "table.h"

#include <stdio.h>
#include <string.h>

/* Rows of the table; each writes the figure of one choice. The last stands only if an hour was planned. */
enum {
    ROW_WRAPPED,
    ROW_WRAPPED_AT,
    ROW_STALL_START,
    ROW_STALL_PROBE,
    ROW_STALL_LENGTH,
    ROW_DONE,
    ROW_BAND,
    ROW_SAVED,
    ROW_YIELD,
    ROW_EVAPORATED,
    ROW_DRIPPED,
    ROW_RENDERED,
    ROW_COOLEST,
    ROW_TOP,
    ROW_TOP_STATE,
    ROW_TENDER,
    ROW_BARK,
    ROW_OPEN,
    ROW_SOFTENING,
    ROW_KEPT,
    ROW_SERVINGS,
    ROW_READY,
    ROW_LATE,
    ROW_COUNT
};

static const char *const row_names[ROW_COUNT] = {
    [ROW_WRAPPED] = "wrapped after",
    [ROW_WRAPPED_AT] = "  at probe",
    [ROW_STALL_START] = "stall begins after",
    [ROW_STALL_PROBE] = "  at probe",
    [ROW_STALL_LENGTH] = "stall lasts",
    [ROW_DONE] = "done after",
    [ROW_BAND] = "  four in five",
    [ROW_SAVED] = "saved by the wrap",
    [ROW_YIELD] = "yield when sliced",
    [ROW_EVAPORATED] = "water evaporated",
    [ROW_DRIPPED] = "juice dripped",
    [ROW_RENDERED] = "fat rendered",
    [ROW_COOLEST] = "coolest after pull",
    [ROW_TOP] = "top at the pull",
    [ROW_TOP_STATE] = "  its surface",
    [ROW_TENDER] = "tender, collagen",
    [ROW_BARK] = "bark index",
    [ROW_OPEN] = "  open to smoke",
    [ROW_SOFTENING] = "  in the wrap",
    [ROW_KEPT] = "kept in the wrap",
    [ROW_SERVINGS] = "servings",
    [ROW_READY] = "ready to slice",
    [ROW_LATE] = "  late by",
};

static const char *figure_text(const sw_run *run, const sw_band *band, int row, double unwrapped, sw_unit_system units, char *text)
{
    const sw_outcome *o = &run->outcome;
    switch (row) {
    case ROW_WRAPPED:
        return show_duration(o->wrap_time, text);
    case ROW_WRAPPED_AT:
        return show_temperature(o->wrap_probe, units, text);
    case ROW_STALL_START:
        return SW_IS_ABSENT(o->stall_start) ? "no stall" : show_duration(o->stall_start, text);
    case ROW_STALL_PROBE:
        return show_temperature(o->stall_probe, units, text);
    case ROW_STALL_LENGTH:
        return show_duration(o->stall_length, text);
    case ROW_DONE:
        return show_duration(o->done_time, text);
    case ROW_BAND:
        return show_done_band_briefly(band, text);
    case ROW_SAVED:
        if (SW_IS_ABSENT(o->wrap_time))
            return "-"; /* not wrapped, or pulled before the wrap was to go on */
        return show_duration(unwrapped - o->done_time, text);
    case ROW_YIELD:
        return show_share(o->yield_fraction, text);
    case ROW_EVAPORATED:
        return show_mass(o->at_end.evaporated_mass, units, text);
    case ROW_DRIPPED:
        return show_mass(o->at_end.dripped_mass, units, text);
    case ROW_COOLEST:
        return show_temperature_rounded_down(o->lowest_after_pull, units, text);
    case ROW_RENDERED:
        return show_mass(o->at_end.rendered_mass, units, text);
    case ROW_TOP:
        return show_temperature(o->top_surface_at_pull, units, text);
    case ROW_TOP_STATE:
        return sw_surface_state_name(o->top_state_at_pull);
    case ROW_TENDER:
        return show_tenderness(o, text);
    case ROW_BARK:
        return show_index(o->bark, text);
    case ROW_OPEN:
        return show_duration(o->open_surface_time, text);
    case ROW_SOFTENING:
        return show_softening(o->softening);
    case ROW_KEPT:
        return show_kept(o, units, text);
    case ROW_SERVINGS:
        return show_servings(o->servings, text);
    case ROW_LATE:
        return o->late == 0.0 ? "in time" : show_duration(o->late, text);
    default:
        return SW_IS_ABSENT(o->slice_time) ? "never" : show_clock(run->scenario.start_clock, o->slice_time, text);
    }
}

enum { SCREEN_COLUMNS = 80, NAME_COLUMNS = 18, FIGURE_COLUMNS = 12 };

/* How many of the choices stand side by side, from the first on: one at least. */
static size_t fitting(const sw_run *runs, size_t run_count)
{
    size_t used = NAME_COLUMNS, count = 0;
    while (count < run_count) {
        const size_t length = strlen(runs[count].label);
        used += 2 + (length > FIGURE_COLUMNS ? length : FIGURE_COLUMNS);
        if (count > 0 && used > SCREEN_COLUMNS)
            break;
        count++;
    }
    return count;
}

/* Whether any of them planned an hour, so that being late tells something. */
static bool is_late_told(const sw_run *runs, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (runs[i].status == SW_OK && !SW_IS_ABSENT(runs[i].outcome.late))
            return true;
    return false;
}

static bool is_band_told(const sw_band *const *bands, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (bands[i])
            return true;
    return false;
}

/* Prints some of the choices side by side, in the rows asked for. */
static void print_block(const sw_run *runs, const sw_band *const *bands, size_t count, int row_count, double unwrapped, sw_unit_system units)
{
    table t = {.has_heading = true};
    char text[BAND_TEXT_SIZE];
    table_set(&t, 0, 0, "wrap");
    for (size_t i = 0; i < count; i++)
        table_set(&t, 0, i + 1, runs[i].label);
    for (int row = 0; row < row_count; row++) {
        const size_t line = t.row_count;
        if (row == ROW_BAND && !is_band_told(bands, count))
            continue;
        table_set(&t, line, 0, row_names[row]);
        for (size_t i = 0; i < count; i++) {
            const char *missing = row == ROW_DONE ? "failed" : "-";
            table_set(&t, line, i + 1, runs[i].status == SW_OK ? figure_text(&runs[i], bands[i], row, unwrapped, units, text) : missing);
        }
    }
    add_probe_rows(&t, t.row_count, runs, count, units);
    table_print(&t, false, stdout);
}

void choices_table_print(const sw_run *runs, const sw_band *const *bands, size_t count, double unwrapped_done, sw_unit_system units)
{
    const int row_count = is_late_told(runs, count) ? ROW_COUNT : ROW_LATE;
    for (size_t first = 0, fit = 0; first < count; first += fit) {
        fit = fitting(runs + first, count - first);
        if (first > 0)
            printf("\n");
        print_block(runs + first, bands + first, fit, row_count, unwrapped_done, units);
    }
}
