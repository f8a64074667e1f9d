/* SPDX-License-Identifier: BSD-3-Clause */
/* Sums of products. In a header, so that they go into the clones of their callers. */
#ifndef SW_PRODUCTS_H
#define SW_PRODUCTS_H

#include "vector_clones.h"

#include <stddef.h>

/* Running sums let the additions overlap. */
static SW_INTO_CLONES double sw_dot(const double *a, const double *b, size_t n)
{
    enum { SUMS = 8 };
    double sum[SUMS] = {0.0};
    size_t i = 0;
    for (; i + SUMS <= n; i += SUMS)
        for (size_t k = 0; k < SUMS; k++)
            sum[k] += a[i + k] * b[i + k];
    for (; i < n; i++)
        sum[0] += a[i] * b[i];
    return ((sum[0] + sum[1]) + (sum[2] + sum[3])) + ((sum[4] + sum[5]) + (sum[6] + sum[7]));
}

#endif
