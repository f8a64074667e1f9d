#include "curve_band.h"

#include "json_output.h"

#include <math.h>
#include <stdlib.h>

/* Moments of the band: enough for a smooth line on a screen, a choice. */
enum { MOMENTS = 96 };

/* The shares that the band tells, a choice: eight of ten cooks lie within. */
static const double shares[] = {0.1, 0.9};
static const char *const names[] = {"low_k", "high_k"};
enum { EDGES = 2 };

typedef struct drawn {
    double done;
    size_t rows;
    double *time, *probe;
} drawn;

static void release(drawn *cooks, size_t count)
{
    for (size_t i = 0; cooks && i < count; i++) {
        free(cooks[i].time);
        free(cooks[i].probe);
    }
    free(cooks);
}

static sw_status keep(const sw_run *run, drawn *cook)
{
    const sw_history *h = run->history;
    const double *time = h->series[SW_SERIES_time];
    cook->done = run->outcome.done_time;
    while (cook->rows < h->row_count && time[cook->rows] <= cook->done + 1e-6)
        cook->rows++;
    cook->time = malloc(cook->rows * sizeof *cook->time);
    cook->probe = malloc(cook->rows * sizeof *cook->probe);
    if (!cook->time || !cook->probe)
        return SW_ERR_MEMORY;
    for (size_t i = 0; i < cook->rows; i++) {
        cook->time[i] = time[i];
        cook->probe[i] = h->series[SW_SERIES_probe_temperature][i];
    }
    return SW_OK;
}

static sw_status cook_draws(sw_context *context, const sw_population *population, size_t draws, drawn *cooks)
{
    sw_run *run = malloc(sizeof *run);
    sw_status status = run ? SW_OK : SW_ERR_MEMORY;
    for (size_t i = 0; i < draws && status == SW_OK; i++) {
        double normal[SW_POPULATION_INPUTS_MAX];
        *run = (sw_run){.label = "draw"};
        sw_population_draw(population, 1, i, normal);
        sw_population_scenario(population, normal, &run->scenario);
        sw_population_coarsen(&run->scenario);
        run->scenario.rest.until.kind = run->scenario.hold.until.kind = run->scenario.cooling.until.kind = SW_ENDING_NONE;
        cooks[i].done = SW_ABSENT;
        status = sw_run_cook(context, run, NULL);
        if (status == SW_OK)
            status = keep(run, &cooks[i]);
        else if (status != SW_ERR_MEMORY)
            status = SW_OK; /* a cook that fails is counted */
        sw_run_free(run);
    }
    free(run);
    return status;
}

/* The reading at a moment; after the end that at the end, and none of a cook that failed. */
static double probe_at(const drawn *cook, double time)
{
    size_t i = 0;
    if (cook->rows == 0)
        return SW_ABSENT;
    while (i + 1 < cook->rows && cook->time[i + 1] < time)
        i++;
    if (i + 1 >= cook->rows)
        return cook->probe[cook->rows - 1];
    const double share = fmax(0.0, (time - cook->time[i]) / (cook->time[i + 1] - cook->time[i]));
    return cook->probe[i] + fmin(share, 1.0) * (cook->probe[i + 1] - cook->probe[i]);
}

static json_t *tell(const drawn *cooks, size_t draws, double *values)
{
    json_t *band = json_object(), *times = json_array(), *lists[EDGES] = {json_array(), json_array()};
    for (size_t i = 0; i < draws; i++)
        values[i] = cooks[i].done;
    const double end = sw_quantile(values, draws, 1.0);
    for (int m = 0; m <= MOMENTS && !SW_IS_ABSENT(end); m++) {
        const double time = end * m / MOMENTS;
        json_array_append_new(times, json_real(time));
        for (size_t i = 0; i < draws; i++)
            values[i] = probe_at(&cooks[i], time);
        for (int k = 0; k < EDGES; k++)
            json_array_append_new(lists[k], json_real(sw_quantile(values, draws, shares[k])));
    }
    json_object_set_new(band, "time_s", times);
    for (int k = 0; k < EDGES; k++)
        json_object_set_new(band, names[k], lists[k]);
    return band;
}

sw_status curve_band_find(sw_context *context, const sw_scenario *scenario, size_t draws, json_t **band)
{
    sw_population *population = malloc(sizeof *population);
    drawn *cooks = calloc(draws, sizeof *cooks);
    double *values = malloc(draws * sizeof *values);
    sw_status status = population && cooks && values ? sw_population_given(context, scenario, population) : SW_ERR_MEMORY;
    if (status == SW_OK)
        status = cook_draws(context, population, draws, cooks);
    if (status == SW_OK)
        *band = tell(cooks, draws, values);
    else if (status == SW_ERR_MEMORY)
        sw_fail(context, status, "%s", sw_status_text(status));
    release(cooks, draws);
    free(population);
    free(values);
    return status;
}
