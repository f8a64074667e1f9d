/* SPDX-License-Identifier: BSD-3-Clause */
#include "least_squares.h"

#include <cminpack.h>

#include <stdlib.h>

/* A change of the sum of squares, or of the parameters, not worth a further step. The parameters are normal numbers, of which a
 * hundredth is nothing. */
static const double settled_sum = 1e-3, settled_step = 1e-2;
enum { EVALUATIONS_MAX = 15 };

typedef struct search {
    const sw_least_squares *problem;
    sw_status status;
} search;

/* A negative answer ends the search. */
static int answer(void *data, int m, int n, const double *x, double *residuals, double *jacobian, int leading, int what)
{
    search *s = data;
    const sw_least_squares *p = s->problem;
    (void)m;
    (void)n;
    (void)leading; /* the residuals: as it is allocated below */
    s->status = what == 1 ? p->evaluate(x, residuals, p->data) : p->differentiate(x, jacobian, p->data);
    return s->status == SW_OK ? 0 : -1;
}

sw_status sw_least_squares_find(sw_context *context, const sw_least_squares *problem, double *parameters)
{
    const size_t n = problem->parameters, m = problem->residuals;
    double *room = calloc(2 * m + m * n + 6 * n + 1, sizeof *room);
    int *pivots = calloc(n + 1, sizeof *pivots), residual_calls = 0, jacobian_calls = 0;
    search s = {.problem = problem};
    if (!room || !pivots) {
        s.status = sw_fail(context, SW_ERR_MEMORY, "memory for a fit to %zu readings could not be allocated", m);
    } else {
        double *residuals = room, *jacobian = room + m, *work = room + m + m * n, *scale = work + m, *qtf = scale + n;
        lmder(answer, &s, (int)m, (int)n, parameters, residuals, jacobian, (int)m, settled_sum, settled_step, 0.0, EVALUATIONS_MAX,
              scale, 1, 1.0, 0, &residual_calls, &jacobian_calls, pivots, qtf, qtf + n, qtf + 2 * n, qtf + 3 * n, work);
    }
    free(room);
    free(pivots);
    return s.status;
}
