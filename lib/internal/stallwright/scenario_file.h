/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Reads scenarios from files and writes them, and sets single values by the name they have in a file.
 * All names, units and ranges: docs/reference/scenario.md. */
#ifndef STALLWRIGHT_SCENARIO_FILE_H
#define STALLWRIGHT_SCENARIO_FILE_H

#include <stallwright/scenario_keys.h>
#include <stallwright/text.h>

#include <stdio.h>

SW_BEGIN_DECLARATIONS

/** Reads and writes scenarios; holds the unit database, which takes some milliseconds to load, so create one and keep
 * it. UDUNITS, which reads the units, has global state: calls with readers, also with different ones, must not
 * overlap. */
typedef struct sw_scenario_reader sw_scenario_reader;

/** @return SW_OK, SW_ERR_FILE (the unit database cannot be read), SW_ERR_MEMORY */
SW_API sw_status sw_scenario_reader_create(sw_context *context, sw_scenario_reader **reader);

/** Destroys a reader; NULL is allowed. */
SW_API void sw_scenario_reader_destroy(sw_scenario_reader *reader);

/** Reads a file ("-" is standard input). A key the file leaves out keeps the value it has in *scenario, so start from
 * sw_scenario_init. Does not run sw_scenario_check but for its questions whether the pit's air can be as damp as the file
 * says, whether the fire has air, and whether the pan fits into the pit.
 * @param scenario in and out; unchanged on error
 * @return SW_OK, SW_ERR_FILE (missing, a directory, over 1 MiB), SW_ERR_INPUT (the sentence starts with
 * file:line:column), SW_ERR_MEMORY */
SW_API sw_status sw_scenario_read(sw_context *context, sw_scenario_reader *reader, const char *path,
                                  sw_scenario *scenario);

/** The same from memory.
 * @param name used in error sentences in place of a file name */
SW_API sw_status sw_scenario_read_text(sw_context *context, sw_scenario_reader *reader, const char *name,
                                       const char *text, size_t length, sw_scenario *scenario);

/** Sets one value by its dotted name, for example "pit.temperature" to "275 F".
 * @param assignment "name=value"; error sentences start with "--set name"
 * @param scenario in and out; unchanged on error
 * @return SW_OK, SW_ERR_INPUT with a sentence, SW_ERR_MEMORY */
SW_API sw_status sw_scenario_set(sw_context *context, sw_scenario_reader *reader, const char *assignment,
                                 sw_scenario *scenario);

/** As sw_scenario_check, for a scenario that was read, and set, with this reader last: the sentence begins with the place of the
 * key that is refused, file:line:column or --set, and ends with those of the other keys it names. */
SW_API sw_status sw_scenario_check_read(sw_context *context, const sw_scenario_reader *reader, const sw_scenario *scenario);

/** Where a key was given in what was read, and set, with this reader last, for a sentence: "FILE:LINE:COLUMN" or "--set"; "" if it
 * was not.
 * @param place room for SW_KEY_PLACE_SIZE bytes */
enum { SW_KEY_PLACE_SIZE = 320 };
SW_API const char *sw_scenario_key_place(const sw_scenario_reader *reader, const sw_scenario_key *key, char *place);

enum { SW_KEY_TOLD_SIZE = 512 };

/** What a key may hold, in words: "0.2 to 30 kg", "one of slab, cylinder, sphere".
 * @param text room for SW_KEY_TOLD_SIZE bytes */
SW_API sw_status sw_scenario_key_tell_allowed(sw_context *context, sw_scenario_reader *reader, const sw_scenario_key *key,
                                              sw_unit_system units, char *text);

/** The value of a key as a file would hold it: "121 C", "usual", text without quotes.
 * @param text room for SW_KEY_TOLD_SIZE bytes
 * @return SW_OK; SW_ERR_ARGUMENT (a list); SW_ERR_MEMORY */
SW_API sw_status sw_scenario_key_tell_value(sw_context *context, sw_scenario_reader *reader, const sw_scenario_key *key,
                                            const sw_scenario *scenario, sw_unit_system units, char *text);

/** Reads one value with its unit as a scenario file would, so that every value in a program is written the same way.
 * @param name begins the error sentence, for example "--step"
 * @param minimum, maximum allowed range, inclusive, in the SI unit of the quantity; -INFINITY and INFINITY for none.
 * A clock time is always 0 to below 24 h; where the maximum is over a day, "+1 day" and so on may follow it.
 * @param value out, SI; unchanged on error
 * @return SW_OK, SW_ERR_INPUT with a sentence, SW_ERR_MEMORY */
SW_API sw_status sw_read_value(sw_context *context, sw_scenario_reader *reader, const char *name, const char *text,
                               sw_quantity quantity, double minimum, double maximum, double *value);

/** Reads how a phase ends, as a scenario file would: a temperature, a duration, a clock time, "bark" or "none", which is what
 * wrap.when may hold.
 * @param name begins the error sentence, for example "--pull"
 * @param ending out; unchanged on error
 * @return SW_OK, SW_ERR_INPUT with a sentence, SW_ERR_MEMORY */
SW_API sw_status sw_read_ending(sw_context *context, sw_scenario_reader *reader, const char *name, const char *text,
                                sw_ending *ending);

/** Writes the complete scenario as a commented file, ready to edit; reading it back gives the same numbers to the bit.
 * @return SW_OK; SW_ERR_FILE; SW_ERR_RANGE (a value that a scenario file may not hold; nothing is written);
 * SW_ERR_MEMORY */
SW_API sw_status sw_scenario_write(sw_context *context, sw_scenario_reader *reader, const sw_scenario *scenario,
                                   sw_unit_system units, FILE *stream);

/** Reads what was learned of a pit from a file.
 * @param learned out; unchanged on error
 * @return SW_OK; SW_ERR_FILE; SW_ERR_INPUT with file:line:column; SW_ERR_MEMORY */
SW_API sw_status sw_pit_learned_read(sw_context *context, sw_scenario_reader *reader, const char *path, sw_pit_learned *learned);

/** Writes it so, rounded for people: much finer than what is known of a pit.
 * @return SW_OK; SW_ERR_FILE; SW_ERR_RANGE (a number that such a file may not hold; nothing is written) */
SW_API sw_status sw_pit_learned_write(sw_context *context, sw_scenario_reader *reader, const sw_pit_learned *learned,
                                      sw_unit_system units, FILE *stream);

SW_END_DECLARATIONS

#endif
