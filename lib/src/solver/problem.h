/* SPDX-License-Identifier: BSD-3-Clause */
/* What the integrator integrates: unknowns of cells on a mesh, two each, and a few bordered ones. It knows their rates, not
 * what they mean. */
#ifndef SW_PROBLEM_H
#define SW_PROBLEM_H

#include "jacobian_layout.h"
#include "mesh.h"

#include <stdbool.h>

/* Functions that return int return 0, or nonzero to have a smaller step tried. */
typedef struct sw_problem {
    const sw_mesh *mesh;     /* which cells are neighbours */
    double cell_scale[2];    /* size of a cell's unknowns: the absolute tolerance over the relative one */
    size_t bordered_count;   /* 0..SW_BORDERED_MAX */
    double bordered_scale[SW_BORDERED_MAX];
    const bool *bordered_in_use; /* which count now; the others stand still. Changes between segments only */
    size_t sum_count;        /* quantities that are summed over time, 1 or more */

    /* Fixes where Jacobian entries lie. */
    void (*set_layout)(const sw_jacobian_layout *layout, void *data);
    int (*rate)(double time, const double *state, double *rate, void *data);
    /* Adds the Jacobian of the rate into zeroed values, and writes the rate and, with bordered unknowns, the border. */
    int (*jacobian)(double time, const double *state, double *rate, double *values, const sw_border *border, void *data);
    /* What is summed, per second. */
    int (*sums)(double time, const double *state, double *sums, void *data);
    /* The longest step from a time on that leaps over nothing; INFINITY for any [s]. */
    double (*longest_step)(double time, void *data);
    /* The cell that made the last evaluation fail, and one of its states in words, for sentences. */
    size_t (*bad_cell)(const void *data);
    void (*describe)(size_t cell, const double *state, char *text, size_t size, const void *data);
    void *data;
} sw_problem;

enum { SW_ROOTS_MAX = 32 };

/* What ends a segment before its end time: the first of some functions of the state to pass 0. Others only mark where they do, and
 * leave no trace in the integration. */
typedef struct sw_roots {
    int count;      /* 0..SW_ROOTS_MAX */
    int mark_count; /* the last so many only mark */
    void (*values)(double time, const double *state, double *values, const void *data);
    const void *data;
} sw_roots;

#endif
