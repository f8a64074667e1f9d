/* SPDX-License-Identifier: BSD-3-Clause */
#include "key_places.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

enum { NAMED_MAX = 4, SENTENCE_SIZE = 1024, PLACE_SIZE = SW_KEY_PLACE_SIZE };

/* Whether a character may be a part of a key's name. */
static bool is_in_name(char c)
{
    return islower((unsigned char)c) || c == '_' || c == '.';
}

/* Length of the name that a word is, without the full stop or comma behind it. */
static size_t name_length(const char *word)
{
    size_t length = 0;
    while (is_in_name(word[length]))
        length++;
    while (length > 0 && word[length - 1] == '.')
        length--;
    return length;
}

/* The keys a sentence names, in its order; returns how many. A title stands in no contradiction. */
static size_t find_named(const char *sentence, const sw_scenario_key *named[NAMED_MAX])
{
    size_t count = 0;
    for (const char *at = sentence; *at && count < NAMED_MAX;) {
        char name[SW_KEY_NAME_SIZE];
        const size_t length = name_length(at);
        if (length == 0 || length >= sizeof name) {
            at += length ? length : 1;
            continue;
        }
        memcpy(name, at, length);
        name[length] = '\0';
        const sw_scenario_key *key = sw_scenario_key_find(name);
        bool is_new = key && strcmp(name, "title") != 0;
        for (size_t i = 0; i < count; i++)
            is_new = is_new && named[i] != key;
        if (is_new)
            named[count++] = key;
        at += length;
    }
    return count;
}

static const char *place_of(const sw_key_places *places, const sw_scenario_key *key, char place[PLACE_SIZE])
{
    const size_t number = sw_scenario_key_number(key);
    if (places->is_set[number])
        return "--set";
    if (places->line[number] == 0)
        return "the default";
    snprintf(place, PLACE_SIZE, "%s:%d:%d", places->file, places->line[number], places->column[number]);
    return place;
}

static bool was_given(const sw_key_places *places, const sw_scenario_key *key)
{
    const size_t number = sw_scenario_key_number(key);
    return places->is_set[number] || places->line[number] > 0;
}

const char *sw_key_place_of(const sw_key_places *places, const sw_scenario_key *key, char place[SW_KEY_PLACE_SIZE])
{
    return was_given(places, key) ? place_of(places, key, place) : "";
}

sw_status sw_key_places_tell(sw_context *context, const sw_key_places *places, sw_status status)
{
    const sw_scenario_key *named[NAMED_MAX];
    char said[SENTENCE_SIZE], others[NAMED_MAX * (PLACE_SIZE + SW_KEY_NAME_SIZE)] = "", place[PLACE_SIZE], before[PLACE_SIZE + 4] = "";
    if (status == SW_OK)
        return SW_OK;
    snprintf(said, sizeof said, "%s", sw_context_message(context));
    const size_t count = find_named(said, named);
    size_t written = 0, first = 0;
    while (first < count && !was_given(places, named[first]))
        first++;
    if (first == count)
        return status;
    const bool is_set = places->is_set[sw_scenario_key_number(named[first])];
    snprintf(before, sizeof before, "%s%s", place_of(places, named[first], place), is_set ? " " : ": ");
    for (size_t i = 0; i < count; i++)
        if (i != first)
            written += (size_t)snprintf(others + written, sizeof others - written, "%s%s: %s", written ? "; " : " (", named[i]->name,
                                        place_of(places, named[i], place));
    return sw_fail(context, status, "%s%s%s%s", before, said, others, written ? ")" : "");
}
