/* SPDX-License-Identifier: BSD-3-Clause */
/* What only cook tells of a cook as JSON; the keys are documented in docs/reference/json-output.md. */
#ifndef SW_APPS_JSON_DETAILS_H
#define SW_APPS_JSON_DETAILS_H

#include <stallwright/everything.h>

#include <jansson.h>

/* Adds phases, milestones, probes and the work of the time integration. */
void json_add_details(json_t *object, const sw_run *run);

#endif
