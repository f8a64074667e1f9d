/* SPDX-License-Identifier: BSD-3-Clause */
/* Runs cooks from scenario files and reads quantities of them by name: shared by the report and the calibration. */
#ifndef SW_VALIDATION_COOK_CASE_H
#define SW_VALIDATION_COOK_CASE_H

#include "case.h"

#include <stallwright/everything.h>

typedef struct cook_result {
    bool failed;
    char failure[TEXT_SIZE]; /* why */
    sw_history *history;     /* NULL if it failed */
    sw_outcome outcome;
} cook_result;

/* A scenario file (path NULL or "": the defaults) with settings "name=value; name=value"; what cannot be understood ends the program. */
void cook_case_scenario(sw_context *context, sw_scenario_reader *reader, const char *path, const char *settings, sw_scenario *scenario);

/* Runs such a scenario with more settings. A cook that breaks is a result. */
void cook_case_run(sw_scenario_reader *reader, const char *path, const char *settings, size_t count,
                   char *const *assignments, cook_result *result);
void cook_case_free(cook_result *result);

/* A quantity by name; NaN if this cook has none. Names: see cook_case.c. */
double cook_quantity(const cook_result *result, const char *name);

/* Adds the rows of a folder's rows.csv: id, scenario, settings, quantity, relation, reference, tolerance, meaning.
 * relation: near (reference +- tolerance), at_least, at_most, band and trade (low to high), less_than and more_than (@id, by
 * tolerance or more), not_assessed (meaning says why). */
void add_cook_rows(report_case *c, const char *file);

#endif
