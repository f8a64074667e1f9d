/* SPDX-License-Identifier: BSD-3-Clause */
#include "section_surface.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

/* Corners nearer than this are one: round-off parts where four cells meet [m]. */
static const double same_corner = 1e-7;

/* ---- vertices and triangles ---- */

/* A corner of a cell, before those that are one are found. */
typedef struct cell_corner {
    double x, y;
    size_t number;
} cell_corner;

static int by_x(const void *a, const void *b)
{
    const cell_corner *p = a, *q = b;
    return p->x != q->x ? (p->x < q->x ? -1 : 1) : p->number < q->number ? -1 : p->number > q->number;
}

/* Vertex of each corner, and the vertices' places behind those of the centres. */
static void join_corners(section_surface *s, size_t count, cell_corner *corners, size_t *vertex)
{
    qsort(corners, count, sizeof *corners, by_x);
    s->vertex_count = s->cell_count;
    for (size_t i = 0; i < count; i++) {
        const cell_corner *c = &corners[i];
        size_t k = i;
        while (k > 0 && c->x - corners[k - 1].x < same_corner && fabs(c->y - corners[k - 1].y) >= same_corner)
            k--;
        if (k > 0 && c->x - corners[k - 1].x < same_corner) {
            vertex[c->number] = vertex[corners[k - 1].number];
            continue;
        }
        vertex[c->number] = s->vertex_count;
        s->x[s->vertex_count] = c->x;
        s->y[s->vertex_count++] = c->y;
    }
}

/* A mirrored cell has the corners of its own one, the other way round. */
static void place_corners(const section_surface *s, const sw_history *h, double mirror, cell_corner *corners)
{
    const size_t n = s->own_count, own = h->cell_first_corner[n];
    for (size_t i = 0; i < n; i++) {
        const size_t first = h->cell_first_corner[i], end = h->cell_first_corner[i + 1];
        for (size_t k = first; k < end; k++) {
            corners[k] = (cell_corner){h->cell_corners[k][0], h->cell_corners[k][1], k};
            if (s->cell_count > n)
                corners[own + first + end - 1 - k] =
                    (cell_corner){2.0 * mirror - h->cell_corners[k][0], h->cell_corners[k][1], own + first + end - 1 - k};
        }
    }
}

static void make_triangles(section_surface *s, const sw_history *h, const size_t *vertex)
{
    const size_t n = s->own_count, own = h->cell_first_corner[n];
    for (size_t cell = 0; cell < s->cell_count; cell++) {
        const size_t shift = cell < n ? 0 : own, first = shift + h->cell_first_corner[cell % n];
        const size_t count = h->cell_first_corner[cell % n + 1] - h->cell_first_corner[cell % n];
        for (size_t k = 0; k < count; k++) {
            const size_t a = vertex[first + k], b = vertex[first + (k + 1) % count];
            if (a == b)
                continue;
            size_t *t = s->triangles[s->triangle_count++];
            t[0] = cell;
            t[1] = a;
            t[2] = b;
        }
    }
}

/* An edge of a cell, from one corner to the next. */
typedef struct cell_edge {
    size_t low, high, from, cell;
} cell_edge;

static int by_ends(const void *a, const void *b)
{
    const cell_edge *p = a, *q = b;
    if (p->low != q->low)
        return p->low < q->low ? -1 : 1;
    return p->high < q->high ? -1 : p->high > q->high;
}

/* An edge that two cells share lies inside, one of a single cell on the rim. */
static bool sort_edges(section_surface *s)
{
    const size_t n = s->triangle_count;
    cell_edge *edges = malloc((n + 1) * sizeof *edges);
    if (!edges)
        return false;
    for (size_t i = 0; i < n; i++) {
        const size_t *t = s->triangles[i];
        edges[i] = (cell_edge){t[1] < t[2] ? t[1] : t[2], t[1] < t[2] ? t[2] : t[1], t[1], t[0]};
    }
    qsort(edges, n, sizeof *edges, by_ends);
    for (size_t i = 0; i < n; i++) {
        const cell_edge *e = &edges[i];
        const size_t to = e->from == e->low ? e->high : e->low;
        if (i + 1 < n && by_ends(e, e + 1) == 0) {
            size_t *inner = s->inner[s->inner_count++];
            inner[0] = e->from;
            inner[1] = to;
            inner[2] = e->cell;
            inner[3] = e[1].cell;
            i++;
        } else {
            s->rim[s->rim_count][0] = e->from;
            s->rim[s->rim_count++][1] = to;
        }
    }
    free(edges);
    return true;
}

static bool build(section_surface *s, const sw_history *h, double mirror, cell_corner *corners, size_t *vertex)
{
    const size_t n = s->own_count;
    for (size_t i = 0; i < s->cell_count; i++) {
        s->x[i] = i < n ? h->cell_across[i] : 2.0 * mirror - h->cell_across[i - n];
        s->y[i] = h->cell_position[i % n];
    }
    place_corners(s, h, mirror, corners);
    join_corners(s, s->cell_count / n * h->cell_first_corner[n], corners, vertex);
    make_triangles(s, h, vertex);
    return sort_edges(s);
}

/* What lies left of the section's middle was not computed if no cell does: it mirrors the right. Returns the middle then. */
static bool is_half_of_section(const sw_history *h, double *middle)
{
    double corner[SW_OUTLINE_MAX][2], left = HUGE_VAL, right = -HUGE_VAL, first = HUGE_VAL;
    const size_t count = sw_section_outline(&h->scenario.meat, corner);
    for (size_t i = 0; i < count; i++) {
        left = fmin(left, corner[i][0]);
        right = fmax(right, corner[i][0]);
    }
    for (size_t i = 0; i < h->cell_count; i++)
        first = fmin(first, h->cell_across[i]);
    *middle = 0.5 * (left + right);
    return first > *middle;
}

bool section_surface_init(const sw_history *h, section_surface *s)
{
    double mirror;
    const bool is_half = is_half_of_section(h, &mirror);
    *s = (section_surface){.own_count = h->cell_count, .cell_count = h->cell_count * (is_half ? 2 : 1)};
    const size_t corners = h->cell_first_corner[h->cell_count] * (is_half ? 2 : 1), room = s->cell_count + corners;
    cell_corner *places = malloc((corners + 1) * sizeof *places);
    size_t *vertex = malloc((corners + 1) * sizeof *vertex);
    s->x = malloc(room * sizeof *s->x);
    s->y = malloc(room * sizeof *s->y);
    s->values = malloc(room * sizeof *s->values);
    s->triangles = malloc((corners + 1) * sizeof *s->triangles);
    s->rim = malloc((corners + 1) * sizeof *s->rim);
    s->inner = malloc((corners + 1) * sizeof *s->inner);
    const bool good = places && vertex && s->x && s->y && s->values && s->triangles && s->rim && s->inner &&
                      build(s, h, mirror, places, vertex);
    free(places);
    free(vertex);
    return good;
}

void section_surface_free(section_surface *s)
{
    free(s->x);
    free(s->y);
    free(s->values);
    free(s->triangles);
    free(s->rim);
    free(s->inner);
}

/* What a plane through the cells about a corner is fitted from: sums over them, with places as seen from the corner. */
typedef struct plane_sums {
    double n, x, y, xx, xy, yy, v, vx, vy, least, most;
} plane_sums;

static void add_to_plane(plane_sums *p, double x, double y, double v)
{
    p->least = p->n > 0.0 ? fmin(p->least, v) : v;
    p->most = p->n > 0.0 ? fmax(p->most, v) : v;
    p->n += 1.0;
    p->x += x;
    p->y += y;
    p->xx += x * x;
    p->xy += x * y;
    p->yy += y * y;
    p->v += v;
    p->vx += v * x;
    p->vy += v * y;
}

/* At the corner, by least squares; the mean where the cells lie on a line. Beyond its cells the plane counts for little. */
static double value_of_plane(const plane_sums *p)
{
    const double xx = p->xx - p->x * p->x / p->n, xy = p->xy - p->x * p->y / p->n, yy = p->yy - p->y * p->y / p->n;
    const double vx = p->vx - p->v * p->x / p->n, vy = p->vy - p->v * p->y / p->n, determinant = xx * yy - xy * xy;
    const double mean = p->v / p->n, beyond = 0.25 * (p->most - p->least);
    if (!(determinant > 1e-6 * (xx + yy) * (xx + yy)))
        return mean;
    const double slope_x = (vx * yy - vy * xy) / determinant, slope_y = (vy * xx - vx * xy) / determinant;
    return fmin(fmax(mean - (slope_x * p->x + slope_y * p->y) / p->n, p->least - beyond), p->most + beyond);
}

bool section_surface_set(section_surface *s, const double *cell_values)
{
    plane_sums *planes = calloc(s->vertex_count, sizeof *planes);
    if (!planes)
        return false;
    for (size_t i = 0; i < s->cell_count; i++)
        s->values[i] = cell_values[i % s->own_count];
    for (size_t i = 0; i < s->triangle_count; i++) {
        const size_t *t = s->triangles[i];
        for (int k = 1; k < 3; k++)
            add_to_plane(&planes[t[k]], s->x[t[0]] - s->x[t[k]], s->y[t[0]] - s->y[t[k]], s->values[t[0]]);
    }
    for (size_t i = s->cell_count; i < s->vertex_count; i++)
        s->values[i] = value_of_plane(&planes[i]);
    free(planes);
    return true;
}

/* ---- level lines ---- */

/* A piece of a line, between points that have a number: a vertex, or the crossing of the edge between two. */
typedef struct piece {
    uint64_t from, to;
    double x, y; /* where it begins */
    bool is_used;
} piece;

typedef struct pieces {
    size_t count, room;
    piece *list;
} pieces;

typedef struct point {
    uint64_t number;
    double x, y;
} point;

static point vertex_point(const section_surface *s, size_t vertex)
{
    return (point){(uint64_t)vertex * s->vertex_count + vertex, s->x[vertex], s->y[vertex]};
}

static point crossing(const section_surface *s, double level, size_t a, size_t b)
{
    const size_t low = a < b ? a : b, high = a < b ? b : a;
    const double share = (level - s->values[low]) / (s->values[high] - s->values[low]);
    return (point){(uint64_t)low * s->vertex_count + high, s->x[low] + share * (s->x[high] - s->x[low]),
                   s->y[low] + share * (s->y[high] - s->y[low])};
}

static bool add_piece(pieces *p, point from, point to)
{
    if (p->count == p->room) {
        const size_t room = p->room ? 2 * p->room : 512;
        piece *larger = realloc(p->list, room * sizeof *larger);
        if (!larger)
            return false;
        p->list = larger;
        p->room = room;
    }
    p->list[p->count++] = (piece){from.number, to.number, from.x, from.y, false};
    return true;
}

/* Through a triangle, with what is at or above the level to the left. */
static bool cross_triangle(const section_surface *s, const size_t *t, double level, pieces *p)
{
    for (int k = 0; k < 3; k++) {
        const size_t a = t[k], b = t[(k + 1) % 3], c = t[(k + 2) % 3];
        const bool of_a = s->values[a] >= level, of_b = s->values[b] >= level, of_c = s->values[c] >= level;
        if (of_a && !of_b && !of_c)
            return add_piece(p, crossing(s, level, a, b), crossing(s, level, c, a));
        if (of_a && of_b && !of_c)
            return add_piece(p, crossing(s, level, b, c), crossing(s, level, c, a));
    }
    return true;
}

static bool follow_rim(const section_surface *s, const size_t *edge, double level, pieces *p)
{
    const bool from = s->values[edge[0]] >= level, to = s->values[edge[1]] >= level;
    if (!from && !to)
        return true;
    return add_piece(p, from ? vertex_point(s, edge[0]) : crossing(s, level, edge[0], edge[1]),
                     to ? vertex_point(s, edge[1]) : crossing(s, level, edge[0], edge[1]));
}

static int by_start(const void *a, const void *b)
{
    const piece *p = a, *q = b;
    return p->from < q->from ? -1 : p->from > q->from;
}

static piece *starting_at(const pieces *p, uint64_t number)
{
    const piece wanted = {.from = number};
    piece *found = p->count ? bsearch(&wanted, p->list, p->count, sizeof wanted, by_start) : NULL;
    return found && !found->is_used ? found : NULL;
}

static int by_end(const void *a, const void *b)
{
    const uint64_t p = *(const uint64_t *)a, q = *(const uint64_t *)b;
    return p < q ? -1 : p > q;
}

/* One line from a piece on. The end of an open one's last piece, on the rim, is left out. */
static bool link_line(const pieces *p, piece *first, level_line *line)
{
    size_t room = 0;
    for (piece *next = first; next; next = starting_at(p, next->to)) {
        if (line->count + 2 > room) {
            room = room ? 2 * room : 64;
            double *x = realloc(line->x, room * sizeof *x);
            line->x = x ? x : line->x;
            double *y = realloc(line->y, room * sizeof *y);
            line->y = y ? y : line->y;
            if (!x || !y)
                return false;
        }
        next->is_used = true;
        line->x[line->count] = next->x;
        line->y[line->count++] = next->y;
        if (next->to == first->from) {
            line->x[line->count] = first->x;
            line->y[line->count++] = first->y;
        }
    }
    return true;
}

/* Open lines first, from pieces that nothing leads to. */
static bool link_lines(pieces *p, level_lines *lines)
{
    qsort(p->list, p->count, sizeof *p->list, by_start);
    uint64_t *ends = malloc((p->count + 1) * sizeof *ends);
    lines->line = calloc(p->count + 1, sizeof *lines->line);
    bool good = ends && lines->line;
    for (size_t i = 0; good && i < p->count; i++)
        ends[i] = p->list[i].to;
    if (good)
        qsort(ends, p->count, sizeof *ends, by_end);
    for (int closed = 0; good && closed < 2; closed++)
        for (size_t i = 0; good && i < p->count; i++) {
            piece *first = &p->list[i];
            if (first->is_used || (!closed && bsearch(&first->from, ends, p->count, sizeof *ends, by_end)))
                continue;
            good = link_line(p, first, &lines->line[lines->count++]);
        }
    free(ends);
    return good;
}

bool section_surface_lines(const section_surface *s, double level, bool with_rim, level_lines *lines)
{
    pieces p = {0};
    bool good = true;
    *lines = (level_lines){0};
    for (size_t i = 0; good && i < s->triangle_count; i++)
        good = cross_triangle(s, s->triangles[i], level, &p);
    for (size_t i = 0; good && with_rim && i < s->rim_count; i++)
        good = follow_rim(s, s->rim[i], level, &p);
    good = good && (p.count == 0 || link_lines(&p, lines));
    free(p.list);
    return good;
}

void level_lines_free(level_lines *lines)
{
    for (size_t i = 0; i < lines->count; i++) {
        free(lines->line[i].x);
        free(lines->line[i].y);
    }
    free(lines->line);
}
