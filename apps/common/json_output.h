/* Histories and outcomes as JSON; the keys are documented in docs/json-output.md. */
#ifndef SW_APPS_JSON_OUTPUT_H
#define SW_APPS_JSON_OUTPUT_H

#include "cook_run.h"

#include <jansson.h>

/* One object for a cook: its wrap and every figure of its outcome and budget. */
json_t *json_choice(const cook_run *run, double unwrapped_done);

/* A key with its unit: "done_time" in s is "done_s". Written into a text of JSON_KEY_SIZE. */
enum { JSON_KEY_SIZE = 80 };
const char *json_key(const char *name, const char *unit, char *key);

/* Prints a document to standard output, indented, with all digits; takes it over. Returns an exit status. */
int json_print(json_t *document);

/* Title, program and the meat as it was modelled. */
json_t *json_heading(const sw_scenario *scenario);

/* Phases, milestones, balance residuals and work of one cook. */
json_t *json_details(const cook_run *run);

#endif
