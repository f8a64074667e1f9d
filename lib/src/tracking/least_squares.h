/* SPDX-License-Identifier: BSD-3-Clause */
/* Damped least squares with a given Jacobian. least_squares.c alone sees cminpack. */
#ifndef SW_LEAST_SQUARES_H
#define SW_LEAST_SQUARES_H

#include <stallwright/context.h>

#include <stddef.h>

typedef struct sw_least_squares {
    size_t parameters, residuals; /* residuals: at least as many */
    /* Both give SW_OK or a status that ends the search. jacobian: residuals x parameters, column after column. */
    sw_status (*evaluate)(const double *parameters, double *residuals, void *data);
    sw_status (*differentiate)(const double *parameters, double *jacobian, void *data);
    void *data;
} sw_least_squares;

/* Levenberg and Marquardt's search (More 1978) from and to parameters. SW_OK, SW_ERR_MEMORY, what a callback returned. */
sw_status sw_least_squares_find(sw_context *context, const sw_least_squares *problem, double *parameters);

#endif
