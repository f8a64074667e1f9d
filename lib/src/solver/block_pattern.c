/* SPDX-License-Identifier: BSD-3-Clause */
#include "block_sparse.h"

#include "block.h"

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

/* Lists the neighbours of each cell at its place. fill: scratch, cell_count. */
static void list_neighbours(sw_block_pattern *p, const sw_mesh *mesh, size_t *fill)
{
    size_t n = mesh->cell_count;
    memset(p->first, 0, (n + 1) * sizeof *p->first);
    memset(fill, 0, n * sizeof *fill);
    for (size_t i = 0; i < mesh->face_count; i++) {
        p->first[p->place[mesh->faces[i].a] + 1]++;
        p->first[p->place[mesh->faces[i].b] + 1]++;
    }
    for (size_t i = 0; i < n; i++)
        p->first[i + 1] += p->first[i] + 1; /* and itself */
    for (size_t i = 0; i < n; i++)
        p->column[p->first[i] + fill[i]++] = i;
    for (size_t i = 0; i < mesh->face_count; i++) {
        size_t a = p->place[mesh->faces[i].a], b = p->place[mesh->faces[i].b];
        p->column[p->first[a] + fill[a]++] = b;
        p->column[p->first[b] + fill[b]++] = a;
    }
    /* Sort, drop repeats (two faces may join the same cells) and close the gaps. */
    size_t end = 0;
    for (size_t i = 0; i < n; i++) {
        size_t *list = p->column + p->first[i];
        qsort(list, fill[i], sizeof *list, compare);
        size_t count = without_repeats(list, fill[i]);
        memmove(p->column + end, list, count * sizeof *list);
        p->first[i] = end;
        end += count;
    }
    p->first[n] = end;
}

/* A cell waits in a sweep for its neighbours of smaller number. Places go by how many such waits come one after the other: cells
 * next to each other in this order do not wait for each other, so that the processor works on several at once, and which
 * neighbour comes before which is as it was. level: scratch, cell_count; first is used up. */
static void order_by_waits(sw_block_pattern *p, size_t *level)
{
    const size_t n = p->cell_count;
    for (size_t i = 0; i < n; i++) {
        level[i] = 0;
        for (size_t k = p->first[i]; p->column[k] < i; k++)
            level[i] = level[p->column[k]] + 1 > level[i] ? level[p->column[k]] + 1 : level[i];
    }
    size_t *next = p->first; /* the next free place of each level */
    memset(next, 0, (n + 1) * sizeof *next);
    for (size_t i = 0; i < n; i++)
        next[level[i] + 1]++;
    for (size_t i = 0; i < n; i++)
        next[i + 1] += next[i];
    for (size_t i = 0; i < n; i++)
        p->place[i] = next[level[i]]++;
}

static size_t find_block(const sw_block_pattern *p, size_t row, size_t column)
{
    size_t k = p->first[row];
    while (p->column[k] != column)
        k++;
    return k;
}

int sw_block_pattern_init(sw_block_pattern *p, const sw_mesh *mesh)
{
    size_t n = mesh->cell_count, pairs = n + 2 * mesh->face_count;
    *p = (sw_block_pattern){.cell_count = n};
    p->place = calloc(n, sizeof *p->place);
    p->first = calloc(n + 1, sizeof *p->first);
    p->column = calloc(pairs, sizeof *p->column);
    p->transposed = calloc(pairs, sizeof *p->transposed);
    p->diagonal = calloc(n, sizeof *p->diagonal);
    if (!p->place || !p->first || !p->column || !p->transposed || !p->diagonal) {
        sw_block_pattern_free(p);
        return -1;
    }
    for (size_t i = 0; i < n; i++)
        p->place[i] = i;
    list_neighbours(p, mesh, p->diagonal);
    order_by_waits(p, p->diagonal);
    list_neighbours(p, mesh, p->diagonal);
    for (size_t i = 0; i < n; i++) {
        p->diagonal[i] = find_block(p, i, i);
        for (size_t k = p->first[i]; k < p->first[i + 1]; k++)
            p->transposed[k] = find_block(p, p->column[k], i);
    }
    return 0;
}

void sw_block_pattern_free(sw_block_pattern *p)
{
    free(p->place);
    free(p->first);
    free(p->column);
    free(p->transposed);
    free(p->diagonal);
    *p = (sw_block_pattern){0};
}

size_t sw_block_sparse_offset(const sw_block_pattern *p, size_t row, size_t column)
{
    return BLOCK * find_block(p, p->place[row / 2], p->place[column / 2]) + 2 * (row % 2) + column % 2;
}
