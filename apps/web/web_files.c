/* SPDX-License-Identifier: BSD-3-Clause */
#include "web_files.h"

#include "json_output.h"
#include "web_under_way.h"

#include <stallwright/cook_log.h>
#include <stallwright/files.h>
#include <stallwright/scenario_file.h>
#include <stallwright/setup_scenario.h>

#include <stdlib.h>
#include <string.h>

/* One for all: it holds the units. */
static sw_scenario_reader *reader;

static sw_status need_reader(sw_context *context)
{
    return reader ? SW_OK : sw_scenario_reader_create(context, &reader);
}

/* ---- scenarios ---- */

sw_status web_scenario_read(sw_context *context, sw_setup *setup, const char *name, const char *text)
{
    sw_status status = need_reader(context);
    if (status == SW_OK)
        status = sw_scenario_read_text(context, reader, name, text, strlen(text), sw_setup_scenario(setup));
    return status == SW_OK ? sw_scenario_check_read(context, reader, sw_setup_scenario(setup)) : status;
}

static json_t *list_json(sw_context *context, const sw_setup *setup, const char *key, size_t columns)
{
    enum { ROOM = 512 };
    static double values[ROOM];
    size_t rows = 0;
    json_t *list = json_array();
    if (sw_setup_list(context, setup, key, ROOM, values, &rows) != SW_OK || rows * columns > ROOM) {
        json_decref(list);
        return json_null();
    }
    for (size_t i = 0; i < rows; i++) {
        json_t *row = json_array();
        for (size_t k = 0; k < columns; k++)
            json_array_append_new(row, json_real(values[i * columns + k]));
        json_array_append_new(list, row);
    }
    return list;
}

static json_t *value_json(sw_context *context, const sw_setup *setup, const sw_scenario_key *key)
{
    const char *word;
    double number;
    switch (key->type) {
    case SW_KEY_SCHEDULE:
        return list_json(context, setup, key->name, 3);
    case SW_KEY_TIMES:
        return list_json(context, setup, key->name, 1);
    case SW_KEY_OUTLINE:
        return list_json(context, setup, key->name, 2);
    case SW_KEY_PROBES:
    case SW_KEY_LEARNED:
        return json_null();
    case SW_KEY_ENDING:
        return sw_setup_ending(context, setup, key->name, &word, &number) == SW_OK ? json_pack("{s:s, s:f}", "kind", word, "value", number)
                                                                                   : json_null();
    default:
        if (sw_setup_number(context, setup, key->name, &number) == SW_OK)
            return json_real(number);
        return sw_setup_word(context, setup, key->name, &word) == SW_OK ? json_text(word) : json_null();
    }
}

json_t *web_scenario_json(sw_context *context, sw_setup *setup)
{
    json_t *object = json_object(), *keys = json_object(), *set = json_array();
    sw_scenario *both = calloc(2, sizeof *both);
    if (both)
        sw_scenario_init(&both[0]);
    for (size_t i = 0; both && i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        json_object_set_new(keys, key->name, value_json(context, setup, key));
        if (!sw_scenario_key_same(key, &both[0], sw_setup_scenario(setup)))
            json_array_append_new(set, json_string(key->name));
    }
    json_object_set_new(object, "keys", keys);
    json_object_set_new(object, "set", set);
    if (both) {
        both[1] = *sw_setup_scenario(setup);
        sw_scenario_settle(&both[1]);
        json_object_set_new(object, "mass", json_real(both[1].meat.mass));
    }
    free(both);
    return object;
}

/* ---- what is written ---- */

static sw_status no_memory(sw_context *context)
{
    return sw_fail(context, SW_ERR_MEMORY, "%s", sw_status_text(SW_ERR_MEMORY));
}

/* What was written, if it was; the stream is closed. */
static char *finish(sw_context *context, sw_status status, FILE *stream, char **text)
{
    if (fclose(stream) != 0 && status == SW_OK)
        status = no_memory(context);
    if (status == SW_OK)
        return *text;
    free(*text);
    return NULL;
}

char *web_scenario_write(sw_context *context, const sw_setup *setup, sw_unit_system units)
{
    char *text = NULL;
    size_t length;
    FILE *stream = open_memstream(&text, &length);
    if (!stream) {
        no_memory(context);
        return NULL;
    }
    return finish(context, sw_setup_write(context, setup, units, stream), stream, &text);
}

char *web_learned_write(sw_context *context, const sw_pit_learned *learned)
{
    char *text = NULL;
    size_t length;
    FILE *stream = need_reader(context) == SW_OK ? open_memstream(&text, &length) : NULL;
    if (!stream) {
        no_memory(context);
        return NULL;
    }
    return finish(context, sw_pit_learned_write(context, reader, learned, SW_UNITS_SI, stream), stream, &text);
}

/* ---- logs ---- */

/* NULL where nothing was read. */
static json_t *temperature_json(bool is_there, const sw_log_column *column, size_t row)
{
    return is_there && !SW_IS_ABSENT(column->values[row]) ? json_real(column->values[row]) : json_null();
}

/* Time, first probe, second, pit; times are those of the log. */
static json_t *rows_json(const sw_cook_log *log)
{
    json_t *list = json_array();
    for (size_t i = 0; i < log->row_count; i++)
        json_array_append_new(list, json_pack("[f, o, o, o]", log->time[i], temperature_json(log->meat_count > 0, &log->meat[0], i),
                                              temperature_json(log->meat_count > 1, &log->meat[1], i), temperature_json(log->has_pit, &log->pit, i)));
    return list;
}

/* As the page has entries; "kind" is null of what is not understood. */
static json_t *event_json(sw_context *context, sw_wrap_kind planned, const sw_log_event *said)
{
    json_t *object = json_pack("{s:f, s:i, s:o}", "time", said->time, "line", said->line, "says", json_text(said->text));
    track_event event = {0};
    const bool is_read = track_event_read(context, reader, planned, said->text, &event);
    json_put_text(object, "kind", is_read ? web_event_name(event.kind) : NULL);
    if (is_read && event.kind == TRACK_WRAPPED)
        json_put_text(object, "value", sw_wrap_traits_of(event.wrap)->name);
    if (is_read && event.kind == TRACK_PIT_SET)
        json_object_set_new(object, "value", json_real(event.temperature));
    return object;
}

static json_t *log_json(sw_context *context, const sw_cook_log *log, sw_wrap_kind planned)
{
    json_t *object = json_object(), *names = json_array(), *events = json_array(), *doubts = json_array();
    for (size_t i = 0; i < log->meat_count; i++)
        json_array_append_new(names, json_text(log->meat[i].name));
    for (size_t i = 0; i < log->event_count; i++)
        json_array_append_new(events, event_json(context, planned, &log->events[i]));
    for (size_t i = 0; i < log->doubt_count && i < SW_LOG_DOUBTS_MAX; i++)
        json_array_append_new(doubts, json_pack("{s:i, s:o}", "line", log->doubts[i].line, "says", json_text(log->doubts[i].sentence)));
    json_object_set_new(object, "names", names);
    json_object_set_new(object, "rows", rows_json(log));
    json_object_set_new(object, "has_pit", json_boolean(log->has_pit));
    json_object_set_new(object, "events", events);
    json_object_set_new(object, "doubts", doubts);
    json_object_set_new(object, "doubt_count", json_integer((json_int_t)log->doubt_count));
    json_object_set_new(object, "by_clock", json_boolean(log->by_clock));
    json_object_set_new(object, "first_clock", json_real(log->first_clock));
    json_object_set_new(object, "last", json_real(log->row_count > 0 ? log->time[log->row_count - 1] : 0.0));
    json_object_set_new(object, "start", json_real(log->start));
    json_object_set_new(object, "start_says", json_text(log->start_sentence));
    return object;
}

sw_status web_log_read(sw_context *context, const char *name, const char *text, sw_unit_system units, sw_wrap_kind planned, json_t **told)
{
    const sw_cook_log_form form = {.path = name, .units = units};
    sw_cook_log *log = calloc(1, sizeof *log);
    if (!log)
        return no_memory(context);
    sw_status status = need_reader(context);
    if (status == SW_OK)
        status = sw_cook_log_read_text(context, reader, &form, text, strlen(text), log);
    if (status == SW_OK) {
        *told = log_json(context, log, planned);
        sw_cook_log_free(log);
    }
    free(log);
    return status;
}
