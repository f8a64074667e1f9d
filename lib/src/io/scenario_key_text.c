/* SPDX-License-Identifier: BSD-3-Clause */
#include "scenario_key_text.h"

#include "near_miss.h"

#include <stdio.h>
#include <string.h>

const char *sw_scenario_group_meaning(int group_number)
{
    return sw_scenario_group_at((size_t)group_number)->meaning;
}

const char *sw_scenario_group_names(const char *group, char *text, size_t size)
{
    size_t prefix = strlen(group), written = 0;
    const char *before = "";
    size_t before_length = 0;
    text[0] = '\0';
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const char *name = sw_scenario_key_at(i)->name;
        if (prefix > 0 && (strncmp(name, group, prefix) != 0 || name[prefix] != '.'))
            continue;
        name += prefix > 0 ? prefix + 1 : 0;
        size_t length = strcspn(name, ".");
        if (length == before_length && strncmp(name, before, length) == 0)
            continue;
        int added = snprintf(text + written, size - written, "%s%.*s", written ? ", " : "", (int)length, name);
        written += (size_t)added;
        if (written >= size)
            break;
        before = name;
        before_length = length;
    }
    return text;
}

bool sw_scenario_key_may_be_list(const sw_scenario_key *key)
{
    return key->type == SW_KEY_SCHEDULE || key->type == SW_KEY_TIMES || key->type == SW_KEY_OUTLINE ||
           key->type == SW_KEY_PROBES || key->type == SW_KEY_LEARNED;
}

bool sw_scenario_key_is_list(const sw_scenario_key *key, const sw_scenario *scenario)
{
    const sw_meat *meat = &scenario->meat;
    return (key->type == SW_KEY_SCHEDULE && scenario->pit.step_count > 1) ||
           (key->type == SW_KEY_TIMES && scenario->pit.opening_count > 0) ||
           (key->type == SW_KEY_OUTLINE && meat->outline_count > 0) ||
           (key->type == SW_KEY_PROBES && meat->probe_count > 0) ||
           (key->type == SW_KEY_LEARNED && scenario->pit.learned.cooks > 0);
}

/* Words that cooks use for a part of a name, and the name's own; no key holds the words on the left. */
static const struct {
    const char *said, *named;
} other_words[] = {
    {"weight", "mass"},       {"bought_weight", "bought_mass"}, {"temp", "temperature"},  {"thick", "thickness"},
    {"brisket", "meat"},      {"smoker", "pit"},                {"cooker", "pit"},        {"spray", "spritz"},
    {"mop", "spritz"},        {"trim", "trimming"},             {"guests", "people"},     {"elevation", "altitude"},
    {"start_time", "start"},  {"time", "start"},                {"until_temp", "until"},  {"wrapping", "wrap"},
};

/* Names that cooks give to a moment, whose group has another word for it; time has become start by then. */
static const struct {
    const char *said, *named;
} other_names[] = {
    {"pull.temperature", "pull"},      {"pull.at", "pull"},            {"pull.start", "pull"},
    {"wrap.temperature", "wrap.when"}, {"wrap.at", "wrap.when"},       {"wrap.start", "wrap.when"},
    {"rest.start", "rest.until"},      {"rest.duration", "rest.until"}, {"hold.start", "hold.until"},
    {"hold.duration", "hold.until"},
};

/* Writes name with the parts that cooks call otherwise as they are called here. */
static void translate_parts(const char *name, char translated[SW_KEY_NAME_SIZE])
{
    size_t written = 0;
    translated[0] = '\0';
    while (*name && written < SW_KEY_NAME_SIZE) {
        size_t length = strcspn(name, ".");
        const char *part = name;
        int size = (int)length;
        for (size_t i = 0; i < sizeof other_words / sizeof *other_words; i++)
            if (strlen(other_words[i].said) == length && strncmp(other_words[i].said, name, length) == 0) {
                part = other_words[i].named;
                size = (int)strlen(part);
            }
        written += (size_t)snprintf(translated + written, SW_KEY_NAME_SIZE - written, "%s%.*s", written ? "." : "", size, part);
        name += length + (name[length] == '.');
    }
}

static const char *last_part(const char *name)
{
    const char *dot = strrchr(name, '.');
    return dot ? dot + 1 : name;
}

const char *sw_scenario_key_near(const char *typed)
{
    char name[SW_KEY_NAME_SIZE];
    translate_parts(typed, name);
    const sw_scenario_key *meant = sw_scenario_key_find(name);
    if (meant)
        return meant->name;
    for (size_t i = 0; i < sizeof other_names / sizeof *other_names; i++)
        if (strcmp(name, other_names[i].said) == 0)
            return other_names[i].named;
    sw_near_miss miss = sw_near_miss_of(name, strlen(last_part(name)));
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        sw_near_miss_offer(&miss, sw_scenario_key_at(i)->name);
    for (size_t i = 0; sw_scenario_group_at(i); i++)
        sw_near_miss_offer(&miss, sw_scenario_group_at(i)->name);
    if (miss.best)
        return miss.best;
    /* A key in the wrong group, or in none. */
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        if (strcmp(last_part(sw_scenario_key_at(i)->name), last_part(name)) == 0)
            return sw_scenario_key_at(i)->name;
    return NULL;
}

static void write_choices(const sw_scenario_key *key, char text[SW_KEY_ALLOWED_SIZE])
{
    int written = snprintf(text, SW_KEY_ALLOWED_SIZE, "one of ");
    for (int i = 0; i < key->choice_count; i++)
        written += snprintf(text + written, (size_t)(SW_KEY_ALLOWED_SIZE - written), "%s%s", i ? ", " : "",
                            key->choice_name(i));
}

static sw_status write_ending_ranges(sw_context *context, const sw_units *units, const sw_scenario_key *key,
                                     sw_unit_system system, char text[SW_KEY_ALLOWED_SIZE])
{
    char temperature[SW_VALUE_TEXT_SIZE], duration[SW_VALUE_TEXT_SIZE];
    sw_status status = sw_range_write(context, units, SW_QUANTITY_TEMPERATURE, system == SW_UNITS_US ? "F" : "C",
                                      key->ending.temperature, temperature);
    if (status == SW_OK)
        status = sw_range_write(context, units, SW_QUANTITY_DURATION, "h", key->ending.duration, duration);
    if (status == SW_OK)
        snprintf(text, SW_KEY_ALLOWED_SIZE, "probe temperature %s, duration %s, or time of day%s%s%s", temperature,
                 duration, key->ending.may_be_bark ? ", or bark" : "", key->ending.may_be_none ? ", or none" : "",
                 key->ending.may_be_usual ? ", or usual" : "");
    return status;
}

sw_status sw_scenario_key_allowed(sw_context *context, const sw_units *units, const sw_scenario_key *key,
                                  sw_unit_system system, char text[SW_KEY_ALLOWED_SIZE])
{
    char range[SW_VALUE_TEXT_SIZE];
    sw_status status = SW_OK;
    switch (key->type) {
    case SW_KEY_TEXT:
        snprintf(text, SW_KEY_ALLOWED_SIZE, "text of at most %d bytes%s", SW_TEXT_MAX - 1, key->may_be_usual ? ", or usual" : "");
        return SW_OK;
    case SW_KEY_CHOICE:
        write_choices(key, text);
        return SW_OK;
    case SW_KEY_SWITCH:
        snprintf(text, SW_KEY_ALLOWED_SIZE, "yes or no");
        return SW_OK;
    case SW_KEY_WHOLE:
        snprintf(text, SW_KEY_ALLOWED_SIZE, "%.0f to %.0f", key->range.minimum, key->range.maximum);
        return SW_OK;
    case SW_KEY_ENDING:
        return write_ending_ranges(context, units, key, system, text);
    case SW_KEY_OUTLINE:
        snprintf(text, SW_KEY_ALLOWED_SIZE, "none, a file name, or a list of at most %d corners", SW_OUTLINE_MAX);
        return SW_OK;
    case SW_KEY_PROBES:
        snprintf(text, SW_KEY_ALLOWED_SIZE, "usual, or a list of at most %d places", SW_PROBES_MAX);
        return SW_OK;
    case SW_KEY_LEARNED:
        snprintf(text, SW_KEY_ALLOWED_SIZE, "none, a file name, or a group of values");
        return SW_OK;
    case SW_KEY_VALUE:
    case SW_KEY_SCHEDULE:
    case SW_KEY_TIMES:
        break;
    }
    if (key->quantity == SW_QUANTITY_CLOCK) {
        snprintf(text, SW_KEY_ALLOWED_SIZE, "00:00 to 23:59%s", key->range.maximum > 86400.0 ? ", also +1 day to +30 days" : "");
        return SW_OK;
    }
    status = sw_range_write(context, units, key->quantity, system == SW_UNITS_US ? key->us_unit : key->si_unit,
                            key->range, range);
    if (status == SW_OK)
        snprintf(text, SW_KEY_ALLOWED_SIZE, "%s%s", range, key->may_be_usual ? ", or usual" : "");
    return status;
}
