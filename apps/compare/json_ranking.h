/* SPDX-License-Identifier: BSD-3-Clause */
/* A ranking as JSON; the keys are documented in docs/reference/json-output.md. */
#ifndef SW_APPS_JSON_RANKING_H
#define SW_APPS_JSON_RANKING_H

#include "recommendation_words.h"

#include <jansson.h>

/* A ranking, its paragraph and where each number of that stands. */
json_t *json_ranking(const sw_ranking *ranking, const recommendation_words *words,
                     const sw_run *runs);

#endif
