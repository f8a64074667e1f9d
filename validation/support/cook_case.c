/* SPDX-License-Identifier: BSD-3-Clause */
#include "cook_case.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double hour = 3600.0, celsius = 273.15;

static void set(sw_context *context, sw_scenario_reader *reader, const char *assignment, sw_scenario *scenario)
{
    if (sw_scenario_set(context, reader, assignment, scenario) != SW_OK)
        die("%s", sw_context_message(context));
}

static void set_all(sw_context *context, sw_scenario_reader *reader, const char *settings, sw_scenario *scenario)
{
    char one[TEXT_SIZE];
    for (const char *at = settings; *at;) {
        at += strspn(at, "; ");
        size_t length = strcspn(at, ";");
        if (length == 0)
            break;
        snprintf(one, sizeof one, "%.*s", (int)length, at);
        set(context, reader, one, scenario);
        at += length;
    }
}

void cook_case_scenario(sw_context *context, sw_scenario_reader *reader, const char *path, const char *settings, sw_scenario *scenario)
{
    sw_scenario_init(scenario);
    if (path && *path && sw_scenario_read(context, reader, path, scenario) != SW_OK)
        die("%s", sw_context_message(context));
    set_all(context, reader, settings, scenario);
}

void cook_case_run(sw_scenario_reader *reader, const char *path, const char *settings, size_t count,
                   char *const *assignments, cook_result *result)
{
    sw_context *context;
    sw_scenario scenario;
    memset(result, 0, sizeof *result);
    if (sw_context_create(&context) != SW_OK)
        die("memory is short");
    cook_case_scenario(context, reader, path, settings, &scenario);
    for (size_t i = 0; i < count; i++)
        set(context, reader, assignments[i], &scenario);
    if (sw_cook_run(context, &scenario, NULL, NULL, &result->history) == SW_OK) {
        sw_outcome_evaluate(result->history, &result->outcome);
    } else {
        result->failed = true;
        snprintf(result->failure, sizeof result->failure, "%s", sw_context_message(context));
    }
    sw_context_destroy(context);
}

void cook_case_free(cook_result *result)
{
    sw_history_destroy(result->history);
    result->history = NULL;
}

/* ---- quantities ---- */

/* When the deciding probe first read a temperature [s]; NaN if never. */
static double time_to(const sw_history *h, double temperature)
{
    const double *time = h->series[SW_SERIES_time], *probe = h->series[SW_SERIES_probe_temperature];
    for (size_t i = 1; i < h->row_count; i++)
        if (probe[i] >= temperature && probe[i - 1] < temperature)
            return time[i - 1] + (time[i] - time[i - 1]) * (temperature - probe[i - 1]) / (probe[i] - probe[i - 1]);
    return NAN;
}

/* The row before the pull at which the probe, between 60 and 85 C, rose slowest; row_count if there is none. */
static size_t slowest_row(const cook_result *r)
{
    const sw_history *h = r->history;
    const double *probe = h->series[SW_SERIES_probe_temperature], *rate = h->series[SW_SERIES_probe_heating_rate];
    size_t slowest = h->row_count;
    for (size_t i = 0; i < h->row_count && h->series[SW_SERIES_time][i] <= r->outcome.done_time; i++)
        if (probe[i] >= 60.0 + celsius && probe[i] <= 85.0 + celsius && (slowest == h->row_count || rate[i] < rate[slowest]))
            slowest = i;
    return slowest;
}

/* That rate over the one at 55 C on the way there: what a cook sees as a slow spell, whatever the pace of the cook. */
static double slow_spell_share(const cook_result *r, size_t slowest)
{
    const sw_history *h = r->history;
    for (size_t i = 0; i < slowest; i++)
        if (h->series[SW_SERIES_probe_temperature][i] >= 55.0 + celsius)
            return h->series[SW_SERIES_probe_heating_rate][slowest] / h->series[SW_SERIES_probe_heating_rate][i];
    return NAN;
}

static double evaporated_share(const sw_budget *b)
{
    return 100.0 * b->evaporated_mass / (b->evaporated_mass + b->dripped_mass);
}

/* Share of the water in what is left [% of raw mass]. */
static double meat_water_loss(const sw_budget *b)
{
    return 100.0 * (b->evaporated_mass + b->dripped_mass) / b->initial_mass;
}

double cook_quantity(const cook_result *r, const char *name)
{
    if (r->failed)
        return NAN;
    const sw_outcome *o = &r->outcome;
    const sw_history *h = r->history;
    const sw_budget *pull = &o->at_pull, *end = &o->at_end;
    double from, to;
    int length = 0;
    if (sscanf(name, "hours_to_%lf_c%n", &to, &length) == 1 && length > 0 && !name[length])
        return time_to(h, to + celsius) / hour;
    if (sscanf(name, "hours_%lf_to_%lf_c%n", &from, &to, &length) == 2 && length > 0 && !name[length])
        return (time_to(h, to + celsius) - time_to(h, from + celsius)) / hour;
    size_t slowest = slowest_row(r);
    const bool has_slowest = slowest < h->row_count;
    const struct {
        const char *name;
        double value;
    } values[] = {
        {"done_h", o->done_time / hour},
        {"done_h_per_lb", o->done_time / hour / (pull->initial_mass / 0.45359237)},
        {"done_h_per_untrimmed_kg", o->done_time / hour / (pull->initial_mass / (1.0 - h->scenario.serving.trimming))},
        {"stall_start_h", o->stall_start / hour},
        {"stall_length_h", o->stall_length / hour},
        {"stall_length_or_0_h", SW_IS_ABSENT(o->stall_length) ? 0.0 : o->stall_length / hour},
        {"stall_probe_c", o->stall_probe - celsius},
        {"stall_end_after_wrap_h", (o->stall_end - o->wrap_time) / hour},
        {"slowest_rate_k_per_h", has_slowest ? h->series[SW_SERIES_probe_heating_rate][slowest] * hour : NAN},
        {"slowest_rate_probe_c", has_slowest ? h->series[SW_SERIES_probe_temperature][slowest] - celsius : NAN},
        {"slow_spell_percent", has_slowest ? 100.0 * slow_spell_share(r, slowest) : NAN},
        {"yield_at_pull_percent", 100.0 * o->yield_at_pull},
        {"yield_percent", 100.0 * o->yield_fraction},
        {"loss_at_pull_percent", 100.0 - 100.0 * o->yield_at_pull},
        {"evaporated_percent", 100.0 * pull->evaporated_mass / pull->initial_mass},
        {"dripped_percent", 100.0 * pull->dripped_mass / pull->initial_mass},
        {"rendered_percent", 100.0 * pull->rendered_mass / pull->initial_mass},
        {"water_loss_percent", meat_water_loss(pull)},
        {"water_loss_at_end_percent", meat_water_loss(end)},
        {"evaporated_share_percent", evaporated_share(pull)},
        {"carry_over_k", o->highest_probe - o->done_probe},
        {"wrap_to_done_h", (o->done_time - o->wrap_time) / hour},
        {"top_surface_c", o->top_surface_at_pull - celsius},
        {"top_water_activity", o->top_water_activity_at_pull},
    };
    for (size_t i = 0; i < sizeof values / sizeof *values; i++)
        if (strcmp(values[i].name, name) == 0)
            return values[i].value;
    die("there is no quantity \"%s\"", name);
}

/* ---- rows of the report ---- */

static void compared_row(report_case *c, const char *text, const char *relation, double reference, double computed,
                         double margin, const char *missing)
{
    const bool less = strcmp(relation, "less_than") == 0 || strcmp(relation, "at_most") == 0;
    double difference = computed - reference;
    report_row row = {.verdict = (less ? difference <= -margin : difference >= margin) ? VERDICT_PASS : VERDICT_FAIL};
    snprintf(row.quantity, TEXT_SIZE, "%s", text);
    snprintf(row.reference, TEXT_SIZE, "%s %.2f", less ? "below" : "above", reference);
    if (isnan(difference))
        snprintf(row.computed, TEXT_SIZE, "%s", missing);
    else
        snprintf(row.computed, TEXT_SIZE, "%.2f", computed);
    snprintf(row.error, TEXT_SIZE, isnan(difference) ? "-" : "%+.2f", difference);
    snprintf(row.tolerance, TEXT_SIZE, "by %.2g", margin);
    add_row(c, &row);
}

static size_t row_of(const csv_table *t, const char *reference)
{
    for (size_t i = 0; i < t->row_count; i++)
        if (strcmp(csv_text(t, i, "id"), reference + 1) == 0)
            return i;
    die("%s: there is no row \"%s\"", t->path, reference);
}

static void add_cook_row(report_case *c, const csv_table *t, size_t i, const double *computed, const char *failure)
{
    const char *relation = csv_text(t, i, "relation"), *text = csv_text(t, i, "meaning"),
               *reference = csv_text(t, i, "reference");
    double tolerance = *csv_text(t, i, "tolerance") ? csv_number(t, i, "tolerance") : 0.0, low, high;
    const char *missing = *failure ? failure : "none";
    if (strcmp(relation, "not_assessed") == 0) {
        add_not_assessed(c, text, reference);
    } else if (strcmp(relation, "shown") == 0) {
        return;
    } else if (strcmp(relation, "band") == 0 || strcmp(relation, "trade") == 0) {
        if (sscanf(reference, "%lf to %lf", &low, &high) != 2)
            die("%s: \"%s\" is no band", t->path, reference);
        add_band(c, text, low, high, computed[i], 2, relation[0] == 't');
    } else if (strcmp(relation, "near") == 0) {
        add_near(c, text, csv_number(t, i, "reference"), computed[i], tolerance, 2);
    } else {
        double against = reference[0] == '@' ? computed[row_of(t, reference)] : csv_number(t, i, "reference");
        compared_row(c, text, relation, against, computed[i], tolerance, missing);
    }
}

void add_cook_rows(report_case *c, const char *file)
{
    csv_table *t = csv_read(c->folder, file);
    sw_scenario_reader *reader;
    if (sw_scenario_reader_create(NULL, &reader) != SW_OK)
        die("the unit database cannot be read");
    double *computed = calloc(t->row_count + 1, sizeof *computed);
    char (*failures)[TEXT_SIZE] = calloc(t->row_count + 1, sizeof *failures);
    cook_result last = {.failed = true};
    if (!computed || !failures)
        die("memory is short");
    for (size_t i = 0; i < t->row_count; i++) {
        const char *scenario = csv_text(t, i, "scenario"), *settings = csv_text(t, i, "settings");
        if (strcmp(csv_text(t, i, "relation"), "not_assessed") == 0)
            continue;
        /* Rows on the same cook stand together: it is run once. */
        if (i == 0 || !last.history || strcmp(scenario, csv_text(t, i - 1, "scenario")) != 0 ||
            strcmp(settings, csv_text(t, i - 1, "settings")) != 0) {
            char *path = *scenario ? validation_path(c->folder, scenario) : NULL;
            cook_case_free(&last);
            cook_case_run(reader, path, settings, 0, NULL, &last);
            free(path);
        }
        computed[i] = cook_quantity(&last, csv_text(t, i, "quantity"));
        snprintf(failures[i], TEXT_SIZE, "%s", last.failure);
    }
    for (size_t i = 0; i < t->row_count; i++)
        add_cook_row(c, t, i, computed, failures[i]);
    cook_case_free(&last);
    sw_scenario_reader_destroy(reader);
    free(computed);
    free(failures);
    csv_free(t);
}
