/* SPDX-License-Identifier: BSD-3-Clause */
#include "probe_table.h"

#include "quantity.h"

#include <string.h>

const char *show_reading(const sw_history *h, double time, sw_unit_system units, char text[READING_SIZE])
{
    char figure[QUANTITY_SIZE];
    size_t row = h->row_count - 1;
    while (row > 0 && h->series[SW_SERIES_time][row] > time)
        row--;
    snprintf(text, READING_SIZE, "%.*s at %s", PROBE_NAME_COLUMNS,
             h->probe_count > 1 ? h->probes[sw_history_deciding_probe(h, time)].name : "probe",
             show_temperature(h->series[SW_SERIES_probe_temperature][row], units, figure));
    return text;
}

const char *pulling_probe(const sw_run *run)
{
    const sw_history *h = run->history;
    if (!h || h->probe_count < 2 || h->scenario.pull.kind != SW_ENDING_PROBE_TEMPERATURE)
        return NULL;
    return h->probes[sw_history_deciding_probe(h, run->outcome.done_time)].name;
}

/* Figures of a probe: first these, then its first rises through some temperatures. */
enum { PROBE_STALL_START, PROBE_STALL_LENGTH, PROBE_DONE, PROBE_AT_PULL, PROBE_AT_SLICING, PROBE_MILESTONES };
static const char *const figure_names[] = {"  stall after", "  stall lasts", "  done after", "  at the pull",
                                           "  when sliced"};
enum { PROBE_ROWS = PROBE_MILESTONES + PROBE_MILESTONE_COUNT };
const double probe_milestones[PROBE_MILESTONE_COUNT] = {333.15, 343.15, 353.15, 363.15};

double first_reading(const sw_probe_outcome *probe, double temperature)
{
    for (size_t i = 0; i < probe->milestone_count; i++)
        if (probe->milestones[i].probe_temperature > temperature - 0.1)
            return probe->milestones[i].time;
    return SW_ABSENT;
}

/* Round in the user's own degrees: 60, 70, 80 and 90 C, or 140, 160, 180 and 200 F. */
static double round_temperature(int number, sw_unit_system units)
{
    return units == SW_UNITS_US ? 273.15 + (108.0 + 20.0 * number) / 1.8 : probe_milestones[number];
}

static double passing_time(const sw_history *h, size_t probe, double temperature, sw_unit_system units)
{
    sw_milestone milestones[SW_MILESTONES_MAX];
    const size_t count = sw_history_milestones(h, probe, units, milestones);
    for (size_t i = 0; i < count; i++)
        if (milestones[i].probe_temperature > temperature - 0.1)
            return milestones[i].time;
    return SW_ABSENT;
}

static const char *figure_of(const sw_run *run, size_t probe, int row, sw_unit_system units, char *text)
{
    const sw_probe_outcome *p = &run->outcome.probes[probe];
    switch (row) {
    case PROBE_STALL_START:
        return SW_IS_ABSENT(p->stall_start) ? "no stall" : show_duration(p->stall_start, text);
    case PROBE_STALL_LENGTH:
        return show_duration(p->stall_length, text);
    case PROBE_DONE:
        return show_duration(p->done_time, text);
    case PROBE_AT_PULL:
        return show_temperature(p->at_pull, units, text);
    case PROBE_AT_SLICING:
        return show_temperature(p->at_slicing, units, text);
    }
    const double temperature = round_temperature(row - PROBE_MILESTONES, units);
    return show_duration(passing_time(run->history, probe, temperature, units), text);
}

static const char *name_of_row(int row, sw_unit_system units, char *text)
{
    char figure[QUANTITY_SIZE];
    if (row < PROBE_MILESTONES)
        return figure_names[row];
    snprintf(text, TABLE_CELL_SIZE, "  passes %s", show_temperature(round_temperature(row - PROBE_MILESTONES, units), units, figure));
    return text;
}

static const sw_history *first_history(const sw_run *runs, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (runs[i].history)
            return runs[i].history;
    return NULL;
}

size_t add_probe_rows(table *t, size_t row, const sw_run *runs, size_t count, sw_unit_system units)
{
    const sw_history *h = first_history(runs, count);
    char text[QUANTITY_SIZE], name[TABLE_CELL_SIZE];
    if (!h || h->probe_count < 2)
        return row;
    for (size_t p = 0; p < h->probe_count; p++) {
        table_set(t, row++, 0, h->probes[p].name);
        for (int figure = 0; figure < PROBE_ROWS; figure++, row++) {
            table_set(t, row, 0, name_of_row(figure, units, name));
            for (size_t i = 0; i < count; i++)
                table_set(t, row, i + 1, runs[i].history ? figure_of(&runs[i], p, figure, units, text) : "-");
        }
    }
    table_set(t, row, 0, "done by");
    for (size_t i = 0; i < count; i++)
        table_set(t, row, i + 1, pulling_probe(&runs[i]) ? pulling_probe(&runs[i]) : "-");
    return row + 1;
}

void print_probes(const sw_run *run, sw_unit_system units)
{
    const char *pulling = pulling_probe(run);
    table t = {0};
    char figure[QUANTITY_SIZE];
    if (run->history->probe_count < 2)
        return;
    printf("\nProbe by probe\n");
    add_probe_rows(&t, 0, run, 1, units);
    table_print(&t, false, stdout);
    if (pulling)
        printf("The %s probe ended the time on the pit: the %s to reach %s does.\n", pulling,
               run->scenario.meat.last_probe_decides ? "last" : "first",
               show_temperature(run->history->scenario.pull.value, units, figure));
}
