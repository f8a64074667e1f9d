/* SPDX-License-Identifier: BSD-3-Clause */
#include "dense_elimination.h"

#include <math.h>

void solve_dense(size_t n, size_t width, double *matrix, double *x)
{
    for (size_t k = 0; k < n; k++) {
        double *row = matrix + k * width;
        size_t pivot = k;
        for (size_t i = k + 1; i < n; i++)
            if (fabs(matrix[i * width + k]) > fabs(matrix[pivot * width + k]))
                pivot = i;
        for (size_t j = 0; j <= n; j++) {
            double swap = row[j];
            row[j] = matrix[pivot * width + j];
            matrix[pivot * width + j] = swap;
        }
        for (size_t i = k + 1; i < n; i++) {
            double factor = matrix[i * width + k] / row[k];
            for (size_t j = k; j <= n; j++)
                matrix[i * width + j] -= factor * row[j];
        }
    }
    for (size_t k = n; k-- > 0;) {
        x[k] = matrix[k * width + n];
        for (size_t j = k + 1; j < n; j++)
            x[k] -= matrix[k * width + j] * x[j];
        x[k] /= matrix[k * width + k];
    }
}
