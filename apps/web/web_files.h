/* SPDX-License-Identifier: BSD-3-Clause */
/* Scenario files and logs, read and written as the program does, from and into memory. */
#ifndef SW_APPS_WEB_FILES_H
#define SW_APPS_WEB_FILES_H

#include <stallwright/everything.h>

#include <jansson.h>

/* Reads a scenario into a setup, which is checked.
 * @param name what sentences call the file
 * @return SW_OK; SW_ERR_INPUT and others with a sentence that begins with name:line:column where a place is to blame */
sw_status web_scenario_read(sw_context *context, sw_setup *setup, const char *name, const char *text);

/* Every key as a script may set it again: a number, a word, a list of rows, {"kind", "value"} of an ending, null of what has none of
 * these; "set", the names of those that differ from the default; and "mass", as it is cooked [kg]. */
json_t *web_scenario_json(sw_context *context, sw_setup *setup);

/* The complete file, commented; NULL with a sentence. Release with free. */
char *web_scenario_write(sw_context *context, const sw_setup *setup, sw_unit_system units);

/* What was learned of a pit, as the program writes it, in SI units; NULL with a sentence. Release with free. */
char *web_learned_write(sw_context *context, const sw_pit_learned *learned);

/* A log: "names" of its columns of meat, "readings" of the first of them [s after the first row], [K], "has_pit", "events", "doubts",
 * and when the meat went on.
 * @param planned wrap of the scenario, which is meant by "wrapped" alone
 * @param told out */
sw_status web_log_read(sw_context *context, const char *name, const char *text, sw_unit_system units, sw_wrap_kind planned, json_t **told);

#endif
