/* SPDX-License-Identifier: BSD-3-Clause */
/* The verdicts of food safety in words, each with figure, limit, margin and rule, rounded to the safe side. */
#ifndef SW_APPS_FOOD_SAFETY_H
#define SW_APPS_FOOD_SAFETY_H

#include <stallwright/everything.h>

#include <stdbool.h>

/* Prints what is not met, beginning with WARNING, and how many rules are met; verbose: every verdict. */
void print_food_safety(const sw_safety *safety, sw_unit_system units, bool verbose);

/* Least temperature of food that is kept hot, never rounded down; text: QUANTITY_SIZE. */
const char *show_hot_holding_limit(sw_unit_system units, char *text);

/* A finding in words, one that is not met beginning with WARNING and the label, which may be NULL. The safety is that of the
 * cook: a pit that is cooler than the Code's ovens begins with NOT MET instead if the meat is cooked through by the Code's
 * table, and says what that means. */
enum { SAFETY_TEXT_SIZE = 1600 };
const char *show_safety_finding(sw_safety_rule rule, const sw_safety *safety, const char *label, sw_unit_system units,
                                char text[SAFETY_TEXT_SIZE]);

/* A cook as it is called; of at most so many. */
enum { JUDGED_MAX = 64 };
typedef struct judged_cook {
    const char *label;
    const sw_safety *safety;
} judged_cook;

/* What is not met, the same words said once for all cooks that they hold for. */
typedef struct safety_warning {
    sw_safety_rule rule;
    const sw_safety *safety; /* of the first of them, or of the worst */
    char label[160];         /* which; empty for a single cook */
} safety_warning;

/* The rules that are not met and not implied by another of the same cook; the pit's, which holds for all, comes last. At most
 * SW_SAFETY_RULE_COUNT for each cook; how many. */
size_t safety_warnings(const judged_cook *cooks, size_t count, safety_warning *warnings);

/* What a rule is about, in a few words. */
const char *safety_subject(sw_safety_rule rule);

/* Whether it says that the oven is too cool for the Code, of meat that is cooked. */
bool is_oven_only(const safety_warning *warning);

/* Prints the warnings of cooks. */
void print_safety_warnings(const judged_cook *cooks, size_t count, sw_unit_system units);

/* One sentence that defers to those who decide. */
extern const char safety_deference[];
void print_safety_deference(void);

#endif
