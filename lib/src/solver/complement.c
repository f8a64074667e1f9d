/* SPDX-License-Identifier: BSD-3-Clause */
#include "complement.h"

#include <math.h>

bool sw_complement_factor(sw_complement *c)
{
    for (size_t k = 0; k < c->count; k++) {
        size_t best = k;
        for (size_t i = k + 1; i < c->count; i++)
            if (fabs(c->entry[i][k]) > fabs(c->entry[best][k]))
                best = i;
        c->pivot[k] = best;
        for (size_t j = 0; j < c->count; j++) {
            const double moved = c->entry[best][j];
            c->entry[best][j] = c->entry[k][j];
            c->entry[k][j] = moved;
        }
        if (!(fabs(c->entry[k][k]) > 0.0))
            return false;
        for (size_t i = k + 1; i < c->count; i++) {
            const double share = c->entry[i][k] /= c->entry[k][k];
            for (size_t j = k + 1; j < c->count; j++)
                c->entry[i][j] -= share * c->entry[k][j];
        }
    }
    return true;
}

void sw_complement_solve(const sw_complement *c, double *values)
{
    for (size_t k = 0; k < c->count; k++) {
        const double moved = values[c->pivot[k]];
        values[c->pivot[k]] = values[k];
        values[k] = moved;
    }
    for (size_t k = 0; k < c->count; k++)
        for (size_t j = 0; j < k; j++)
            values[k] -= c->entry[k][j] * values[j];
    for (size_t k = c->count; k-- > 0;) {
        for (size_t j = k + 1; j < c->count; j++)
            values[k] -= c->entry[k][j] * values[j];
        values[k] /= c->entry[k][k];
    }
}
