/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/scenario_file.h>

#include "pit_air_check.h"
#include "scenario_entry.h"
#include "text_file.h"
#include "typed_text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

sw_status sw_scenario_reader_create(sw_context *context, sw_scenario_reader **reader)
{
    sw_scenario_reader *created = calloc(1, sizeof *created);
    if (!created)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a scenario reader could not be allocated");
    created->plain_locale = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (created->plain_locale == (locale_t)0) {
        free(created);
        return sw_fail(context, SW_ERR_MEMORY, "memory for a scenario reader could not be allocated");
    }
    locale_t before = uselocale(created->plain_locale);
    sw_status status = sw_units_create(context, &created->units);
    uselocale(before);
    if (status != SW_OK) {
        sw_scenario_reader_destroy(created);
        return status;
    }
    *reader = created;
    return SW_OK;
}

void sw_scenario_reader_destroy(sw_scenario_reader *reader)
{
    if (!reader)
        return;
    sw_units_destroy(reader->units);
    freelocale(reader->plain_locale);
    free(reader);
}

/* A walk through the groups of a file. */
typedef struct walk {
    sw_entry_source source;
    sw_scenario *scenario;
    sw_key_places *places;
    int line_of_group[SW_SCENARIO_NAMES_MAX];
} walk;

static sw_status refuse_unknown(const sw_entry_source *source, const sw_yaml_node *key_node, const char *name)
{
    const char *near = sw_scenario_key_near(name);
    char typed[SW_QUOTE_SIZE], hint[SW_KEY_NAME_SIZE + 64];
    snprintf(hint, sizeof hint, "%s%s%s", near ? ", did you mean \"" : "", near ? near : "",
             near ? "\"?" : "; docs/reference/scenario.md lists all");
    if (!source->file)
        return sw_fail(source->context, SW_ERR_INPUT, "%s%s: unknown name%s", source->prefix, sw_escape(name, typed),
                       hint);
    return sw_fail(source->context, SW_ERR_INPUT, "%.200s:%d:%d: unknown key %s%s", source->file, key_node->line,
                   key_node->column, sw_quote(name, typed), hint);
}

/* Notes that a key or group stands in a line; refuses it if it stood in another before. */
static sw_status note_line(const walk *w, const sw_yaml_node *key_node, const char *name, int *line)
{
    if (*line == 0) {
        *line = key_node->line;
        return SW_OK;
    }
    char where[SW_WHERE_SIZE];
    return sw_fail(w->source.context, SW_ERR_INPUT, "%s: this is given twice; the first time is in line %d",
                   sw_entry_where(&w->source, key_node, name, where), *line);
}

static sw_status refuse_group_value(const sw_entry_source *source, const sw_yaml_node *node, const char *name)
{
    char where[SW_WHERE_SIZE], names[256];
    return sw_fail(source->context, SW_ERR_INPUT, "%s: this is a group, not a value; it contains %s",
                   sw_entry_where(source, node, name, where), sw_scenario_group_names(name, names, sizeof names));
}

static sw_status read_group(walk *w, const char *group, const sw_yaml_node *mapping);

/* The mass is said in one of two ways; 0 says nothing. */
static sw_status check_one_mass(const walk *w, const sw_yaml_node *entry, const sw_scenario_key *key)
{
    const sw_meat *meat = &w->scenario->meat;
    const bool bought = strcmp(key->name, "meat.bought_mass") == 0;
    if (!bought && strcmp(key->name, "meat.mass") != 0)
        return SW_OK;
    const sw_scenario_key *other = sw_scenario_key_find(bought ? "meat.mass" : "meat.bought_mass");
    const size_t number = sw_scenario_key_number(other);
    sw_scenario typed = {0};
    sw_status status = sw_entry_read(&w->source, key, entry, &typed);
    const double mass = bought ? typed.meat.bought_mass : typed.meat.mass, before = bought ? meat->mass : meat->bought_mass;
    if (status != SW_OK || w->places->line[number] == 0 || !(mass > 0.0 && before > 0.0))
        return status;
    char where[SW_WHERE_SIZE];
    return sw_fail(w->source.context, SW_ERR_INPUT,
                   "%s: the mass is already given by %s, %.200s:%d:%d; write one of the two, the trimmed cut or the cut as bought",
                   sw_entry_where(&w->source, entry, key->name, where), other->name, w->source.file, w->places->line[number],
                   w->places->column[number]);
}

static sw_status read_entry(walk *w, const char *group, const sw_yaml_node *entry)
{
    char name[SW_KEY_NAME_SIZE];
    int length = snprintf(name, sizeof name, "%s%s%s", group, *group ? "." : "", entry->key->text);
    const sw_scenario_key *key = length < (int)sizeof name ? sw_scenario_key_find(name) : NULL;
    if (key) {
        sw_status status = note_line(w, entry->key, name, &w->places->line[sw_scenario_key_number(key)]);
        w->places->column[sw_scenario_key_number(key)] = entry->column;
        if (status == SW_OK)
            status = check_one_mass(w, entry, key);
        return status == SW_OK ? sw_entry_read(&w->source, key, entry, w->scenario) : status;
    }
    int number = length < (int)sizeof name ? sw_scenario_group_number(name) : -1;
    if (number < 0)
        return refuse_unknown(&w->source, entry->key, name);
    if (entry->kind != SW_YAML_MAPPING)
        return refuse_group_value(&w->source, entry, name);
    sw_status status = note_line(w, entry->key, name, &w->line_of_group[number]);
    return status == SW_OK ? read_group(w, name, entry) : status;
}

static sw_status read_group(walk *w, const char *group, const sw_yaml_node *mapping)
{
    sw_status status = SW_OK;
    for (const sw_yaml_node *entry = mapping->first; entry && status == SW_OK; entry = entry->next)
        status = read_entry(w, group, entry);
    return status;
}

/* A log by the clock counts from the start, wherever that stands in the file. */
static sw_status read_start_first(const walk *w, const sw_yaml_node *root)
{
    for (const sw_yaml_node *entry = root->first; entry; entry = entry->next)
        if (strcmp(entry->key->text, "start") == 0)
            return sw_entry_read(&w->source, sw_scenario_key_find("start"), entry, w->scenario);
    return SW_OK;
}

/* Asks whether the pit's air can be so. What stands elsewhere than in this file is left to the check of the whole scenario. */
static sw_status check_pit_air(const walk *w)
{
    sw_status status = sw_scenario_check_pit_air(w->source.context, w->scenario);
    if (status == SW_OK)
        return SW_OK;
    sw_key_places_tell(w->source.context, w->places, status);
    return strncmp(sw_context_message(w->source.context), w->places->file, strlen(w->places->file)) == 0 ? SW_ERR_INPUT : SW_OK;
}

static sw_status read_document(sw_context *context, sw_scenario_reader *reader, const char *name,
                               const sw_yaml_document *document, sw_scenario *scenario)
{
    const sw_yaml_node *root = sw_yaml_document_root(document);
    if (root->kind != SW_YAML_MAPPING)
        return sw_fail(context, SW_ERR_INPUT, "%.200s:%d:%d: a scenario begins with keys such as \"title: ...\"", name,
                       root->line, root->column);
    sw_scenario read = *scenario;
    walk w = {.source = {.context = context, .units = reader->units, .file = name}, .scenario = &read, .places = &reader->places};
    memset(w.places, 0, sizeof *w.places);
    snprintf(w.places->file, sizeof w.places->file, "%.200s", name);
    sw_status status = read_start_first(&w, root);
    if (status == SW_OK)
        status = read_group(&w, "", root);
    if (status == SW_OK)
        status = check_pit_air(&w);
    if (status == SW_OK)
        *scenario = read;
    return status;
}

sw_status sw_scenario_read_text(sw_context *context, sw_scenario_reader *reader, const char *name, const char *text,
                                size_t length, sw_scenario *scenario)
{
    if (length > SW_TEXT_FILE_MAX)
        return sw_fail(context, SW_ERR_INPUT, "%.200s:1:1: the scenario is larger than 1 MiB", name);
    sw_status status = sw_text_check(context, name, text, length);
    if (status != SW_OK)
        return status;
    locale_t before = uselocale(reader->plain_locale);
    sw_yaml_document *document;
    status = sw_yaml_document_create(context, name, text, length, &document);
    if (status == SW_OK) {
        status = read_document(context, reader, name, document, scenario);
        sw_yaml_document_destroy(document);
    }
    uselocale(before);
    return status;
}

sw_status sw_scenario_read(sw_context *context, sw_scenario_reader *reader, const char *path, sw_scenario *scenario)
{
    char *text;
    size_t length;
    sw_status status = sw_text_file_read(context, path, &text, &length);
    if (status != SW_OK)
        return status;
    const char *name = strcmp(path, "-") == 0 ? "standard input" : path;
    status = sw_scenario_read_text(context, reader, name, text, length, scenario);
    free(text);
    return status;
}

/* Copies the name before '=' without the blanks around it. */
static void copy_name(const char *assignment, size_t length, char name[SW_KEY_NAME_SIZE])
{
    size_t begin = strspn(assignment, " \t");
    begin = begin < length ? begin : length;
    while (length > begin && strchr(" \t", assignment[length - 1]))
        length--;
    snprintf(name, SW_KEY_NAME_SIZE, "%.*s",
             (int)(length - begin < SW_KEY_NAME_SIZE ? length - begin : SW_KEY_NAME_SIZE), assignment + begin);
}

/* A list is written as in a file: [2 h, 4 h 30 min]; so is what was learned of a pit, {cooks: 3, ...}. */
static sw_status set_list(const sw_entry_source *source, const sw_scenario_key *key, const char *text, sw_scenario *scenario)
{
    char where[SW_WHERE_SIZE];
    sw_yaml_document *document;
    sw_entry_where(source, NULL, key->name, where);
    sw_status status = sw_yaml_document_create(source->context, where, text, strlen(text), &document);
    if (status != SW_OK)
        return status;
    status = sw_entry_read(source, key, sw_yaml_document_root(document), scenario);
    sw_yaml_document_destroy(document);
    return status;
}

static sw_status set_value(const sw_entry_source *source, const char *assignment, sw_scenario *scenario)
{
    const char *mark = strchr(assignment, '=');
    char name[SW_KEY_NAME_SIZE], typed[SW_QUOTE_SIZE];
    if (!mark)
        return sw_fail(source->context, SW_ERR_INPUT,
                       "%s%s: write a name, an equals sign and a value, such as "
                       "pit.temperature=275F",
                       source->prefix, sw_quote(assignment, typed));
    copy_name(assignment, (size_t)(mark - assignment), name);
    const sw_scenario_key *key = sw_scenario_key_find(name);
    if (!key)
        return sw_scenario_group_number(name) >= 0 ? refuse_group_value(source, NULL, name)
                                                   : refuse_unknown(source, NULL, name);
    char *text = strdup(mark + 1 + strspn(mark + 1, " \t"));
    if (!text)
        return sw_fail(source->context, SW_ERR_MEMORY, "memory to set %s could not be allocated", name);
    for (size_t length = strlen(text); length > 0 && strchr(" \t", text[length - 1]); length--)
        text[length - 1] = '\0';
    sw_yaml_node node = {.kind = SW_YAML_SCALAR, .text = text};
    const bool is_list = sw_scenario_key_may_be_list(key) && text[0] == (key->type == SW_KEY_LEARNED ? '{' : '[');
    sw_status status = is_list ? set_list(source, key, text, scenario)
                               : sw_entry_read(source, key, &node, scenario);
    free(text);
    return status;
}

sw_status sw_scenario_set(sw_context *context, sw_scenario_reader *reader, const char *assignment,
                          sw_scenario *scenario)
{
    sw_status status = sw_scenario_set_for(context, reader, "--set ", assignment, scenario);
    char name[SW_KEY_NAME_SIZE];
    copy_name(assignment, strcspn(assignment, "="), name);
    const sw_scenario_key *key = sw_scenario_key_find(name);
    if (status == SW_OK && key)
        reader->places.is_set[sw_scenario_key_number(key)] = true;
    return status;
}

sw_status sw_scenario_check_read(sw_context *context, const sw_scenario_reader *reader, const sw_scenario *scenario)
{
    return sw_key_places_tell(context, &reader->places, sw_scenario_check(context, scenario));
}

const char *sw_scenario_key_place(const sw_scenario_reader *reader, const sw_scenario_key *key, char *place)
{
    return sw_key_place_of(&reader->places, key, place);
}

sw_status sw_scenario_set_for(sw_context *context, sw_scenario_reader *reader, const char *prefix,
                              const char *assignment, sw_scenario *scenario)
{
    sw_entry_source source = {.context = context, .units = reader->units, .prefix = prefix};
    locale_t before = uselocale(reader->plain_locale);
    sw_status status = set_value(&source, assignment, scenario);
    uselocale(before);
    return status;
}

sw_status sw_read_value(sw_context *context, sw_scenario_reader *reader, const char *name, const char *text,
                        sw_quantity quantity, double minimum, double maximum, double *value)
{
    locale_t before = uselocale(reader->plain_locale);
    sw_status status = sw_value_read(context, reader->units, name, quantity, text, (sw_range){minimum, maximum}, value);
    uselocale(before);
    return status;
}

sw_status sw_read_ending(sw_context *context, sw_scenario_reader *reader, const char *name, const char *text,
                         sw_ending *ending)
{
    sw_ending_limits limits = sw_ending_limits_default();
    limits.may_be_bark = true;
    locale_t before = uselocale(reader->plain_locale);
    sw_status status = sw_value_read_ending(context, reader->units, name, text, &limits, ending);
    uselocale(before);
    return status;
}
