/* SPDX-License-Identifier: BSD-3-Clause */
#include "web_under_way.h"

#include "happened.h"

#include <jansson.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const names[] = {[TRACK_WRAPPED] = "wrapped", [TRACK_PIT_SET] = "pit", [TRACK_LID] = "lid", [TRACK_SPRITZED] = "spritzed",
                                    [TRACK_OFF] = "off", [TRACK_HELD] = "held", [TRACK_SLICED] = "sliced"};

const char *web_event_name(track_event_kind kind)
{
    return names[kind];
}

static double number_of(const json_t *value)
{
    return json_is_number(value) ? json_number_value(value) : SW_ABSENT;
}

/* Sets *list to a column of the rows; false without memory. */
static bool take_column(const json_t *rows, size_t column, double **list)
{
    const size_t count = json_array_size(rows);
    *list = calloc(count + 1, sizeof **list);
    for (size_t i = 0; *list && i < count; i++)
        (*list)[i] = number_of(json_array_get(json_array_get(rows, i), column));
    return *list != NULL;
}

/* As sw_cook_log_read has it: times from the first row on. */
static sw_status take_log(sw_context *context, const json_t *told, track_input *in)
{
    const json_t *called = json_object_get(told, "names"), *rows = json_object_get(told, "rows");
    sw_cook_log *log = &in->log;
    in->has_log = json_is_object(told);
    log->row_count = json_array_size(rows);
    log->has_pit = json_is_true(json_object_get(told, "has_pit"));
    for (size_t k = 0; k < json_array_size(called) && k < SW_TRACK_PROBES_MAX; k++) {
        const char *name = json_string_value(json_array_get(called, k));
        snprintf(log->meat[k].name, sizeof log->meat[k].name, "%s", name ? name : "");
        log->meat_count = k + 1;
    }
    if (!take_column(rows, 0, &log->time) || !take_column(rows, 1, &log->meat[0].values) || !take_column(rows, 2, &log->meat[1].values) ||
        !take_column(rows, 3, &log->pit.values))
        return sw_fail(context, SW_ERR_MEMORY, "memory for %zu rows of a log could not be allocated", log->row_count);
    in->on = log->row_count > 0 ? -log->time[0] : 0.0;
    for (size_t i = 0; i < log->row_count; i++) {
        log->time[i] += in->on;
        if (!isfinite(log->time[i]))
            return sw_fail(context, SW_ERR_INPUT, "row %zu of the log that is kept has no time", i + 1);
    }
    return SW_OK;
}

static void take_reading(const json_t *entry, double time, track_input *in)
{
    const double probe = number_of(json_object_get(entry, "probe"));
    in->list[in->question.readings.count++] = (sw_reading){.time = time, .temperature = number_of(json_object_get(entry, "value")),
                                                           .probe = probe == 1.0 ? 1 : 0};
    in->question.now = fmax(in->question.now, time);
}

static sw_status take_event(sw_context *context, const json_t *entry, const char *kind, double time, track_input *in)
{
    track_event event = {.time = time};
    size_t i = 0;
    while (i < sizeof names / sizeof *names && strcmp(kind, names[i]) != 0)
        i++;
    if (i == sizeof names / sizeof *names)
        return sw_fail(context, SW_ERR_INPUT, "\"%.40s\" is no entry of a cook", kind);
    event.kind = (track_event_kind)i;
    if (event.kind == TRACK_WRAPPED) {
        const char *wrap = json_string_value(json_object_get(entry, "value"));
        if (!wrap || sw_wrap_from_name(wrap, &event.wrap) != SW_OK)
            return sw_fail(context, SW_ERR_INPUT, "\"%.40s\" is no wrap", wrap ? wrap : "");
    } else if (event.kind == TRACK_PIT_SET) {
        event.temperature = number_of(json_object_get(entry, "value"));
    }
    return track_add_event(context, in, event);
}

static sw_status take_entries(sw_context *context, const json_t *entries, track_input *in)
{
    sw_status status = track_add_log_readings(context, in, json_array_size(entries));
    for (size_t i = 0; status == SW_OK && i < json_array_size(entries); i++) {
        const json_t *entry = json_array_get(entries, i);
        const char *kind = json_string_value(json_object_get(entry, "kind"));
        const double time = number_of(json_object_get(entry, "time"));
        if (!kind || !isfinite(time))
            status = sw_fail(context, SW_ERR_INPUT, "entry %zu of the cook has no kind or no time", i + 1);
        else if (strcmp(kind, "reading") == 0)
            take_reading(entry, time, in);
        else
            status = take_event(context, entry, kind, time, in);
    }
    return status;
}

sw_status web_under_way_read(sw_context *context, const char *text, track_input *in)
{
    track_input_begin(in);
    in->has_controls = true;
    json_error_t error;
    json_t *told = json_loads(text, 0, &error);
    if (!told)
        return sw_fail(context, SW_ERR_INPUT, "what is kept of the cook under way cannot be read: %.100s", error.text);
    sw_status status = take_log(context, json_object_get(told, "log"), in);
    if (status == SW_OK)
        status = take_entries(context, json_object_get(told, "entries"), in);
    json_decref(told);
    return status;
}
