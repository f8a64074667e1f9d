/* SPDX-License-Identifier: BSD-3-Clause */
#include "study_internal.h"

#include "halton.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- description ---- */

const char *sw_design_name(sw_design design)
{
    return design == SW_DESIGN_HALTON ? "halton" : "grid";
}

sw_status sw_study_create(sw_context *context, const sw_scenario *base, sw_study **study)
{
    sw_study *created = calloc(1, sizeof *created);
    if (!created)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a study could not be allocated");
    created->base = *base;
    created->run_count = 1;
    *study = created;
    return SW_OK;
}

void sw_study_destroy(sw_study *study)
{
    if (!study)
        return;
    for (size_t i = 0; i < study->factor_count; i++)
        sw_factor_free(&study->factors[i]);
    free(study);
}

static sw_factor *find_factor(sw_study *study, const char *key)
{
    for (size_t i = 0; i < study->factor_count; i++)
        if (strcmp(study->factors[i].key->name, key) == 0)
            return &study->factors[i];
    return NULL;
}

/* Begins a factor with its first value; nothing is left of it on error. */
static sw_status begin_factor(sw_context *context, sw_study *study, const char *key_name, sw_factor_kind kind,
                              const sw_scenario *holder, const char *label)
{
    const sw_scenario_key *key = sw_scenario_key_find(key_name);
    if (!key)
        return sw_fail(context, SW_ERR_ARGUMENT, "a scenario has no key \"%.100s\"", key_name);
    if (study->factor_count == SW_STUDY_FACTORS_MAX)
        return sw_fail(context, SW_ERR_ARGUMENT, "%s is one factor too many; a study has at most %d", key->name,
                       SW_STUDY_FACTORS_MAX);
    sw_factor *factor = &study->factors[study->factor_count];
    *factor = (sw_factor){.key = key, .kind = kind};
    sw_status status = sw_factor_add(context, factor, holder, label);
    if (status == SW_OK)
        study->factor_count++;
    else
        sw_factor_free(factor);
    return status;
}

sw_status sw_study_add_value(sw_context *context, sw_study *study, const char *key, const sw_scenario *holder,
                             const char *label)
{
    sw_factor *factor = find_factor(study, key);
    if (!factor)
        return begin_factor(context, study, key, SW_FACTOR_LISTED, holder, label);
    if (factor->kind != SW_FACTOR_LISTED)
        return sw_fail(context, SW_ERR_ARGUMENT, "%s has a distribution already; it takes no listed values", key);
    return sw_factor_add(context, factor, holder, label);
}

static sw_status add_distribution(sw_context *context, sw_study *study, const char *key, sw_factor_kind kind,
                                  const sw_scenario *holder, sw_factor **added)
{
    sw_quantity quantity;
    if (find_factor(study, key))
        return sw_fail(context, SW_ERR_ARGUMENT, "%.100s is a factor already", key);
    sw_status status = begin_factor(context, study, key, kind, holder, "");
    if (status != SW_OK)
        return status;
    sw_factor *factor = &study->factors[study->factor_count - 1];
    /* A whole number between two would not be distributed evenly at the ends. */
    if (factor->key->type == SW_KEY_WHOLE || !sw_factor_quantity(factor, &quantity)) {
        sw_factor_free(factor);
        study->factor_count--;
        return sw_fail(context, SW_ERR_ARGUMENT, "%.100s has no distribution: it is no quantity; list its values", key);
    }
    *added = factor;
    return SW_OK;
}

static void drop_last_factor(sw_study *study)
{
    sw_factor_free(&study->factors[--study->factor_count]);
}

/* The number another scenario has for the key of a factor; SW_ABSENT if it is not of the same quantity. */
static double number_of(const sw_factor *like, const sw_scenario *holder)
{
    sw_factor probe = {.key = like->key};
    sw_quantity wanted = SW_QUANTITY_COUNT, found = SW_QUANTITY_COUNT;
    if (sw_factor_add(NULL, &probe, holder, "") != SW_OK)
        return SW_ABSENT;
    sw_factor_quantity(like, &wanted);
    sw_factor_quantity(&probe, &found);
    double number = wanted == found ? sw_factor_number(&probe, 0) : SW_ABSENT;
    sw_factor_free(&probe);
    return number;
}

sw_status sw_study_add_uniform(sw_context *context, sw_study *study, const char *key, const sw_scenario *low,
                               const sw_scenario *high)
{
    sw_factor *factor;
    sw_status status = add_distribution(context, study, key, SW_FACTOR_UNIFORM, low, &factor);
    if (status != SW_OK)
        return status;
    factor->first = sw_factor_number(factor, 0);
    factor->second = number_of(factor, high);
    if (factor->first < factor->second)
        return SW_OK;
    status = sw_fail(context, SW_ERR_ARGUMENT, "the range of %s is empty: its low end is not below its high end", key);
    drop_last_factor(study);
    return status;
}

sw_status sw_study_add_normal(sw_context *context, sw_study *study, const char *key, const sw_scenario *mean,
                              double deviation)
{
    sw_factor *factor;
    sw_status status = add_distribution(context, study, key, SW_FACTOR_NORMAL, mean, &factor);
    if (status != SW_OK)
        return status;
    factor->first = sw_factor_number(factor, 0);
    factor->second = deviation;
    if (deviation > 0.0 && isfinite(deviation))
        return SW_OK;
    status = sw_fail(context, SW_ERR_ARGUMENT, "the standard deviation of %s is %g; it must be above 0", key, deviation);
    drop_last_factor(study);
    return status;
}

static sw_status count_grid(sw_context *context, const sw_study *study, size_t *runs)
{
    double count = 1.0;
    for (size_t i = 0; i < study->factor_count; i++) {
        const sw_factor *f = &study->factors[i];
        if (f->kind != SW_FACTOR_LISTED)
            return sw_fail(context, SW_ERR_ARGUMENT,
                           "%s has a distribution, which a grid cannot hold; choose the design halton, or list values",
                           f->key->name);
        count *= (double)f->count;
    }
    if (count > SW_STUDY_RUNS_MAX)
        return sw_fail(context, SW_ERR_ARGUMENT, "the grid has %.0f cooks; at most %d are allowed", count,
                       SW_STUDY_RUNS_MAX);
    *runs = (size_t)count;
    return SW_OK;
}

sw_status sw_study_set_design(sw_context *context, sw_study *study, sw_design design, size_t runs, uint64_t seed)
{
    if (design == SW_DESIGN_GRID) {
        sw_status status = count_grid(context, study, &runs);
        if (status != SW_OK)
            return status;
    } else if (runs < 1 || runs > SW_STUDY_RUNS_MAX) {
        return sw_fail(context, SW_ERR_ARGUMENT, "%zu cooks are asked for; allowed are 1 to %d", runs, SW_STUDY_RUNS_MAX);
    }
    study->design = design;
    study->run_count = runs;
    study->seed = design == SW_DESIGN_HALTON ? seed : 0;
    return SW_OK;
}

/* ---- reading ---- */

sw_design sw_study_design(const sw_study *study)
{
    return study->design;
}

uint64_t sw_study_seed(const sw_study *study)
{
    return study->seed;
}

size_t sw_study_run_count(const sw_study *study)
{
    return study->run_count;
}

const sw_scenario *sw_study_base(const sw_study *study)
{
    return &study->base;
}

size_t sw_study_factor_count(const sw_study *study)
{
    return study->factor_count;
}

sw_factor_view sw_study_factor(const sw_study *study, size_t factor)
{
    const sw_factor *f = &study->factors[factor];
    sw_factor_view view = {.key = f->key->name, .kind = f->kind, .first = f->first, .second = f->second};
    view.quantity = SW_QUANTITY_NUMBER;
    view.has_numbers = sw_factor_quantity(f, &view.quantity);
    view.value_count = f->kind == SW_FACTOR_LISTED ? f->count : 0;
    return view;
}

double sw_study_listed_number(const sw_study *study, size_t factor, size_t value)
{
    return sw_factor_number(&study->factors[factor], value);
}

const char *sw_study_listed_label(const sw_study *study, size_t factor, size_t value)
{
    return study->factors[factor].labels[value];
}

size_t sw_study_choice(const sw_study *study, size_t run, size_t factor)
{
    const sw_factor *f = &study->factors[factor];
    if (f->kind != SW_FACTOR_LISTED)
        return 0;
    if (study->design == SW_DESIGN_HALTON) {
        size_t choice = (size_t)(sw_halton_point(study->seed, run, factor) * (double)f->count);
        return choice < f->count ? choice : f->count - 1;
    }
    for (size_t i = study->factor_count - 1; i > factor; i--)
        run /= study->factors[i].count;
    return run % f->count;
}

size_t sw_study_alike_runs(const sw_study *study)
{
    size_t runs = 1;
    for (size_t i = study->factor_count; study->design == SW_DESIGN_GRID && i-- > 0;) {
        const sw_factor *f = &study->factors[i];
        if (strncmp(f->key->name, "wrap.", 5) != 0 && strncmp(f->key->name, "rewrap.", 7) != 0)
            break;
        runs *= f->count;
    }
    return runs <= SW_STUDY_ALIKE_MAX ? runs : 1;
}

double sw_study_number(const sw_study *study, size_t run, size_t factor)
{
    const sw_factor *f = &study->factors[factor];
    if (f->kind == SW_FACTOR_LISTED)
        return sw_factor_number(f, sw_study_choice(study, run, factor));
    const double point = sw_halton_point(study->seed, run, factor);
    return f->kind == SW_FACTOR_UNIFORM ? f->first + point * (f->second - f->first)
                                        : f->first + f->second * sw_normal_quantile(point);
}

void sw_study_scenario(const sw_study *study, size_t run, sw_scenario *scenario)
{
    *scenario = study->base;
    for (size_t i = 0; i < study->factor_count; i++) {
        const sw_factor *f = &study->factors[i];
        if (f->kind == SW_FACTOR_LISTED)
            sw_factor_apply(f, sw_study_choice(study, run, i), scenario);
        else
            sw_factor_apply_number(f, sw_study_number(study, run, i), scenario);
    }
}
