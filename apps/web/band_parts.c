/* SPDX-License-Identifier: BSD-3-Clause */
#include "band_parts.h"

#include "json_output.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Moments of the band: enough for a smooth line on a screen, a choice. */
enum { MOMENTS = 96 };

/* The shares that the band tells, a choice: eight of ten cooks lie within. */
static const double shares[] = {0.1, 0.9};
static const char *const names[] = {"low_k", "high_k"};
enum { EDGES = 2 };

enum { HEAD = 2 + SW_SENSITIVE_COUNT }; /* number of the draw, rows, figures */

/* ---- parts ---- */

/* A part while it is made. */
typedef struct making {
    band_part *part;
    size_t room;
} making;

static sw_status no_memory(sw_context *context)
{
    return sw_fail(context, SW_ERR_MEMORY, "memory for the curves of a band could not be allocated");
}

/* As sw_band_question has it. Of a draw that never is done nothing is kept but that. */
static sw_status see(sw_context *context, size_t number, const sw_run *draw, void *data)
{
    making *m = data;
    const size_t rows = draw->status == SW_OK ? draw->history->row_count : 0, needed = m->part->count + HEAD + 2 * rows;
    if (needed > m->room) {
        double *grown = realloc(m->part->numbers, 2 * needed * sizeof *grown);
        if (!grown)
            return no_memory(context);
        m->part->numbers = grown;
        m->room = 2 * needed;
    }
    double *record = m->part->numbers + m->part->count;
    record[0] = (double)number;
    record[1] = (double)rows;
    if (rows > 0) {
        memcpy(record + HEAD, draw->history->series[SW_SERIES_time], rows * sizeof *record);
        memcpy(record + HEAD + rows, draw->history->series[SW_SERIES_probe_temperature], rows * sizeof *record);
    }
    m->part->count = needed;
    return SW_OK;
}

sw_status band_part_make(sw_context *context, const sw_scenario *stated, size_t draws, size_t first, size_t count, band_part *part)
{
    making m = {.part = part};
    const sw_band_question question = {.stated = stated, .draws = draws, .seed = 1, .threads = 1, .see = see, .data = &m};
    double *figures = malloc((count + 1) * SW_SENSITIVE_COUNT * sizeof *figures);
    *part = (band_part){0};
    if (!figures)
        return no_memory(context);
    const sw_status status = sw_band_draw(context, &question, first, count, figures);
    for (size_t at = 0; status == SW_OK && at < part->count; at += HEAD + 2 * (size_t)part->numbers[at + 1])
        memcpy(part->numbers + at + 2, figures + ((size_t)part->numbers[at] - first) * SW_SENSITIVE_COUNT, SW_SENSITIVE_COUNT * sizeof *figures);
    free(figures);
    return status;
}

/* ---- the whole ---- */

/* Of a draw that never is done no rows. */
typedef struct drawn {
    bool is_there;
    size_t rows;
    const double *figures, *time, *probe;
} drawn;

/* The draws and, last, the median cook, which parts number as that of all draws. False if one is missing. */
static bool find_draws(const band_part *part, size_t draws, size_t all_draws, drawn *cooks)
{
    for (size_t at = 0; at + HEAD <= part->count;) {
        const double *record = part->numbers + at;
        const size_t rows = (size_t)record[1], place = record[0] == (double)all_draws ? draws : (size_t)record[0];
        at += HEAD + 2 * rows;
        if (at > part->count || place > draws)
            return false;
        cooks[place] = (drawn){true, rows, record + 2, record + HEAD, record + HEAD + rows};
    }
    for (size_t i = 0; i <= draws; i++)
        if (!cooks[i].is_there)
            return false;
    return true;
}

static double end_of(const drawn *cook)
{
    return cook->rows > 0 ? cook->time[cook->rows - 1] : SW_ABSENT;
}

/* The reading at a moment; after the end that at the end, and none of a cook that is not there. */
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

static json_t *curve_json(const drawn *cooks, size_t draws, double done, double *values)
{
    json_t *object = json_object(), *times = json_array(), *lists[EDGES] = {json_array(), json_array()};
    for (size_t i = 0; i < draws; i++)
        values[i] = end_of(&cooks[i]);
    const double last = sw_quantile(values, draws, 1.0), coarse = end_of(&cooks[draws]);
    const double fine_over_coarse = coarse > 0.0 ? done / coarse : 1.0;
    for (int m = 0; m <= MOMENTS && !SW_IS_ABSENT(last); m++) {
        const double time = last * m / MOMENTS;
        json_array_append_new(times, json_real(time * fine_over_coarse));
        for (size_t i = 0; i < draws; i++)
            values[i] = probe_at(&cooks[i], time);
        for (int k = 0; k < EDGES; k++)
            json_array_append_new(lists[k], json_real(sw_quantile(values, draws, shares[k])));
    }
    json_object_set_new(object, "time_s", times);
    for (int k = 0; k < EDGES; k++)
        json_object_set_new(object, names[k], lists[k]);
    return object;
}

sw_status band_parts_gather(sw_context *context, const sw_run *run, const band_part *parts, size_t draws, size_t all_draws, json_t **told)
{
    drawn *cooks = calloc(draws + 1, sizeof *cooks);
    double *figures = malloc((draws + 1) * SW_SENSITIVE_COUNT * sizeof *figures);
    const sw_band_question question = {.run = run, .draws = draws};
    sw_band band;
    sw_status status = cooks && figures ? SW_OK : no_memory(context);
    if (status == SW_OK && !find_draws(parts, draws, all_draws, cooks))
        status = sw_fail(context, SW_ERR_ARGUMENT, "the parts of a band of %zu draws do not make it whole", draws);
    for (size_t i = 0; status == SW_OK && i <= draws; i++)
        memcpy(figures + i * SW_SENSITIVE_COUNT, cooks[i].figures, SW_SENSITIVE_COUNT * sizeof *figures);
    if (status == SW_OK)
        status = sw_band_gather(context, &question, figures, &band);
    if (status == SW_OK) {
        *told = json_band(&band);
        json_object_set_new(*told, "curve", curve_json(cooks, draws, run->outcome.done_time, figures));
    }
    free(cooks);
    free(figures);
    return status;
}
