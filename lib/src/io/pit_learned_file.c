/* SPDX-License-Identifier: BSD-3-Clause */
#include "pit_learned_file.h"

#include "pit_learned.h"
#include "text_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static sw_status refuse(const sw_entry_source *source, const sw_yaml_node *node, const char *name, const char *why)
{
    char where[SW_WHERE_SIZE];
    return sw_fail(source->context, SW_ERR_INPUT, "%s: %s", sw_entry_where(source, node, name, where), why);
}

/* The number that an entry is called; SW_LEARNED_NUMBERS for the count of cooks, more for none. */
static size_t number_of(const char *name)
{
    size_t i = 0;
    while (i < SW_LEARNED_NUMBERS && strcmp(name, sw_learned_numbers[i].name) != 0)
        i++;
    return i < SW_LEARNED_NUMBERS || strcmp(name, "cooks") == 0 ? i : SW_LEARNED_NUMBERS + 1;
}

static sw_status read_one(const sw_entry_source *source, const sw_yaml_node *entry, size_t number, sw_pit_learned *learned)
{
    char where[SW_WHERE_SIZE];
    const char *name = entry->key->text;
    if (entry->kind != SW_YAML_SCALAR || entry->text[0] == '\0')
        return refuse(source, entry, name, "a single value is expected here");
    sw_entry_where(source, entry, name, where);
    if (number == SW_LEARNED_NUMBERS)
        return sw_value_read_whole(source->context, where, entry->text, 1, SW_LEARNED_COOKS_MAX, &learned->cooks);
    const sw_learned_number *n = &sw_learned_numbers[number];
    return sw_value_read(source->context, source->units, where, n->quantity, entry->text, n->range, (double *)((char *)learned + n->offset));
}

sw_status sw_learned_read_group(const sw_entry_source *source, const char *name, const sw_yaml_node *group, sw_pit_learned *learned)
{
    sw_pit_learned read = {0};
    bool has[SW_LEARNED_NUMBERS + 1] = {false};
    if (group->kind != SW_YAML_MAPPING)
        return refuse(source, group, name, "what is learned of a pit is a group of values, as track --learn writes it: cooks: 3, offset: -4 K, ...");
    for (const sw_yaml_node *entry = group->first; entry; entry = entry->next) {
        const size_t number = number_of(entry->key->text);
        if (number > SW_LEARNED_NUMBERS)
            return refuse(source, entry->key, entry->key->text, "nothing that is learned of a pit is called so");
        if (has[number])
            return refuse(source, entry->key, entry->key->text, "it is given twice");
        const sw_status status = read_one(source, entry, number, &read);
        if (status != SW_OK)
            return status;
        has[number] = true;
    }
    for (size_t i = 0; i <= SW_LEARNED_NUMBERS; i++)
        if (!has[i]) {
            char why[120];
            snprintf(why, sizeof why, "there is no \"%s\"", i < SW_LEARNED_NUMBERS ? sw_learned_numbers[i].name : "cooks");
            return refuse(source, group, name, why);
        }
    const sw_status status = sw_check_learned(source->context, name, &read);
    if (status == SW_ERR_RANGE) {
        char said[400];
        snprintf(said, sizeof said, "%s", sw_context_message(source->context));
        return refuse(source, group, name, said);
    }
    if (status == SW_OK)
        *learned = read;
    return status;
}

sw_status sw_learned_read_file(const sw_entry_source *source, const char *path, sw_pit_learned *learned)
{
    char full[SW_PATH_SIZE], *text;
    size_t length;
    sw_yaml_document *document;
    sw_status status = sw_path_beside(source->context, source->file, path, full);
    if (status == SW_OK)
        status = sw_text_file_read(source->context, full, &text, &length);
    if (status != SW_OK)
        return status;
    status = sw_text_check(source->context, full, text, length);
    if (status == SW_OK)
        status = sw_yaml_document_create(source->context, full, text, length, &document);
    if (status == SW_OK) {
        const sw_entry_source inside = {source->context, source->units, full, NULL};
        status = sw_learned_read_group(&inside, "pit.learned", sw_yaml_document_root(document), learned);
        sw_yaml_document_destroy(document);
    }
    free(text);
    return status;
}

sw_status sw_learned_write_number(sw_context *context, const sw_units *units, sw_unit_system system, const sw_pit_learned *learned, size_t number,
                                  char text[SW_VALUE_TEXT_SIZE])
{
    const sw_learned_number *n = &sw_learned_numbers[number];
    return sw_value_write(context, units, n->quantity, system == SW_UNITS_US ? n->us_unit : n->si_unit, *(const double *)((const char *)learned + n->offset),
                          text);
}

sw_status sw_pit_learned_read(sw_context *context, sw_scenario_reader *reader, const char *path, sw_pit_learned *learned)
{
    const sw_entry_source source = {context, reader->units, NULL, ""};
    locale_t before = uselocale(reader->plain_locale);
    const sw_status status = sw_learned_read_file(&source, path, learned);
    uselocale(before);
    return status;
}

static sw_status write_lines(sw_context *context, sw_scenario_reader *reader, sw_unit_system system, const sw_pit_learned *learned, FILE *stream)
{
    fprintf(stream, "# What cooks in one pit showed of it; stallwright track --learn adds to it, and a scenario uses it: "
                    "pit: {learned: THIS FILE}.\n"
                    "# The numbers are of the pit itself; a cook in it differs by more.\ncooks: %d\n", learned->cooks);
    for (size_t i = 0; i < SW_LEARNED_NUMBERS; i++) {
        char text[SW_VALUE_TEXT_SIZE];
        const sw_learned_number *n = &sw_learned_numbers[i];
        const double value = *(const double *)((const char *)learned + n->offset);
        const sw_status status =
            sw_value_write_rounded(context, reader->units, n->quantity, system == SW_UNITS_US ? n->us_unit : n->si_unit, value, text);
        if (status != SW_OK)
            return status;
        fprintf(stream, "%s: %s%s%s\n", sw_learned_numbers[i].name, text, sw_learned_numbers[i].meaning[0] ? "  # " : "", sw_learned_numbers[i].meaning);
    }
    return fflush(stream) == 0 && !ferror(stream) ? SW_OK : sw_fail(context, SW_ERR_FILE, "what was learned of the pit could not be written");
}

sw_status sw_pit_learned_write(sw_context *context, sw_scenario_reader *reader, const sw_pit_learned *learned, sw_unit_system system, FILE *stream)
{
    sw_status status = sw_check_learned(context, "pit.learned", learned);
    if (status != SW_OK)
        return status;
    locale_t before = uselocale(reader->plain_locale);
    status = write_lines(context, reader, system, learned, stream);
    uselocale(before);
    return status;
}
