/* SPDX-License-Identifier: BSD-3-Clause */
#include "event_words.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

bool track_event_wrap(const char *text, sw_wrap_kind *kind)
{
    if (strcasecmp(text, "foil") == 0 || strcasecmp(text, "tray") == 0) {
        *kind = tolower((unsigned char)text[0]) == 'f' ? SW_WRAP_CLOSED_FOIL : SW_WRAP_OPEN_TRAY;
        return true;
    }
    return sw_wrap_from_name(text, kind) == SW_OK;
}

sw_status track_event_pit(sw_context *context, sw_scenario_reader *reader, const char *where, const char *text, double *kelvin)
{
    const sw_range allowed = sw_scenario_key_find("pit.temperature")->range;
    return sw_read_value(context, reader, where, text, SW_QUANTITY_TEMPERATURE, allowed.minimum, allowed.maximum, kelvin);
}

/* Words of a log's column and what they mean: the longest first where one begins like another. */
static const struct {
    const char *word;
    track_event_kind kind;
} event_words[] = {{"unwrapped", TRACK_WRAPPED}, {"wrapped", TRACK_WRAPPED}, {"wrap", TRACK_WRAPPED}, {"spritz", TRACK_SPRITZED},
                   {"sprayed", TRACK_SPRITZED}, {"mopped", TRACK_SPRITZED}, {"lid", TRACK_LID}, {"pit", TRACK_PIT_SET}, {"off", TRACK_OFF},
                   {"pulled", TRACK_OFF}, {"held", TRACK_HELD}, {"in the hold", TRACK_HELD}, {"sliced", TRACK_SLICED}, {"served", TRACK_SLICED}};

bool track_event_read(sw_context *context, sw_scenario_reader *reader, sw_wrap_kind planned, const char *text, track_event *e)
{
    const size_t count = sizeof event_words / sizeof *event_words;
    size_t i = 0;
    if (track_event_wrap(text, &e->wrap)) {
        e->kind = TRACK_WRAPPED;
        return true;
    }
    while (i < count && strncasecmp(text, event_words[i].word, strlen(event_words[i].word)) != 0)
        i++;
    if (i == count)
        return false;
    e->kind = event_words[i].kind;
    const char *rest = text + strlen(event_words[i].word);
    rest += strspn(rest, " =:");
    if (strncasecmp(rest, "in ", 3) == 0)
        rest += 3;
    if (e->kind == TRACK_PIT_SET)
        return track_event_pit(context, reader, "pit", rest, &e->temperature) == SW_OK;
    if (e->kind != TRACK_WRAPPED)
        return true;
    e->wrap = tolower((unsigned char)text[0]) == 'u' ? SW_WRAP_NONE : planned;
    return *rest == '\0' ? e->wrap != SW_WRAP_NONE || tolower((unsigned char)text[0]) == 'u' : track_event_wrap(rest, &e->wrap);
}
