#include "pit_log_csv.h"

#include "csv_table.h"

#include <stdio.h>
#include <string.h>

typedef struct step_list {
    const sw_units *units;
    sw_range range;
    sw_pit_step *steps;
    size_t count;
} step_list;

static const char *const names[2] = {"time", "temperature"};

/* A number and nothing else: the unit is the heading's. */
static sw_status check_number(const sw_csv_row *row, int column)
{
    char why[256];
    const char *field = row->fields[column];
    if (field[0] == '\0')
        snprintf(why, sizeof why, "the %s is missing; leave out a row that was not measured", names[column]);
    else if (strchr(field, ':'))
        snprintf(why, sizeof why, "the time \"%s\" is one of a clock; write the time since the meat went on, in the unit of "
                                  "the heading", field);
    else if (field[strspn(field, "+-.0123456789eE")] != '\0')
        snprintf(why, sizeof why, "the %s \"%s\" is not a plain number; its unit stands in the heading, \"%s\", and is the "
                                  "same in every row", names[column], field, row->units[column]);
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
    snprintf(where, sizeof where, "%.200s:%d:%d: %s", row->path, row->line, row->columns[column], names[column]);
    snprintf(text, sizeof text, "%s %s", row->fields[column], row->units[column]);
    return sw_value_read(row->context, list->units, where, quantity, text, range, value);
}

static sw_status check_time(const sw_csv_row *row, const step_list *list, double time)
{
    char why[160];
    if (list->count == 0) {
        if (time == 0.0)
            return SW_OK;
        snprintf(why, sizeof why, "the first row is at %.4g min; a log begins when the meat goes on, at 0", time / 60.0);
        return sw_csv_refuse(row, 0, why);
    }
    double before = list->steps[list->count - 1].start;
    if (time > before && time - before <= SW_PIT_LOG_GAP)
        return SW_OK;
    if (time == before)
        snprintf(why, sizeof why, "the time %.6g min is given twice; each row is later than the one before it", time / 60.0);
    else if (time < before)
        snprintf(why, sizeof why, "the time goes back from %.6g min to %.6g min; each row is later than the one before it",
                 before / 60.0, time / 60.0);
    else
        snprintf(why, sizeof why, "the log has a gap of %.4g min before this row; rows are at most %.0f min apart",
                 (time - before) / 60.0, SW_PIT_LOG_GAP / 60.0);
    return sw_csv_refuse(row, 0, why);
}

static sw_status take_row(const sw_csv_row *row, void *data)
{
    step_list *list = data;
    sw_pit_step step = {.ramp = true};
    if (list->count == SW_PIT_STEPS_MAX) {
        char why[96];
        snprintf(why, sizeof why, "a log has at most %d rows; leave out every second one", SW_PIT_STEPS_MAX);
        return sw_csv_refuse(row, 0, why);
    }
    sw_status status = read_field(row, list, 0, SW_QUANTITY_DURATION, (sw_range){0.0, SW_LONGEST_PHASE}, &step.start);
    if (status == SW_OK)
        status = read_field(row, list, 1, SW_QUANTITY_TEMPERATURE, list->range, &step.temperature);
    if (status == SW_OK)
        status = check_time(row, list, step.start);
    if (status == SW_OK)
        list->steps[list->count++] = step;
    return status;
}

sw_status sw_pit_log_csv_read(sw_context *context, const sw_units *units, const char *scenario_file, const char *path,
                              sw_range range, sw_pit_step *steps, size_t *count)
{
    static const sw_csv_form form = {{"time", "temperature"}, "time [min],temperature [F]"};
    step_list list = {units, range, steps, 0};
    sw_status status = sw_csv_read(context, scenario_file, path, &form, take_row, &list);
    if (status != SW_OK)
        return status;
    steps[list.count - 1].ramp = false;
    *count = list.count;
    return SW_OK;
}
