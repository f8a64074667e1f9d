/* SPDX-License-Identifier: BSD-3-Clause */
/* A sensitivity as JSON; the keys are documented in docs/reference/json-output.md. */
#ifndef SW_APPS_JSON_SENSITIVITY_H
#define SW_APPS_JSON_SENSITIVITY_H

#include <stallwright/sensitivity.h>

#include <jansson.h>

/* Adds "sensitivity": what each uncertain input changes. */
void json_add_sensitivity(json_t *object, const sw_sensitivity *sensitivity);

#endif
