/* A ranking in words. */
#ifndef SW_APPS_RECOMMENDATION_H
#define SW_APPS_RECOMMENDATION_H

#include "ranking.h"

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

/* Explains a ranking. runs and count are those that were ranked. */
void recommend(const choice_ranking *ranking, const cook_run *runs, size_t count, sw_unit_system units,
               recommendation_text *recommendation);

/* Prints a paragraph in lines of at most 78 columns. */
void print_paragraph(const char *paragraph, FILE *stream);

#endif
