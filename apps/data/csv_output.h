/* Tables as comma-separated values: a heading with the unit in each name, a figure that does not exist is empty. */
#ifndef SW_APPS_CSV_OUTPUT_H
#define SW_APPS_CSV_OUTPUT_H

#include "cook_run.h"

#include <stallwright/ranking.h>

/* The history of a cook, one line a row. Returns an exit status. */
int csv_print_history(const cook_run *run);

/* The outcomes of several cooks, one line a cook; their places too if ranking is not NULL. Returns an exit status. */
int csv_print_choices(const cook_run *runs, size_t count, double unwrapped_done, const sw_ranking *ranking);

/* Prints text as one field (RFC 4180): in quotes if it holds a comma, a quote or the end of a line. A spreadsheet takes text
 * that begins with = + - @ or a control character for a formula and runs it: such a text that is no number gets an apostrophe
 * before it. */
void csv_print_text(const char *text);

#endif
