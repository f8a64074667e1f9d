/* The verdicts of food safety in words, each with figure, limit, margin and rule, rounded to the safe side. */
#ifndef SW_APPS_FOOD_SAFETY_H
#define SW_APPS_FOOD_SAFETY_H

#include <stallwright/stallwright.h>

#include <stdbool.h>

/* Prints what is not met, beginning with WARNING, and how many rules are met; verbose: every verdict. */
void print_food_safety(const sw_safety *safety, sw_unit_system units, bool verbose);

/* Least temperature of food that is kept hot, never rounded down; text: QUANTITY_SIZE. */
const char *show_hot_holding_limit(sw_unit_system units, char *text);

/* A finding as one sentence, one that is not met beginning with WARNING and the label, which may be NULL. */
enum { SAFETY_TEXT_SIZE = 960 };
const char *show_safety_finding(sw_safety_rule rule, const sw_safety_finding *finding, const char *label, sw_unit_system units,
                                char text[SAFETY_TEXT_SIZE]);

/* The rules that are not met and not implied by another of them; how many. */
size_t safety_warnings(const sw_safety *safety, sw_safety_rule rules[SW_SAFETY_RULE_COUNT]);

/* Prints what is not met, beginning with WARNING and the label; leaves out what a warning already printed implies. */
void print_safety_warnings(const sw_safety *safety, const char *label, sw_unit_system units);

/* One sentence that defers to those who decide. */
extern const char safety_deference[];
void print_safety_deference(void);

#endif
