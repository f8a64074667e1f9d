#include "sparse_jacobian.h"

#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <stdlib.h>
#include <string.h>

static int compare(const void *a, const void *b)
{
    size_t x = *(const size_t *)a, y = *(const size_t *)b;
    return x < y ? -1 : x > y;
}

static size_t without_repeats(size_t *list, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (i == 0 || list[i] != list[i - 1])
            list[kept++] = list[i];
    return kept;
}

static int list_neighbours(sw_sparse_pattern *p, const sw_mesh *mesh)
{
    size_t n = mesh->cell_count;
    size_t *fill = calloc(n + 1, sizeof *fill);
    if (!fill)
        return -1;
    for (size_t i = 0; i < mesh->face_count; i++) {
        p->first[mesh->faces[i].a + 1]++;
        p->first[mesh->faces[i].b + 1]++;
    }
    for (size_t i = 0; i < n; i++)
        p->first[i + 1] += p->first[i] + 1; /* and itself */
    for (size_t i = 0; i < n; i++)
        p->neighbours[p->first[i] + fill[i]++] = i;
    for (size_t i = 0; i < mesh->face_count; i++) {
        size_t a = mesh->faces[i].a, b = mesh->faces[i].b;
        p->neighbours[p->first[a] + fill[a]++] = b;
        p->neighbours[p->first[b] + fill[b]++] = a;
    }
    /* Sort, drop repeats (two faces may join the same cells) and close the gaps. */
    size_t end = 0;
    for (size_t i = 0; i < n; i++) {
        size_t *list = p->neighbours + p->first[i];
        qsort(list, fill[i], sizeof *list, compare);
        size_t count = without_repeats(list, fill[i]);
        memmove(p->neighbours + end, list, count * sizeof *list);
        p->first[i] = end;
        end += count;
    }
    p->first[n] = end;
    free(fill);
    return 0;
}

int sw_sparse_pattern_init(sw_sparse_pattern *p, const sw_mesh *mesh)
{
    size_t n = mesh->cell_count, pairs = n + 2 * mesh->face_count;
    *p = (sw_sparse_pattern){.cell_count = n};
    p->first = calloc(n + 1, sizeof *p->first);
    p->neighbours = calloc(pairs, sizeof *p->neighbours);
    p->columns = calloc(2 * n + 1, sizeof *p->columns);
    p->rows = calloc(4 * pairs, sizeof *p->rows);
    if (!p->first || !p->neighbours || !p->columns || !p->rows || list_neighbours(p, mesh) != 0) {
        sw_sparse_pattern_free(p);
        return -1;
    }
    sunindextype at = 0;
    for (size_t column = 0; column < 2 * n; column++) {
        p->columns[column] = at;
        for (size_t k = p->first[column / 2]; k < p->first[column / 2 + 1]; k++) {
            p->rows[at++] = (sunindextype)(2 * p->neighbours[k]);
            p->rows[at++] = (sunindextype)(2 * p->neighbours[k] + 1);
        }
    }
    p->columns[2 * n] = at;
    return 0;
}

void sw_sparse_pattern_free(sw_sparse_pattern *p)
{
    free(p->first);
    free(p->neighbours);
    free(p->columns);
    free(p->rows);
    *p = (sw_sparse_pattern){0};
}

size_t sw_sparse_offset(const sw_sparse_pattern *p, size_t row, size_t column)
{
    size_t cell = column / 2, k = p->first[cell];
    while (p->neighbours[k] != row / 2)
        k++;
    return (size_t)p->columns[column] + 2 * (k - p->first[cell]) + row % 2;
}

SUNMatrix sw_sparse_matrix(const sw_sparse_pattern *p, SUNContext context)
{
    sunindextype n = 2 * (sunindextype)p->cell_count;
    return SUNSparseMatrix(n, n, p->columns[n], CSC_MAT, context);
}

SUNLinearSolver sw_sparse_solver(N_Vector state, SUNMatrix matrix, SUNContext context)
{
    SUNLinearSolver solver = SUNLinSol_KLU(state, matrix, context);
    /* The pattern is symmetric: minimum degree on it (ordering 0) fills less than the column ordering. */
    if (solver)
        SUNLinSol_KLUSetOrdering(solver, 0);
    return solver;
}

double *sw_sparse_matrix_reset(const sw_sparse_pattern *p, SUNMatrix matrix)
{
    const size_t n = 2 * p->cell_count, entries = (size_t)p->columns[n];
    memcpy(SM_INDEXPTRS_S(matrix), p->columns, (n + 1) * sizeof *p->columns);
    memcpy(SM_INDEXVALS_S(matrix), p->rows, entries * sizeof *p->rows);
    memset(SM_DATA_S(matrix), 0, entries * sizeof(double));
    return SM_DATA_S(matrix);
}
