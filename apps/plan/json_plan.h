/* SPDX-License-Identifier: BSD-3-Clause */
/* A plan as JSON; the keys are documented in docs/reference/json-output.md. */
#ifndef SW_APPS_JSON_PLAN_H
#define SW_APPS_JSON_PLAN_H

#include "plan_view.h"

#include <jansson.h>

json_t *json_plan(const plan_view *view);

/* Of several pieces: what they have together, and the plan of each. */
json_t *json_plan_of_pieces(const plan_party *party);

#endif
