/* SPDX-License-Identifier: BSD-3-Clause */
/* stallwright cook: how will this cook go? */
#include "apps.h"

#include "condensation.h"
#include "cook_band.h"
#include "cook_run.h"
#include "csv_history.h"
#include "food_safety.h"
#include "idle_keys.h"
#include "json_details.h"
#include "json_output.h"
#include "json_sensitivity.h"
#include "missing.h"
#include "output_file.h"
#include "outputs.h"
#include "plot.h"
#include "probe_table.h"
#include "quality_table.h"
#include "quantity.h"
#include "sensitivity_table.h"
#include "table.h"
#include "wrap_words.h"

#include <stallwright/wrap_traits.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What cook takes besides what all do. */
typedef struct cook_options {
    command_options shared;
    bool print_scenario;
    bool sensitivity;
} cook_options;

typedef struct event {
    double time; /* [s] */
    int order;   /* among those added */
    char text[96];
} event;

typedef struct timeline {
    size_t count;
    event events[SW_PROBES_MAX * (SW_MILESTONES_MAX + 2) + SW_PIT_STEPS_MAX + 16];
} timeline;

static void add(timeline *t, double time, const char *text)
{
    if (SW_IS_ABSENT(time) || t->count == sizeof t->events / sizeof *t->events)
        return;
    event *e = &t->events[t->count];
    e->time = time;
    e->order = (int)t->count++;
    snprintf(e->text, sizeof e->text, "%s", text);
}

/* By time; of two at the same moment the one added first comes first. */
static int by_time(const void *a, const void *b)
{
    const event *x = a, *y = b;
    if (x->time != y->time)
        return x->time < y->time ? -1 : 1;
    return x->order - y->order;
}

static void add_with(timeline *t, double time, const char *text, const char *figure)
{
    char line[96];
    snprintf(line, sizeof line, "%s%s", text, figure);
    add(t, time, line);
}

/* When the probe read highest: the row of the history that says so. */
static double highest_time(const sw_history *h)
{
    const double *probe = h->series[SW_SERIES_probe_temperature];
    size_t highest = 0;
    for (size_t i = 1; i < h->row_count; i++)
        highest = probe[i] > probe[highest] ? i : highest;
    return h->series[SW_SERIES_time][highest];
}

/* The milestones of a probe before the pull; its stall, if there are others. */
static void collect_probe(timeline *t, const sw_run *run, size_t number, sw_unit_system units)
{
    const sw_probe_outcome *p = &run->outcome.probes[number];
    const bool several = run->outcome.probe_count > 1;
    const char *name = several ? run->history->probes[number].name : "probe";
    char figure[QUANTITY_SIZE], line[96];
    snprintf(line, sizeof line, "%.*s passes ", PROBE_NAME_COLUMNS, name);
    sw_milestone milestones[SW_MILESTONES_MAX];
    const size_t count = sw_history_milestones(run->history, number, units, milestones);
    for (size_t i = 0; i < count; i++)
        if (milestones[i].time < run->outcome.done_time)
            add_with(t, milestones[i].time, line, show_temperature(milestones[i].probe_temperature, units, figure));
    if (!several)
        return;
    snprintf(line, sizeof line, "%.*s: stall begins at ", PROBE_NAME_COLUMNS, name);
    add_with(t, p->stall_start, line, show_temperature(p->stall_probe, units, figure));
    snprintf(line, sizeof line, "%.*s: stall ends after ", PROBE_NAME_COLUMNS, name);
    add_with(t, p->stall_end, line, show_duration(p->stall_length, figure));
    if (p->done_time < run->outcome.done_time - 1.0) { /* the one that ends the time on the pit is told with the pull */
        snprintf(line, sizeof line, "%.*s is done, ", PROBE_NAME_COLUMNS, name);
        add_with(t, p->done_time, line, show_temperature(run->history->scenario.pull.value, units, figure));
    }
}

static void collect_pit(timeline *t, const sw_run *run, sw_unit_system units)
{
    const sw_scenario *s = &run->scenario;
    double done = run->outcome.done_time;
    char figure[QUANTITY_SIZE];
    add(t, 0.0, "the meat goes on");
    for (size_t p = 0; p < run->outcome.probe_count; p++)
        collect_probe(t, run, p, units);
    const sw_pit_step *last = &s->pit.steps[s->pit.step_count - 1];
    if (s->pit.is_log && last->start < done)
        add_with(t, last->start, "the pit log ends; its last value holds: ", show_temperature(last->temperature, units, figure));
    /* The rows of a log and the ends of ramps are no settings. */
    for (size_t i = 1; i < s->pit.step_count; i++)
        if (!s->pit.steps[i - 1].ramp && s->pit.steps[i].start < done)
            add_with(t, s->pit.steps[i].start, "pit set to ",
                     show_temperature(s->pit.steps[i].temperature, units, figure));
}

/* When the first wrap was changed for another, or taken off. */
static void collect_rewrap(timeline *t, const sw_run *run, sw_unit_system units)
{
    const sw_history *h = run->history;
    const sw_wrap_kind kind = run->scenario.rewrap.kind;
    char reading[READING_SIZE], line[96];
    for (size_t i = 1; i < h->phase_count; i++) {
        if (h->phases[i].phase != SW_PHASE_REWRAPPED)
            continue;
        snprintf(line, sizeof line, kind == SW_WRAP_NONE ? "wrap taken off, " : "wrapped anew (%s), ",
                 sw_wrap_name(kind));
        add_with(t, h->phases[i].start, line, show_reading(h, h->phases[i].start, units, reading));
    }
}

/* Hours that were missed and phases that do not end, each where the cook comes to it. */
static void collect_missing(timeline *t, const sw_run *run, sw_unit_system units)
{
    const sw_history *h = run->history;
    char line[96];
    prose p;
    for (size_t i = 0; i < h->missing_count; i++) {
        const sw_missing *m = &h->missing[i];
        if (m->reason == SW_MISSING_NOT_BEGUN)
            continue;
        say_missing_briefly(&h->scenario, m, &p);
        add(t, m->begin, prose_plain(&p, units, line, sizeof line));
    }
}

static void collect(timeline *t, const sw_run *run, sw_unit_system units)
{
    const sw_outcome *o = &run->outcome;
    const sw_history *h = run->history;
    char figure[QUANTITY_SIZE], reading[READING_SIZE], line[96];
    collect_pit(t, run, units);
    if (run->outcome.probe_count < 2) /* of several each has its own */
        add_with(t, o->stall_start, "STALL begins, probe at ", show_temperature(o->stall_probe, units, figure));
    snprintf(line, sizeof line, "wrapped (%s), ", sw_wrap_name(run->scenario.wrap.kind));
    if (!SW_IS_ABSENT(o->wrap_time))
        add_with(t, o->wrap_time, line, show_reading(h, o->wrap_time, units, reading));
    add_with(t, o->pour_time, run->scenario.wrap.pour == SW_POUR_OVER ? "juice poured over the meat, probe at "
                                                                      : "juice poured off, probe at ",
             show_temperature(o->pour_probe, units, figure));
    collect_rewrap(t, run, units);
    if (run->outcome.probe_count < 2)
        add_with(t, o->stall_end, "STALL ends after ", show_duration(o->stall_length, figure));
    add_with(t, o->done_time, "PULLED, ", show_reading(h, o->done_time, units, reading));
    if (highest_time(run->history) > o->done_time)
        add_with(t, highest_time(run->history), "highest reading, ", show_temperature(o->highest_probe, units, figure));
    if (o->rest_end < o->slice_time || SW_IS_ABSENT(o->slice_time))
        add_with(t, o->rest_end, "rest ends, ", show_reading(h, o->rest_end, units, reading));
    /* The last phase ends and the meat is ready; without rest and hold that is the pull itself. */
    const char *last = !SW_IS_ABSENT(o->hold_end) ? "hold ends: " : !SW_IS_ABSENT(o->rest_end) ? "rest ends: " : "";
    snprintf(line, sizeof line, "%sready to slice, ", last);
    add_with(t, o->slice_time, line, show_reading(h, o->slice_time, units, reading));
    collect_missing(t, run, units);
    const sw_phase_record *end = &run->history->phases[run->history->phase_count - 1];
    if (end->phase == SW_PHASE_COOLING)
        add_with(t, end->end, "cooling ends, ", show_reading(h, end->end, units, reading));
    qsort(t->events, t->count, sizeof *t->events, by_time);
}

static void print_heading(const sw_run *run, sw_unit_system units)
{
    const sw_scenario *s = &run->history->scenario;
    char a[QUANTITY_SIZE], b[QUANTITY_SIZE], c[QUANTITY_SIZE], wrap[WRAP_WORDS_SIZE];
    printf("%s\n%s, %s", s->title, sw_meat_name(&s->meat), show_mass(s->meat.mass, units, a));
    if (run->scenario.meat.bought_mass > 0.0)
        printf(" trimmed from %s", show_mass(run->scenario.meat.bought_mass, units, c));
    printf(", modelled as\n%s %s %s thick (%s)", s->meat.shape == SW_SHAPE_OUTLINE ? "an" : "a", sw_shape_name(s->meat.shape),
           show_length(s->meat.thickness, units, b), thickness_origin(&run->scenario.meat));
    if (sw_shape_is_section(s->meat.shape))
        printf(" and %s wide", show_length(s->meat.width, units, c));
    printf("\npit %s %s, humidity ", s->pit.step_count > 1 ? "at first at" : "at",
           show_temperature(s->pit.steps[0].temperature, units, a));
    if (s->pit.humidity == SW_HUMIDITY_GIVEN)
        printf("ratio %.3g", s->pit.humidity_ratio);
    else
        printf("by balance");
    printf(", %s", show_wrap(s->wrap.kind, wrap));
    if (s->wrap.kind != SW_WRAP_NONE && s->rewrap.when.kind != SW_ENDING_NONE && s->rewrap.kind != s->wrap.kind)
        printf(", then %s", s->rewrap.kind == SW_WRAP_NONE ? "bare" : sw_wrap_name(s->rewrap.kind));
    printf("\n\n");
}

static void print_timeline(const sw_run *run, sw_unit_system units)
{
    timeline t = {0};
    table rows = {0};
    char text[QUANTITY_SIZE];
    collect(&t, run, units);
    rows.has_heading = true;
    table_set(&rows, 0, 0, "clock");
    table_set(&rows, 0, 1, "elapsed");
    table_set(&rows, 0, 2, "event");
    for (size_t i = 0; i < t.count; i++) {
        table_set(&rows, i + 1, 0, show_clock(run->scenario.start_clock, t.events[i].time, text));
        table_set(&rows, i + 1, 1, show_duration(t.events[i].time, text));
        table_set(&rows, i + 1, 2, t.events[i].text);
    }
    table_print(&rows, true, stdout);
}

/* How far cooks like this one differ. */
static void print_band(const sw_band *band)
{
    char text[BAND_TEXT_SIZE];
    if (!band)
        return;
    printf("\nFour cooks in five like this one are done after %s.\n", show_done_band(band, text));
    if (band->never_done > 0)
        printf("(%zu of %zu never get there: the pit is hardly hotter than the pull.)\n", band->never_done, band->draws);
}

/* What this stall was like, and what counts as one. */
static void print_stall(const sw_run *run, sw_unit_system units)
{
    const sw_outcome *o = &run->outcome;
    const sw_stall_definition *d = &run->scenario.stall;
    char a[QUANTITY_SIZE], b[QUANTITY_SIZE], c[QUANTITY_SIZE];
    if (SW_IS_ABSENT(o->stall_start)) {
        printf("\nNo stall");
    } else {
        printf("\nStall of %s%s, slowest at %s", show_duration(o->stall_length, a),
               o->probe_count > 1 ? " by the probe that decides" : "",
               show_heating_rate(o->stall_slowest_rate, units, b));
        if (o->stall_depth >= 0.05)
            printf("; the probe fell back by %s", show_temperature_difference(o->stall_depth, units, c));
    }
    char definition[STALL_TEXT_SIZE];
    printf(".\n(A stall: %s.)\n", show_stall_definition(d, units, definition));
}

static void heat_row(table *rows, size_t row, const char *name, double heat, double received, sw_unit_system units)
{
    char text[QUANTITY_SIZE];
    table_set(rows, row, 0, name);
    table_set(rows, row, 1, show_heat(heat, units, text));
    table_set(rows, row, 2, show_share(received > 1e3 ? heat / received : SW_ABSENT, text));
}

/* Where juice and liquid went outside the meat, and what the fire gave; only what there is. */
static void print_liquids(const sw_budget *pull, const sw_budget *end, const char *last_moment, sw_unit_system units)
{
    const struct {
        const char *name;
        double pull, end;
    } rows[] = {{"  sprayed on or poured in", pull->added_mass, end->added_mass},
                {"  kept in the wrap", pull->kept_mass, end->kept_mass},
                {"  evaporated from tray or foil", pull->pool_vapour_mass, end->pool_vapour_mass},
                {"  evaporated from film or paper", pull->film_mass, end->film_mass},
                {"  poured off or left in a wrap", pull->poured_mass, end->poured_mass},
                {"  ran off", pull->away_mass, end->away_mass},
                {"  fuel burnt", pull->fuel_mass, end->fuel_mass},
                {"  water from the fuel", pull->fuel_water_mass, end->fuel_water_mass},
                {"  water from the pan", pull->pan_vapour_mass, end->pan_vapour_mass}};
    table t = {.has_heading = true};
    char text[QUANTITY_SIZE];
    size_t row = 1;
    table_set(&t, 0, 0, "Juice and liquid");
    table_set(&t, 0, 1, "at the pull");
    table_set(&t, 0, 2, last_moment);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (rows[i].end < 0.5e-3 && rows[i].pull < 0.5e-3)
            continue;
        table_set(&t, row, 0, rows[i].name);
        table_set(&t, row, 1, show_mass(rows[i].pull, units, text));
        table_set(&t, row++, 2, show_mass(rows[i].end, units, text));
    }
    printf("\n");
    table_print(&t, false, stdout);
}

static void print_rest(const sw_outcome *o, const sw_scenario *s, sw_unit_system units)
{
    char text[QUANTITY_SIZE], temperature[QUANTITY_SIZE];
    if (s->rest.until.kind == SW_ENDING_NONE && s->hold.until.kind == SW_ENDING_NONE)
        return;
    show_temperature(s->serving.temperature, units, temperature);
    if (SW_IS_ABSENT(o->rest_to_slicing) && SW_IS_ABSENT(o->slice_time))
        printf("\nIt is not known when the probe falls to %s, ready to slice.", temperature);
    else if (SW_IS_ABSENT(o->rest_to_slicing))
        printf("\nSliced while the probe still reads over %s; below that meat slices better.", temperature);
    else if (o->rest_to_slicing <= 0.0)
        printf("\nThe probe is below %s, cool enough to slice, at the pull already.", temperature);
    else
        printf("\nThe probe falls to %s, cool enough to slice, %s after the "
               "pull.", temperature, show_duration(o->rest_to_slicing, text));
    if (SW_IS_ABSENT(o->kept_hot))
        printf("\nIt is not known how long all of the meat stays at %s or more.\n", show_hot_holding_limit(units, temperature));
    else
        printf("\nAll of the meat stays at %s or more for %s after the pull.\n", show_hot_holding_limit(units, temperature),
               show_duration_rounded_down(o->kept_hot, text));
}

static void print_budgets(const sw_run *run, sw_unit_system units)
{
    const sw_budget *b = &run->outcome.at_pull;
    double received = b->convection_heat + b->radiation_heat;
    char text[QUANTITY_SIZE];
    table heat = {0}, mass = {0};
    printf("\nWhere the heat went, until the pull\n");
    heat_row(&heat, 0, "  in: hot air (convection)", b->convection_heat, received, units);
    heat_row(&heat, 1, "  in: hot walls (radiation)", b->radiation_heat, received, units);
    heat_row(&heat, 2, "  out: evaporating water", b->evaporation_heat, received, units);
    heat_row(&heat, 3, "  out: warmth of that water", b->vapour_warming_heat, received, units);
    heat_row(&heat, 4, "  out: juice that dripped", b->drip_heat, received, units);
    heat_row(&heat, 5, "  out: fat that rendered", b->rendered_fat_heat, received, units);
    heat_row(&heat, 6, "  stayed: warmer meat", b->warming_heat, received, units);
    table_print(&heat, false, stdout);

    const sw_budget *e = &run->outcome.at_end;
    const char *last_moment = sw_history_is_ready(run->history) ? "when sliced" : "so far";
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
    table_set(&mass, 0, 2, last_moment);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        table_set(&mass, i + 1, 0, rows[i].name);
        table_set(&mass, i + 1, 1, show_mass(rows[i].pull, units, text));
        table_set(&mass, i + 1, 2, show_mass(rows[i].end, units, text));
    }
    table_set(&mass, 5, 0, "  yield");
    table_set(&mass, 5, 1, show_share(run->outcome.yield_at_pull, text));
    table_set(&mass, 5, 2, show_share(run->outcome.yield_fraction, text));
    table_print(&mass, false, stdout);
    if (has_condensed(&run->outcome)) {
        prose words;
        say_condensation(&run->outcome, NULL, &words);
        prose_print(&words, units, "", "", stdout);
    }
    print_liquids(b, e, last_moment, units);
    printf("\nTop surface at the pull: %s, water activity %.2f: %s.\n",
           show_temperature(run->outcome.top_surface_at_pull, units, text), run->outcome.top_water_activity_at_pull,
           sw_surface_state_name(run->outcome.top_state_at_pull));
    printf("Not accounted for by the balances: %.1e of the heat, %.1e of the water.\n", fabs(e->heat_residual),
           fabs(e->water_residual));
}

static void print_cautions(const sw_run *run, const command_options *o)
{
    printf("\n");
    print_food_safety(&run->safety, o->units, o->verbose);
    printf("\nCautions: this is a model, not a thermometer; check meat and holding place with\n"
           "one. Fire and hot fat burn; carbon monoxide kills: never burn charcoal, wood or\n"
           "gas indoors.\n");
}

static int print_table(const sw_run *run, double spritz_cost, const sw_sensitivity *inputs, const sw_band *band,
                       const command_options *o)
{
    print_heading(run, o->units);
    print_timeline(run, o->units);
    if (run->history->missing_count > 0) {
        printf("\n");
        print_missing(run, NULL, o->units);
    }
    print_band(band);
    print_probes(run, o->units);
    print_stall(run, o->units);
    print_budgets(run, o->units);
    if (!SW_IS_ABSENT(spritz_cost)) {
        char text[QUANTITY_SIZE];
        printf("\nWithout spritzing the pull would come %s sooner.\n", show_duration(spritz_cost, text));
    }
    print_rest(&run->outcome, &run->scenario, o->units);
    print_quality(run, o->units);
    if (inputs)
        print_sensitivity(inputs, o->units);
    print_cautions(run, o);
    return flush_standard_output();
}

static int print_json(const sw_run *run, double spritz_cost, const sw_sensitivity *inputs, const sw_band *band)
{
    json_t *document = json_heading(&run->history->scenario);
    json_t *choice = json_choice(run, SW_ABSENT);
    json_object_set_new(choice, "band", json_band(band));
    json_object_set_new(document, "choices", json_pack("[o]", choice));
    json_add_details(document, run);
    if (!SW_IS_ABSENT(spritz_cost))
        json_put_number(document, "spritz_cost_s", spritz_cost);
    if (inputs)
        json_add_sensitivity(document, inputs);
    return json_print(document);
}

static int print_result(const sw_run *run, double spritz_cost, const sw_sensitivity *inputs, const sw_band *band,
                        const command_options *o)
{
    switch (o->format) {
    case FORMAT_CSV:
        return csv_print_history(run);
    case FORMAT_JSON:
        return print_json(run, spritz_cost, inputs, band);
    default:
        return print_table(run, spritz_cost, inputs, band, o);
    }
}

static int show(session *s, const command_options *o, int argc, char **argv, const sw_run *run, double spritz_cost,
                const sw_sensitivity *inputs, const sw_band *band)
{
    int status = outputs_write_results(s, o, argc, argv, run, 1);
    if (status == EXIT_DONE && o->plot_path)
        status = plot_cook(o, run);
    if (status == EXIT_DONE)
        status = print_result(run, spritz_cost, inputs, band, o);
    if (status == EXIT_DONE) {
        cook_run_note_log(run, o);
        cook_run_note_work(run, o);
    }
    return status == EXIT_DONE ? report_missing(run, 1, o) : status;
}

/* How much later the pull comes for the spritzing: the same cook without it. Absent if there is none, or if that fails. */
static double spritz_cost_of(const sw_run *run, sw_context *context, progress *p)
{
    if (run->scenario.spritz.amount <= 0.0 || run->outcome.at_pull.added_mass <= 0.0)
        return SW_ABSENT;
    sw_run dry = {.scenario = run->scenario};
    dry.scenario.spritz.amount = 0.0;
    snprintf(dry.label, sizeof dry.label, "dry");
    cook_run_do(&dry, context, p, NULL);
    double cost = dry.status == SW_OK ? run->outcome.done_time - dry.outcome.done_time : SW_ABSENT;
    sw_run_free(&dry);
    return cost;
}

static int run_and_show(session *s, const cook_options *own, int argc, char **argv)
{
    const command_options *o = &own->shared;
    progress p;
    sw_run run = {.scenario = s->scenario};
    snprintf(run.label, sizeof run.label, "%s", sw_wrap_name(s->scenario.wrap.kind));
    int status = outputs_check(o);
    if (status == EXIT_DONE && !plot_hours_are_good(o, s->scenario.meat.shape))
        status = EXIT_BAD_USE;
    if (status != EXIT_DONE)
        return status;
    if (own->sensitivity && o->format == FORMAT_CSV) {
        print_error("--sensitivity writes a table or JSON; --format csv writes the history of one cook");
        return EXIT_BAD_USE;
    }
    sw_sensitivity inputs;
    note_idle_keys(s, o);
    progress_begin(&p, o);
    cook_run_do(&run, s->context, &p, NULL);
    const double cost = run.status == SW_OK ? spritz_cost_of(&run, s->context, &p) : SW_ABSENT;
    const sw_watch watch = progress_watch(&p);
    sw_status found = run.status;
    if (found == SW_OK && own->sensitivity)
        found = sw_sensitivity_find(s->context, &run, &watch, &inputs);
    sw_band band;
    /* The CSV is the history of this cook alone. */
    const bool has_band = o->format != FORMAT_CSV && cook_band_find(&run, s->context, &p, o, &band);
    if (was_interrupted())
        status = report_interrupt();
    else if (found != SW_OK)
        status = report(s, found);
    else
        status = show(s, o, argc, argv, &run, cost, own->sensitivity ? &inputs : NULL, has_band ? &band : NULL);
    sw_run_free(&run);
    return status;
}

static int run_cook(const void *options, int argc, char **argv)
{
    const cook_options *o = options;
    session s;
    int status = session_begin(&s, &o->shared);
    if (status == EXIT_DONE)
        status = o->print_scenario ? print_scenario(&s, &o->shared) : run_and_show(&s, o, argc, argv);
    session_end(&s);
    return status;
}

static const command_option print_scenario_option = {.name = "print-scenario",
                                                     .kind = OPTION_FLAG,
                                                     .field = offsetof(cook_options, print_scenario),
                                                     .help = "write the complete scenario, commented, and stop"};
static const command_option sensitivity_option = {.name = "sensitivity",
                                                  .kind = OPTION_FLAG,
                                                  .field = offsetof(cook_options, sensitivity),
                                                  .help = "also show how much each uncertain input matters"};

static const command_option *const takes[] = {&option_set,         &print_scenario_option, &option_hours,    &sensitivity_option, &option_no_band,
                                              &option_format,      &option_units,          &option_plot,     &option_output,
                                              &option_force,       &option_quiet,          &option_verbose,  &option_progress,
                                              &option_help,        &option_version,        NULL};

const subcommand cook_app = {
    .name = "cook",
    .purpose = "How will this cook go? Simulates one cook, by default a whole brisket.",
    .arguments = "[OPTIONS] [SCENARIO.yaml]",
    .options = takes,
    .options_size = sizeof(cook_options),
    .examples = {"stallwright cook --print-scenario >my.yaml",
                 "stallwright cook my.yaml --set pit.temperature=275F --plot curves.svg"},
    .run = run_cook,
};
