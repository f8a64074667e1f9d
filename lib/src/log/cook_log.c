/* SPDX-License-Identifier: BSD-3-Clause */
#include "log_table.h"

#include "scenario_entry.h"
#include "text_file.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* What a probe in meat and one in a pit may read; beyond it is broken or unplugged. Choices [K]. */
static const double meat_low = 250.0, meat_high = 423.15, pit_low = 233.15, pit_high = 773.15;
static const double gap = 1800.0; /* told if longer [s] */
static const double day = 86400.0;

/* What reads a log, line by line. */
typedef struct reading {
    sw_context *context;
    const sw_cook_log_form *form;
    sw_log_heading heading;
    sw_cook_log *log;
    size_t room;
    sw_moment_kind kind; /* of the first row */
    double last;         /* moment of the row before, as it is written and turned on past midnight [s] */
    double first;
    size_t missing[SW_TRACK_PROBES_MAX + 1];
    int first_missing[SW_TRACK_PROBES_MAX + 1];
} reading;

static sw_status make_room(reading *r)
{
    sw_cook_log *log = r->log;
    if (log->row_count == SW_READINGS_MAX)
        return sw_fail(r->context, SW_ERR_INPUT, "%.200s: a log has at most %d rows; leave out every second one", r->form->path, SW_READINGS_MAX);
    if (log->row_count < r->room)
        return SW_OK;
    const size_t room = r->room == 0 ? 512 : 2 * r->room;
    double **const lists[] = {&log->time, &log->meat[0].values, &log->meat[1].values, &log->pit.values};
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
        double *grown = realloc(*lists[i], room * sizeof *grown);
        if (!grown)
            return sw_fail(r->context, SW_ERR_MEMORY, "memory for %zu rows of a log could not be allocated", room);
        *lists[i] = grown;
    }
    int *grown = realloc(log->line, room * sizeof *grown);
    if (!grown)
        return sw_fail(r->context, SW_ERR_MEMORY, "memory for %zu rows of a log could not be allocated", room);
    log->line = grown;
    r->room = room;
    return SW_OK;
}

/* A moment as the row writes it [s]. */
static sw_status read_moment(reading *r, const sw_log_line *line, double *seconds)
{
    const char *field = line->fields[r->heading.time];
    const size_t column = line->column[r->heading.time];
    sw_moment m = {0};
    if (!sw_log_moment_read(field, &m) || (m.kind == SW_MOMENT_NUMBER && !sw_log_number(field, r->heading.separator, &m.seconds)))
        return sw_log_refuse(r->context, r->form->path, line->number, column,
                             "\"%s\" is no time; write 0:30, 22:15, 2026-11-26T22:15 or a number with its unit in the heading", field);
    if (m.kind == SW_MOMENT_NUMBER && !r->heading.has_time_unit)
        return sw_log_refuse(r->context, r->form->path, line->number, column,
                             "the time \"%s\" has no unit; write it into the heading, such as \"time [min]\"", field);
    if (r->log->row_count > 0 && m.kind != r->kind)
        return sw_log_refuse(r->context, r->form->path, line->number, column, "the time \"%s\" is not written like that of the first row", field);
    *seconds = m.kind == SW_MOMENT_NUMBER ? m.seconds * r->heading.time_unit : m.seconds;
    if (r->log->row_count > 0)
        return SW_OK;
    r->kind = m.kind;
    r->log->by_clock = m.kind == SW_MOMENT_DATED || (m.kind == SW_MOMENT_HOURS && !r->heading.is_elapsed && m.seconds >= 1800.0);
    r->log->first_clock = r->log->by_clock ? m.clock : *seconds;
    r->first = r->last = *seconds;
    return SW_OK;
}

/* A row of the same moment adds nothing but what was done. */
static void tell_repeat(reading *r, const sw_log_line *line)
{
    if (r->heading.event < 0 || line->fields[r->heading.event][0] == '\0')
        sw_log_doubt_add(r->log, line->number, "the same moment as in the row before: left out");
}

/* Whether a row's time follows; a clock's hours begin again at midnight. */
static sw_status check_order(reading *r, const sw_log_line *line, double *seconds, bool *is_repeat)
{
    *is_repeat = false;
    if (r->log->row_count == 0)
        return SW_OK;
    while (r->log->by_clock && r->kind == SW_MOMENT_HOURS && *seconds < r->last - 0.5 * day)
        *seconds += day;
    if (*seconds < r->last)
        return sw_log_refuse(r->context, r->form->path, line->number, line->column[r->heading.time],
                             "the time goes back by %.3g min; each row is later than the one before it", (r->last - *seconds) / 60.0);
    if (*seconds - r->first > SW_LONGEST_PHASE)
        return sw_log_refuse(r->context, r->form->path, line->number, line->column[r->heading.time],
                             "the row is %.4g h after the first; at most %.0f h are allowed", (*seconds - r->first) / 3600.0,
                             SW_LONGEST_PHASE / 3600.0);
    *is_repeat = *seconds == r->last;
    if (*is_repeat)
        tell_repeat(r, line);
    else if (*seconds - r->last > gap)
        sw_log_doubt_add(r->log, line->number, "no readings for %.0f min before this row", (*seconds - r->last) / 60.0);
    return SW_OK;
}

/* What loggers write where there is no reading. */
static bool is_nothing(const char *field)
{
    static const char *const words[] = {"", "-", "--", "---", "nan", "NaN", "NAN", "null", "n/a", "N/A", "NA", "ERR", "err", "open", "OPEN", "LLL", "HHH"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(field, words[i]) == 0)
            return true;
    return false;
}

/* A temperature; which: 0 and 1 of the meat, 2 of the pit. */
static sw_status read_temperature(reading *r, const sw_log_line *line, int column, size_t which, double *kelvin)
{
    const char *field = line->fields[column];
    double number;
    *kelvin = SW_ABSENT;
    if (is_nothing(field)) {
        if (r->missing[which]++ == 0)
            r->first_missing[which] = line->number;
        return SW_OK;
    }
    if (!sw_log_number(field, r->heading.separator, &number))
        return sw_log_refuse(r->context, r->form->path, line->number, line->column[column],
                             "the temperature \"%s\" is not a plain number; its unit stands in the heading", field);
    const double value = r->heading.zero[column] + r->heading.scale[column] * number;
    if (value >= (which == SW_TRACK_PROBES_MAX ? pit_low : meat_low) && value <= (which == SW_TRACK_PROBES_MAX ? pit_high : meat_high))
        *kelvin = value;
    else
        sw_log_doubt_add(r->log, line->number, "%s reads %s, as a probe that is broken or unplugged does: left out",
                         which == SW_TRACK_PROBES_MAX ? "the pit" : "the meat", field);
    return SW_OK;
}

/* "on", or "meat on": the meat goes on then. */
static bool is_start(const char *text)
{
    return strcasecmp(text, "on") == 0 || strcasecmp(text, "meat on") == 0;
}

/* What was done, if the row says something; its other fields may be empty. */
static sw_status take_event(reading *r, const sw_log_line *line, double seconds)
{
    sw_cook_log *log = r->log;
    const char *text = r->heading.event >= 0 ? line->fields[r->heading.event] : "";
    if (*text == '\0')
        return SW_OK;
    if (is_start(text)) {
        log->start = seconds - r->first;
        snprintf(log->start_sentence, sizeof log->start_sentence, "line %d says so", line->number);
        return SW_OK;
    }
    if (log->event_count == SW_LOG_EVENTS_MAX)
        return sw_log_refuse(r->context, r->form->path, line->number, line->column[r->heading.event], "at most %d events are followed",
                             SW_LOG_EVENTS_MAX);
    if (!log->events && !(log->events = malloc(SW_LOG_EVENTS_MAX * sizeof *log->events)))
        return sw_fail(r->context, SW_ERR_MEMORY, "memory for %d events could not be allocated", SW_LOG_EVENTS_MAX);
    sw_log_event *e = &log->events[log->event_count++];
    e->time = seconds - r->first;
    e->line = line->number;
    snprintf(e->text, sizeof e->text, "%s", text);
    return SW_OK;
}

static sw_status take_line(reading *r, const sw_log_line *line)
{
    sw_cook_log *log = r->log;
    double seconds = 0.0, values[SW_TRACK_PROBES_MAX + 1] = {SW_ABSENT, SW_ABSENT, SW_ABSENT};
    bool is_repeat = false;
    if (line->count != r->heading.count)
        return sw_log_refuse(r->context, r->form->path, line->number, 1, "the row has %zu fields and the heading %zu", line->count,
                             r->heading.count);
    sw_status status = make_room(r);
    if (status == SW_OK)
        status = read_moment(r, line, &seconds);
    if (status == SW_OK)
        status = check_order(r, line, &seconds, &is_repeat);
    for (size_t i = 0; i < r->heading.meat_count && status == SW_OK; i++)
        status = read_temperature(r, line, r->heading.meat[i], i, &values[i]);
    if (status == SW_OK && r->heading.pit >= 0)
        status = read_temperature(r, line, r->heading.pit, SW_TRACK_PROBES_MAX, &values[SW_TRACK_PROBES_MAX]);
    if (status == SW_OK)
        status = take_event(r, line, seconds);
    if (status != SW_OK || is_repeat)
        return status;
    log->time[log->row_count] = seconds - r->first;
    log->line[log->row_count] = line->number;
    log->meat[0].values[log->row_count] = values[0];
    log->meat[1].values[log->row_count] = values[1];
    log->pit.values[log->row_count++] = values[2];
    r->last = seconds;
    return SW_OK;
}

static void take_heading(reading *r, int number)
{
    sw_cook_log *log = r->log;
    bool lacks_unit = false;
    log->meat_count = r->heading.meat_count;
    log->has_pit = r->heading.pit >= 0;
    for (size_t i = 0; i < log->meat_count; i++) {
        snprintf(log->meat[i].name, sizeof log->meat[i].name, "%s", r->heading.meat_names[i]);
        lacks_unit = lacks_unit || !r->heading.has_unit[r->heading.meat[i]];
    }
    if (log->has_pit)
        snprintf(log->pit.name, sizeof log->pit.name, "%s", r->heading.pit_name);
    if (lacks_unit)
        sw_log_doubt_add(log, number, "a heading has no unit: taken as degrees %s, by --units",
                         r->form->units == SW_UNITS_US ? "Fahrenheit" : "Celsius");
}

static sw_status read_lines(reading *r, const sw_units *units, const char *text, size_t length)
{
    int number = 0;
    bool has_heading = false;
    size_t at = length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    sw_status status = SW_OK;
    while (at < length && status == SW_OK) {
        const char *end = memchr(text + at, '\n', length - at);
        const size_t size = end ? (size_t)(end - text) - at : length - at;
        sw_log_line line;
        number++;
        if (!end && has_heading && r->form->leaves_last_line)
            break;
        if (size > strspn(text + at, " \t\r") && text[at] != '#') {
            if (!has_heading) {
                status = sw_log_heading_read(r->context, units, r->form, text + at, size, number, &r->heading);
                has_heading = true;
                if (status == SW_OK)
                    take_heading(r, number);
            } else {
                status = sw_log_split(r->context, r->form->path, text + at, size, r->heading.separator, number, &line);
                if (status == SW_OK)
                    status = take_line(r, &line);
            }
        }
        at += size + 1;
    }
    if (status == SW_OK && !has_heading)
        status = sw_log_refuse(r->context, r->form->path, 1, 1, "the file is empty; a log has a heading and rows");
    else if (status == SW_OK && r->log->row_count == 0 && !r->form->leaves_last_line)
        status = sw_log_refuse(r->context, r->form->path, number, 1, "the log has a heading and no rows");
    return status;
}

static void tell_missing(reading *r)
{
    for (size_t i = 0; i <= SW_TRACK_PROBES_MAX; i++)
        if (r->missing[i] > 0)
            sw_log_doubt_add(r->log, r->first_missing[i], "%s has no reading here%s", i == SW_TRACK_PROBES_MAX ? "the pit" : "the meat",
                             r->missing[i] > 1 ? ", nor in rows after it" : "");
}

sw_status sw_cook_log_read_text(sw_context *context, sw_scenario_reader *reader, const sw_cook_log_form *form, const char *text,
                                size_t length, sw_cook_log *log)
{
    sw_cook_log made = {.start = SW_ABSENT};
    reading r = {.context = context, .form = form, .log = &made};
    locale_t before = uselocale(reader->plain_locale);
    sw_status status = sw_text_check(context, form->path, text, length);
    if (status == SW_OK)
        status = read_lines(&r, reader->units, text, length);
    uselocale(before);
    if (status != SW_OK) {
        sw_cook_log_free(&made);
        return status;
    }
    tell_missing(&r);
    sw_log_find_start(&made);
    sw_log_clean(&made);
    *log = made;
    return SW_OK;
}

sw_status sw_cook_log_read(sw_context *context, sw_scenario_reader *reader, const sw_cook_log_form *form, sw_cook_log *log)
{
    char *text = NULL;
    size_t length = 0;
    sw_status status = sw_text_file_read(context, form->path, &text, &length);
    if (status != SW_OK)
        return status;
    status = sw_cook_log_read_text(context, reader, form, text, length, log);
    free(text);
    return status;
}

void sw_cook_log_free(sw_cook_log *log)
{
    free(log->time);
    free(log->line);
    free(log->events);
    free(log->pit.values);
    for (size_t i = 0; i < SW_TRACK_PROBES_MAX; i++)
        free(log->meat[i].values);
    *log = (sw_cook_log){0};
}
