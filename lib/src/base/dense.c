/* SPDX-License-Identifier: BSD-3-Clause */
#include "dense.h"

#include <math.h>
#include <string.h>

bool sw_cholesky(size_t n, double *a)
{
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j <= i; j++) {
            double sum = a[i * n + j];
            for (size_t k = 0; k < j; k++)
                sum -= a[i * n + k] * a[j * n + k];
            if (i == j && !(sum > 0.0))
                return false;
            a[i * n + j] = i == j ? sqrt(sum) : sum / a[j * n + j];
        }
    return true;
}

void sw_forward_solve(size_t n, const double *root, double *x)
{
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < i; k++)
            x[i] -= root[i * n + k] * x[k];
        x[i] /= root[i * n + i];
    }
}

void sw_backward_solve(size_t n, const double *root, double *x)
{
    for (size_t i = n; i-- > 0;) {
        for (size_t k = i + 1; k < n; k++)
            x[i] -= root[k * n + i] * x[k];
        x[i] /= root[i * n + i];
    }
}

double sw_log_root(size_t n, const double *root)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += log(root[i * n + i]);
    return sum;
}

bool sw_invert(size_t n, double *matrix)
{
    double root[SW_INVERSE_MAX * SW_INVERSE_MAX];
    memcpy(root, matrix, n * n * sizeof *root);
    if (!sw_cholesky(n, root))
        return false;
    for (size_t k = 0; k < n; k++) {
        double column[SW_INVERSE_MAX] = {0.0};
        column[k] = 1.0;
        sw_forward_solve(n, root, column);
        sw_backward_solve(n, root, column);
        for (size_t i = 0; i < n; i++)
            matrix[i * n + k] = column[i];
    }
    return true;
}
