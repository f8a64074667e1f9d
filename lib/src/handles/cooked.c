/* SPDX-License-Identifier: BSD-3-Clause */
#include "cooked.h"

#include <stallwright/side_by_side.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static sw_cooked *create(void)
{
    return calloc(1, sizeof(sw_cooked));
}

sw_status sw_cooked_take(sw_context *context, sw_history *history, sw_cooked **cooked)
{
    sw_cooked *made = create();
    if (!made)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a cook could not be allocated");
    made->history = made->owned = history;
    sw_outcome_evaluate(history, &made->outcome);
    *cooked = made;
    return SW_OK;
}

sw_status sw_setup_cook(sw_context *context, const sw_setup *setup,
                        int (*observe)(double time, double probe_temperature, void *data), void *data, sw_cooked **cooked)
{
    sw_history *history;
    sw_status status = sw_cook_run(context, &setup->scenario, observe, data, &history);
    if (status != SW_OK)
        return status;
    status = sw_cooked_take(context, history, cooked);
    if (status != SW_OK)
        sw_history_destroy(history);
    return status;
}

void sw_cooked_destroy(sw_cooked *cooked)
{
    if (!cooked)
        return;
    sw_history_destroy(cooked->owned);
    free(cooked);
}

/* ---- figures ---- */

typedef struct figure_row {
    const char *name, *unit, *meaning;
    size_t offset; /* in sw_outcome */
} figure_row;

#define OF_OUTCOME(name, unit, meaning) {#name, unit, meaning, offsetof(sw_outcome, name)},
#define AT_PULL(name, unit, meaning) {"at_pull." #name, unit, meaning, offsetof(sw_outcome, at_pull.name)},
#define AT_END(name, unit, meaning) {"at_end." #name, unit, meaning, offsetof(sw_outcome, at_end.name)},
#define TOP(name, unit, meaning) {"top." #name, unit, meaning, offsetof(sw_outcome, sides[SW_SIDE_TOP].name)},
#define BOTTOM(name, unit, meaning) {"bottom." #name, unit, meaning, offsetof(sw_outcome, sides[SW_SIDE_BOTTOM].name)},
#define END_(name, unit, meaning) {"end." #name, unit, meaning, offsetof(sw_outcome, sides[SW_SIDE_END].name)},
static const figure_row figures[] = {SW_OUTCOME_LIST(OF_OUTCOME) SW_BUDGET_LIST(AT_PULL) SW_BUDGET_LIST(AT_END)
                                         SW_SIDE_FIGURE_LIST(TOP) SW_SIDE_FIGURE_LIST(BOTTOM) SW_SIDE_FIGURE_LIST(END_)};
enum { FIGURES = sizeof figures / sizeof *figures };

static const figure_row *find_figure(const char *name)
{
    for (size_t i = 0; i < FIGURES; i++)
        if (strcmp(figures[i].name, name) == 0)
            return &figures[i];
    return NULL;
}

size_t sw_cooked_figure_count(void)
{
    return FIGURES;
}

const char *sw_cooked_figure_name(size_t number)
{
    return number < FIGURES ? figures[number].name : NULL;
}

const char *sw_cooked_figure_meaning(const char *figure)
{
    const figure_row *row = find_figure(figure);
    return row ? row->meaning : NULL;
}

const char *sw_cooked_figure_unit(const char *figure)
{
    const figure_row *row = find_figure(figure);
    return row ? row->unit : NULL;
}

sw_status sw_cooked_figure(sw_context *context, const sw_cooked *cooked, const char *figure, double *value)
{
    const figure_row *row = find_figure(figure);
    if (!row)
        return sw_fail(context, SW_ERR_ARGUMENT, "\"%.60s\" is no figure of a cook", figure);
    memcpy(value, (const char *)&cooked->outcome + row->offset, sizeof *value);
    return SW_OK;
}

sw_status sw_cooked_word(sw_context *context, const sw_cooked *cooked, const char *name, const char **word)
{
    if (strcmp(name, "tenderness") == 0)
        *word = sw_tenderness_name(cooked->outcome.tenderness);
    else if (strcmp(name, "top_state_at_pull") == 0)
        *word = sw_surface_state_name(cooked->outcome.top_state_at_pull);
    else
        return sw_fail(context, SW_ERR_ARGUMENT, "\"%.60s\" is no word of a cook; tenderness and top_state_at_pull are", name);
    return SW_OK;
}

/* ---- curves ---- */

size_t sw_cooked_curve_count(void)
{
    return SW_SERIES_COUNT;
}

const char *sw_cooked_curve_name(size_t number)
{
    return number < SW_SERIES_COUNT ? sw_series_name((sw_series)number) : NULL;
}

/* SW_SERIES_COUNT for a name that is none. */
static int find_curve(const char *name)
{
    int series = 0;
    while (series < SW_SERIES_COUNT && strcmp(sw_series_name((sw_series)series), name) != 0)
        series++;
    return series;
}

const char *sw_cooked_curve_meaning(const char *curve)
{
    const int series = find_curve(curve);
    return series < SW_SERIES_COUNT ? sw_series_long_name((sw_series)series) : NULL;
}

const char *sw_cooked_curve_unit(const char *curve)
{
    const int series = find_curve(curve);
    return series < SW_SERIES_COUNT ? sw_series_unit((sw_series)series) : NULL;
}

sw_status sw_cooked_curve(sw_context *context, const sw_cooked *cooked, const char *curve, const double **values, size_t *length)
{
    const sw_history *h = cooked->history;
    const int series = find_curve(curve);
    const double *found = series < SW_SERIES_COUNT ? h->series[series] : NULL;
    for (size_t i = 0; !found && i < h->probe_count; i++) {
        char name[64];
        snprintf(name, sizeof name, "probe_%zu_temperature", i + 1);
        if (strcmp(name, curve) == 0)
            found = h->probe_series[i];
    }
    if (!found)
        return sw_fail(context, SW_ERR_ARGUMENT, "\"%.60s\" is no curve of this cook", curve);
    *values = found;
    *length = h->row_count;
    return SW_OK;
}

/* ---- many ---- */

typedef struct many {
    const sw_setup *const *setups;
    sw_take_cooked take;
    void *data;
} many;

static void give_scenario(size_t number, sw_scenario *scenario, void *data)
{
    *scenario = ((const many *)data)->setups[number]->scenario;
}

static sw_status take_run(sw_context *context, size_t number, const sw_run *run, void *data)
{
    const many *m = data;
    sw_cooked *cooked = run->status == SW_OK ? create() : NULL;
    if (run->status == SW_OK && !cooked)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a cook could not be allocated");
    if (cooked) {
        cooked->history = run->history;
        cooked->outcome = run->outcome;
    }
    const int stop = m->take(number, cooked, cooked ? NULL : run->failure, m->data);
    free(cooked);
    return stop ? sw_fail(context, SW_ERR_CANCELLED, "the cooks were stopped by their caller") : SW_OK;
}

sw_status sw_setups_cook(sw_context *context, size_t count, const sw_setup *const *setups, size_t threads, sw_take_cooked take,
                         void *data)
{
    many m = {setups, take, data};
    const sw_side_by_side work = {.count = count, .threads = threads, .scenario = give_scenario, .take = take_run, .data = &m};
    return sw_cook_side_by_side(context, &work);
}
