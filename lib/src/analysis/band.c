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
    size_t first;    /* number of the first draw that is made */
    double *figures; /* SW_SENSITIVE_COUNT of each that is made */
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
    const size_t number = d->first + cook / w->count;
    double normal[SW_POPULATION_INPUTS_MAX] = {0.0};
    if (number < d->asked->draws) /* the last is the median cook */
        sw_population_draw(&d->population, d->asked->seed, number, normal);
    sw_population_scenario(&d->population, normal, scenario);
    sw_population_coarsen(scenario);
    scenario->rest.until.kind = scenario->hold.until.kind = scenario->cooling.until.kind = SW_ENDING_NONE;
}

static sw_status take(sw_context *context, size_t cook, const sw_run *run, void *data)
{
    const work *w = data;
    const draws *d = &w->list[cook % w->count];
    const size_t place = cook / w->count;
    double *figures = d->figures + place * SW_SENSITIVE_COUNT;
    const bool is_never = run->status == SW_ERR_NEVER_ENDS;
    if (run->status != SW_OK && !is_never)
        return sw_fail(context, run->status, "draw %zu of a band: %s", d->first + place + 1, run->failure);
#define TAKE(name, unit, field, negligible) figures[SW_SENSITIVE_##name] = is_never ? SW_ABSENT : run->outcome.field;
    SW_SENSITIVE_LIST(TAKE)
#undef TAKE
    if (is_never)
        figures[SW_SENSITIVE_done] = never;
    return d->asked->see ? d->asked->see(context, d->first + place, run, d->asked->data) : SW_OK;
}

static bool is_cancelled(void *data)
{
    const sw_watch *watch = ((const work *)data)->list[0].asked->watch;
    return watch && watch->is_cancelled && watch->is_cancelled(watch->data);
}

/* Makes so many draws of each, from their first on. */
static sw_status make(sw_context *context, work *w, size_t count)
{
    const sw_side_by_side asked = {.count = count * w->count,
                                   .alike = w->count,
                                   .threads = w->list[0].asked->threads,
                                   .scenario = draw,
                                   .take = take,
                                   .is_cancelled = is_cancelled,
                                   .data = w};
    for (size_t i = 0; i < w->count; i++) {
        const sw_status status = sw_population_given(context, w->list[i].asked->stated, &w->list[i].population);
        if (status != SW_OK)
            return status;
    }
    return sw_cook_side_by_side(context, &asked);
}

sw_status sw_band_draw(sw_context *context, const sw_band_question *question, size_t first, size_t count, double *figures)
{
    draws d = {.asked = question, .first = first, .figures = figures};
    work w = {&d, 1};
    if (first > question->draws || count > question->draws + 1 - first)
        return sw_fail(context, SW_ERR_ARGUMENT, "a band of %zu draws has none from %zu to %zu", question->draws, first, first + count);
    return make(context, &w, count);
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

/* values: room for one of each draw. */
static sw_interval interval_of(const double *figures, size_t count, int figure, double fine, double *values)
{
    const double coarse = figures[count * SW_SENSITIVE_COUNT + (size_t)figure];
    sw_interval band = {SW_ABSENT, SW_ABSENT, SW_ABSENT};
    if (SW_IS_ABSENT(fine))
        return band;
    for (size_t i = 0; i < count; i++)
        values[i] = refined(figure, figures[i * SW_SENSITIVE_COUNT + (size_t)figure], coarse, fine);
    band.low = point_of(values, count, 0.1);
    band.middle = point_of(values, count, 0.5);
    band.high = point_of(values, count, 0.9);
    return band;
}

static sw_status check(sw_context *context, const sw_band_question *question)
{
    const sw_run *run = question->run;
    if (run->status != SW_OK || run->history->scenario.pull.kind != SW_ENDING_PROBE_TEMPERATURE || question->draws < 10)
        return sw_fail(context, SW_ERR_ARGUMENT, "a band needs a cook that went well, with a pull by the probe, and 10 draws or more");
    return SW_OK;
}

static sw_status no_memory(sw_context *context)
{
    return sw_fail(context, SW_ERR_MEMORY, "memory for the draws of a band could not be allocated");
}

sw_status sw_band_gather(sw_context *context, const sw_band_question *question, const double *figures, sw_band *band)
{
    const size_t count = question->draws;
    const sw_status status = check(context, question);
    if (status != SW_OK)
        return status;
    const double fine[SW_SENSITIVE_COUNT] = {
#define FINE(name, unit, field, negligible) [SW_SENSITIVE_##name] = question->run->outcome.field,
        SW_SENSITIVE_LIST(FINE)
#undef FINE
    };
    double *values = malloc(count * sizeof *values);
    if (!values)
        return no_memory(context);
    *band = (sw_band){.draws = count};
    for (size_t i = 0; i < count; i++) {
        if (figures[i * SW_SENSITIVE_COUNT + SW_SENSITIVE_done] >= never)
            band->never_done++;
        if (SW_IS_ABSENT(figures[i * SW_SENSITIVE_COUNT + SW_SENSITIVE_stall]))
            band->without_stall++;
    }
    for (int f = 0; f < SW_SENSITIVE_COUNT; f++)
        band->of[f] = interval_of(figures, count, f, fine[f], values);
    free(values);
    return SW_OK;
}

sw_status sw_bands_find(sw_context *context, size_t count, const sw_band_question *questions, sw_band *bands)
{
    const size_t draws_made = questions->draws + 1;
    sw_status status = SW_OK;
    for (size_t i = 0; status == SW_OK && i < count; i++)
        status = check(context, &questions[i]);
    if (status != SW_OK)
        return status;
    double *figures = malloc(count * draws_made * SW_SENSITIVE_COUNT * sizeof *figures);
    work w = {calloc(count, sizeof *w.list), count};
    status = figures && w.list ? SW_OK : no_memory(context);
    for (size_t i = 0; status == SW_OK && i < count; i++)
        w.list[i] = (draws){.asked = &questions[i], .figures = figures + i * draws_made * SW_SENSITIVE_COUNT};
    if (status == SW_OK)
        status = make(context, &w, draws_made);
    for (size_t i = 0; status == SW_OK && i < count; i++)
        status = sw_band_gather(context, &questions[i], w.list[i].figures, &bands[i]);
    free(w.list);
    free(figures);
    return status;
}

sw_status sw_band_find(sw_context *context, const sw_band_question *question, sw_band *band)
{
    return sw_bands_find(context, 1, question, band);
}
