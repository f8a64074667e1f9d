/* SPDX-License-Identifier: BSD-3-Clause */
#include "scenario_option.h"

#include "output_file.h"
#include "progress.h"
#include "quantity.h"

#include <stallwright/cut_traits.h>

#include <stdlib.h>
#include <string.h>

int report(const session *s, sw_status status)
{
    if (status == SW_ERR_CANCELLED)
        return report_interrupt();
    const char *message = sw_context_message(s->context);
    print_error("%s", *message ? message : sw_status_text(status));
    switch (status) {
    case SW_ERR_ARGUMENT:
    case SW_ERR_RANGE:
    case SW_ERR_INPUT:
    case SW_ERR_EXISTS:
        return EXIT_BAD_USE;
    default:
        return EXIT_FAILED;
    }
}

sw_scenario_reader *session_reader(session *s)
{
    if (!s->reader) {
        sw_status status = sw_scenario_reader_create(s->context, &s->reader);
        if (status != SW_OK)
            report(s, status);
    }
    return s->reader;
}

int session_open(session *s)
{
    memset(s, 0, sizeof *s);
    if (sw_context_create(&s->context) == SW_OK)
        return EXIT_DONE;
    print_error("the session cannot be opened: %s", sw_status_text(SW_ERR_MEMORY));
    return EXIT_FAILED;
}

/* A scenario of one's own is called after its file until it says otherwise, and feeds nobody in particular. */
static void begin_own(const char *path, sw_scenario *s)
{
    const char *slash = strrchr(path, '/'), *name = slash ? slash + 1 : path;
    const size_t length = strlen(name);
    const bool is_yaml = length > 5 && strcmp(name + length - 5, ".yaml") == 0;
    snprintf(s->title, sizeof s->title, "%.*s", (int)(is_yaml ? length - 5 : length),
             strcmp(path, "-") == 0 ? "standard input" : name);
    s->serving.people = 0;
}

static bool sets(const command_options *o, const char *name)
{
    const size_t length = strlen(name);
    for (size_t i = 0; i < o->assignments.count; i++) {
        const char *typed = o->assignments.texts[i] + strspn(o->assignments.texts[i], " \t");
        if (strncmp(typed, name, length) == 0 && strchr(" \t=", typed[length]))
            return true;
    }
    return false;
}

/* Where water boils too low for the usual pull, the meat comes off cooler than a cook may expect. */
static void note_usual_pull(const session *s, const command_options *o)
{
    char pull[QUANTITY_SIZE], usual[QUANTITY_SIZE];
    sw_scenario settled = s->scenario;
    sw_scenario_settle(&settled);
    if (s->scenario.pull.kind == SW_ENDING_USUAL && settled.pull.value < sw_cut_traits_of(settled.meat.cut)->pull)
        print_note(o, "pull is %s, not the usual %s: water boils lower at this pit.altitude",
                   show_temperature_rounded_down(settled.pull.value, o->units, pull),
                   show_temperature(sw_cut_traits_of(settled.meat.cut)->pull, o->units, usual));
}

int session_begin(session *s, const command_options *o)
{
    int opened = session_open(s);
    if (opened != EXIT_DONE)
        return opened;
    sw_context_set_units(s->context, o->units);
    sw_scenario_init(&s->scenario);
    if (sets(o, "meat.mass") && sets(o, "meat.bought_mass")) {
        print_error("--set meat.mass and --set meat.bought_mass both give the mass; set one of the two, the trimmed cut or the "
                    "cut as bought");
        return EXIT_BAD_USE;
    }
    bool needs_reader = o->input_path || o->assignments.count > 0;
    if (needs_reader && !session_reader(s))
        return EXIT_FAILED;
    sw_status status = SW_OK;
    if (o->input_path) {
        begin_own(o->input_path, &s->scenario);
        status = sw_scenario_read(s->context, s->reader, o->input_path, &s->scenario);
        /* A scenario that is not there is bad input like one that cannot be understood. */
        if (status == SW_ERR_FILE) {
            report(s, status);
            return EXIT_BAD_USE;
        }
    }
    for (size_t i = 0; status == SW_OK && i < o->assignments.count; i++)
        status = sw_scenario_set(s->context, s->reader, o->assignments.texts[i], &s->scenario);
    if (status == SW_OK)
        status = s->reader ? sw_scenario_check_read(s->context, s->reader, &s->scenario)
                           : sw_scenario_check(s->context, &s->scenario);
    if (status != SW_OK)
        return report(s, status);
    note_usual_pull(s, o);
    return EXIT_DONE;
}

void session_end(session *s)
{
    sw_scenario_reader_destroy(s->reader);
    sw_context_destroy(s->context);
}

int print_scenario(session *s, const command_options *o)
{
    sw_scenario_reader *reader = session_reader(s);
    if (!reader)
        return EXIT_FAILED;
    sw_status status = sw_scenario_write(s->context, reader, &s->scenario, o->units, stdout);
    return status == SW_OK ? flush_standard_output() : report(s, status);
}

char *scenario_text(session *s)
{
    char *text = NULL;
    size_t length = 0;
    sw_scenario_reader *reader = session_reader(s);
    FILE *stream = reader ? open_memstream(&text, &length) : NULL;
    if (!stream)
        return NULL;
    sw_status status = sw_scenario_write(s->context, reader, &s->scenario, SW_UNITS_SI, stream);
    if (fclose(stream) != 0 || status != SW_OK) {
        free(text);
        return NULL;
    }
    return text;
}
