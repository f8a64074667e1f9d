/* A recommendation in words: a paragraph whose every number is traced to its key. */
#ifndef SW_APPS_RECOMMENDATION_WORDS_H
#define SW_APPS_RECOMMENDATION_WORDS_H

#include "figures.h"

#include <stallwright/ranking.h>

enum { RECOMMENDATION_SIZE = 4096, QUOTED_MAX = 64, QUOTED_SIZE = 48 };

/* A number of the paragraph: as it is written there, and where it stands in JSON. */
typedef struct quoted_number {
    char text[QUOTED_SIZE];
    const char *label; /* of the choice; NULL: a key of the document itself */
    char key[FIGURE_KEY_SIZE];
    double value; /* SI */
} quoted_number;

typedef struct recommendation_text {
    char paragraph[RECOMMENDATION_SIZE];
    size_t count;
    quoted_number numbers[QUOTED_MAX];
} recommendation_text;

/* Key of the figure that is ranked by. */
const char *criterion_key(sw_criterion by);

/* The figure of a run that is ranked by, as a text of QUANTITY_SIZE. */
const char *show_criterion(sw_criterion by, const cook_run *run, char *text);

/* Says it. runs and count are those that were ranked. */
void say_recommendation(const sw_recommendation *recommendation, const cook_run *runs, size_t count, sw_unit_system units,
                        recommendation_text *text);

/* Prints a paragraph in lines of at most 78 columns. */
void print_paragraph(const char *paragraph, FILE *stream);

#endif
