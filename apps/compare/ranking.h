/* Ranks choices by what the cook says matters, and says why in a paragraph whose every number is traced to its key. */
#ifndef SW_APPS_RANKING_H
#define SW_APPS_RANKING_H

#include "figures.h"

/* What to rank by; the order is that of the words of --by. */
typedef enum criterion { BY_TIME, BY_YIELD, BY_BARK, BY_TENDER, BY_COUNT, BY_NOTHING = -1 } criterion;

enum { RANKED_MAX = 16 };

typedef struct choice_ranking {
    criterion by;
    size_t count;              /* of choices that finished */
    size_t order[RANKED_MAX];  /* their numbers among the runs, best first */
    size_t place[RANKED_MAX];  /* of each in that order, from 1; choices too close to tell apart share one */
} choice_ranking;

/* "time", "yield", "bark", "tender". */
const char *criterion_name(criterion by);

/* Key of the figure that is ranked by. */
const char *criterion_key(criterion by);

/* The figure of a run that is ranked by; absent if it failed. */
double criterion_value(criterion by, const cook_run *run);

/* The same as a text. */
const char *show_criterion(criterion by, const cook_run *run, char *text);

/* Whether a run is better than another, or the other than it, by more than the model can tell. */
bool is_better(criterion by, const cook_run *run, const cook_run *than);

/* Ranks at most RANKED_MAX runs; of those that are level, the one that is done first comes first. */
void rank_runs(criterion by, const cook_run *runs, size_t count, choice_ranking *ranking);

/* Place of a run; 0 if it has none. */
size_t place_of(const choice_ranking *ranking, size_t run);

#endif
