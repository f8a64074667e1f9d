/* SPDX-License-Identifier: BSD-3-Clause */
#include "measured_cook.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double hour = 3600.0, celsius = 273.15;

static void set_word(sw_scenario *s, const char *key, const char *word)
{
    sw_context *context;
    if (sw_context_create(&context) != SW_OK)
        die("memory is short");
    if (sw_scenario_set_word(context, s, key, word) != SW_OK)
        die("cooks.csv: %s", sw_context_message(context));
    sw_context_destroy(context);
}

static bool has(const csv_table *t, size_t row, const char *column)
{
    return *csv_text(t, row, column) != '\0';
}

/* "0:107 9:121": from when on, h, and how hot, C. */
static void set_steps(sw_pit *pit, const char *text, const char *id)
{
    pit->step_count = 0;
    for (const char *at = text; *at;) {
        double from, degrees;
        int length;
        if (pit->step_count == SW_PIT_STEPS_MAX || sscanf(at, "%lf:%lf%n", &from, &degrees, &length) != 2)
            die("cooks.csv: the pit of %s is \"%s\", no steps such as 0:107 9:121", id, text);
        pit->steps[pit->step_count++] = (sw_pit_step){.start = from * hour, .temperature = degrees + celsius};
        at += (size_t)length + strspn(at + length, " ");
    }
}

static void read_log(sw_scenario *s, const char *file)
{
    sw_context *context;
    sw_scenario_reader *reader;
    char *path = validation_path("measured_cooks", file), setting[TEXT_SIZE];
    snprintf(setting, sizeof setting, "pit.temperature=%s", path);
    if (sw_context_create(&context) != SW_OK || sw_scenario_reader_create(context, &reader) != SW_OK)
        die("the unit database cannot be read");
    if (sw_scenario_set(context, reader, setting, s) != SW_OK)
        die("%s", sw_context_message(context));
    sw_scenario_reader_destroy(reader);
    sw_context_destroy(context);
    free(path);
}

pit_group pit_group_of(sw_pit_kind kind)
{
    switch (kind) {
    case SW_PIT_ELECTRIC:
        return PITS_CABINET;
    case SW_PIT_PELLET:
        return PITS_FAN;
    case SW_PIT_FAN_OVEN:
    case SW_PIT_HOUSE_OVEN:
        return PITS_OVEN;
    default:
        return PITS_DRAUGHTY;
    }
}

static void set_pit(measured_cook *m, const csv_table *t, size_t row)
{
    const char *kind = csv_text(t, row, "kind"), *pit = csv_text(t, row, "pit");
    set_word(&m->stated, "pit.kind", strcmp(kind, "unknown") == 0 ? "offset" : kind);
    m->group = pit_group_of(m->stated.pit.kind);
    if (strstr(pit, ".csv"))
        read_log(&m->stated, pit);
    else
        set_steps(&m->stated.pit, pit, m->id);
}

static void set_wrap(sw_scenario *s, const csv_table *t, size_t row)
{
    const char *when = csv_text(t, row, "wrap_h");
    char *unit;
    const double value = strtod(when, &unit);
    if (!*when)
        return; /* wrapped at no stated time, or never */
    set_word(s, "wrap.kind", csv_text(t, row, "wrap"));
    s->wrap.when = *unit == 'C' ? (sw_ending){SW_ENDING_PROBE_TEMPERATURE, value + celsius}
                                : (sw_ending){SW_ENDING_DURATION, value * hour};
}

/* Of a cut as bought or trimmed; of each piece, if it was cut up. */
static void set_meat(measured_cook *m, const csv_table *t, size_t row)
{
    sw_scenario *s = &m->stated;
    const double pieces = csv_number(t, row, "pieces");
    set_word(s, "meat.cut", csv_text(t, row, "cut"));
    m->is_pork = strncmp(csv_text(t, row, "cut"), "pork", 4) == 0;
    m->is_whole = pieces == 1.0 && strcmp(csv_text(t, row, "cut"), "packer") == 0;
    m->bought_mass = csv_number(t, row, "bought_kg");
    s->meat.mass = has(t, row, "trimmed_kg") ? csv_number(t, row, "trimmed_kg") / pieces : 0.0;
    s->meat.bought_mass = has(t, row, "trimmed_kg") ? 0.0 : m->bought_mass / pieces;
    if (has(t, row, "start_C"))
        s->meat.initial_temperature = csv_number(t, row, "start_C") + celsius;
    if (has(t, row, "altitude_m"))
        s->pit.altitude = csv_number(t, row, "altitude_m");
}

static void read_readings(measured_cook *m, const csv_table *t)
{
    for (size_t i = 0; i < t->row_count; i++) {
        if (strcmp(csv_text(t, i, "id"), m->id) != 0)
            continue;
        if (m->reading_count == READINGS_MAX)
            die("readings.csv: %s has more than %d readings", m->id, (int)READINGS_MAX);
        m->time[m->reading_count] = csv_number(t, i, "hours") * hour;
        m->temperature[m->reading_count++] = csv_number(t, i, "temperature_C") + celsius;
    }
}

static void read_cook(measured_cook *m, const csv_table *cooks, size_t row, const csv_table *readings)
{
    snprintf(m->id, sizeof m->id, "%s", csv_text(cooks, row, "id"));
    m->fold = (size_t)csv_number(cooks, row, "fold");
    sw_scenario_init(&m->stated);
    set_meat(m, cooks, row);
    set_pit(m, cooks, row);
    set_wrap(&m->stated, cooks, row);
    m->pull = has(cooks, row, "pull_C") ? csv_number(cooks, row, "pull_C") + celsius : SW_ABSENT;
    m->done = has(cooks, row, "done_h") ? csv_number(cooks, row, "done_h") * hour : SW_ABSENT;
    read_readings(m, readings);
    double last = SW_IS_ABSENT(m->done) ? 0.0 : 1.9 * m->done;
    for (size_t i = 0; i < m->reading_count; i++)
        last = fmax(last, m->time[i] + hour);
    m->stated.pull = (sw_ending){SW_ENDING_DURATION, last};
    m->stated.rest.until.kind = m->stated.hold.until.kind = SW_ENDING_NONE;
    m->stated.solver.field_interval = 4.0 * hour;
}

size_t measured_cooks_read(measured_cook cooks[COOKS_MAX])
{
    csv_table *t = csv_read("measured_cooks", "cooks.csv"), *readings = csv_read("measured_cooks", "readings.csv");
    const size_t count = t->row_count;
    if (count > COOKS_MAX)
        die("cooks.csv has %zu cooks; at most %d are read", count, (int)COOKS_MAX);
    memset(cooks, 0, count * sizeof *cooks);
    for (size_t i = 0; i < count; i++)
        read_cook(&cooks[i], t, i, readings);
    csv_free(t);
    csv_free(readings);
    return count;
}

double measured_cook_at(const sw_history *h, double time)
{
    const double *t = h->series[SW_SERIES_time], *probe = h->series[SW_SERIES_probe_temperature];
    size_t row = 0;
    while (row + 2 < h->row_count && t[row + 1] < time)
        row++;
    return probe[row] + (time - t[row]) / (t[row + 1] - t[row]) * (probe[row + 1] - probe[row]);
}

void measured_cook_follow(const measured_cook *m, const sw_history *h, double *temperature, double *done)
{
    const double *t = h->series[SW_SERIES_time], *probe = h->series[SW_SERIES_probe_temperature];
    for (size_t i = 0; i < m->reading_count; i++)
        temperature[i] = measured_cook_at(h, m->time[i]);
    *done = t[h->row_count - 1];
    for (size_t i = 1; i < h->row_count; i++)
        if (probe[i] >= m->pull) {
            *done = t[i - 1] + (m->pull - probe[i - 1]) / (probe[i] - probe[i - 1]) * (t[i] - t[i - 1]);
            break;
        }
}
