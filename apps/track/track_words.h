/* SPDX-License-Identifier: BSD-3-Clause */
/* What a cook under way comes to, in sentences: the same for terminal, JSON and page. */
#ifndef SW_APPS_TRACK_WORDS_H
#define SW_APPS_TRACK_WORDS_H

#include "prose.h"
#include "track_input.h"

enum { TRACK_SENTENCES_MAX = 24 };

/* What a sentence is about. */
typedef enum track_topic { TRACK_NOW, TRACK_DONE, TRACK_STALL, TRACK_WRAP, TRACK_FOUND, TRACK_DOUBT, TRACK_SAFETY, TRACK_TOPIC_COUNT } track_topic;

typedef struct track_sentences {
    size_t count;
    track_topic topics[TRACK_SENTENCES_MAX];
    prose list[TRACK_SENTENCES_MAX];
} track_sentences;

/* "now", "done", "stall", "wrap", "found", "doubt", "safety". */
const char *track_topic_name(track_topic topic);

/* All of them, in the order in which they are told. */
void track_say(const track_input *input, const sw_track *track, track_sentences *sentences);

/* "07:50 +1 day", to the minute; what does not come is "never". text: QUANTITY_SIZE. */
const char *track_moment(const track_input *in, double time, char *text);

#endif
