/* SPDX-License-Identifier: BSD-3-Clause */
/* JSON Schemas (draft 2020-12): of scenario files, from the table of keys, so that editors complete and check while one types; and
 * of what each app prints as JSON, from outputs.json and the lists of figures. */
#ifndef SW_APPS_SCHEMA_H
#define SW_APPS_SCHEMA_H

#include <jansson.h>

/* Prints the schema of "scenario" or of what an app prints as JSON; NULL: the names of all, one a line. Returns an exit status. */
int schema_print(const char *name);

/* Of scenario files; NULL if memory is short or the units cannot be read, which is told. */
json_t *schema_of_scenarios(void);

/* Of what an app prints; NULL if it is none that prints JSON, or memory is short. */
json_t *schema_of_output(const char *app);

/* How the outputs of apps are described, in the words of outputs.json. */
json_t *schema_outputs(void);

#endif
