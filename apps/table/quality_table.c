/* SPDX-License-Identifier: BSD-3-Clause */
#include "quality_table.h"

#include "quantity.h"
#include "table.h"

#include <stallwright/wrap_traits.h>

#include <math.h>

const char *show_index(double index, char *text)
{
    snprintf(text, QUANTITY_SIZE, SW_IS_ABSENT(index) ? "-" : "%.2f", index);
    return text;
}

static const char *show_percent(double share, char *text)
{
    snprintf(text, QUANTITY_SIZE, SW_IS_ABSENT(share) ? "-" : "%.0f %%", 100.0 * share);
    return text;
}

const char *show_tenderness(const sw_outcome *o, char *text)
{
    static const char *const short_names[] = {"-", "no", "unlikely", "likely", "yes"};
    if (o->tenderness == SW_TENDERNESS_UNKNOWN)
        return short_names[0];
    snprintf(text, QUANTITY_SIZE, "%s, %.0f %%", short_names[o->tenderness], 100.0 * o->probe_collagen);
    return text;
}

const char *show_softening(double softening)
{
    if (SW_IS_ABSENT(softening))
        return "-";
    return softening > 0.75 ? "goes soft" : softening > 0.25 ? "softens" : "stays";
}

const char *show_kept(const sw_outcome *o, sw_unit_system units, char *text)
{
    return show_mass(o->kept_juice_mass + o->kept_fat_mass, units, text);
}

/* Half a serving feeds nobody. */
const char *show_servings(double servings, char *text)
{
    snprintf(text, QUANTITY_SIZE, SW_IS_ABSENT(servings) ? "-" : "%.0f", floor(servings));
    return text;
}

static void print_tenderness(const sw_run *run, sw_unit_system units)
{
    const sw_outcome *o = &run->outcome;
    const sw_reaction_outcome *collagen = &o->reactions[SW_REACTION_COLLAGEN];
    const sw_reaction_law *law = sw_reaction_law_of(SW_REACTION_COLLAGEN);
    char text[QUANTITY_SIZE], low[QUANTITY_SIZE], high[QUANTITY_SIZE], most[QUANTITY_SIZE], line[4 * QUANTITY_SIZE];
    table t = {0};
    printf("\nTender? At the probe, when sliced: %s.\n", sw_tenderness_name(o->tenderness));
    table_set(&t, 0, 0, "  collagen gone to gelatin, at the probe");
    snprintf(line, sizeof line, "%s (%s to %s)", show_percent(o->probe_collagen, text),
             show_percent(o->probe_collagen_low, low), show_percent(o->probe_collagen_high, high));
    table_set(&t, 0, 1, line);
    table_set(&t, 1, 0, "  at the pull");
    table_set(&t, 1, 1, show_percent(o->probe_collagen_at_pull, text));
    table_set(&t, 2, 0, "  in the meat: least, mean, most");
    snprintf(line, sizeof line, "%s, %s, %s", show_percent(collagen->least, low), show_percent(collagen->mean, text),
             show_percent(collagen->most, most));
    table_set(&t, 2, 1, line);
    snprintf(line, sizeof line, "  passed %s, which counts as tender", show_percent(SW_TENDER_COLLAGEN, text));
    table_set(&t, 3, 0, line);
    if (SW_IS_ABSENT(o->tender_time))
        snprintf(line, sizeof line, "never");
    else
        snprintf(line, sizeof line, "after %s", show_duration(o->tender_time, text));
    table_set(&t, 3, 1, line);
    table_print(&t, true, stdout);
    printf("(In brackets: if the collagen goes %.0f times slower or faster, as it may.)\n", law->uncertainty);
    if (collagen->probe_outside > 0.1)
        printf("(NOTE: %s of that happened outside %s to %s, the range of data.)\n",
               show_percent(collagen->probe_outside, text), show_temperature(law->lowest_temperature, units, low),
               show_temperature(law->highest_temperature, units, high));
}

static void print_bark(const sw_run *run)
{
    const sw_outcome *o = &run->outcome;
    const bool wrapped = !SW_IS_ABSENT(o->wrap_time);
    char text[QUANTITY_SIZE];
    table t = {.has_heading = true};
    size_t row = 0, column;
    const char *const headings[] = {"Bark", "open to smoke", "dry at wrap", "dry at pull", "dry sliced", "browned", "bark"};
    for (size_t i = column = 0; i < sizeof headings / sizeof *headings; i++)
        if (i != 2 || wrapped)
            table_set(&t, 0, column++, headings[i]);
    for (int i = 0; i < SW_SIDE_COUNT; i++) {
        const sw_side_outcome *side = &o->sides[i];
        if (SW_IS_ABSENT(side->area))
            continue;
        snprintf(text, sizeof text, "  %s", i == SW_SIDE_END ? "ends" : sw_side_name((sw_side)i));
        table_set(&t, ++row, column = 0, text);
        table_set(&t, row, ++column, show_duration(side->open_time, text));
        if (wrapped)
            table_set(&t, row, ++column, show_index(side->dryness_at_wrap, text));
        table_set(&t, row, ++column, show_index(side->dryness_at_pull, text));
        table_set(&t, row, ++column, show_index(side->dryness_at_end, text));
        table_set(&t, row, ++column, show_index(side->browning, text));
        table_set(&t, row, ++column, show_index(side->bark, text));
    }
    printf("\n");
    table_print(&t, false, stdout);
    printf("(Indices from 0 to 1, to compare cooks with: no measure of taste or colour.");
    if (wrapped && !SW_IS_ABSENT(o->softening))
        printf("\nIn the wrap the bark %s.", show_softening(o->softening));
    printf(")\n");
}

/* What kept the juice: the last wrap that holds a pool. */
static const char *keeper(const sw_run *run)
{
    const sw_history *h = run->history;
    const sw_wrap_traits *wrap = sw_wrap_traits_of(run->scenario.wrap.kind), *next = sw_wrap_traits_of(run->scenario.rewrap.kind);
    for (size_t i = 0; i < h->phase_count; i++)
        if (h->phases[i].phase == SW_PHASE_REWRAPPED && next->holds_pool)
            wrap = next;
    return wrap->holder;
}

static void print_servings(const sw_run *run, sw_unit_system units)
{
    const sw_outcome *o = &run->outcome;
    const sw_serving *serving = &run->scenario.serving;
    const bool us = units == SW_UNITS_US;
    char text[QUANTITY_SIZE], size[QUANTITY_SIZE], fat[QUANTITY_SIZE], cap[QUANTITY_SIZE];
    snprintf(size, sizeof size, us ? "%.1f oz" : "%.0f g", us ? serving->size / SW_POUND * 16.0 : 1e3 * serving->size);
    if (SW_IS_ABSENT(o->servings))
        return;
    printf("\nFeeds %s, at %s of meat each.\n", show_servings(o->servings, text), size);
    if (!SW_IS_ABSENT(o->mass_to_buy))
        printf("For %d: buy %s, trimmed to %s, if it keeps as much as this one.\n", serving->people,
               show_mass(o->mass_to_buy, units, text), show_mass(o->raw_mass_needed, units, size));
    if (SW_IS_ABSENT(o->kept_juice_mass))
        return;
    printf("The %s keeps %s of juice and %s of fat", keeper(run), show_mass(o->kept_juice_mass, units, text),
           show_mass(o->kept_fat_mass, units, fat));
    if (o->kept_cap_fat_mass > 0.0)
        printf(" (%s of it the cap's)", show_mass(o->kept_cap_fat_mass, units, cap));
    printf(".\n");
}

void print_quality(const sw_run *run, sw_unit_system units)
{
    print_tenderness(run, units);
    print_bark(run);
    print_servings(run, units);
}
