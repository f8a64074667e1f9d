/* SPDX-License-Identifier: BSD-3-Clause */
#include "forecast.h"

#include <math.h>
#include <stdlib.h>

typedef struct weighted {
    double value, weight;
} weighted;

static int by_value(const void *a, const void *b)
{
    const weighted *one = a, *other = b;
    return (one->value > other->value) - (one->value < other->value);
}

/* The value at which the weights, each counted half on either side of its value, come to a share; straight between values. */
static double at_share(const weighted *list, size_t count, double total, double share)
{
    double before = 0.0;
    for (size_t i = 0; i < count; i++) {
        const double middle = before + 0.5 * list[i].weight;
        if (middle >= share * total) {
            if (i == 0 || isinf(list[i].value))
                return list[i].value;
            const double last = before - 0.5 * list[i - 1].weight;
            const double part = middle > last ? (share * total - last) / (middle - last) : 1.0;
            return list[i - 1].value + part * (list[i].value - list[i - 1].value);
        }
        before += list[i].weight;
    }
    return list[count - 1].value;
}

sw_track_band sw_weighted_band(const double *values, const double *weights, size_t count, size_t stride)
{
    sw_track_band band = {SW_ABSENT, SW_ABSENT, SW_ABSENT};
    weighted *list = malloc((count + 1) * sizeof *list);
    size_t used = 0;
    double total = 0.0;
    for (size_t i = 0; list && i < count; i++)
        if (!SW_IS_ABSENT(values[i * stride]) && weights[i] > 0.0) {
            list[used++] = (weighted){values[i * stride], weights[i]};
            total += weights[i];
        }
    if (used > 0) {
        qsort(list, used, sizeof *list, by_value);
        band = (sw_track_band){at_share(list, used, total, 0.1), at_share(list, used, total, 0.5), at_share(list, used, total, 0.9)};
    }
    free(list);
    return band;
}

bool sw_weights_from_logarithms(double *weight, size_t count)
{
    double most = -INFINITY, sum = 0.0, cut = 0.0;
    for (size_t i = 0; i < count; i++)
        most = fmax(most, weight[i]);
    if (!(most > -INFINITY))
        return false;
    for (size_t i = 0; i < count; i++)
        sum += weight[i] = exp(weight[i] - most);
    const double limit = sum / sqrt((double)count);
    for (size_t i = 0; i < count; i++)
        cut += weight[i] = fmin(weight[i], limit);
    for (size_t i = 0; i < count; i++)
        weight[i] /= cut;
    return true;
}
