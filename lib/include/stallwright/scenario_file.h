/** @file
 * Reads scenarios from files and writes them, and sets single values by the name they have in a file. */
#ifndef STALLWRIGHT_SCENARIO_FILE_H
#define STALLWRIGHT_SCENARIO_FILE_H

#include <stallwright/scenario.h>

#include <stdio.h>

SW_BEGIN_DECLARATIONS

typedef enum sw_unit_system { SW_UNITS_SI, SW_UNITS_US } sw_unit_system;

/** Reads and writes scenarios; holds the unit system, so create it once and keep it. Not for use by two threads at
 * once. */
typedef struct sw_scenario_reader sw_scenario_reader;

/** @return SW_OK, SW_ERR_FILE (the unit database cannot be read), SW_ERR_MEMORY */
SW_API sw_status sw_scenario_reader_create(sw_context *context, sw_scenario_reader **reader);

/** Destroys a reader; NULL is allowed. */
SW_API void sw_scenario_reader_destroy(sw_scenario_reader *reader);

/** Reads a file ("-" is standard input). A key the file leaves out keeps the value it has in *scenario, so start from
 * sw_scenario_init. Does not run sw_scenario_check.
 * @param scenario in and out; unchanged on error
 * @return SW_OK, SW_ERR_FILE, SW_ERR_INPUT (the sentence starts with file:line:column), SW_ERR_MEMORY */
SW_API sw_status sw_scenario_read(sw_context *context, sw_scenario_reader *reader, const char *path,
                                  sw_scenario *scenario);

/** The same from memory.
 * @param name used in error sentences in place of a file name */
SW_API sw_status sw_scenario_read_text(sw_context *context, sw_scenario_reader *reader, const char *name,
                                       const char *text, size_t length, sw_scenario *scenario);

/** Sets one value by its dotted name, for example "pit.temperature" to "275 F".
 * @param assignment "name=value"
 * @param scenario in and out; unchanged on error
 * @return SW_OK, SW_ERR_INPUT with a sentence */
SW_API sw_status sw_scenario_set(sw_context *context, sw_scenario_reader *reader, const char *assignment,
                                 sw_scenario *scenario);

/** Reads one value with its unit, as a scenario file would: "how" is one of the kinds below.
 * Used by apps for their own options, so that every value in the program is written the same way. */
SW_API sw_status sw_read_ending(sw_context *context, sw_scenario_reader *reader, const char *name, const char *text,
                                sw_ending *ending);

/** Writes the complete scenario as a commented file, ready to edit; reading it back gives the same numbers.
 * @return SW_OK or SW_ERR_FILE */
SW_API sw_status sw_scenario_write(sw_context *context, sw_scenario_reader *reader, const sw_scenario *scenario,
                                   sw_unit_system units, FILE *stream);

SW_END_DECLARATIONS

#endif
