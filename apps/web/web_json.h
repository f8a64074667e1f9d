/* SPDX-License-Identifier: BSD-3-Clause */
/* What the page is told, as JSON that its script reads. */
#ifndef SW_APPS_WEB_JSON_H
#define SW_APPS_WEB_JSON_H

#include <stallwright/everything.h>

#include "food_safety.h"
#include "prose.h"

#include <jansson.h>

/* Pieces [kind, value], so that the page can tell them in either system of units. */
json_t *web_prose_json(const prose *prose);

/* What some cooks do not keep of the rules of food safety, each in both systems of units. */
json_t *web_warnings_json(const judged_cook *judged, size_t count);

/* Every key of a scenario with its type, range, units, words and meaning; what the library calls cuts, wraps and causes. */
json_t *web_tables_json(void);

/* A cook: "choice", the figures (json_choice), "cook", its curves (page_cook), "modelled", sizes as they were cooked, "warnings" of
 * food safety, each in both systems of units, and "missing", each a prose. moments and layers as page_detail has them. */
json_t *web_cook_json(const sw_run *run, bool never_ends, const char *never_ends_reason, size_t moments, size_t layers);

/* An explanation: its paragraphs and common explanations, each a prose, and its document (json_add_explanation). */
json_t *web_explanation_json(const sw_explanation *explanation);

#endif
