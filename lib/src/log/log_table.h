/* SPDX-License-Identifier: BSD-3-Clause */
/* The table of a log: lines, fields, and what its columns are. */
#ifndef SW_LOG_TABLE_H
#define SW_LOG_TABLE_H

#include "log_moment.h"
#include "units.h"

#include <stallwright/cook_log.h>

enum { SW_LOG_FIELDS_MAX = 40, SW_LOG_FIELD_SIZE = 96 };

/* What a column is. */
typedef enum sw_log_role { SW_LOG_OTHER, SW_LOG_TIME, SW_LOG_MEAT, SW_LOG_PIT, SW_LOG_EVENTS } sw_log_role;

typedef struct sw_log_line {
    int number;
    size_t count;
    size_t column[SW_LOG_FIELDS_MAX]; /* where a field begins, from 1 */
    char fields[SW_LOG_FIELDS_MAX][SW_LOG_FIELD_SIZE];
} sw_log_line;

typedef struct sw_log_heading {
    char separator;
    size_t count;
    int time, pit, event, meat[SW_TRACK_PROBES_MAX]; /* numbers of columns; -1: none */
    size_t meat_count;
    char meat_names[SW_TRACK_PROBES_MAX][SW_LOG_NAME_SIZE], pit_name[SW_LOG_NAME_SIZE];
    bool is_elapsed;        /* the heading of the time says so */
    bool has_time_unit;
    double time_unit;       /* [s] */
    bool has_unit[SW_LOG_FIELDS_MAX];
    double scale[SW_LOG_FIELDS_MAX], zero[SW_LOG_FIELDS_MAX]; /* kelvin = zero + scale x value */
} sw_log_heading;

/* Refuses a place of a log. SW_ERR_INPUT. */
sw_status sw_log_refuse(sw_context *context, const char *path, int line, size_t column, const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* Splits a line. SW_OK or SW_ERR_INPUT. */
sw_status sw_log_split(sw_context *context, const char *path, const char *text, size_t length, char separator, int number,
                       sw_log_line *line);

/* Reads the heading, from a text of that line. */
sw_status sw_log_heading_read(sw_context *context, const sw_units *units, const sw_cook_log_form *form, const char *text,
                              size_t length, int number, sw_log_heading *heading);

/* Reads a plain number, with a decimal comma if the separator is another sign; false if it is none. */
bool sw_log_number(const char *field, char separator, double *number);

/* Puts what stands behind doubts in a log. */
void sw_log_doubt_add(sw_cook_log *log, int line, const char *format, ...) __attribute__((format(printf, 3, 4)));

/* Finds when the meat went on, if no event said so; before the cleaning, which takes a fall into cold meat for a spike. */
void sw_log_find_start(sw_cook_log *log);

/* Leaves out spikes and spells of a probe out of the meat, from the start on. */
void sw_log_clean(sw_cook_log *log);

#endif
