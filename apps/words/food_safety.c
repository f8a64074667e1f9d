/* SPDX-License-Identifier: BSD-3-Clause */
#include "food_safety.h"

#include "quantity.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

enum { STATEMENT_SIZE = SAFETY_TEXT_SIZE / 2, LINE_WIDTH = 79 };

const char safety_deference[] = "This can warn but never promise: local food codes and licensed practice come first.";

/* What a rule is about, for those that were not assessed. */
static const char *const subjects[SW_SAFETY_RULE_COUNT] = {
    [SW_SAFETY_raw_storage] = "raw storage",
    [SW_SAFETY_pit_heat] = "heat of the pit",
    [SW_SAFETY_come_up] = "time to warm up",
    [SW_SAFETY_warm_hours] = "hours in the warm",
    [SW_SAFETY_lethality_6_5_log] = "Salmonella, 6.5 powers of ten",
    [SW_SAFETY_lethality_7_log] = "Salmonella, 7 powers of ten",
    [SW_SAFETY_lethality_roast] = "Salmonella in roasts",
    [SW_SAFETY_lethality_check] = "Salmonella, by D and z",
    [SW_SAFETY_fall_back] = "cooling down on the pit",
    [SW_SAFETY_hot_holding] = "hot holding",
    [SW_SAFETY_hot_holding_roast] = "hot holding of roasts",
    [SW_SAFETY_hot_holding_fsis] = "hot holding by FSIS",
    [SW_SAFETY_holding_place] = "place of the hold",
    [SW_SAFETY_cooling_first] = "cooling",
    [SW_SAFETY_cooling_whole] = "cooling",
    [SW_SAFETY_cooling_first_fsis] = "cooling",
    [SW_SAFETY_cooling_second_fsis] = "cooling",
};

/* Length of what must stay on one line: a word, or a number with its units. */
static int word_length(const char *text)
{
    size_t length = strcspn(text, " ");
    /* "5 h 33 min": a space between digits and letters, either way round, in something that began with a digit. */
    while (isdigit((unsigned char)text[0]) && text[length] == ' ' &&
           ((isdigit((unsigned char)text[length - 1]) && isalpha((unsigned char)text[length + 1])) ||
            (isalpha((unsigned char)text[length - 1]) && isdigit((unsigned char)text[length + 1]))))
        length += 1 + strcspn(text + length + 1, " ");
    return (int)length;
}

/* Prints words from line to line, the later ones indented. */
static void print_wrapped(const char *text, int indent)
{
    int column = 0;
    while (*text) {
        int word = word_length(text);
        if (column > indent && column + 1 + word > LINE_WIDTH) {
            printf("\n%*s", indent, "");
            column = indent;
        } else if (column > 0 && column != indent) {
            putchar(' ');
            column++;
        }
        printf("%.*s", word, text);
        column += word;
        text += word;
        text += strspn(text, " ");
    }
    putchar('\n');
}

/* Least times of the dwell tables run from seconds to hours; rounded up. */
static const char *least_time(double seconds, char *text)
{
    if (seconds >= 600.0)
        return show_duration_rounded_up(seconds, text);
    snprintf(text, QUANTITY_SIZE, "%.0f s", seconds);
    return text;
}

static void state_dwell(const sw_safety_finding *f, const char *what, sw_unit_system units, char *text)
{
    char down[QUANTITY_SIZE], up[QUANTITY_SIZE], held[QUANTITY_SIZE], least[QUANTITY_SIZE];
    snprintf(text, STATEMENT_SIZE, "%s%s: all of the meat is at %s or more for %s; at %s the least is %s",
             f->verdict == SW_VERDICT_NOT_MET ? "NOT COOKED. " : "", what,
             show_temperature_rounded_down(f->temperature, units, down), show_duration_rounded_down(f->figure, held),
             show_temperature_rounded_up(f->temperature, units, up), least_time(f->limit, least));
}

static void state_check(const sw_safety_finding *f, char *text)
{
    char powers[QUANTITY_SIZE];
    if (f->figure > 100.0)
        snprintf(powers, sizeof powers, "over 100");
    else
        show_number_rounded_down(f->figure, powers);
    snprintf(text, STATEMENT_SIZE, "Salmonella, by D and z: %s powers of ten; the least is %.1f%s", powers, f->limit,
             f->beyond_fit ? "; heat below the fitted range does not count, heat above it counts as at its upper end" : "");
}

/* A band, widened by rounding. */
static void state_band(sw_safety_rule rule, const sw_safety_finding *f, const char *what, sw_unit_system units,
                       char *text)
{
    char low[QUANTITY_SIZE], high[QUANTITY_SIZE], figure[QUANTITY_SIZE], limit[QUANTITY_SIZE];
    sw_safety_band band = sw_safety_rule_band(rule);
    int length = snprintf(text, STATEMENT_SIZE, "%s: the slowest place is between %s and %s for %s", what,
                          show_temperature_rounded_down(band.low, units, low),
                          show_temperature_rounded_up(band.high, units, high),
                          show_duration_rounded_up(f->figure, figure));
    if (!SW_IS_ABSENT(f->limit))
        snprintf(text + length, STATEMENT_SIZE - (size_t)length, "; the most is %s", show_duration(f->limit, limit));
}

static void state_lowest(const sw_safety_finding *f, const char *what, sw_unit_system units, char *text)
{
    char figure[QUANTITY_SIZE], limit[QUANTITY_SIZE], below[QUANTITY_SIZE];
    int length = snprintf(text, STATEMENT_SIZE, "%s is at %s; the least is %s", what,
                          show_temperature_rounded_down(f->figure, units, figure),
                          show_temperature_rounded_up(f->limit, units, limit));
    if (f->below > 0.0)
        snprintf(text + length, STATEMENT_SIZE - (size_t)length, ", and it is below that for %s",
                 show_duration_rounded_up(f->below, below));
}

static void state(sw_safety_rule rule, const sw_safety_finding *f, sw_unit_system units, char *text)
{
    char a[QUANTITY_SIZE], b[QUANTITY_SIZE];
    switch (rule) {
    case SW_SAFETY_raw_storage:
        snprintf(text, STATEMENT_SIZE, "the meat goes on at %s; raw meat is kept at %s or less",
                 show_temperature_rounded_up(f->figure, units, a), show_temperature_rounded_down(f->limit, units, b));
        break;
    case SW_SAFETY_pit_heat:
        state_lowest(f, "the pit at its coolest", units, text);
        break;
    case SW_SAFETY_lethality_6_5_log:
    case SW_SAFETY_lethality_7_log:
    case SW_SAFETY_lethality_roast:
        state_dwell(f, subjects[rule], units, text);
        break;
    case SW_SAFETY_lethality_check:
        state_check(f, text);
        break;
    case SW_SAFETY_fall_back:
        state_lowest(f, "once hot, the coolest place on the pit", units, text);
        break;
    case SW_SAFETY_hot_holding:
        state_lowest(f, "from the pull on the coolest place", units, text);
        break;
    case SW_SAFETY_hot_holding_roast:
        state_lowest(f, "for a roast cooked by the Code's table: the coolest place", units, text);
        break;
    case SW_SAFETY_hot_holding_fsis:
        state_lowest(f, "by FSIS: the coolest place", units, text);
        break;
    case SW_SAFETY_holding_place:
        state_lowest(f, "the hold", units, text);
        break;
    default:
        state_band(rule, f, subjects[rule], units, text);
        break;
    }
}

/* What is to spare, rounded down, or lacking, rounded up. */
static const char *margin_text(sw_safety_rule rule, const sw_safety_finding *f, sw_unit_system units, char *text)
{
    const double size = fabs(f->margin);
    const bool met = f->verdict == SW_VERDICT_MET;
    switch (sw_safety_rule_unit(rule)[0]) {
    case 's':
        return met ? show_duration_rounded_down(size, text) : show_duration_rounded_up(size, text);
    case 'K':
        return met ? show_temperature_difference_rounded_down(size, units, text)
                   : show_temperature_difference_rounded_up(size, units, text);
    default:
        if (size > 100.0)
            snprintf(text, QUANTITY_SIZE, "over 100");
        else if (met)
            show_number_rounded_down(size, text);
        else
            show_number_rounded_up(size, text);
        return text;
    }
}

/* The Code's rule on ovens is broken, and the one on the meat is kept. */
static bool is_cool_oven(sw_safety_rule rule, const sw_safety *safety)
{
    return rule == SW_SAFETY_pit_heat && safety->findings[SW_SAFETY_pit_heat].verdict == SW_VERDICT_NOT_MET &&
           safety->findings[SW_SAFETY_lethality_roast].verdict == SW_VERDICT_MET;
}

/* What a pit that is cooler than the Code's ovens means for a cook who brings whole meat far beyond the Code's table.
 * Sources: docs/theory/safety.md. */
static void say_cool_oven(const sw_safety *safety, sw_unit_system units, char *text, size_t size)
{
    const sw_safety_finding *roast = &safety->findings[SW_SAFETY_lethality_roast];
    char down[QUANTITY_SIZE];
    snprintf(text, size,
             " This is the Code's rule on the oven. Its rule on the meat, (B)(2), is met: all of it stays at %s or more for "
             "long enough. The Code requires both, and no clause lets hotter meat make up for a cooler oven. So the meat is "
             "cooked by the Code's table, but this rule is still not met: if you cook for others, ask your local food "
             "authority first. The reason for the rule: on a drying surface germs may survive more heat. At this heat or "
             "less the Code also accepts air over 90 %% humid for 1 h, or a sealed bag; it does not say whether folded foil "
             "is one. FSIS, another authority, for inspected plants, accepts its own table for dry pits, as a gap with that "
             "weakness; that does not change the Code's rule.",
             show_temperature_rounded_down(roast->temperature, units, down));
}

const char *show_safety_finding(sw_safety_rule rule, const sw_safety *safety, const char *label, sw_unit_system units,
                                char text[SAFETY_TEXT_SIZE])
{
    char statement[STATEMENT_SIZE], margin[QUANTITY_SIZE];
    const sw_safety_finding *f = &safety->findings[rule];
    const char *source = sw_safety_rule_source(rule);
    const bool is_known = !SW_IS_ABSENT(f->figure), cool_oven = is_cool_oven(rule, safety);
    if (is_known)
        state(rule, f, units, statement);
    if (f->verdict == SW_VERDICT_NOT_MET) {
        int length = snprintf(text, SAFETY_TEXT_SIZE, "%s%s%s%s: %s. Short by %s (%s).", cool_oven ? "NOT MET" : "WARNING",
                              label ? ", " : "", label ? label : "", cool_oven ? "" : ", not met", statement,
                              margin_text(rule, f, units, margin), source);
        if (cool_oven)
            say_cool_oven(safety, units, text + length, SAFETY_TEXT_SIZE - (size_t)length);
    } else if (f->verdict == SW_VERDICT_MET) {
        snprintf(text, SAFETY_TEXT_SIZE, "met: %s. To spare: %s (%s).", statement, margin_text(rule, f, units, margin),
                 source);
    } else {
        snprintf(text, SAFETY_TEXT_SIZE, "not assessed: %s. The reason: %s.", is_known ? statement : subjects[rule],
                 f->reason);
    }
    return text;
}

static void print_finding(sw_safety_rule rule, const sw_safety *safety, const char *label, sw_unit_system units)
{
    char text[SAFETY_TEXT_SIZE];
    print_wrapped(show_safety_finding(rule, safety, label, units, text), 2);
}

/* The four rules of cooling that were not asked for are one line. */
static bool says_the_same(const sw_safety *safety, int rule)
{
    if (rule == 0)
        return false;
    const sw_safety_finding *f = &safety->findings[rule], *before = f - 1;
    return f->verdict == SW_VERDICT_NOT_ASSESSED && before->verdict == SW_VERDICT_NOT_ASSESSED &&
           SW_IS_ABSENT(f->figure) && strcmp(subjects[rule], subjects[rule - 1]) == 0 &&
           strcmp(f->reason, before->reason) == 0;
}

/* Of the rules that a missing phase leaves open, the first stands for all. */
static bool is_first_lacking(const sw_safety *safety, int rule)
{
    const sw_safety_finding *f = safety->findings;
    for (int i = 0; i < rule; i++)
        if (f[i].lacks_phase && f[rule].lacks_phase && strcmp(f[i].reason, f[rule].reason) == 0)
            return false;
    return f[rule].lacks_phase;
}

/* One line for all that are met or not assessed, so that those not met are seen. */
static void print_count(const sw_safety *safety)
{
    int met = 0, assessed = 0;
    for (int i = 0; i < SW_SAFETY_RULE_COUNT; i++) {
        met += safety->findings[i].verdict == SW_VERDICT_MET;
        assessed += safety->findings[i].verdict != SW_VERDICT_NOT_ASSESSED;
    }
    printf("%d of %d rules of the FDA Food Code and of FSIS are met; --verbose shows each.\n", met, assessed);
}

void print_food_safety(const sw_safety *safety, sw_unit_system units, bool verbose)
{
    printf("Food safety, at the worst place in the meat\n");
    for (int i = 0; i < SW_SAFETY_RULE_COUNT; i++)
        if (!says_the_same(safety, i) && !is_cool_oven((sw_safety_rule)i, safety) &&
            (verbose || safety->findings[i].verdict == SW_VERDICT_NOT_MET || is_first_lacking(safety, i)))
            print_finding((sw_safety_rule)i, safety, NULL, units);
    if (is_cool_oven(SW_SAFETY_pit_heat, safety)) /* at length, so after what is more urgent */
        print_finding(SW_SAFETY_pit_heat, safety, NULL, units);
    if (!verbose)
        print_count(safety);
    print_safety_deference();
}

static bool is_broken(const sw_safety *safety, sw_safety_rule rule)
{
    return safety->findings[rule].verdict == SW_VERDICT_NOT_MET;
}

static bool is_implied(const sw_safety *safety, sw_safety_rule rule)
{
    switch (rule) {
    case SW_SAFETY_lethality_7_log:
    case SW_SAFETY_lethality_roast:
    case SW_SAFETY_lethality_check:
        return is_broken(safety, SW_SAFETY_lethality_6_5_log);
    case SW_SAFETY_hot_holding_roast:
    case SW_SAFETY_hot_holding_fsis:
        return is_broken(safety, SW_SAFETY_hot_holding);
    default:
        return false;
    }
}

static bool warns(const sw_safety *safety, sw_safety_rule rule)
{
    return is_broken(safety, rule) && !is_implied(safety, rule);
}

/* Whether a warning is the same in words, in both systems of units. */
static bool sounds_the_same(const sw_safety *a, const sw_safety *b, sw_safety_rule rule)
{
    char first[SAFETY_TEXT_SIZE], second[SAFETY_TEXT_SIZE];
    bool same = true;
    for (int units = SW_UNITS_SI; units <= SW_UNITS_US && same; units++)
        same = strcmp(show_safety_finding(rule, a, NULL, (sw_unit_system)units, first),
                      show_safety_finding(rule, b, NULL, (sw_unit_system)units, second)) == 0;
    return same;
}

/* Whether a warning about one cook holds for another: the pit is that of all, and the coolest is told. */
static bool covers(const sw_safety *told, const sw_safety *other, sw_safety_rule rule)
{
    if (!warns(other, rule))
        return false;
    if (rule == SW_SAFETY_pit_heat)
        return is_cool_oven(rule, told) == is_cool_oven(rule, other) &&
               told->findings[SW_SAFETY_lethality_roast].temperature == other->findings[SW_SAFETY_lethality_roast].temperature;
    return sounds_the_same(told, other, rule);
}

static void name_cooks(const judged_cook *cooks, const bool *named, size_t count, char *label, size_t size)
{
    size_t of = 0, said = 0, length = 0;
    for (size_t i = 0; i < count; i++)
        of += named[i];
    label[0] = '\0';
    for (size_t i = 0; i < count && length < size; i++)
        if (named[i]) {
            length += (size_t)snprintf(label + length, size - length, "%s%s", said == 0 ? "" : said + 1 < of ? ", " : " and ",
                                       cooks[i].label);
            said++;
        }
    if (of == count || length >= size)
        snprintf(label, size, of == count ? "all choices" : "%zu of %zu choices", of, count);
    if (count == 1)
        label[0] = '\0';
}

/* The cook in which the pit gets the coolest of those named. */
static const sw_safety *coolest_pit(const judged_cook *cooks, const bool *named, size_t count)
{
    const sw_safety *coolest = NULL;
    for (size_t i = 0; i < count; i++)
        if (named[i] && (!coolest || cooks[i].safety->findings[SW_SAFETY_pit_heat].figure <
                                         coolest->findings[SW_SAFETY_pit_heat].figure))
            coolest = cooks[i].safety;
    return coolest;
}

/* Adds the warnings of one rule. */
static size_t warn_of(sw_safety_rule rule, const judged_cook *cooks, size_t count, safety_warning *warnings)
{
    size_t found = 0;
    bool done[JUDGED_MAX] = {false};
    for (size_t i = 0; i < count; i++) {
        bool named[JUDGED_MAX] = {false};
        if (done[i] || !warns(cooks[i].safety, rule))
            continue;
        for (size_t k = i; k < count; k++)
            if (!done[k] && covers(cooks[i].safety, cooks[k].safety, rule))
                named[k] = done[k] = true;
        safety_warning *w = &warnings[found++];
        *w = (safety_warning){.rule = rule, .safety = cooks[i].safety};
        if (rule == SW_SAFETY_pit_heat)
            w->safety = coolest_pit(cooks, named, count);
        name_cooks(cooks, named, count, w->label, sizeof w->label);
    }
    return found;
}

size_t safety_warnings(const judged_cook *cooks, size_t count, safety_warning *warnings)
{
    size_t found = 0;
    for (int i = 0; i < SW_SAFETY_RULE_COUNT; i++)
        if (i != SW_SAFETY_pit_heat)
            found += warn_of((sw_safety_rule)i, cooks, count, warnings + found);
    return found + warn_of(SW_SAFETY_pit_heat, cooks, count, warnings + found);
}

const char *safety_subject(sw_safety_rule rule)
{
    return subjects[rule];
}

bool is_oven_only(const safety_warning *w)
{
    return is_cool_oven(w->rule, w->safety);
}

void print_safety_warnings(const judged_cook *cooks, size_t count, sw_unit_system units)
{
    static safety_warning warnings[JUDGED_MAX * SW_SAFETY_RULE_COUNT];
    const size_t found = safety_warnings(cooks, count, warnings);
    for (size_t i = 0; i < found; i++)
        print_finding(warnings[i].rule, warnings[i].safety, warnings[i].label[0] ? warnings[i].label : NULL, units);
}

const char *show_hot_holding_limit(sw_unit_system units, char *text)
{
    return show_temperature_rounded_up(sw_hot_holding_limit(), units, text);
}

void print_safety_deference(void)
{
    print_wrapped(safety_deference, 0);
}
