/* SPDX-License-Identifier: BSD-3-Clause */
/* One key of a scenario: reads its value from a file into the scenario and writes it back as text. */
#ifndef SW_IO_SCENARIO_ENTRY_H
#define SW_IO_SCENARIO_ENTRY_H

#include "key_places.h"
#include "scenario_key_text.h"
#include "yaml_document.h"

#include <stallwright/scenario_file.h>

#include <locale.h>

struct sw_scenario_reader {
    sw_units *units;
    sw_key_places places;  /* of the file read last and what was set since */
    locale_t plain_locale; /* "C": numbers are read and written with a decimal point whatever the program's locale */
};

/* Where values come from, for error sentences. */
typedef struct sw_entry_source {
    sw_context *context;
    const sw_units *units;
    const char *file; /* sentences begin with file:line:column: name; NULL: they begin with prefix and name */
    const char *prefix;
} sw_entry_source;

enum { SW_WHERE_SIZE = 512 };

/* Writes the beginning of a sentence on a name; node may be NULL if there is no file. Returns where. */
const char *sw_entry_where(const sw_entry_source *source, const sw_yaml_node *node, const char *name,
                           char where[SW_WHERE_SIZE]);

/* Reads the value of a key. The scenario is unchanged on error. SW_OK, SW_ERR_INPUT, SW_ERR_MEMORY. */
sw_status sw_entry_read(const sw_entry_source *source, const sw_scenario_key *key, const sw_yaml_node *node,
                        sw_scenario *scenario);

enum { SW_ENTRY_TEXT_SIZE = 4 * SW_TEXT_MAX };

/* Writes the value of a key as sw_entry_read reads it, text unquoted; not for lists. */
sw_status sw_entry_write(sw_context *context, const sw_units *units, const sw_scenario_key *key, sw_unit_system system,
                         const sw_scenario *scenario, char text[SW_ENTRY_TEXT_SIZE]);

/* Writes one step of a schedule: when it begins and its temperature. */
sw_status sw_entry_write_step(sw_context *context, const sw_units *units, const sw_scenario_key *key,
                              sw_unit_system system, const sw_pit_step *step, char from[SW_VALUE_TEXT_SIZE],
                              char temperature[SW_VALUE_TEXT_SIZE]);

/* Writes a length in the unit of its key. */
sw_status sw_entry_write_length(sw_context *context, const sw_units *units, const sw_scenario_key *key,
                                sw_unit_system system, double length, char text[SW_VALUE_TEXT_SIZE]);

/* As sw_scenario_set, with error sentences that begin with prefix and the name. */
sw_status sw_scenario_set_for(sw_context *context, sw_scenario_reader *reader, const char *prefix,
                              const char *assignment, sw_scenario *scenario);

#endif
