/* SPDX-License-Identifier: BSD-3-Clause */
#include "scenario_entry.h"

#include "near_miss.h"
#include "outline_csv.h"
#include "pit_learned_file.h"
#include "pit_log_csv.h"
#include "typed_text.h"

#include <stdio.h>
#include <string.h>

enum { SW_ENTRY_PARTS_MAX = 3 };

static sw_status refuse(const sw_entry_source *source, const sw_yaml_node *node, const char *name, const char *why)
{
    char where[SW_WHERE_SIZE];
    return sw_fail(source->context, SW_ERR_INPUT, "%s: %s", sw_entry_where(source, node, name, where), why);
}

static sw_status read_text(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                           char field[SW_TEXT_MAX])
{
    size_t length = strlen(node->text);
    if (length >= SW_TEXT_MAX) {
        char why[96];
        snprintf(why, sizeof why, "the text has %zu bytes, at most %d are allowed", length, SW_TEXT_MAX - 1);
        return refuse(source, node, key->name, why);
    }
    for (size_t i = 0; i < length;) {
        uint32_t character;
        size_t size = sw_utf8_decode(node->text + i, length - i, &character);
        if (size == 0 || sw_is_control(character))
            return refuse(source, node, key->name,
                          size == 0 ? "the text is not UTF-8" : "the text holds a control character or a line end");
        i += size;
    }
    memset(field, 0, SW_TEXT_MAX);
    memcpy(field, node->text, length);
    return SW_OK;
}

/* Finds a word among names; says which there are if it is none of them. */
static sw_status read_choice(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                             int *choice)
{
    sw_near_miss miss = sw_near_miss_of(node->text, strlen(node->text));
    for (int i = 0; i < key->choice_count; i++) {
        if (strcmp(node->text, key->choice_name(i)) == 0) {
            *choice = i;
            return SW_OK;
        }
        sw_near_miss_offer(&miss, key->choice_name(i));
    }
    char why[2 * SW_QUOTE_SIZE + SW_KEY_ALLOWED_SIZE], typed[SW_QUOTE_SIZE], allowed[SW_KEY_ALLOWED_SIZE];
    sw_status status = sw_scenario_key_allowed(source->context, source->units, key, SW_UNITS_SI, allowed);
    if (status != SW_OK)
        return status;
    snprintf(why, sizeof why, "%s is not %s%s%s%s", sw_quote(node->text, typed), allowed,
             miss.best ? ", did you mean \"" : "", miss.best ? miss.best : "", miss.best ? "\"?" : "");
    return refuse(source, node, key->name, why);
}

static sw_status read_switch(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                             bool *field)
{
    if (strcmp(node->text, "yes") == 0 || strcmp(node->text, "true") == 0) {
        *field = true;
        return SW_OK;
    }
    if (strcmp(node->text, "no") == 0 || strcmp(node->text, "false") == 0) {
        *field = false;
        return SW_OK;
    }
    char why[SW_QUOTE_SIZE + 32], typed[SW_QUOTE_SIZE];
    snprintf(why, sizeof why, "%s is neither yes nor no", sw_quote(node->text, typed));
    return refuse(source, node, key->name, why);
}

static sw_status read_scalar(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                             sw_scenario *scenario)
{
    char where[SW_WHERE_SIZE];
    void *field = sw_key_field(key, scenario);
    sw_entry_where(source, node, key->name, where);
    switch (key->type) {
    case SW_KEY_TEXT:
        return read_text(source, key, node, field);
    case SW_KEY_CHOICE:
        return read_choice(source, key, node, field);
    case SW_KEY_SWITCH:
        return read_switch(source, key, node, field);
    case SW_KEY_WHOLE:
        return sw_value_read_whole(source->context, where, node->text, (int)key->range.minimum, (int)key->range.maximum,
                                   field);
    case SW_KEY_VALUE:
        if (key->may_be_usual && strcmp(node->text, SW_USUAL_WORD) == 0) {
            *(double *)field = SW_USUAL;
            return SW_OK;
        }
        return sw_value_read(source->context, source->units, where, key->quantity, node->text, key->range, field);
    case SW_KEY_ENDING:
        return sw_value_read_ending(source->context, source->units, where, node->text, &key->ending, field);
    default:
        break;
    }
    double temperature;
    sw_status status =
        sw_value_read(source->context, source->units, where, key->quantity, node->text, key->range, &temperature);
    if (status == SW_OK)
        sw_pit_hold(field, temperature);
    return status;
}

/* A scalar with something in it. */
static sw_status expect_scalar(const sw_entry_source *source, const sw_yaml_node *node, const char *name)
{
    if (node->kind == SW_YAML_MAPPING)
        return refuse(source, node, name, "a single value is expected here, not a group of keys");
    if (node->kind == SW_YAML_LIST)
        return refuse(source, node, name, "a single value is expected here, not a list");
    if (!node->quoted && node->text[strspn(node->text, " \t")] == '\0')
        return refuse(source, node, name, "the value is missing");
    return SW_OK;
}

/* How one entry of a list is written, and its parts. */
typedef struct list_form {
    const char *entry;   /* what it is called in a sentence */
    const char *example; /* how it is written */
    size_t part_count;
    size_t needed_count; /* the parts after these may be left out */
    const char *parts[SW_ENTRY_PARTS_MAX];
} list_form;

static const list_form step_form = {"step", "{from: 6 h, temperature: 135 C}", 3, 2, {"from", "temperature", "ramp"}};
static const list_form corner_form = {"corner", "{x: 3 cm, y: 0 cm}", 2, 2, {"x", "y"}};
static const list_form probe_form = {"probe", "{name: flat, along: 17 cm, up: 3 cm}", 3, 3, {"name", "along", "up"}};

static sw_status find_parts(const sw_entry_source *source, const sw_scenario_key *key, const list_form *form,
                            const sw_yaml_node *node, const sw_yaml_node *found[SW_ENTRY_PARTS_MAX])
{
    char why[SW_QUOTE_SIZE + 160], typed[SW_QUOTE_SIZE];
    snprintf(why, sizeof why, "a %s is written as %s", form->entry, form->example);
    if (node->kind != SW_YAML_MAPPING)
        return refuse(source, node, key->name, why);
    for (size_t i = 0; i < form->part_count; i++)
        found[i] = NULL;
    for (const sw_yaml_node *entry = node->first; entry; entry = entry->next) {
        size_t part = 0;
        while (part < form->part_count && strcmp(entry->key->text, form->parts[part]) != 0)
            part++;
        if (part == form->part_count || found[part]) {
            snprintf(why, sizeof why, "%s %s in a %s; it is written as %s", sw_quote(entry->key->text, typed),
                     part == form->part_count ? "is unknown" : "is given twice", form->entry, form->example);
            return refuse(source, entry->key, key->name, why);
        }
        found[part] = entry;
    }
    for (size_t i = 0; i < form->part_count; i++) {
        if (!found[i] && i >= form->needed_count)
            continue;
        if (!found[i]) {
            snprintf(why, sizeof why, "the %s has no \"%s\"; it is written as %s", form->entry, form->parts[i],
                     form->example);
            return refuse(source, node, key->name, why);
        }
        sw_status status = expect_scalar(source, found[i], key->name);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}

static sw_status read_step(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                           sw_pit_step *step)
{
    const sw_yaml_node *found[SW_ENTRY_PARTS_MAX];
    sw_status parts = find_parts(source, key, &step_form, node, found);
    if (parts != SW_OK)
        return parts;
    char where[SW_WHERE_SIZE];
    sw_entry_where(source, found[0], key->name, where);
    sw_status status = sw_value_read(source->context, source->units, where, SW_QUANTITY_DURATION, found[0]->text,
                                     (sw_range){0.0, SW_LONGEST_PHASE}, &step->start);
    if (status != SW_OK)
        return status;
    sw_entry_where(source, found[1], key->name, where);
    status = sw_value_read(source->context, source->units, where, key->quantity, found[1]->text, key->range,
                           &step->temperature);
    return status == SW_OK && found[2] ? read_switch(source, key, found[2], &step->ramp) : status;
}

static sw_status read_steps(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                            sw_pit *pit)
{
    sw_pit_step steps[SW_PIT_STEPS_MAX] = {{0}};
    size_t count = 0;
    for (const sw_yaml_node *entry = node->first; entry; entry = entry->next) {
        if (count == SW_PIT_STEPS_MAX) {
            char why[64];
            snprintf(why, sizeof why, "at most %d steps are allowed", SW_PIT_STEPS_MAX);
            return refuse(source, entry, key->name, why);
        }
        sw_status status = read_step(source, key, entry, &steps[count]);
        if (status != SW_OK)
            return status;
        if (count == 0 && steps[0].start != 0.0)
            return refuse(source, entry, key->name, "the first step begins when the meat goes on: from 0 h");
        if (count > 0 && steps[count].start <= steps[count - 1].start)
            return refuse(source, entry, key->name, "each step begins later than the one before it");
        count++;
    }
    if (count == 0)
        return refuse(source, node, key->name, "the list of steps is empty");
    if (steps[count - 1].ramp)
        return refuse(source, node, key->name, "the last step has no next one to ramp to");
    pit->step_count = count;
    pit->is_log = false;
    memcpy(pit->steps, steps, sizeof steps);
    return SW_OK;
}

/* Whether a text names a file of values rather than a value. */
static bool is_csv_name(const char *text)
{
    size_t length = strlen(text);
    return length > 4 && strcmp(text + length - 4, ".csv") == 0;
}

static sw_status read_pit_log(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                              sw_scenario *scenario)
{
    return sw_pit_log_csv_read(source->context, source->units, source->file, node->text, scenario->start_clock, key->range,
                               &scenario->pit);
}

/* Times of opening the lid: the node itself if it is a scalar, else its entries. */
static sw_status read_times(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                            sw_pit *pit)
{
    double times[SW_PIT_OPENINGS_MAX] = {0};
    size_t count = 0;
    for (const sw_yaml_node *entry = node->kind == SW_YAML_LIST ? node->first : node; entry;
         entry = node->kind == SW_YAML_LIST ? entry->next : NULL, count++) {
        char why[64], where[SW_WHERE_SIZE];
        if (count == SW_PIT_OPENINGS_MAX) {
            snprintf(why, sizeof why, "at most %d openings are allowed", SW_PIT_OPENINGS_MAX);
            return refuse(source, entry, key->name, why);
        }
        sw_status status = expect_scalar(source, entry, key->name);
        if (status == SW_OK)
            status = sw_value_read(source->context, source->units, sw_entry_where(source, entry, key->name, where),
                                   key->quantity, entry->text, key->range, &times[count]);
        if (status == SW_OK && count > 0 && times[count] <= times[count - 1])
            status = refuse(source, entry, key->name, "each opening is later than the one before it");
        if (status != SW_OK)
            return status;
    }
    pit->opening_count = count;
    memcpy(pit->openings, times, sizeof times);
    return SW_OK;
}

static sw_status read_length(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                             double *length)
{
    char where[SW_WHERE_SIZE];
    sw_entry_where(source, node, key->name, where);
    return sw_value_read(source->context, source->units, where, key->quantity, node->text, key->range, length);
}

/* Takes the corners of an outline, which must end where it began. */
static sw_status take_outline(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                              const double (*corners)[2], size_t count, sw_meat *meat)
{
    char why[200];
    if (count < 4 || corners[0][0] != corners[count - 1][0] || corners[0][1] != corners[count - 1][1]) {
        if (count < 4)
            snprintf(why, sizeof why, "an outline needs at least 3 corners and the first one again; %zu points are given",
                     count);
        else
            snprintf(why, sizeof why,
                     "the outline is open: it ends at %.4g cm, %.4g cm but began at %.4g cm, %.4g cm; repeat the first "
                     "corner at the end",
                     100.0 * corners[count - 1][0], 100.0 * corners[count - 1][1], 100.0 * corners[0][0],
                     100.0 * corners[0][1]);
        return refuse(source, node, key->name, why);
    }
    meat->outline_count = count - 1;
    memset(meat->outline, 0, sizeof meat->outline);
    memcpy(meat->outline, corners, (count - 1) * sizeof *corners);
    return SW_OK;
}

static sw_status refuse_many(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                             const list_form *form, int most)
{
    char why[96];
    snprintf(why, sizeof why, "at most %d %ss are allowed", most, form->entry);
    return refuse(source, node, key->name, why);
}

static sw_status read_corners(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                              sw_meat *meat)
{
    double corners[SW_OUTLINE_MAX + 1][2];
    size_t count = 0;
    for (const sw_yaml_node *entry = node->first; entry; entry = entry->next, count++) {
        if (count == SW_OUTLINE_MAX + 1)
            return refuse_many(source, key, entry, &corner_form, SW_OUTLINE_MAX);
        const sw_yaml_node *found[SW_ENTRY_PARTS_MAX];
        sw_status status = find_parts(source, key, &corner_form, entry, found);
        for (size_t i = 0; i < 2 && status == SW_OK; i++)
            status = read_length(source, key, found[i], &corners[count][i]);
        if (status != SW_OK)
            return status;
    }
    return take_outline(source, key, node, (const double(*)[2])corners, count, meat);
}

static sw_status read_outline_file(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                                   sw_meat *meat)
{
    double corners[SW_OUTLINE_MAX + 1][2];
    size_t count;
    sw_status status = sw_outline_csv_read(source->context, source->units, source->file, node->text, key->range,
                                           corners, SW_OUTLINE_MAX + 1, &count);
    return status == SW_OK ? take_outline(source, key, node, (const double(*)[2])corners, count, meat) : status;
}

static sw_status read_probes(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                             sw_meat *meat)
{
    sw_probe_place probes[SW_PROBES_MAX];
    memset(probes, 0, sizeof probes);
    size_t count = 0;
    for (const sw_yaml_node *entry = node->first; entry; entry = entry->next, count++) {
        if (count == SW_PROBES_MAX)
            return refuse_many(source, key, entry, &probe_form, SW_PROBES_MAX);
        const sw_yaml_node *found[SW_ENTRY_PARTS_MAX];
        sw_status status = find_parts(source, key, &probe_form, entry, found);
        char text[SW_TEXT_MAX];
        if (status == SW_OK)
            status = read_text(source, key, found[0], text);
        if (status == SW_OK && strlen(text) >= sizeof probes->name)
            status = refuse(source, found[0], key->name, "the name of a probe has at most 31 bytes");
        for (size_t i = 0; i < count && status == SW_OK; i++)
            if (strcmp(text, probes[i].name) == 0)
                status = refuse(source, found[0], key->name, "two probes have the same name");
        if (status == SW_OK)
            status = read_length(source, key, found[1], &probes[count].across);
        if (status == SW_OK)
            status = read_length(source, key, found[2], &probes[count].height);
        if (status != SW_OK)
            return status;
        memcpy(probes[count].name, text, strlen(text) + 1);
    }
    meat->probe_count = count;
    memcpy(meat->probes, probes, sizeof probes);
    return SW_OK;
}

static sw_status read_list(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                           sw_scenario *scenario)
{
    switch (key->type) {
    case SW_KEY_SCHEDULE:
        return read_steps(source, key, node, sw_key_field(key, scenario));
    case SW_KEY_TIMES:
        return read_times(source, key, node, sw_key_field(key, scenario));
    case SW_KEY_OUTLINE:
        return read_corners(source, key, node, sw_key_field(key, scenario));
    case SW_KEY_PROBES:
        return read_probes(source, key, node, sw_key_field(key, scenario));
    default:
        return expect_scalar(source, node, key->name);
    }
}

static sw_status read_entry(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                            sw_scenario *scenario)
{
    if (node->kind == SW_YAML_LIST)
        return read_list(source, key, node, scenario);
    if (key->type == SW_KEY_LEARNED && node->kind == SW_YAML_MAPPING)
        return sw_learned_read_group(source, key->name, node, &scenario->pit.learned);
    sw_status status = expect_scalar(source, node, key->name);
    if (status != SW_OK)
        return status;
    sw_meat *meat = &scenario->meat;
    if (key->type == SW_KEY_OUTLINE && strcmp(node->text, "none") == 0) {
        meat->outline_count = 0;
        return SW_OK;
    }
    if (key->type == SW_KEY_LEARNED && strcmp(node->text, "none") == 0) {
        scenario->pit.learned = (sw_pit_learned){0};
        return SW_OK;
    }
    if (key->type == SW_KEY_LEARNED)
        return sw_learned_read_file(source, node->text, &scenario->pit.learned);
    if (key->type == SW_KEY_OUTLINE)
        return read_outline_file(source, key, node, meat);
    if (key->type == SW_KEY_PROBES) {
        if (strcmp(node->text, "usual") != 0)
            return refuse(source, node, key->name, "write usual, or a list such as - {name: flat, along: 17 cm, up: 3 cm}");
        meat->probe_count = 0;
        return SW_OK;
    }
    if (key->type == SW_KEY_TIMES && strcmp(node->text, "none") == 0) {
        scenario->pit.opening_count = 0;
        return SW_OK;
    }
    if (key->type == SW_KEY_TIMES)
        return read_times(source, key, node, &scenario->pit);
    if (key->type == SW_KEY_SCHEDULE && is_csv_name(node->text))
        return read_pit_log(source, key, node, scenario);
    return read_scalar(source, key, node, scenario);
}

sw_status sw_entry_read(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                        sw_scenario *scenario)
{
    sw_status status = read_entry(source, key, node, scenario);
    if (status == SW_OK)
        sw_scenario_key_given(key, scenario);
    return status;
}

static const char *unit_of(const sw_scenario_key *key, sw_unit_system system)
{
    return system == SW_UNITS_US ? key->us_unit : key->si_unit;
}

static sw_status write_ending(sw_context *context, const sw_units *units, sw_unit_system system,
                              const sw_ending *ending, char text[SW_VALUE_TEXT_SIZE])
{
    switch (ending->kind) {
    case SW_ENDING_PROBE_TEMPERATURE:
        return sw_value_write(context, units, SW_QUANTITY_TEMPERATURE, system == SW_UNITS_US ? "F" : "C", ending->value,
                              text);
    case SW_ENDING_DURATION:
        return sw_value_write(context, units, SW_QUANTITY_DURATION, "h", ending->value, text);
    case SW_ENDING_CLOCK:
    case SW_ENDING_CLOCK_ON_DAY:
        return sw_value_write(context, units, SW_QUANTITY_CLOCK, "", ending->value, text);
    case SW_ENDING_BARK:
        snprintf(text, SW_VALUE_TEXT_SIZE, "bark");
        return SW_OK;
    case SW_ENDING_USUAL:
        snprintf(text, SW_VALUE_TEXT_SIZE, "usual");
        return SW_OK;
    case SW_ENDING_NONE:
        break;
    }
    snprintf(text, SW_VALUE_TEXT_SIZE, "none");
    return SW_OK;
}

sw_status sw_entry_write_length(sw_context *context, const sw_units *units, const sw_scenario_key *key,
                                sw_unit_system system, double length, char text[SW_VALUE_TEXT_SIZE])
{
    return sw_value_write(context, units, key->quantity, unit_of(key, system), length, text);
}

sw_status sw_entry_write_step(sw_context *context, const sw_units *units, const sw_scenario_key *key,
                              sw_unit_system system, const sw_pit_step *step, char from[SW_VALUE_TEXT_SIZE],
                              char temperature[SW_VALUE_TEXT_SIZE])
{
    sw_status status = sw_value_write(context, units, SW_QUANTITY_DURATION, "h", step->start, from);
    if (status != SW_OK)
        return status;
    return sw_value_write(context, units, key->quantity, unit_of(key, system), step->temperature, temperature);
}

sw_status sw_entry_write(sw_context *context, const sw_units *units, const sw_scenario_key *key, sw_unit_system system,
                         const sw_scenario *scenario, char text[SW_ENTRY_TEXT_SIZE])
{
    const void *field = sw_key_value(key, scenario);
    switch (key->type) {
    case SW_KEY_TEXT:
        snprintf(text, SW_ENTRY_TEXT_SIZE, "%.*s", SW_TEXT_MAX, (const char *)field);
        return SW_OK;
    case SW_KEY_CHOICE:
        snprintf(text, SW_ENTRY_TEXT_SIZE, "%s", key->choice_name(*(const int *)field));
        return SW_OK;
    case SW_KEY_SWITCH:
        snprintf(text, SW_ENTRY_TEXT_SIZE, "%s", *(const bool *)field ? "yes" : "no");
        return SW_OK;
    case SW_KEY_WHOLE:
        snprintf(text, SW_ENTRY_TEXT_SIZE, "%d", *(const int *)field);
        return SW_OK;
    case SW_KEY_VALUE:
        if (sw_scenario_key_is_usual(key, scenario)) {
            snprintf(text, SW_ENTRY_TEXT_SIZE, SW_USUAL_WORD);
            return SW_OK;
        }
        return sw_value_write(context, units, key->quantity, unit_of(key, system), *(const double *)field, text);
    case SW_KEY_ENDING:
        return write_ending(context, units, system, field, text);
    case SW_KEY_OUTLINE:
        snprintf(text, SW_ENTRY_TEXT_SIZE, "none");
        return SW_OK;
    case SW_KEY_PROBES:
        snprintf(text, SW_ENTRY_TEXT_SIZE, "usual");
        return SW_OK;
    case SW_KEY_TIMES:
    case SW_KEY_LEARNED:
        snprintf(text, SW_ENTRY_TEXT_SIZE, "none");
        return SW_OK;
    case SW_KEY_SCHEDULE:
        break;
    }
    char from[SW_VALUE_TEXT_SIZE];
    return sw_entry_write_step(context, units, key, system, &((const sw_pit *)field)->steps[0], from, text);
}
