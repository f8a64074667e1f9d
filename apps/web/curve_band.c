/* SPDX-License-Identifier: BSD-3-Clause */
#include "curve_band.h"

#include <math.h>
#include <stdlib.h>

/* Moments of the band: enough for a smooth line on a screen, a choice. */
enum { MOMENTS = 96 };

/* The shares that the band tells, a choice: eight of ten cooks lie within. */
static const double shares[] = {0.1, 0.9};
static const char *const names[] = {"low_k", "high_k"};
enum { EDGES = 2 };

/* Of a draw that never is done nothing but that. */
typedef struct drawn {
    size_t rows;
    double *time, *probe;
} drawn;

struct curve_band {
    size_t draws;
    drawn cooks[]; /* the last is the median cook */
};

curve_band *curve_band_create(size_t draws)
{
    curve_band *band = calloc(1, sizeof *band + (draws + 1) * sizeof *band->cooks);
    if (band)
        band->draws = draws;
    return band;
}

void curve_band_destroy(curve_band *band)
{
    for (size_t i = 0; band && i <= band->draws; i++) {
        free(band->cooks[i].time);
        free(band->cooks[i].probe);
    }
    free(band);
}

sw_status curve_band_see(sw_context *context, size_t number, const sw_run *draw, void *data)
{
    drawn *cook = &((curve_band *)data)->cooks[number];
    if (draw->status != SW_OK)
        return SW_OK;
    const sw_history *h = draw->history;
    cook->time = malloc(h->row_count * sizeof *cook->time);
    cook->probe = malloc(h->row_count * sizeof *cook->probe);
    if (!cook->time || !cook->probe)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the curves of a band could not be allocated");
    for (size_t i = 0; i < h->row_count; i++) {
        cook->time[i] = h->series[SW_SERIES_time][i];
        cook->probe[i] = h->series[SW_SERIES_probe_temperature][i];
    }
    cook->rows = h->row_count;
    return SW_OK;
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

json_t *curve_band_tell(const curve_band *band, double done)
{
    double *values = malloc(band->draws * sizeof *values);
    if (!values)
        return NULL;
    json_t *object = json_object(), *times = json_array(), *lists[EDGES] = {json_array(), json_array()};
    for (size_t i = 0; i < band->draws; i++)
        values[i] = end_of(&band->cooks[i]);
    const double last = sw_quantile(values, band->draws, 1.0), coarse = end_of(&band->cooks[band->draws]);
    const double fine_over_coarse = coarse > 0.0 ? done / coarse : 1.0;
    for (int m = 0; m <= MOMENTS && !SW_IS_ABSENT(last); m++) {
        const double time = last * m / MOMENTS;
        json_array_append_new(times, json_real(time * fine_over_coarse));
        for (size_t i = 0; i < band->draws; i++)
            values[i] = probe_at(&band->cooks[i], time);
        for (int k = 0; k < EDGES; k++)
            json_array_append_new(lists[k], json_real(sw_quantile(values, band->draws, shares[k])));
    }
    json_object_set_new(object, "time_s", times);
    for (int k = 0; k < EDGES; k++)
        json_object_set_new(object, names[k], lists[k]);
    free(values);
    return object;
}
