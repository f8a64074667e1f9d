/* SPDX-License-Identifier: BSD-3-Clause */
/* A plan, as JSON that the page's script reads. */
#ifndef SW_APPS_WEB_PLAN_H
#define SW_APPS_WEB_PLAN_H

#include "plan_view.h"

#include <jansson.h>

/* "plan", as the program has it (json_plan), "rows", what each line of its timetable is about and what to look for, and "says", its
 * sentences by name, each a prose; an empty one says nothing; "warnings" in both systems of units. */
json_t *web_plan_json(const plan_view *view);

#endif
