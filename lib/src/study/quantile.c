/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/study.h>

#include <math.h>
#include <stdlib.h>

/* Absent values come last. */
static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    if (isnan(x) || isnan(y))
        return isnan(x) - isnan(y);
    return (x > y) - (x < y);
}

double sw_quantile(double *values, size_t count, double share)
{
    qsort(values, count, sizeof *values, by_size);
    while (count > 0 && SW_IS_ABSENT(values[count - 1]))
        count--;
    if (count == 0)
        return SW_ABSENT;
    double place = share * (double)(count - 1);
    size_t below = (size_t)place;
    if (below + 1 >= count)
        return values[count - 1];
    return values[below] + (place - (double)below) * (values[below + 1] - values[below]);
}
