/* SPDX-License-Identifier: BSD-3-Clause */
/* Histories and outcomes as JSON; the keys are documented in docs/reference/json-output.md. */
#ifndef SW_APPS_JSON_OUTPUT_H
#define SW_APPS_JSON_OUTPUT_H

#include <stallwright/everything.h>

#include <jansson.h>

/* Number of the form of what is printed, raised when a key goes or means something else, or a new one may be overlooked to harm. */
enum { JSON_FORMAT = 1 };

/* A text, or null for NULL. Bytes that are no UTF-8, which JSON cannot hold, become question marks. */
json_t *json_text(const char *text);

/* Sets a number, null if the figure does not exist. */
void json_put_number(json_t *object, const char *key, double value);

/* Sets a text, null for NULL. */
void json_put_text(json_t *object, const char *key, const char *text);

/* One object for a cook: its wrap and every figure of its outcome and budget. */
json_t *json_choice(const sw_run *run, double unwrapped_done);

/* Where four cooks in five like it lie; null for none. */
json_t *json_band(const sw_band *band);

/* The heat and the masses of a budget. */
json_t *json_budget(const sw_budget *budget);

/* When a probe first read some temperatures. */
json_t *json_milestones(const sw_milestone *milestones, size_t count);

/* What was planned and did not come, each with its sentence in SI units. */
json_t *json_missing(const sw_history *history);

/* Prints a document to standard output, indented, with all digits; takes it over. Prints the reason if it fails and
 * returns an exit status. */
int json_print(json_t *document);

/* Title, program and the meat as it was modelled. */
json_t *json_heading(const sw_scenario *scenario);

#endif
