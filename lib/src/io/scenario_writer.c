/* SPDX-License-Identifier: BSD-3-Clause */
/* Writes a scenario as a commented file. */
#include <stallwright/scenario_file.h>

#include "pit_learned.h"
#include "pit_learned_file.h"
#include "pit_air_check.h"
#include "scenario_entry.h"

#include <errno.h>
#include <math.h>
#include <string.h>

enum { COLUMNS = 100, INDENT = 2 };

typedef struct writer {
    sw_context *context;
    const sw_units *units;
    sw_unit_system system;
    const sw_scenario *scenario;
    FILE *stream;
} writer;

/* Refuses a text that does not end within its field: the writer could not tell where it stops. */
static sw_status check_text_ends(const writer *w, const sw_scenario_key *key)
{
    if (key->type != SW_KEY_TEXT || memchr(sw_key_value(key, w->scenario), '\0', SW_TEXT_MAX))
        return SW_OK;
    return sw_fail(w->context, SW_ERR_RANGE, "the scenario cannot be written: %s does not end within %d bytes",
                   key->name, SW_TEXT_MAX);
}

/* Reads one written value back, so that no file is written that could not be read. */
static sw_status read_back(const writer *w, const sw_scenario_key *key, char *text)
{
    static const char prefix[] = "the scenario cannot be written: ";
    sw_entry_source source = {.context = w->context, .units = w->units, .prefix = prefix};
    sw_yaml_node node = {.kind = SW_YAML_SCALAR, .text = text, .quoted = true};
    sw_scenario scratch = *w->scenario;
    sw_status status = sw_entry_read(&source, key, &node, &scratch);
    return status == SW_ERR_INPUT ? SW_ERR_RANGE : status;
}

static sw_status check_steps(const writer *w, const sw_scenario_key *key)
{
    const sw_pit *pit = sw_key_value(key, w->scenario);
    bool counted = pit->step_count >= 1 && pit->step_count <= SW_PIT_STEPS_MAX, rising = counted;
    for (size_t i = 0; rising && i < pit->step_count; i++)
        rising = i == 0 ? pit->steps[0].start == 0.0
                        : pit->steps[i].start > pit->steps[i - 1].start && pit->steps[i].start <= SW_LONGEST_PHASE;
    if (!rising || pit->steps[pit->step_count - 1].ramp)
        return sw_fail(
            w->context, SW_ERR_RANGE,
            "the scenario cannot be written: %s needs 1 to %d steps, the first at 0 h, each later than the one "
            "before and none after 240 h, the last without a ramp",
            key->name, SW_PIT_STEPS_MAX);
    sw_status status = SW_OK;
    for (size_t i = 0; i < pit->step_count && status == SW_OK; i++) {
        char from[SW_VALUE_TEXT_SIZE], temperature[SW_VALUE_TEXT_SIZE];
        status = sw_entry_write_step(w->context, w->units, key, w->system, &pit->steps[i], from, temperature);
        if (status == SW_OK)
            status = read_back(w, key, temperature);
    }
    return status;
}

static sw_status check_times(const writer *w, const sw_scenario_key *key)
{
    const sw_pit *pit = sw_key_value(key, w->scenario);
    bool rising = pit->opening_count <= SW_PIT_OPENINGS_MAX;
    for (size_t i = 0; rising && i < pit->opening_count; i++)
        rising = pit->openings[i] >= (i == 0 ? 0.0 : nextafter(pit->openings[i - 1], INFINITY)) &&
                 pit->openings[i] <= SW_LONGEST_PHASE;
    return rising ? SW_OK
                  : sw_fail(w->context, SW_ERR_RANGE,
                            "the scenario cannot be written: %s has at most %d times, each later than the one before and "
                            "none after 240 h",
                            key->name, SW_PIT_OPENINGS_MAX);
}

static sw_status check_learned(const writer *w, const sw_scenario_key *key)
{
    char said[1024];
    const sw_status status = sw_check_learned(w->context, key->name, sw_key_value(key, w->scenario));
    if (status == SW_OK)
        return SW_OK;
    snprintf(said, sizeof said, "%s", sw_context_message(w->context));
    return sw_fail(w->context, status, "the scenario cannot be written: %s", said);
}

static sw_status check_key(const writer *w, const sw_scenario_key *key)
{
    char text[SW_ENTRY_TEXT_SIZE];
    if (key->type == SW_KEY_TIMES)
        return check_times(w, key);
    if (key->type == SW_KEY_SCHEDULE)
        return check_steps(w, key);
    if (key->type == SW_KEY_LEARNED)
        return check_learned(w, key);
    sw_status status = check_text_ends(w, key);
    if (status == SW_OK)
        status = sw_entry_write(w->context, w->units, key, w->system, w->scenario, text);
    return status == SW_OK ? read_back(w, key, text) : status;
}

/* Reading a file asks whether its air can be so. */
static sw_status check_air(const writer *w)
{
    char said[1024];
    sw_status status = sw_scenario_check_pit_air(w->context, w->scenario);
    if (status == SW_OK)
        return SW_OK;
    snprintf(said, sizeof said, "%s", sw_context_message(w->context));
    return sw_fail(w->context, status, "the scenario cannot be written: %s", said);
}

static void write_indent(const writer *w, int depth)
{
    fprintf(w->stream, "%*s", depth * INDENT, "");
}

/* Writes a comment, broken into lines between words but not within [brackets]. */
static void write_comment(const writer *w, int depth, const char *text)
{
    int column = 0;
    while (*text) {
        int length = (int)strcspn(text, *text == '[' ? "]" : " ") + (*text == '[');
        if (column == 0 || column + 1 + length > COLUMNS) {
            if (column > 0)
                fputc('\n', w->stream);
            write_indent(w, depth);
            fputc('#', w->stream);
            column = depth * INDENT + 1;
        }
        fprintf(w->stream, " %.*s", length, text);
        column += 1 + length;
        text += length;
        text += strspn(text, " ");
    }
    fputc('\n', w->stream);
}

static void write_quoted(const writer *w, const char *text)
{
    fputc('"', w->stream);
    for (; *text; text++) {
        if (*text == '"' || *text == '\\')
            fputc('\\', w->stream);
        fputc(*text, w->stream);
    }
    fputc('"', w->stream);
}

/* Writes the headings of the groups that this key is the first of; returns the depth of the key. */
static int write_groups(const writer *w, const char *name, const char *name_before)
{
    int depth = 0;
    for (const char *dot = strchr(name, '.'); dot; dot = strchr(dot + 1, '.'), depth++) {
        size_t length = (size_t)(dot - name);
        if (strncmp(name, name_before, length + 1) == 0)
            continue;
        char group[SW_KEY_NAME_SIZE];
        snprintf(group, sizeof group, "%.*s", (int)length, name);
        const char *last = strrchr(group, '.');
        if (depth == 0)
            fputc('\n', w->stream);
        write_comment(w, depth, sw_scenario_group_meaning(sw_scenario_group_number(group)));
        write_indent(w, depth);
        fprintf(w->stream, "%s:\n", last ? last + 1 : group);
    }
    if (depth == 0 && strchr(name_before, '.'))
        fputc('\n', w->stream);
    return depth;
}

static sw_status write_steps(const writer *w, const sw_scenario_key *key, int depth)
{
    const sw_pit *pit = sw_key_value(key, w->scenario);
    fputc('\n', w->stream);
    for (size_t i = 0; i < pit->step_count; i++) {
        char from[SW_VALUE_TEXT_SIZE], temperature[SW_VALUE_TEXT_SIZE];
        sw_status status = sw_entry_write_step(w->context, w->units, key, w->system, &pit->steps[i], from, temperature);
        if (status != SW_OK)
            return status;
        write_indent(w, depth + 1);
        fprintf(w->stream, "- {from: %s, temperature: %s%s}\n", from, temperature,
                pit->steps[i].ramp ? ", ramp: yes" : "");
    }
    return SW_OK;
}

/* One entry of an outline or of the probes; an outline's first corner comes again at its end. */
static sw_status write_place(const writer *w, const sw_scenario_key *key, size_t number, int depth)
{
    const sw_meat *meat = sw_key_value(key, w->scenario);
    char along[SW_VALUE_TEXT_SIZE], up[SW_VALUE_TEXT_SIZE];
    bool corner = key->type == SW_KEY_OUTLINE;
    size_t i = corner ? number % meat->outline_count : number;
    sw_status status = sw_entry_write_length(w->context, w->units, key, w->system,
                                             corner ? meat->outline[i][0] : meat->probes[i].across, along);
    if (status == SW_OK)
        status = sw_entry_write_length(w->context, w->units, key, w->system,
                                       corner ? meat->outline[i][1] : meat->probes[i].height, up);
    if (status != SW_OK)
        return status;
    write_indent(w, depth + 1);
    if (corner) {
        fprintf(w->stream, "- {x: %s, y: %s}\n", along, up);
        return SW_OK;
    }
    fputs("- {name: ", w->stream);
    write_quoted(w, meat->probes[i].name);
    fprintf(w->stream, ", along: %s, up: %s}\n", along, up);
    return SW_OK;
}

static sw_status write_times(const writer *w, int depth)
{
    const sw_pit *pit = &w->scenario->pit;
    fputc('\n', w->stream);
    for (size_t i = 0; i < pit->opening_count; i++) {
        char text[SW_VALUE_TEXT_SIZE];
        sw_status status = sw_value_write(w->context, w->units, SW_QUANTITY_DURATION, "h", pit->openings[i], text);
        if (status != SW_OK)
            return status;
        write_indent(w, depth + 1);
        fprintf(w->stream, "- %s\n", text);
    }
    return SW_OK;
}

static sw_status write_learned(const writer *w, int depth)
{
    const sw_pit_learned *learned = &w->scenario->pit.learned;
    fputc('\n', w->stream);
    write_indent(w, depth + 1);
    fprintf(w->stream, "cooks: %d\n", learned->cooks);
    for (size_t i = 0; i < SW_LEARNED_NUMBERS; i++) {
        char text[SW_VALUE_TEXT_SIZE];
        const sw_status status = sw_learned_write_number(w->context, w->units, w->system, learned, i, text);
        if (status != SW_OK)
            return status;
        write_indent(w, depth + 1);
        fprintf(w->stream, "%s: %s\n", sw_learned_numbers[i].name, text);
    }
    return SW_OK;
}

static sw_status write_list(const writer *w, const sw_scenario_key *key, int depth)
{
    if (key->type == SW_KEY_SCHEDULE)
        return write_steps(w, key, depth);
    if (key->type == SW_KEY_TIMES)
        return write_times(w, depth);
    if (key->type == SW_KEY_LEARNED)
        return write_learned(w, depth);
    const sw_meat *meat = sw_key_value(key, w->scenario);
    size_t count = key->type == SW_KEY_OUTLINE ? meat->outline_count + 1 : meat->probe_count;
    sw_status status = SW_OK;
    fputc('\n', w->stream);
    for (size_t i = 0; i < count && status == SW_OK; i++)
        status = write_place(w, key, i, depth);
    return status;
}

/* Tells beside a value that is left open what it comes to. */
static sw_status comes_to(const writer *w, const sw_scenario_key *key, char beside[SW_ENTRY_TEXT_SIZE])
{
    sw_scenario settled = *w->scenario;
    sw_scenario_settle(&settled);
    const char *unit = w->system == SW_UNITS_US ? key->us_unit : key->si_unit;
    switch (key->type) {
    case SW_KEY_VALUE:
        return sw_value_write_rounded(w->context, w->units, key->quantity, unit, *(const double *)sw_key_value(key, &settled), beside);
    case SW_KEY_ENDING:
        return sw_value_write_rounded(w->context, w->units, SW_QUANTITY_TEMPERATURE, w->system == SW_UNITS_US ? "F" : "C",
                                      ((const sw_ending *)sw_key_value(key, &settled))->value, beside);
    default:
        return sw_entry_write(w->context, w->units, key, w->system, &settled, beside);
    }
}

/* A value that is round in SI only is written so, to stay what it is to the bit, and told in US units beside it. */
static sw_status round_value(const writer *w, const sw_scenario_key *key, char text[SW_ENTRY_TEXT_SIZE],
                             char beside[SW_ENTRY_TEXT_SIZE])
{
    enum { MOST_DIGITS_TO_READ = 7 };
    char si[SW_ENTRY_TEXT_SIZE];
    beside[0] = '\0';
    if (sw_scenario_key_is_usual(key, w->scenario))
        return comes_to(w, key, beside);
    if (w->system != SW_UNITS_US || key->type != SW_KEY_VALUE || sw_value_digits(text) <= MOST_DIGITS_TO_READ)
        return SW_OK;
    sw_status status = sw_entry_write(w->context, w->units, key, SW_UNITS_SI, w->scenario, si);
    if (status != SW_OK || sw_value_digits(si) > MOST_DIGITS_TO_READ)
        return status;
    strcpy(text, si);
    return sw_value_write_rounded(w->context, w->units, key->quantity, key->us_unit,
                                  *(const double *)sw_key_value(key, w->scenario), beside);
}

/* What is said of a key: its meaning, when it counts and whether it does, and what it may hold. */
static void comment_of(const writer *w, const sw_scenario_key *key, const char *allowed, char *comment, size_t size)
{
    char condition[SW_KEY_CONDITION_SIZE];
    const char *counts = sw_scenario_key_counts(key, w->scenario) ? "; counts if " : "; does nothing here: counts if ";
    sw_scenario_key_condition(key, condition);
    snprintf(comment, size, "%s%s%s [%s]", key->meaning, *condition ? counts : "", condition, allowed);
}

static sw_status write_key(const writer *w, const sw_scenario_key *key, const char *name_before)
{
    char allowed[SW_KEY_ALLOWED_SIZE], text[SW_ENTRY_TEXT_SIZE], comment[4 * SW_KEY_ALLOWED_SIZE], beside[SW_ENTRY_TEXT_SIZE];
    sw_status status = sw_scenario_key_allowed(w->context, w->units, key, w->system, allowed);
    if (status == SW_OK)
        status = sw_entry_write(w->context, w->units, key, w->system, w->scenario, text);
    if (status == SW_OK)
        status = round_value(w, key, text, beside);
    if (status != SW_OK)
        return status;
    int depth = write_groups(w, key->name, name_before);
    const char *last = strrchr(key->name, '.');
    comment_of(w, key, allowed, comment, sizeof comment);
    write_comment(w, depth, comment);
    write_indent(w, depth);
    fprintf(w->stream, "%s:", last ? last + 1 : key->name);
    if (sw_scenario_key_is_list(key, w->scenario))
        return write_list(w, key, depth);
    fputc(' ', w->stream);
    if (key->type == SW_KEY_TEXT)
        write_quoted(w, text);
    else
        fputs(text, w->stream);
    if (beside[0])
        fprintf(w->stream, "  # %s", beside);
    fputc('\n', w->stream);
    return SW_OK;
}

static sw_status write_all(const writer *w)
{
    sw_status status = SW_OK;
    for (size_t i = 0; i < sw_scenario_key_count() && status == SW_OK; i++)
        status = check_key(w, sw_scenario_key_at(i));
    if (status == SW_OK)
        status = check_air(w);
    if (status != SW_OK)
        return status;
    errno = 0;
    write_comment(
        w, 0,
        "A scenario for stallwright: every key with its meaning and, in brackets, what it may hold. A key that is left "
        "out "
        "keeps its default. Values carry a unit, in either system: 250 F, 121 C, 14 lb 6 oz, 8 cm, 2 h 30 min.");
    fputc('\n', w->stream);
    const char *name_before = "title";
    for (size_t i = 0; i < sw_scenario_key_count() && status == SW_OK; i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        status = write_key(w, key, name_before);
        name_before = key->name;
    }
    if (status == SW_OK && (fflush(w->stream) != 0 || ferror(w->stream)))
        return sw_fail(w->context, SW_ERR_FILE, "the scenario could not be written: %s",
                       errno ? strerror(errno) : "the output failed");
    return status;
}

sw_status sw_scenario_write(sw_context *context, sw_scenario_reader *reader, const sw_scenario *scenario,
                            sw_unit_system units, FILE *stream)
{
    writer w = {context, reader->units, units, scenario, stream};
    locale_t before = uselocale(reader->plain_locale);
    sw_status status = write_all(&w);
    uselocale(before);
    return status;
}
