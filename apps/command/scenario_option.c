#include "scenario_option.h"

#include "output_file.h"
#include "progress.h"

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

int session_begin(session *s, const command_options *o)
{
    int opened = session_open(s);
    if (opened != EXIT_DONE)
        return opened;
    sw_scenario_init(&s->scenario);
    bool needs_reader = o->input_path || o->assignment_count > 0;
    if (needs_reader && !session_reader(s))
        return EXIT_FAILED;
    sw_status status = SW_OK;
    if (o->input_path) {
        status = sw_scenario_read(s->context, s->reader, o->input_path, &s->scenario);
        /* A scenario that is not there is bad input like one that cannot be understood. */
        if (status == SW_ERR_FILE) {
            report(s, status);
            return EXIT_BAD_USE;
        }
    }
    for (size_t i = 0; status == SW_OK && i < o->assignment_count; i++)
        status = sw_scenario_set(s->context, s->reader, o->assignments[i], &s->scenario);
    if (status == SW_OK)
        status = sw_scenario_check(s->context, &s->scenario);
    return status == SW_OK ? EXIT_DONE : report(s, status);
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
