/* SPDX-License-Identifier: BSD-3-Clause */
#include "population_fit.h"

#include "cook_case.h"
#include "processors.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A target whose cook fails, or lacks the quantity, counts as so many standard deviations off. */
static const double missing_residual = 5.0;

static double to_scale(bool is_logarithmic, double value)
{
    return is_logarithmic ? log(value) : value;
}

double parameter_told(const parameter *p, double value)
{
    return p->is_logarithmic ? exp(value) : value;
}

static void read_parameter(parameter *p, const csv_table *t, size_t row)
{
    const char *scale = csv_text(t, row, "scale");
    snprintf(p->name, sizeof p->name, "%s", csv_text(t, row, "name"));
    const char *at = strchr(p->name, '@');
    snprintf(p->group, sizeof p->group, "%s", at ? at + 1 : "");
    char key[64];
    snprintf(key, sizeof key, "%.*s", (int)strcspn(p->name, "@"), p->name);
    p->key = sw_scenario_key_find(key);
    p->is_logarithmic = strcmp(scale, "log") == 0;
    if (!p->key || (!p->is_logarithmic && strcmp(scale, "linear") != 0))
        die("%s: %s is no key, or its scale neither log nor linear", t->path, p->name);
    p->start = to_scale(p->is_logarithmic, csv_number(t, row, "start"));
    p->lower = to_scale(p->is_logarithmic, csv_number(t, row, "lower"));
    p->upper = to_scale(p->is_logarithmic, csv_number(t, row, "upper"));
    p->prior = to_scale(p->is_logarithmic, csv_number(t, row, "prior"));
    p->spread = to_scale(p->is_logarithmic, csv_number(t, row, "spread"));
    if (!(p->lower < p->upper && p->start >= p->lower && p->start <= p->upper && p->spread > 0.0))
        die("%s: %s does not start between its bounds", t->path, p->name);
}

/* The number of the cook of a file (empty: the default scenario) at settings; it is taken up if it is new. */
static size_t target_cook_of(population_fit *fit, const char *file, const char *settings, sw_context *context, sw_scenario_reader *reader)
{
    for (size_t i = 0; i < fit->target_cook_count; i++)
        if (strcmp(fit->target_cooks[i].file, file) == 0 && strcmp(fit->target_cooks[i].settings, settings) == 0)
            return i;
    target_cook *cook = &fit->target_cooks[fit->target_cook_count];
    *cook = (target_cook){.file = file, .settings = settings};
    char *path = *file ? validation_path(".", file) : NULL;
    cook_case_scenario(context, reader, path, settings, &cook->scenario);
    free(path);
    return fit->target_cook_count++;
}

static void read_target(population_fit *fit, size_t row, sw_context *context, sw_scenario_reader *reader)
{
    const csv_table *t = fit->target_table;
    target *g = &fit->targets[row];
    const char *file = csv_text(t, row, "scenario"), *against = csv_text(t, row, "against");
    g->quantity = csv_text(t, row, "quantity");
    g->source = csv_text(t, row, "source");
    g->value = csv_number(t, row, "value");
    g->uncertainty = csv_number(t, row, "uncertainty");
    g->cook = target_cook_of(fit, file, csv_text(t, row, "settings"), context, reader);
    g->against = *against ? target_cook_of(fit, file, against, context, reader) : g->cook;
}

/* ---- what the values of a fit do to a scenario and to a population ---- */

static bool is_in_group(const char *group, bool is_pork, pit_group pits)
{
    static const char *const names[PIT_GROUP_COUNT] = {"draughty", "cabinet", "fan", "oven"};
    return !*group || strcmp(group, "all") == 0 || strcmp(group, is_pork ? "pork" : "beef") == 0 ||
           strcmp(group, names[pits]) == 0;
}

/* What differs from cook to cook has a median that moves; everything else is a law, of all pits or of a group of them. */
static bool is_law(const parameter *p)
{
    return p->key->left_open.kind == SW_UNCERTAINTY_NONE;
}

static bool is_pork_cut(const sw_scenario *s)
{
    return s->meat.cut == SW_CUT_PORK_BUTT || s->meat.cut == SW_CUT_PORK_PICNIC;
}

/* A law of a group stands only where the scenario leaves its value to the kind of pit. */
static void set_laws(const population_fit *fit, const double *values, pit_group pits, sw_scenario *s)
{
    for (size_t j = 0; j < fit->parameter_count; j++) {
        const parameter *p = &fit->parameters[j];
        if (is_law(p) && is_in_group(p->group, is_pork_cut(s), pits) && (!*p->group || sw_scenario_key_is_usual(p->key, s)) &&
            sw_scenario_set_number(NULL, s, p->key->name, parameter_told(p, values[j])) != SW_OK)
            die("%s cannot be %.6g", p->key->name, parameter_told(p, values[j]));
    }
}

/* Moves what the scenario leaves open; what it states stays. */
static void move_medians(const population_fit *fit, const double *values, const sw_scenario *stated, pit_group pits,
                         sw_population *population)
{
    double point[SW_POPULATION_INPUTS_MAX] = {0.0};
    for (size_t j = 0; j < fit->parameter_count; j++) {
        const parameter *p = &fit->parameters[j];
        if (is_law(p) || !is_in_group(p->group, is_pork_cut(stated), pits))
            continue;
        for (size_t i = 0; i < population->count; i++) {
            sw_population_input *input = &population->inputs[i];
            if (input->key == p->key && sw_uncertain_input_given(p->key, stated) == &p->key->left_open)
                point[i] = values[j] / input->spread;
        }
    }
    sw_scenario moved;
    sw_population_scenario(population, point, &moved);
    for (size_t i = 0; i < population->count; i++)
        population->inputs[i].middle = sw_uncertain_input_value(population->inputs[i].key, &moved);
    population->stated = moved;
}

void population_of(const population_fit *fit, const double *values, const measured_cook *cook, sw_population *population)
{
    sw_scenario stated = cook->stated;
    set_laws(fit, values, cook->group, &stated);
    sw_context *context;
    if (sw_context_create(&context) != SW_OK)
        die("memory is short");
    if (sw_population_given(context, &stated, population) != SW_OK)
        die("%s: %s", cook->id, sw_context_message(context));
    sw_context_destroy(context);
    move_medians(fit, values, &stated, cook->group, population);
    for (size_t i = 0; i < population->count; i++)
        population->inputs[i].spread *= fit->spreads[i];
}

void cook_fit_begin(const population_fit *fit, const measured_cook *cook, cook_fit *own)
{
    memset(own, 0, sizeof *own);
    own->cook = cook;
    population_of(fit, fit->values, cook, &own->population);
    own->own = own->population.count + 1;
    own->observed = cook->reading_count + (SW_IS_ABSENT(cook->done) ? 0 : 1);
}

/* ---- targets ---- */

typedef struct target_work {
    const population_fit *fit;
    const double *vectors; /* one after the other */
    double *quantities;    /* [vector][cook][target]; NaN where a target asks another cook */
} target_work;

/* What a target leaves open has the medians of the fit; what it states stays. */
static void target_scenario(size_t number, sw_scenario *s, void *data)
{
    const target_work *w = data;
    const population_fit *fit = w->fit;
    const double *values = w->vectors + number / fit->target_cook_count * fit->parameter_count;
    sw_population population;
    *s = fit->target_cooks[number % fit->target_cook_count].scenario;
    const pit_group pits = pit_group_of(s->pit.kind);
    set_laws(fit, values, pits, s);
    if (sw_population_given(NULL, s, &population) != SW_OK)
        return; /* the cook says why */
    move_medians(fit, values, s, pits, &population);
    *s = population.stated;
    sw_population_coarsen(s);
}

static sw_status take_target_cook(sw_context *context, size_t number, const sw_run *run, void *data)
{
    const target_work *w = data;
    const population_fit *fit = w->fit;
    const cook_result result = {.failed = run->status != SW_OK, .history = run->history, .outcome = run->outcome};
    const size_t cook = number % fit->target_cook_count;
    (void)context;
    for (size_t t = 0; t < fit->target_count; t++) {
        const target *g = &fit->targets[t];
        const bool asked = g->cook == cook || g->against == cook;
        w->quantities[number * fit->target_count + t] = asked && !result.failed ? cook_quantity(&result, g->quantity) : NAN;
    }
    return SW_OK;
}

static void compute_targets(const population_fit *fit, size_t count, const double *vectors, double *computed)
{
    sw_context *context;
    const size_t cooks = count * fit->target_cook_count;
    double *quantities = calloc(cooks * fit->target_count + 1, sizeof *quantities);
    target_work w = {fit, vectors, quantities};
    const sw_side_by_side work = {.count = cooks,
                                  .threads = count_processors(),
                                  .scenario = target_scenario,
                                  .take = take_target_cook,
                                  .data = &w};
    if (!quantities || sw_context_create(&context) != SW_OK)
        die("memory is short");
    if (sw_cook_side_by_side(context, &work) != SW_OK)
        die("the targets could not be computed: %s", sw_context_message(context));
    sw_context_destroy(context);
    for (size_t k = 0; k < count; k++)
        for (size_t t = 0; t < fit->target_count; t++) {
            const target *g = &fit->targets[t];
            const double *of = quantities + k * fit->target_cook_count * fit->target_count + t;
            const double other = g->against == g->cook ? 0.0 : of[g->against * fit->target_count];
            computed[k * fit->target_count + t] = of[g->cook * fit->target_count] - other;
        }
    free(quantities);
}

void targets_compute(const population_fit *fit, const double *values, double *computed)
{
    compute_targets(fit, 1, values, computed);
}

/* ---- the fit ---- */

size_t population_fit_observed(const population_fit *fit)
{
    size_t count = 0;
    for (size_t c = 0; c < fit->cook_count; c++)
        count += fit->cooks[c].observed;
    return count;
}

static size_t residual_count(const population_fit *fit)
{
    return population_fit_observed(fit) + fit->target_count + fit->parameter_count;
}

/* Whitened residuals of all cooks for every vector. */
static void cook_residuals(const population_fit *fit, size_t count, const double *vectors, double *residuals)
{
    const size_t m = residual_count(fit), total = count * fit->cook_count;
    simulation *all = calloc(total, sizeof *all);
    sw_population *populations = calloc(total, sizeof *populations);
    if (!all || !populations)
        die("memory is short");
    for (size_t k = 0; k < count; k++)
        for (size_t c = 0; c < fit->cook_count; c++) {
            const size_t n = k * fit->cook_count + c;
            population_of(fit, vectors + k * fit->parameter_count, fit->cooks[c].cook, &populations[n]);
            all[n] = (simulation){.cook = fit->cooks[c].cook, .population = &populations[n], .at = fit->cooks[c].at};
        }
    simulate(all, total);
    for (size_t k = 0; k < count; k++) {
        double *at = residuals + k * m;
        for (size_t c = 0; c < fit->cook_count; c++) {
            whiten(&fit->cooks[c], all[k * fit->cook_count + c].computed, at);
            at += fit->cooks[c].observed;
        }
    }
    free(all);
    free(populations);
}

static void evaluate(size_t count, const double *vectors, double *residuals, void *data)
{
    const population_fit *fit = data;
    const size_t m = residual_count(fit), n = population_fit_observed(fit);
    double *computed = calloc(count * fit->target_count + 1, sizeof *computed);
    if (!computed)
        die("memory is short");
    cook_residuals(fit, count, vectors, residuals);
    compute_targets(fit, count, vectors, computed);
    for (size_t k = 0; k < count; k++) {
        double *at = residuals + k * m + n;
        for (size_t t = 0; t < fit->target_count; t++) {
            const double off = (computed[k * fit->target_count + t] - fit->targets[t].value) / fit->targets[t].uncertainty;
            *at++ = isfinite(off) ? off : missing_residual;
        }
        for (size_t j = 0; j < fit->parameter_count; j++)
            *at++ = (vectors[k * fit->parameter_count + j] - fit->parameters[j].prior) / fit->parameters[j].spread;
    }
    free(computed);
}

/* Spreads from cook to cook, by expectation and maximisation: the mean square of the found unknowns and their uncertainty. Each is
 * kept within a factor of two of the table's, since few cooks tell it. */
static void find_spreads(population_fit *fit)
{
    double squares[SW_POPULATION_INPUTS_MAX] = {0.0}, number[SW_POPULATION_INPUTS_MAX] = {0.0};
    for (size_t c = 0; c < fit->cook_count; c++) {
        const cook_fit *f = &fit->cooks[c];
        for (size_t i = 0; i < f->population.count && !f->cook->stated.pit.is_log; i++) {
            squares[i] += f->at[i] * f->at[i] + f->covariance[i][i];
            number[i] += 1.0;
        }
    }
    for (size_t i = 0; i < SW_POPULATION_INPUTS_MAX; i++)
        if (number[i] > 0.0)
            fit->spreads[i] = fmin(2.0, fmax(0.5, fit->spreads[i] * sqrt(squares[i] / number[i])));
}

void population_fit_begin(population_fit *fit, const measured_cook *const *cooks, size_t count)
{
    sw_context *context;
    sw_scenario_reader *reader;
    memset(fit, 0, sizeof *fit);
    fit->parameter_table = csv_read("calibration", "parameters.csv");
    fit->target_table = csv_read("calibration", "targets.csv");
    fit->parameter_count = fit->parameter_table->row_count;
    fit->target_count = fit->target_table->row_count;
    if (fit->parameter_count > PARAMETERS_MAX || fit->target_count > TARGETS_MAX)
        die("at most %d parameters and %d targets are read", (int)PARAMETERS_MAX, (int)TARGETS_MAX);
    if (sw_context_create(&context) != SW_OK || sw_scenario_reader_create(context, &reader) != SW_OK)
        die("the unit database cannot be read");
    for (size_t j = 0; j < fit->parameter_count; j++) {
        read_parameter(&fit->parameters[j], fit->parameter_table, j);
        fit->values[j] = fit->parameters[j].start;
    }
    for (size_t t = 0; t < fit->target_count; t++)
        read_target(fit, t, context, reader);
    sw_scenario_reader_destroy(reader);
    sw_context_destroy(context);
    for (size_t i = 0; i < SW_POPULATION_INPUTS_MAX; i++)
        fit->spreads[i] = 1.0;
    fit->error = (reading_error){.noise = 3.0, .bias = 2.0, .end = 0.1, .freedom = 4.0};
    fit->cooks = calloc(count + 1, sizeof *fit->cooks);
    if (!fit->cooks)
        die("memory is short");
    fit->cook_count = count;
    for (size_t c = 0; c < count; c++)
        cook_fit_begin(fit, cooks[c], &fit->cooks[c]);
}

void population_fit_end(population_fit *fit)
{
    bounded_fit_free(&fit->result);
    csv_free(fit->parameter_table);
    csv_free(fit->target_table);
    free(fit->cooks);
}

static void renew_populations(population_fit *fit)
{
    for (size_t c = 0; c < fit->cook_count; c++)
        population_of(fit, fit->values, fit->cooks[c].cook, &fit->cooks[c].population);
}

void population_fit_run(population_fit *fit, int rounds)
{
    for (int round = 0; round < rounds; round++) {
        renew_populations(fit);
        fit_own_unknowns(fit->cooks, fit->cook_count, &fit->error, round == 0 ? 5 : 3);
        if (round > 0)
            find_spreads(fit);
        for (size_t j = 0; j < fit->parameter_count; j++) {
            const parameter *p = &fit->parameters[j];
            fit->fitted[j] = (fit_parameter){.start = fit->values[j], .lower = p->lower, .upper = p->upper};
        }
        bounded_fit_free(&fit->result);
        bounded_fit(fit->parameter_count, fit->fitted, residual_count(fit), evaluate, fit, &fit->result);
        for (size_t j = 0; j < fit->parameter_count; j++)
            fit->values[j] = fit->fitted[j].value;
        fprintf(stderr, "round %d: sum of squares %.1f to %.1f of %zu residuals\n", round + 1, fit->result.first_sum_of_squares,
                fit->result.sum_of_squares, residual_count(fit));
    }
    renew_populations(fit);
    fit_own_unknowns(fit->cooks, fit->cook_count, &fit->error, 3);
}
