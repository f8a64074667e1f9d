/* SPDX-License-Identifier: BSD-3-Clause */
/* One factor of a study: a key of a scenario and the values it takes. A value is kept as the bytes that the key has in a
 * scenario, so any key can be a factor. */
#ifndef SW_STUDY_FACTOR_H
#define SW_STUDY_FACTOR_H

#include "key_table.h"

#include <stallwright/study.h>

typedef struct sw_factor {
    const sw_scenario_key *key;
    sw_factor_kind kind;
    size_t count, room;    /* of listed values; of a distribution the one value that its numbers are put into */
    unsigned char *values; /* count times the size of the key's field */
    char **labels;         /* count */
    double first, second;  /* of a distribution */
} sw_factor;

void sw_factor_free(sw_factor *factor);

/* Adds the value of the holder. SW_OK, SW_ERR_ARGUMENT (there already, too many), SW_ERR_MEMORY. */
sw_status sw_factor_add(sw_context *context, sw_factor *factor, const sw_scenario *holder, const char *label);

/* Whether the values are numbers of one quantity; if so, which. */
bool sw_factor_quantity(const sw_factor *factor, sw_quantity *quantity);

/* Number of a listed value; its place in the list if the values are words. */
double sw_factor_number(const sw_factor *factor, size_t value);

/* Gives a scenario the listed value, or the number of a distribution. */
void sw_factor_apply(const sw_factor *factor, size_t value, sw_scenario *scenario);
void sw_factor_apply_number(const sw_factor *factor, double number, sw_scenario *scenario);

#endif
