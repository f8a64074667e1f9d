/* stallwright cook: how will this cook go? */
#include "apps.h"

#include "cook_run.h"
#include "csv_output.h"
#include "json_output.h"
#include "output_file.h"
#include "plot.h"
#include "quantity.h"
#include "table.h"

#include <stdlib.h>
#include <string.h>

/* Lowest temperature at which hot food may be held: FDA Food Code 3-501.16, 135 F (57 C) [K]. Whole roasts have a lower
 * limit of 130 F there; the stricter one is used. */
static const double hot_holding_limit = 273.15 + (135.0 - 32.0) / 1.8;

typedef struct event {
    double time;
    char text[96];
} event;

typedef struct timeline {
    size_t count;
    event events[SW_MILESTONES_MAX + 16];
} timeline;

static void add(timeline *t, double time, const char *text)
{
    if (SW_IS_ABSENT(time) || t->count == sizeof t->events / sizeof *t->events)
        return;
    t->events[t->count].time = time;
    snprintf(t->events[t->count++].text, sizeof t->events->text, "%s", text);
}

static int by_time(const void *a, const void *b)
{
    double x = ((const event *)a)->time, y = ((const event *)b)->time;
    return x < y ? -1 : x > y;
}

static void add_with(timeline *t, double time, const char *text, const char *figure)
{
    char line[96];
    snprintf(line, sizeof line, "%s%s", text, figure);
    add(t, time, line);
}

static void collect(timeline *t, const cook_run *run, sw_unit_system units)
{
    const sw_history *h = run->history;
    const sw_outcome *o = &run->outcome;
    const sw_scenario *s = &run->scenario;
    char figure[QUANTITY_SIZE], line[96];
    add(t, 0.0, "the meat goes on");
    for (size_t i = 0; i < h->milestone_count; i++)
        if (h->milestones[i].time < o->done_time)
            add_with(t, h->milestones[i].time, "probe passes ",
                     show_temperature(h->milestones[i].probe_temperature, units, figure));
    for (size_t i = 1; i < s->pit.step_count; i++)
        if (s->pit.steps[i].start < o->done_time)
            add_with(t, s->pit.steps[i].start, "pit set to ",
                     show_temperature(s->pit.steps[i].temperature, units, figure));
    add_with(t, o->stall_start, "STALL begins, probe at ", show_temperature(o->stall_probe, units, figure));
    add_with(t, o->stall_end, "STALL ends after ", show_duration(o->stall_length, figure));
    snprintf(line, sizeof line, "wrapped (%s), probe at %s", sw_wrap_name(s->wrap.kind),
             show_temperature(o->wrap_probe, units, figure));
    add(t, o->wrap_time, line);
    add_with(t, o->done_time, "PULLED, probe at ", show_temperature(o->done_probe, units, figure));
    add_with(t, o->rest_end, "rest ends", "");
    add_with(t, o->hold_end, "hold ends", "");
    if (o->slice_time > o->done_time)
        add_with(t, o->slice_time, "ready to slice, probe at ", show_temperature(o->slice_probe, units, figure));
    qsort(t->events, t->count, sizeof *t->events, by_time);
}

static void print_heading(const cook_run *run, sw_unit_system units)
{
    const sw_scenario *s = &run->history->scenario;
    char a[QUANTITY_SIZE], b[QUANTITY_SIZE], c[QUANTITY_SIZE];
    printf("%s\n", s->title);
    printf("%s, %s, modelled as a %s %s thick", s->meat.name, show_mass(s->meat.mass, units, a),
           sw_shape_name(s->meat.shape), show_length(s->meat.thickness, units, b));
    if (sw_shape_is_section(s->meat.shape))
        printf(" and %s wide", show_length(s->meat.width, units, c));
    printf("\npit at %s, humidity ratio %.3g, wrap: %s\n\n", show_temperature(s->pit.steps[0].temperature, units, a),
           s->pit.humidity_ratio, sw_wrap_name(s->wrap.kind));
}

static void print_timeline(const cook_run *run, sw_unit_system units)
{
    timeline t = {0};
    table rows = {0};
    char text[QUANTITY_SIZE];
    collect(&t, run, units);
    for (size_t i = 0; i < t.count; i++) {
        table_set(&rows, i, 0, show_clock(run->scenario.start_clock, t.events[i].time, text));
        table_set(&rows, i, 1, show_duration(t.events[i].time, text));
        table_set(&rows, i, 2, t.events[i].text);
    }
    table_print(&rows, true, stdout);
    const sw_outcome *o = &run->outcome;
    char depth[QUANTITY_SIZE], rate[QUANTITY_SIZE];
    if (SW_IS_ABSENT(o->stall_start))
        printf("\nNo stall.\n");
    else
        printf("\nStall: %s; slowest %s; the probe fell back by %s.\n", show_duration(o->stall_length, text),
               show_heating_rate(o->stall_slowest_rate, units, rate),
               show_temperature_difference(o->stall_depth, units, depth));
}

static void heat_row(table *rows, size_t row, const char *name, double heat, double received, sw_unit_system units)
{
    char text[QUANTITY_SIZE];
    table_set(rows, row, 0, name);
    table_set(rows, row, 1, show_heat(heat, units, text));
    table_set(rows, row, 2, show_share(heat / received, text));
}

static void print_budgets(const cook_run *run, sw_unit_system units)
{
    const sw_budget *b = &run->outcome.at_pull;
    double received = b->convection_heat + b->radiation_heat;
    char text[QUANTITY_SIZE];
    table heat = {0}, mass = {0};
    printf("\nWhere the heat went, until the pull\n");
    heat_row(&heat, 0, "  in: convection", b->convection_heat, received, units);
    heat_row(&heat, 1, "  in: radiation", b->radiation_heat, received, units);
    heat_row(&heat, 2, "  out: evaporating water", b->evaporation_heat, received, units);
    heat_row(&heat, 3, "  out: warmth of that water", b->vapour_warming_heat, received, units);
    heat_row(&heat, 4, "  out: juice that dripped", b->drip_heat, received, units);
    heat_row(&heat, 5, "  out: fat that rendered", b->rendered_fat_heat, received, units);
    heat_row(&heat, 6, "  stayed: warmer meat", b->warming_heat, received, units);
    table_print(&heat, false, stdout);

    const sw_budget *e = &run->outcome.at_end;
    const struct {
        const char *name;
        double pull, end;
    } rows[] = {{"  evaporated", b->evaporated_mass, e->evaporated_mass},
                {"  dripped", b->dripped_mass, e->dripped_mass},
                {"  fat rendered", b->rendered_mass, e->rendered_mass},
                {"  meat left", b->meat_mass, e->meat_mass}};
    printf("\n");
    mass.has_heading = true;
    table_set(&mass, 0, 0, "Mass");
    table_set(&mass, 0, 1, "at the pull");
    table_set(&mass, 0, 2, "when sliced");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        table_set(&mass, i + 1, 0, rows[i].name);
        table_set(&mass, i + 1, 1, show_mass(rows[i].pull, units, text));
        table_set(&mass, i + 1, 2, show_mass(rows[i].end, units, text));
    }
    table_set(&mass, 5, 0, "  yield");
    table_set(&mass, 5, 1, show_share(run->outcome.yield_at_pull, text));
    table_set(&mass, 5, 2, show_share(run->outcome.yield_fraction, text));
    table_print(&mass, false, stdout);
    printf("\nTop surface at the pull: %s, water activity %.2f: %s.\n",
           show_temperature(run->outcome.top_surface_at_pull, units, text), run->outcome.top_water_activity_at_pull,
           sw_surface_state_name(run->outcome.top_state_at_pull));
    printf("Balances close to %.1e of the heat and %.1e of the water.\n", e->heat_residual, e->water_residual);
}

static void print_cautions(const cook_run *run, sw_unit_system units)
{
    const sw_outcome *o = &run->outcome;
    const sw_scenario *s = &run->scenario;
    char lowest[QUANTITY_SIZE], limit[QUANTITY_SIZE];
    bool held_cool = !SW_IS_ABSENT(o->lowest_after_pull) && o->lowest_after_pull < hot_holding_limit;
    bool place_cool = s->hold.until.kind != SW_ENDING_NONE && s->hold.temperature < hot_holding_limit;
    const char *shown_limit = units == SW_UNITS_US ? "135 F" : "57.3 C"; /* 57.22 C, rounded up */
    (void)limit;
    printf("\n");
    if (place_cool)
        printf("WARNING: hold.temperature is below %s, the limit for hot food in the FDA Food Code.\n", shown_limit);
    if (held_cool)
        printf("WARNING: between pull and slicing some of the meat, at its coolest place, falls to\n"
               "  %s; hot food is kept at %s or more.\n",
               show_temperature_rounded_down(o->lowest_after_pull, units, lowest), shown_limit);
    printf("This is a model, not a thermometer: check meat and holding place with one. Local food\n"
           "codes and licensed practice come first. Fire, hot fat and carbon monoxide injure: never\n"
           "burn charcoal or wood indoors.\n");
}

static int print_table(const cook_run *run, const command_options *o)
{
    print_heading(run, o->units);
    print_timeline(run, o->units);
    print_budgets(run, o->units);
    print_cautions(run, o->units);
    return flush_standard_output() ? EXIT_DONE : EXIT_FAILED;
}

static int print_json(const cook_run *run)
{
    json_t *document = json_heading(&run->history->scenario);
    json_object_set_new(document, "choices", json_pack("[o]", json_choice(run, SW_ABSENT)));
    json_object_update(document, json_details(run));
    return json_print(document);
}

static int print_result(const cook_run *run, const command_options *o)
{
    switch (o->format) {
    case FORMAT_CSV:
        return csv_print_history(run);
    case FORMAT_JSON:
        return print_json(run);
    default:
        return print_table(run, o);
    }
}

static int run_and_show(session *s, const command_options *o, int argc, char **argv)
{
    progress p;
    cook_run run = {.scenario = s->scenario};
    snprintf(run.label, sizeof run.label, "%s", sw_wrap_name(s->scenario.wrap.kind));
    progress_begin(&p, o);
    cook_run_do(&run, s->context, &p);
    if (run.status != SW_OK)
        return report(s, run.status);
    int status = EXIT_DONE;
    if (o->output_path)
        status = write_results(s, o, argc, argv, &run, 1);
    if (status == EXIT_DONE && o->plot_path)
        status = plot_cook(o, &run, o->hours);
    if (status == EXIT_DONE)
        status = print_result(&run, o);
    if (status == EXIT_DONE && o->verbose)
        print_note(o, "%ld steps, %ld right-hand sides, %ld Jacobians, %zu cells", run.history->statistics.steps,
                   run.history->statistics.right_hand_sides, run.history->statistics.jacobians,
                   run.history->cell_count);
    cook_run_free(&run);
    return status;
}

static int run_cook(const command_options *o, int argc, char **argv)
{
    if (o->plot_path && !plot_path_is_good(o->plot_path))
        return EXIT_BAD_USE;
    session s;
    int status = session_begin(&s, o);
    if (status == EXIT_DONE)
        status = o->print_scenario ? print_scenario(&s, o) : run_and_show(&s, o, argc, argv);
    session_end(&s);
    return status;
}

const subcommand cook_app = {
    .name = "cook",
    .purpose = "How will this cook go? Simulates one cook, by default a whole brisket.",
    .arguments = "[OPTIONS] [SCENARIO.yaml]",
    .option_names = "set print-scenario hours format units plot output force quiet verbose progress help version",
    .examples = {"stallwright cook --set pit.temperature=275F --plot curves.svg",
                 "stallwright cook apps/scenarios/village_hall_supper.yaml --units us"},
    .run = run_cook,
};
