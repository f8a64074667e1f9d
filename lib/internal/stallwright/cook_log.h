/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Logs of cooks as thermometers and people write them: a table with a column of time and one or more of temperature.
 * docs/theory/tracking.md tells what is read and what is doubted. */
#ifndef STALLWRIGHT_COOK_LOG_H
#define STALLWRIGHT_COOK_LOG_H

#include <stallwright/scenario_file.h>
#include <stallwright/track.h>

SW_BEGIN_DECLARATIONS

#define SW_LOG_DOUBTS_MAX 200
#define SW_LOG_SENTENCE_SIZE 200
#define SW_LOG_NAME_SIZE 64
#define SW_LOG_EVENTS_MAX 200
#define SW_LOG_EVENT_SIZE 96

/** How a log is to be read. */
typedef struct sw_cook_log_form {
    const char *path;       /**< "-" is standard input */
    const char *columns;    /**< "time=Clock,flat=Probe 2,pit=Probe 1,event=Notes": what its columns are; NULL: as their headings say */
    sw_unit_system units;   /**< of temperatures whose heading has no unit */
    bool leaves_last_line;  /**< a last line that does not end is left for the next reading of the file */
} sw_cook_log_form;

/** A column of temperatures. */
typedef struct sw_log_column {
    char name[SW_LOG_NAME_SIZE]; /**< its heading without the unit, or what --columns calls it */
    double *values;              /**< row_count [K]; SW_ABSENT where there is none or it was refused */
} sw_log_column;

/** What a column of events says in a row: "wrapped paper", "lid". */
typedef struct sw_log_event {
    double time; /**< after the first row [s] */
    int line;
    char text[SW_LOG_EVENT_SIZE]; /**< as it is written */
} sw_log_event;

/** Something doubtful in a log, which was read all the same. */
typedef struct sw_log_doubt {
    int line;
    char sentence[SW_LOG_SENTENCE_SIZE];
} sw_log_doubt;

/** A log. Release with sw_cook_log_free. */
typedef struct sw_cook_log {
    size_t row_count;
    double *time;       /**< after the first row [s] */
    int *line;          /**< of the file */
    bool by_clock;      /**< times are of a clock, not elapsed */
    double first_clock; /**< time of day of the first row [s after midnight]; of elapsed times the time that row states [s] */
    size_t meat_count;
    sw_log_column meat[SW_TRACK_PROBES_MAX];
    bool has_pit;
    sw_log_column pit;
    size_t event_count; /**< at most SW_LOG_EVENTS_MAX */
    sw_log_event *events; /**< in the order of their times, but for "on" and "meat on", which are start */
    double start;       /**< when the meat went on: when an event says so, else from the readings: when a meat probe last fell by many degrees into something cold,
                             else when cold meat began to warm, else 0 [s after the first row] */
    char start_sentence[SW_LOG_SENTENCE_SIZE]; /**< how that was found */
    size_t doubt_count; /**< those beyond SW_LOG_DOUBTS_MAX are counted too */
    sw_log_doubt doubts[SW_LOG_DOUBTS_MAX];
} sw_cook_log;

/** Reads a log. Commas, semicolons or tabs between columns; decimal commas where the columns are not parted by commas; times as
 * numbers with their unit in the heading, as H:MM[:SS] of a clock or elapsed, or as ISO 8601; units in the headings. Rows
 * without a value are gaps; a column event, events or notes tells what was done. Spikes, a probe that was out of the meat, repeated rows are left out and told.
 * @param log out; unchanged on error
 * @return SW_OK, SW_ERR_FILE, SW_ERR_INPUT with file:line:column, SW_ERR_MEMORY */
SW_API sw_status sw_cook_log_read(sw_context *context, sw_scenario_reader *reader, const sw_cook_log_form *form, sw_cook_log *log);
/** The same from memory; the form's path is what the sentences call it. */
SW_API sw_status sw_cook_log_read_text(sw_context *context, sw_scenario_reader *reader, const sw_cook_log_form *form, const char *text,
                                       size_t length, sw_cook_log *log);
SW_API void sw_cook_log_free(sw_cook_log *log);

SW_END_DECLARATIONS

#endif
