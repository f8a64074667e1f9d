#include "food_safety.h"

#include "quantity.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

enum { STATEMENT_SIZE = SAFETY_TEXT_SIZE / 2, LINE_WIDTH = 79 };

const char safety_deference[] = "This warns, it never promises: local food codes and licensed practice come first.";

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
             f->beyond_fit ? "; heat outside the fitted range counted as none or as its end" : "");
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

const char *show_safety_finding(sw_safety_rule rule, const sw_safety_finding *f, const char *label, sw_unit_system units,
                                char text[SAFETY_TEXT_SIZE])
{
    char statement[STATEMENT_SIZE], margin[QUANTITY_SIZE];
    const char *source = sw_safety_rule_source(rule);
    const bool is_known = !SW_IS_ABSENT(f->figure);
    if (is_known)
        state(rule, f, units, statement);
    if (f->verdict == SW_VERDICT_NOT_MET)
        snprintf(text, SAFETY_TEXT_SIZE, "WARNING%s%s, not met: %s. Short by %s (%s).", label ? ", " : "",
                 label ? label : "", statement, margin_text(rule, f, units, margin), source);
    else if (f->verdict == SW_VERDICT_MET)
        snprintf(text, SAFETY_TEXT_SIZE, "met: %s. To spare: %s (%s).", statement, margin_text(rule, f, units, margin),
                 source);
    else if (is_known)
        snprintf(text, SAFETY_TEXT_SIZE, "not assessed: %s. The reason: %s.", statement, f->reason);
    else
        snprintf(text, SAFETY_TEXT_SIZE, "not assessed: %s. The reason: %s.", subjects[rule], f->reason);
    return text;
}

static void print_finding(sw_safety_rule rule, const sw_safety_finding *f, const char *label, sw_unit_system units)
{
    char text[SAFETY_TEXT_SIZE];
    print_wrapped(show_safety_finding(rule, f, label, units, text), 2);
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
    printf("%d of %d rules of the FDA Food Code and of FSIS are met; --verbose tells each.\n", met, assessed);
}

void print_food_safety(const sw_safety *safety, sw_unit_system units, bool verbose)
{
    printf("Food safety, at the worst place in the meat\n");
    for (int i = 0; i < SW_SAFETY_RULE_COUNT; i++)
        if (!says_the_same(safety, i) && (verbose || safety->findings[i].verdict == SW_VERDICT_NOT_MET ||
                                          is_first_lacking(safety, i)))
            print_finding((sw_safety_rule)i, &safety->findings[i], NULL, units);
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

size_t safety_warnings(const sw_safety *safety, sw_safety_rule rules[SW_SAFETY_RULE_COUNT])
{
    size_t count = 0;
    for (int i = 0; i < SW_SAFETY_RULE_COUNT; i++)
        if (is_broken(safety, (sw_safety_rule)i) && !is_implied(safety, (sw_safety_rule)i))
            rules[count++] = (sw_safety_rule)i;
    return count;
}

void print_safety_warnings(const sw_safety *safety, const char *label, sw_unit_system units)
{
    sw_safety_rule rules[SW_SAFETY_RULE_COUNT];
    const size_t count = safety_warnings(safety, rules);
    for (size_t i = 0; i < count; i++)
        print_finding(rules[i], &safety->findings[rules[i]], label, units);
}

const char *show_hot_holding_limit(sw_unit_system units, char *text)
{
    return show_temperature_rounded_up(sw_hot_holding_limit(), units, text);
}

void print_safety_deference(void)
{
    print_wrapped(safety_deference, 0);
}
