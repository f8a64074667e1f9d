/* The one table of everything a scenario may hold, with its allowed range: it drives checking, and in files reading,
 * setting single values, writing and the reference in docs/scenario.md. A new field of sw_scenario becomes a key by one entry here. */
#ifndef SW_SCENARIO_KEYS_H
#define SW_SCENARIO_KEYS_H

#include <stallwright/scenario.h>

/* Allowed range, inclusive [SI unit of the quantity]. */
typedef struct sw_range {
    double minimum;
    double maximum;
} sw_range;

/* Which endings may be written, and their ranges. */
typedef struct sw_ending_limits {
    sw_range temperature; /* [K] */
    sw_range duration;    /* [s] */
    bool may_be_none;
    bool may_be_bark;
    bool may_be_usual;
} sw_ending_limits;

typedef enum sw_key_type {
    SW_KEY_TEXT,    /* char[SW_TEXT_MAX] */
    SW_KEY_CHOICE,  /* an enum with names */
    SW_KEY_SWITCH,  /* bool: yes or no */
    SW_KEY_WHOLE,   /* int */
    SW_KEY_VALUE,   /* double, of a quantity */
    SW_KEY_ENDING,  /* sw_ending */
    SW_KEY_SCHEDULE, /* the pit's temperature: one value, a list of steps or a file of them; sw_pit */
    SW_KEY_TIMES,    /* when the pit's lid is opened: none, one time or a list of times; sw_pit */
    SW_KEY_OUTLINE,  /* none, a file of points, or a list of them; sw_meat */
    SW_KEY_PROBES    /* usual, or a list of places; sw_meat */
} sw_key_type;

typedef struct sw_scenario_key {
    const char *name; /* dotted */
    sw_key_type type;
    size_t offset;        /* in sw_scenario */
    const char *meaning;  /* one line, for comments and the reference */
    sw_quantity quantity; /* SW_KEY_VALUE, SW_KEY_SCHEDULE */
    sw_range range;       /* SW_KEY_VALUE and SW_KEY_SCHEDULE [SI unit], SW_KEY_WHOLE */
    const char *si_unit;  /* SW_KEY_VALUE and SW_KEY_SCHEDULE: the unit it is written in, "" for none */
    const char *us_unit;
    const char *(*choice_name)(int choice); /* SW_KEY_CHOICE */
    int choice_count;
    sw_ending_limits ending; /* SW_KEY_ENDING */
} sw_scenario_key;

/* How long a pit step may start after the meat went on, how long a phase may last [s]. */
#define SW_LONGEST_PHASE (240.0 * 3600.0)

enum { SW_KEY_NAME_SIZE = 64, SW_SCENARIO_NAMES_MAX = 192 };

size_t sw_scenario_key_count(void);

/* number 0..count - 1; the order of a written file. */
const sw_scenario_key *sw_scenario_key_at(size_t number);

/* NULL if there is no such key. */
const sw_scenario_key *sw_scenario_key_find(const char *name);

/* Number of the key in the table. */
size_t sw_scenario_key_number(const sw_scenario_key *key);

/* A mass is said in one of two ways: the one just given takes the place of the other. */
void sw_scenario_key_given(const sw_scenario_key *key, sw_scenario *scenario);

/* Number of a group that holds keys ("meat", "meat.composition"), below SW_SCENARIO_NAMES_MAX; -1 if there is none. */
int sw_scenario_group_number(const char *name);

/* A group of keys: its dotted name and one line on it, for comments. */
typedef struct sw_group_of_keys {
    const char *name;
    const char *meaning;
} sw_group_of_keys;

/* NULL past the last group. */
const sw_group_of_keys *sw_scenario_group_at(size_t number);

/* Limits of an ending that belongs to no key. */
sw_ending_limits sw_ending_limits_default(void);

#endif
