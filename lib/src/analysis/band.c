/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/band.h>

#include <stallwright/side_by_side.h>
#include <stallwright/study.h>

#include <math.h>
#include <stdlib.h>

/* Stands for a time that never comes, above all that do. */
static const double never = 1e300;

typedef struct draws {
    const sw_band_question *asked;
    sw_population population;
    size_t count, never_done, without_stall; /* the last draw is the median cook */
    double *figures[SW_SENSITIVE_COUNT];     /* count + 1 each */
} draws;

/* Cook by cook, all that are asked for of a draw one after the other. */
typedef struct work {
    draws *list; /* one a question */
    size_t count;
} work;

static void draw(size_t cook, sw_scenario *scenario, void *data)
{
    const work *w = data;
    const draws *d = &w->list[cook % w->count];
    const size_t number = cook / w->count;
    double normal[SW_POPULATION_INPUTS_MAX] = {0.0};
    if (number < d->count)
        sw_population_draw(&d->population, d->asked->seed, number, normal);
    sw_population_scenario(&d->population, normal, scenario);
    sw_population_coarsen(scenario);
    scenario->rest.until.kind = scenario->hold.until.kind = scenario->cooling.until.kind = SW_ENDING_NONE;
}

static sw_status take(sw_context *context, size_t cook, const sw_run *run, void *data)
{
    const work *w = data;
    draws *d = &w->list[cook % w->count];
    const size_t number = cook / w->count;
    const bool is_never = run->status == SW_ERR_NEVER_ENDS;
    if (run->status != SW_OK && !is_never)
        return sw_fail(context, run->status, "draw %zu of a band: %s", number + 1, run->failure);
#define TAKE(name, unit, field, negligible) d->figures[SW_SENSITIVE_##name][number] = is_never ? SW_ABSENT : run->outcome.field;
    SW_SENSITIVE_LIST(TAKE)
#undef TAKE
    if (is_never)
        d->figures[SW_SENSITIVE_done][number] = never;
    if (number < d->count) {
        d->never_done += is_never;
        if (SW_IS_ABSENT(d->figures[SW_SENSITIVE_stall][number]))
            d->without_stall++;
    }
    return d->asked->see ? d->asked->see(context, number, run, d->asked->data) : SW_OK;
}

static bool is_cancelled(void *data)
{
    const sw_watch *watch = ((const work *)data)->list[0].asked->watch;
    return watch && watch->is_cancelled && watch->is_cancelled(watch->data);
}

/* A figure as the coarse median cook has it, moved to where the fine one has it. */
static double refined(int figure, double value, double coarse, double fine)
{
    if (SW_IS_ABSENT(value) || SW_IS_ABSENT(coarse) || value >= never)
        return value;
    return figure == SW_SENSITIVE_yield ? value + fine - coarse : value * fine / coarse;
}

/* A quantile; SW_ABSENT where so many never come to it. */
static double point_of(double *values, size_t count, double share)
{
    const double point = sw_quantile(values, count, share);
    return point > 1e6 * 3600.0 ? SW_ABSENT : point;
}

static sw_interval interval_of(draws *d, int figure, double fine)
{
    double *values = d->figures[figure];
    const double coarse = values[d->count];
    sw_interval band = {SW_ABSENT, SW_ABSENT, SW_ABSENT};
    if (SW_IS_ABSENT(fine))
        return band;
    for (size_t i = 0; i < d->count; i++)
        values[i] = refined(figure, values[i], coarse, fine);
    band.low = point_of(values, d->count, 0.1);
    band.middle = point_of(values, d->count, 0.5);
    band.high = point_of(values, d->count, 0.9);
    return band;
}

static void tell(draws *d, sw_band *band)
{
    const double fine[SW_SENSITIVE_COUNT] = {
#define FINE(name, unit, field, negligible) [SW_SENSITIVE_##name] = d->asked->run->outcome.field,
        SW_SENSITIVE_LIST(FINE)
#undef FINE
    };
    *band = (sw_band){.draws = d->count, .never_done = d->never_done, .without_stall = d->without_stall};
    for (int f = 0; f < SW_SENSITIVE_COUNT; f++)
        band->of[f] = interval_of(d, f, fine[f]);
}

static sw_status begin(sw_context *context, const sw_band_question *question, draws *d)
{
    const sw_run *run = question->run;
    const size_t count = question->draws;
    *d = (draws){.asked = question, .count = count};
    if (run->status != SW_OK || run->history->scenario.pull.kind != SW_ENDING_PROBE_TEMPERATURE || count < 10)
        return sw_fail(context, SW_ERR_ARGUMENT, "a band needs a cook that went well, with a pull by the probe, and 10 draws or more");
    const sw_status status = sw_population_given(context, question->stated, &d->population);
    if (status != SW_OK)
        return status;
    double *block = malloc((count + 1) * SW_SENSITIVE_COUNT * sizeof *block);
    if (!block)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the draws of a band could not be allocated");
    for (int f = 0; f < SW_SENSITIVE_COUNT; f++)
        d->figures[f] = block + (size_t)f * (count + 1);
    return SW_OK;
}

sw_status sw_bands_find(sw_context *context, size_t count, const sw_band_question *questions, sw_band *bands)
{
    draws *list = calloc(count, sizeof *list);
    work w = {list, count};
    sw_status status = list ? SW_OK : sw_fail(context, SW_ERR_MEMORY, "memory for bands could not be allocated");
    for (size_t i = 0; status == SW_OK && i < count; i++)
        status = begin(context, &questions[i], &list[i]);
    if (status == SW_OK) {
        const sw_side_by_side asked = {.count = (questions->draws + 1) * count,
                                       .alike = count,
                                       .threads = questions->threads,
                                       .scenario = draw,
                                       .take = take,
                                       .is_cancelled = is_cancelled,
                                       .data = &w};
        status = sw_cook_side_by_side(context, &asked);
    }
    for (size_t i = 0; list && i < count; i++) {
        if (status == SW_OK)
            tell(&list[i], &bands[i]);
        free(list[i].figures[0]);
    }
    free(list);
    return status;
}

sw_status sw_band_find(sw_context *context, const sw_band_question *question, sw_band *band)
{
    return sw_bands_find(context, 1, question, band);
}
