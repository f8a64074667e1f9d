/* SPDX-License-Identifier: BSD-3-Clause */
/* A recommendation in words: a paragraph whose every number is traced to its key. */
#ifndef SW_APPS_RECOMMENDATION_WORDS_H
#define SW_APPS_RECOMMENDATION_WORDS_H

#include "prose.h"

#include <stallwright/ranking.h>

enum { QUOTED_MAX = 64 };

/* Where a figure of the paragraph stands in JSON. */
typedef struct quoted_figure {
    const char *label; /* of the choice; NULL: a key of the document itself */
    const char *key;
} quoted_figure;

typedef struct recommendation_words {
    prose paragraph;
    size_t count;
    quoted_figure figures[QUOTED_MAX]; /* one for each piece of the paragraph that is no text, in their order */
} recommendation_words;

/* Key of the figure that is ranked by. */
const char *criterion_key(sw_criterion by);

/* The figure of a run that is ranked by, as a text of QUANTITY_SIZE. */
const char *show_criterion(sw_criterion by, const sw_run *run, char *text);

/* Says it. runs and count are those that were ranked. */
void say_recommendation(const sw_recommendation *recommendation, const sw_run *runs, size_t count, recommendation_words *words);

#endif
