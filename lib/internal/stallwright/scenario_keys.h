/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * The one table of everything a scenario may hold: each key with what it measures, its allowed range, its meaning and when it
 * counts. It drives checks, scenario files, studies and the reference in docs/reference/scenario.md. Values are set and read by key in SI
 * units and words; <stallwright/scenario_file.h> does so with units. A key's default is what sw_scenario_init gives it. */
#ifndef STALLWRIGHT_SCENARIO_KEYS_H
#define STALLWRIGHT_SCENARIO_KEYS_H

#include <stallwright/scenario.h>

SW_BEGIN_DECLARATIONS

/** Allowed range, inclusive [SI unit of the quantity]. */
typedef struct sw_range {
    double minimum;
    double maximum;
} sw_range;

/** Which endings a key may hold, and their ranges. */
typedef struct sw_ending_limits {
    sw_range temperature; /**< [K] */
    sw_range duration;    /**< [s] */
    bool may_be_none;
    bool may_be_bark;
    bool may_be_usual;
} sw_ending_limits;

typedef enum sw_key_type {
    SW_KEY_TEXT,     /**< text of at most SW_TEXT_MAX - 1 bytes */
    SW_KEY_CHOICE,   /**< one of some words */
    SW_KEY_SWITCH,   /**< yes or no */
    SW_KEY_WHOLE,    /**< a whole number */
    SW_KEY_VALUE,    /**< a number, of a quantity */
    SW_KEY_ENDING,   /**< how a phase ends */
    SW_KEY_SCHEDULE, /**< the pit's temperature: one value, a list of steps or a measured log */
    SW_KEY_TIMES,    /**< when the pit's lid is opened: none, one time or a list of times */
    SW_KEY_OUTLINE,  /**< the corners of an outline, or none */
    SW_KEY_PROBES,   /**< places of probes, or those that are usual */
    SW_KEY_LEARNED   /**< what was learned of the pit: a file, a group of values, or none */
} sw_key_type;

/** What one standard deviation of an uncertain value does to it. */
typedef enum sw_uncertainty_kind {
    SW_UNCERTAINTY_NONE,       /**< the value is taken as known */
    SW_UNCERTAINTY_DIFFERENCE, /**< value +- deviation */
    SW_UNCERTAINTY_SHARE,      /**< value times 1 +- deviation */
    SW_UNCERTAINTY_FACTOR      /**< value times or over deviation */
} sw_uncertainty_kind;

/** How well cooks know a value. */
typedef struct sw_uncertainty {
    int place; /**< in the order in which inputs are told, from 1: first what a cook measures or sets, then what nobody measures */
    sw_uncertainty_kind kind;
    double deviation;   /**< one standard deviation; of a share and a factor without unit [SI unit of the key] */
    const char *source; /**< where that is from */
} sw_uncertainty;

/** One row of the table. */
typedef struct sw_scenario_key {
    const char *name; /**< dotted, as in a scenario file: "meat.fat_cap.side" */
    sw_key_type type;
    const char *meaning;                    /**< one line */
    sw_quantity quantity;                   /**< of a number: SW_KEY_VALUE and the lists */
    sw_range range;                         /**< of a number [SI unit], SW_KEY_WHOLE included */
    const char *si_unit;                    /**< the unit a number is written in, "" for none */
    const char *us_unit;                    /**< the same in US units */
    const char *(*choice_name)(int choice); /**< SW_KEY_CHOICE: the words, of enumerators 0..choice_count - 1 */
    int choice_count;
    sw_ending_limits ending; /**< SW_KEY_ENDING */
    bool may_be_usual;       /**< SW_KEY_VALUE and SW_KEY_TEXT: it may be left to the cut or the kind of pit, SW_USUAL or
                                  SW_USUAL_WORD */
    sw_uncertainty uncertain; /**< of a number, of an ending's or the pit's temperature, as a scenario states it */
    sw_uncertainty left_open; /**< of what differs from cook to cook: how much, where the scenario leaves it to what is usual and, of
                                   the pit's temperature, where it is set and not logged; kind NONE for all others */
} sw_scenario_key;

/** How long a pit step may start after the meat went on, how long a phase may last [s]. */
#define SW_LONGEST_PHASE (240.0 * 3600.0)

enum { SW_KEY_NAME_SIZE = 64, SW_SCENARIO_NAMES_MAX = 192, SW_KEY_CONDITION_SIZE = 256 };

/** Number of keys, at most SW_SCENARIO_NAMES_MAX. */
SW_API size_t sw_scenario_key_count(void);

/** A key by its number, 0..count - 1, which is the order of a written file. */
SW_API const sw_scenario_key *sw_scenario_key_at(size_t number);

/** A key by its name; NULL if there is none. */
SW_API const sw_scenario_key *sw_scenario_key_find(const char *name);

/** The number of a key in the table. */
SW_API size_t sw_scenario_key_number(const sw_scenario_key *key);

/** Whether the value of a key can change anything that is said of the cook of a scenario. False if it certainly cannot; what
 * happens in the cook may still leave it unused, such as a wrap for which the pull comes too soon. */
SW_API bool sw_scenario_key_counts(const sw_scenario_key *key, const sw_scenario *scenario);

/** When a key counts, in words that follow "counts if": "pit.humidity is balance". Returns text, "" if it always does.
 * @param text room for SW_KEY_CONDITION_SIZE bytes */
SW_API const char *sw_scenario_key_condition(const sw_scenario_key *key, char *text);

/** Whether a key is left to what is usual: SW_USUAL, SW_USUAL_WORD or SW_ENDING_USUAL. */
SW_API bool sw_scenario_key_is_usual(const sw_scenario_key *key, const sw_scenario *scenario);

/** Whether a key, also a list, has the same value in two scenarios. */
SW_API bool sw_scenario_key_same(const sw_scenario_key *key, const sw_scenario *one, const sw_scenario *other);

/** Gives a scenario the value that a key, also a list, has in another. A mass, given in one of two ways, takes the place of the
 * other. */
SW_API void sw_scenario_key_copy(const sw_scenario_key *key, const sw_scenario *from, sw_scenario *to);

/* Values by the name of their key. Each key is checked on its own; sw_scenario_check asks whether they go together. All return
 * SW_OK; SW_ERR_ARGUMENT with a sentence for a name that is no key, a key of another type or a word that is none of its own;
 * SW_ERR_RANGE with a sentence for a value outside its range. What they were to set is unchanged on error. Lists are set in the
 * scenario itself: pit.steps, pit.openings, meat.outline, meat.probes. */

/** Sets a number of SW_KEY_VALUE, SW_KEY_WHOLE or SW_KEY_SCHEDULE, whose one step it becomes [SI unit of the key's quantity]. */
SW_API sw_status sw_scenario_set_number(sw_context *context, sw_scenario *scenario, const char *name, double number);

/** Reads such a number. A schedule of several steps is no number: SW_ERR_ARGUMENT. */
SW_API sw_status sw_scenario_number(sw_context *context, const sw_scenario *scenario, const char *name, double *number);

/** Sets text of SW_KEY_TEXT, or the word of SW_KEY_CHOICE or SW_KEY_SWITCH ("yes", "no"). */
SW_API sw_status sw_scenario_set_word(sw_context *context, sw_scenario *scenario, const char *name, const char *word);

/** Reads such text or word; *word lives as long as the scenario does. */
SW_API sw_status sw_scenario_word(sw_context *context, const sw_scenario *scenario, const char *name, const char **word);

/** Sets how a phase ends: SW_KEY_ENDING. */
SW_API sw_status sw_scenario_set_ending(sw_context *context, sw_scenario *scenario, const char *name, sw_ending ending);

/** Reads how a phase ends. */
SW_API sw_status sw_scenario_ending(sw_context *context, const sw_scenario *scenario, const char *name, sw_ending *ending);

SW_END_DECLARATIONS

#endif
