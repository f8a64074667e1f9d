/* SPDX-License-Identifier: BSD-3-Clause */
/* An explanation as JSON; the keys are documented in docs/reference/json-output.md. */
#ifndef SW_APPS_JSON_EXPLANATION_H
#define SW_APPS_JSON_EXPLANATION_H

#include <stallwright/explanation.h>

#include <jansson.h>

/* The whole document, but for what json_heading says. */
void json_add_explanation(json_t *document, const sw_explanation *explanation);

#endif
