/* SPDX-License-Identifier: BSD-3-Clause */
#include "pit_log_csv.h"

#include "csv_table.h"
#include "log_moment.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { TIME, FROM, TEMPERATURE, RAMP };

static const double day = 86400.0;

static const sw_csv_form form = {
    {{"time", true, true}, {"from", true, true}, {"temperature", false, false}, {"ramp", true, true}},
    4,
    "time [min],temperature [F]"};

/* What has been read so far. */
typedef struct step_list {
    const sw_units *units;
    double start_clock;
    sw_range range;
    size_t row_count;
    sw_moment_kind kind; /* of the first row's time */
    bool by_clock;       /* times of day, not those since the meat went on */
    sw_moment last;      /* of the row before */
    double last_time;    /* of the row before, after the meat went on; below 0 before it did [s] */
    double last_temperature;
    size_t count;
    sw_pit_step steps[SW_PIT_STEPS_MAX];
} step_list;

static int time_column(const sw_csv_row *row)
{
    return row->columns[TIME] > 0 ? TIME : FROM;
}

/* A number and nothing else: the unit is the heading's. */
static sw_status check_number(const sw_csv_row *row, int column)
{
    char why[300];
    const char *field = row->fields[column], *name = form.columns[column].name;
    if (field[0] == '\0')
        snprintf(why, sizeof why, "the %s is missing; leave out a row that was not measured", name);
    else if (field[strspn(field, "+-.0123456789eE")] != '\0')
        snprintf(why, sizeof why,
                 "the %s \"%s\" is not a plain number; its unit stands in the heading, \"%s\", and is the same in every row",
                 name, field, row->units[column]);
    else if (row->units[column][0] == '\0')
        snprintf(why, sizeof why, "the %s \"%s\" has no unit; write it into the heading, such as \"%s\", or write 0:30 or 22:15",
                 name, field, form.heading);
    else
        return SW_OK;
    return sw_csv_refuse(row, column, why);
}

static sw_status read_field(const sw_csv_row *row, const step_list *list, int column, sw_quantity quantity,
                            sw_range range, double *value)
{
    char where[512], text[2 * SW_CSV_FIELD_SIZE + 1];
    sw_status status = check_number(row, column);
    if (status != SW_OK)
        return status;
    snprintf(where, sizeof where, "%.200s:%d:%d: %s", row->path, row->line, row->columns[column], form.columns[column].name);
    snprintf(text, sizeof text, "%s %s", row->fields[column], row->units[column]);
    return sw_value_read(row->context, list->units, where, quantity, text, range, value);
}

static sw_status read_moment(const sw_csv_row *row, const step_list *list, sw_moment *moment)
{
    const int column = time_column(row);
    const char *field = row->fields[column];
    char why[300];
    if (!sw_log_moment_read(field, moment)) {
        snprintf(why, sizeof why, "\"%s\" is no time; write 0:30 since the meat went on, 22:15 of a clock or 2026-11-26T22:15", field);
        return sw_csv_refuse(row, column, why);
    }
    if (list->row_count > 0 && moment->kind != list->kind) {
        snprintf(why, sizeof why, "the time \"%s\" is not written like that of the first row; all are times of a clock, or all are "
                                  "times since the meat went on", field);
        return sw_csv_refuse(row, column, why);
    }
    if (moment->kind != SW_MOMENT_NUMBER)
        return SW_OK;
    return read_field(row, list, column, SW_QUANTITY_DURATION, (sw_range){0.0, SW_LONGEST_PHASE}, &moment->seconds);
}

/* When a log's first row was taken, counted from the moment the meat went on: by the clock the nearest such time. */
static double first_time(const step_list *list, const sw_moment *moment)
{
    if (!list->by_clock)
        return moment->seconds;
    const double after = fmod(moment->clock - list->start_clock + day, day);
    return after > 0.5 * day ? after - day : after;
}

/* The same for a later row; a time of day alone is that of the next day once it is past midnight. */
static double later_time(const step_list *list, const sw_moment *moment)
{
    double passed = moment->seconds - list->last.seconds;
    if (list->by_clock && list->kind == SW_MOMENT_HOURS && passed < 0.0)
        passed += day;
    return list->last_time + passed;
}

static sw_status check_first(const sw_csv_row *row, const step_list *list, double time)
{
    char why[256];
    if (list->by_clock && time > 0.0)
        snprintf(why, sizeof why,
                 "the log begins %.4g min after the meat went on at start, %02d:%02d; set start to the log's first time, or begin "
                 "the log earlier", time / 60.0, (int)(list->start_clock / 3600.0), (int)fmod(list->start_clock / 60.0, 60.0));
    else if (!list->by_clock && time != 0.0)
        snprintf(why, sizeof why, "the first row is at %.4g min; a log begins when the meat goes on, at 0", time / 60.0);
    else
        return SW_OK;
    return sw_csv_refuse(row, time_column(row), why);
}

static sw_status check_later(const sw_csv_row *row, const step_list *list, double time)
{
    char why[200];
    const double before = list->last_time;
    if (time == before)
        snprintf(why, sizeof why, "the time %.6g min is given twice; each row is later than the one before it", time / 60.0);
    else if (time < before)
        snprintf(why, sizeof why, "the time goes back from %.6g min to %.6g min; each row is later than the one before it",
                 before / 60.0, time / 60.0);
    else if (time_column(row) == TIME && time - before > SW_PIT_LOG_GAP)
        snprintf(why, sizeof why,
                 "the log has a gap of %.4g min before this row; rows are at most %.0f min apart. Steps of a pit, under \"from\" "
                 "instead of \"time\", may have gaps", (time - before) / 60.0, SW_PIT_LOG_GAP / 60.0);
    else if (time > SW_LONGEST_PHASE)
        snprintf(why, sizeof why, "the row is at %.4g h; at most %.0f h are allowed", time / 3600.0, SW_LONGEST_PHASE / 3600.0);
    else
        return SW_OK;
    return sw_csv_refuse(row, time_column(row), why);
}

/* Appends a step. A log that began before the meat went on has one of its own at that moment. */
static sw_status append(const sw_csv_row *row, step_list *list, double time, double temperature, bool ramp)
{
    if (time < 0.0)
        return SW_OK;
    if (list->count == 0 && time > 0.0) {
        const double share = -list->last_time / (time - list->last_time);
        list->steps[list->count++] =
            (sw_pit_step){0.0, list->last_temperature + share * (temperature - list->last_temperature), true};
    }
    if (list->count == SW_PIT_STEPS_MAX) {
        char why[96];
        snprintf(why, sizeof why, "a log has at most %d rows; leave out every second one", SW_PIT_STEPS_MAX);
        return sw_csv_refuse(row, time_column(row), why);
    }
    list->steps[list->count++] = (sw_pit_step){time, temperature, ramp};
    return SW_OK;
}

static sw_status read_ramp(const sw_csv_row *row, bool *ramp)
{
    const char *field = row->fields[RAMP];
    *ramp = row->columns[TIME] > 0 || strcmp(field, "yes") == 0;
    if (row->columns[RAMP] == 0 || row->columns[TIME] > 0 || *ramp || field[0] == '\0' || strcmp(field, "no") == 0)
        return SW_OK;
    return sw_csv_refuse(row, RAMP, "ramp is neither yes nor no");
}

static sw_status take_row(const sw_csv_row *row, void *data)
{
    step_list *list = data;
    sw_moment moment = {0};
    double temperature = 0.0, time = 0.0;
    bool ramp = false;
    if ((row->columns[TIME] > 0) == (row->columns[FROM] > 0))
        return sw_csv_refuse_heading(row, "the first line names the columns with their unit, such as \"time [min],temperature "
                                          "[F]\" of a log or \"from [h],temperature [F]\" of steps, not both");
    sw_status status = read_moment(row, list, &moment);
    if (status == SW_OK)
        status = read_field(row, list, TEMPERATURE, SW_QUANTITY_TEMPERATURE, list->range, &temperature);
    if (status == SW_OK)
        status = read_ramp(row, &ramp);
    if (status != SW_OK)
        return status;
    if (list->row_count == 0) {
        list->kind = moment.kind;
        list->by_clock = row->columns[TIME] > 0 && (moment.kind == SW_MOMENT_DATED ||
                                                    (moment.kind == SW_MOMENT_HOURS && moment.seconds > 0.0));
        time = first_time(list, &moment);
        status = check_first(row, list, time);
    } else {
        time = later_time(list, &moment);
        status = check_later(row, list, time);
    }
    if (status == SW_OK)
        status = append(row, list, time, temperature, ramp);
    list->last = moment;
    list->last_time = time;
    list->last_temperature = temperature;
    list->row_count++;
    return status;
}

sw_status sw_pit_log_csv_read(sw_context *context, const sw_units *units, const char *scenario_file, const char *path,
                              double start_clock, sw_range range, sw_pit *pit)
{
    step_list list = {.units = units, .start_clock = start_clock, .range = range};
    sw_status status = sw_csv_read(context, scenario_file, path, &form, take_row, &list);
    if (status != SW_OK)
        return status;
    if (list.count == 0)
        return sw_fail(context, SW_ERR_INPUT, "%.200s: the log ends %.4g min before the meat goes on, at start", path,
                       -list.last_time / 60.0);
    pit->is_log = list.steps[0].ramp && list.count > 1;
    list.steps[list.count - 1].ramp = false;
    pit->step_count = list.count;
    memcpy(pit->steps, list.steps, sizeof list.steps);
    return SW_OK;
}
