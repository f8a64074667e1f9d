/* SPDX-License-Identifier: BSD-3-Clause */
/* stallwright explain: why does it stall? */
#include "apps.h"

#include "cook_run.h"
#include "explanation_words.h"
#include "food_safety.h"
#include "idle_keys.h"
#include "json_explanation.h"
#include "json_output.h"
#include "missing.h"
#include "output_file.h"
#include "outputs.h"
#include "plot_explanation.h"
#include "processors.h"
#include "quantity.h"
#include "story_page.h"
#include "table.h"
#include "wrap_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void print_heading(const sw_explanation *e, sw_unit_system units)
{
    const sw_scenario *s = &e->cook.history->scenario;
    char cut[CUT_TEXT_SIZE], pit[QUANTITY_SIZE], wrap[WRAP_WORDS_SIZE];
    printf("%s\n%s, %s,\npit at %s, %s\n\n", s->title, sw_meat_name(&s->meat),
           show_cut(&e->cook.scenario.meat, &s->meat, units, cut), show_temperature(s->pit.steps[0].temperature, units, pit),
           show_wrap(s->wrap.kind, wrap));
}

static void print_words(const sw_explanation *e, void (*say)(const sw_explanation *, prose *), sw_unit_system units)
{
    prose p;
    say(e, &p);
    if (p.count > 0)
        prose_print(&p, units, "", "", stdout);
}

/* A column of the table of hours: heat, in kilojoules or BTU. */
static void set_heat(table *t, size_t row, size_t column, double joules, sw_unit_system units)
{
    char text[QUANTITY_SIZE];
    double shown = joules / (units == SW_UNITS_US ? SW_BTU : 1e3);
    snprintf(text, sizeof text, "%.0f", fabs(shown) < 0.5 ? 0.0 : shown);
    table_set(t, row, column, text);
}

static void set_budget(table *t, size_t row, const sw_heat_budget *b, sw_unit_system units)
{
    char text[QUANTITY_SIZE];
    set_heat(t, row, 2, b->item[SW_HEAT_air], units);
    set_heat(t, row, 3, b->item[SW_HEAT_radiation], units);
    set_heat(t, row, 4, b->item[SW_HEAT_evaporation], units);
    set_heat(t, row, 5, b->item[SW_HEAT_warming] + b->item[SW_HEAT_vapour], units);
    set_heat(t, row, 6, b->item[SW_HEAT_fat], units);
    set_heat(t, row, 7, b->item[SW_HEAT_drip], units);
    table_set(t, row, 8, show_share(sw_heat_evaporation_share(b), text));
}

/* Whether there is an hour in which something gives heat that is told as more than nothing. */
static bool gives_heat(const sw_explanation *e)
{
    static const sw_heat_item items[] = {SW_HEAT_evaporation, SW_HEAT_warming};
    bool gives = false;
    for (size_t i = 0; i < e->heat.count; i++)
        for (size_t k = 0; k < sizeof items / sizeof *items; k++)
            gives = gives || e->heat.heat[i].item[items[k]] + (items[k] == SW_HEAT_warming ? e->heat.heat[i].item[SW_HEAT_vapour] : 0.0) < -500.0;
    return gives;
}

static void print_hours(const sw_explanation *e, sw_unit_system units)
{
    static const char *const heads[] = {"until", "probe", "air", "walls", "evaporates", "meat", "fat", "drip", "share"};
    char text[QUANTITY_SIZE], hours[QUANTITY_SIZE];
    table *t = calloc(1, sizeof *t);
    if (!t)
        return;
    t->has_heading = true;
    for (size_t i = 0; i < sizeof heads / sizeof *heads; i++)
        table_set(t, 0, i, heads[i]);
    for (size_t i = 0; i < e->heat.count; i++) {
        table_set(t, i + 1, 0, show_duration(e->heat.end[i], text));
        table_set(t, i + 1, 1, show_temperature(e->heat.probe[i], units, text));
        set_budget(t, i + 1, &e->heat.heat[i], units);
    }
    table_set(t, e->heat.count + 1, 0, "all");
    set_budget(t, e->heat.count + 1, &e->heat.total, units);
    printf("\nHeat in %s, %s: in from air and walls; out by evaporation, into the meat\n"
           "(vapour's warmth included), into its fat, out with drip; evaporation's share\n",
           e->heat.step > 3600.0 ? show_duration(e->heat.step, hours) : "each hour", units == SW_UNITS_US ? "BTU" : "kJ");
    table_print(t, false, stdout);
    if (gives_heat(e))
        printf("(Negative: vapour that condenses on the meat warms it; meat that cools supplies\nheat for evaporation.)\n");
    free(t);
}

static void set_change(table *t, size_t row, const char *name, const sw_run *run, bool never_ends)
{
    char text[QUANTITY_SIZE];
    const bool good = run->status == SW_OK;
    const sw_outcome *o = &run->outcome;
    table_set(t, row, 0, name);
    table_set(t, row, 1, !good || never_ends ? "never" : show_duration(o->done_time, text));
    table_set(t, row, 2, !good ? "-" : SW_IS_ABSENT(o->stall_length) ? "none" : show_duration(o->stall_length, text));
    table_set(t, row, 3, !good || never_ends ? "-" : show_share(o->yield_at_pull, text));
}

static void print_changes(const sw_explanation *e, sw_unit_system units)
{
    static table t;
    t = (table){.has_heading = true};
    const char *heads[] = {"cook", "done after", "stall", "yield at pull"};
    for (size_t i = 0; i < 4; i++)
        table_set(&t, 0, i, heads[i]);
    set_change(&t, 1, "as planned", &e->cook, e->never_ends);
    size_t row = 2;
    for (int i = 0; i < SW_CAUSE_COUNT; i++)
        if (!e->changed[i].is_no_change) {
            set_change(&t, row, sw_cause_long_name((sw_cause)i), &e->changed[i].run, false);
            if (e->changed[i].run.status != SW_OK && e->changed[i].run.status != SW_ERR_NEVER_ENDS)
                table_set(&t, row, 1, "failed");
            row++;
        }
    printf("\nThe same cook with one cause changed at a time\n");
    table_print(&t, false, stdout);
    printf("\n");
    for (int i = 0; i < SW_CAUSE_COUNT; i++) {
        prose p;
        char first[64];
        say_change(e, (sw_cause)i, &p);
        snprintf(first, sizeof first, "- %s: ", sw_cause_long_name((sw_cause)i));
        prose_print(&p, units, first, "  ", stdout);
    }
}

static void print_common(const sw_explanation *e, sw_unit_system units)
{
    prose p;
    prose_clear(&p);
    prose_add(&p, "Common explanations, and the heat each would take; evaporation takes {heat}", e->heat.total.item[SW_HEAT_evaporation]);
    printf("\n");
    prose_print(&p, units, "", "", stdout);
    for (size_t i = 0; i < SW_COMMON_EXPLANATIONS; i++) {
        char first[64];
        say_common(e, i, &p);
        prose_add(&p, " ({text})", e->common[i].source);
        snprintf(first, sizeof first, "- %s: ", e->common[i].name);
        prose_print(&p, units, first, "  ", stdout);
    }
}

static int print_table(const sw_explanation *e, sw_unit_system units)
{
    char definition[STALL_TEXT_SIZE];
    print_heading(e, units);
    print_words(e, say_course, units);
    print_words(e, say_heat, units);
    print_hours(e, units);
    printf("\n");
    print_words(e, say_share, units);
    print_words(e, say_plateau, units);
    print_words(e, say_water, units);
    print_words(e, say_ending, units);
    print_changes(e, units);
    print_common(e, units);
    printf("\nStall: %s.\n", show_stall_definition(&e->cook.scenario.stall, units, definition));
    print_missing(&e->cook, NULL, units);
    if (!e->never_ends)
        print_safety_warnings(&(judged_cook){"", &e->cook.safety}, 1, units);
    printf("A model, not a thermometer. \"stallwright cook\" shows the whole cook, with its\n"
           "cautions.\n");
    print_safety_deference();
    return flush_standard_output();
}

static int print_json(const sw_explanation *e)
{
    json_t *document = json_heading(&e->cook.history->scenario);
    json_add_explanation(document, e);
    return json_print(document);
}

/* A cook that never finishes is explained, and still has not succeeded. */
static int report_never(const sw_explanation *e, const command_options *o)
{
    if (e->never_ends)
        print_error("%s", e->never_ends_reason);
    return report_missing(&e->cook, 1, o) == EXIT_DONE && !e->never_ends ? EXIT_DONE : EXIT_FAILED;
}

static int write_page(session *s, const command_options *o, const sw_explanation *e, progress *p)
{
    const sw_watch watch = progress_watch(p);
    sw_cook_grid *grid;
    sw_sensitivity inputs;
    sw_status status = e->never_ends ? SW_OK : sw_sensitivity_find(s->context, &e->cook, &watch, &inputs);
    if (status == SW_OK)
        status = sw_cook_grid_make(s->context, &s->scenario, &e->cook.history->scenario, count_processors(), &watch, &grid);
    if (status != SW_OK)
        return report(s, status);
    int exit_status = story_page_write(o, e, grid, e->never_ends ? NULL : &inputs);
    sw_cook_grid_destroy(grid);
    return exit_status;
}

static int show(session *s, const command_options *o, const sw_explanation *e, progress *p)
{
    int status = EXIT_DONE;
    if (o->plot_path)
        status = plot_explanation(o, e);
    if (status == EXIT_DONE && o->page_path)
        status = write_page(s, o, e, p);
    if (status == EXIT_DONE)
        status = o->format == FORMAT_JSON ? print_json(e) : print_table(e, o->units);
    if (status == EXIT_DONE) {
        cook_run_note_log(&e->cook, o);
        cook_run_note_work(&e->cook, o);
    }
    return status == EXIT_DONE ? report_never(e, o) : status;
}

static int explain(session *s, const command_options *o)
{
    int exit_status = outputs_check(o);
    if (exit_status != EXIT_DONE)
        return exit_status;
    sw_explanation *e = NULL;
    note_idle_keys(s, o);
    progress p;
    progress_begin(&p, o);
    const sw_watch watch = progress_watch(&p);
    sw_status status = sw_explain(s->context, &s->scenario, &watch, &e);
    exit_status = status == SW_OK ? show(s, o, e, &p) : report(s, status);
    sw_explanation_destroy(e);
    return exit_status;
}

static int run_explain(const void *options, int argc, char **argv)
{
    const command_options *o = options;
    (void)argc;
    (void)argv;
    session s;
    int status = session_begin(&s, o);
    if (status == EXIT_DONE)
        status = explain(&s, o);
    session_end(&s);
    return status;
}

static const command_option *const takes[] = {
    &option_set,   &option_format_no_csv,  &option_units,    &option_plot, &option_page,    &option_force,
    &option_quiet, &option_verbose, &option_progress, &option_help, &option_version, NULL};

const subcommand explain_app = {
    .name = "explain",
    .purpose = "Why does it stall? Follows the heat, and cooks again with one cause removed.",
    .arguments = "[OPTIONS] [SCENARIO.yaml]",
    .options = takes,
    .options_size = sizeof(command_options),
    .examples = {"stallwright explain --units us --plot heat.svg",
                 "stallwright explain --set meat.thickness=4in --page lesson.html"},
    .run = run_explain,
};
