/* SPDX-License-Identifier: BSD-3-Clause */
/* The numbers of what is learned of a pit: what each is called in a file, measures and may be. */
#ifndef SW_PIT_LEARNED_H
#define SW_PIT_LEARNED_H

#include <stallwright/scenario_keys.h>

typedef struct sw_learned_number {
    const char *name;
    size_t offset; /* in sw_pit_learned */
    sw_quantity quantity;
    const char *si_unit, *us_unit;
    sw_range range;
    const char *meaning;
} sw_learned_number;

enum { SW_LEARNED_NUMBERS = 9, SW_LEARNED_COOKS_MAX = 10000 };

extern const sw_learned_number sw_learned_numbers[SW_LEARNED_NUMBERS];

/* Checks what was learned: a count of cooks, numbers in their ranges, correlations that can be together. */
sw_status sw_check_learned(sw_context *context, const char *name, const sw_pit_learned *learned);

#endif
