/* A plan as JSON; the keys are documented in docs/json-output.md. */
#ifndef SW_APPS_JSON_PLAN_H
#define SW_APPS_JSON_PLAN_H

#include "plan_view.h"

#include <jansson.h>

json_t *json_plan(const plan_view *view);

#endif
