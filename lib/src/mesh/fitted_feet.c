/* SPDX-License-Identifier: BSD-3-Clause */
#include "fitted_feet.h"

#include <math.h>
#include <stdlib.h>

/* Feet may be as much farther apart as they are from a place that asks for near ones. */
static const double growth = 0.4;

/* At a corner the outermost seed stays below the line that halves its angle by this share. */
static const double below_bisector = 0.85;

enum { ROUNDS_MAX = 40, SOURCES_MAX = 8192, FEET_MAX = 20000 };

/* A place near which feet have to be near one another. */
typedef struct source {
    sw_point at;
    double size; /* [m] */
} source;

typedef struct layout {
    size_t count;
    const sw_point *v;
    double facet, depth;
    source *sources;
    size_t source_count;
    double *reach; /* of each corner: distance of the feet on either side of it [m] */
    sw_foot *feet;
    size_t foot_count, foot_room;
} layout;

static double length_of(const layout *l, size_t edge)
{
    sw_point p = l->v[edge], q = l->v[(edge + 1) % l->count];
    return hypot(q.x - p.x, q.y - p.y);
}

static sw_point along(const layout *l, size_t edge, double distance)
{
    sw_point p = l->v[edge], q = l->v[(edge + 1) % l->count];
    double share = distance / length_of(l, edge);
    return (sw_point){p.x + share * (q.x - p.x), p.y + share * (q.y - p.y)};
}

static double size_at(const layout *l, sw_point p)
{
    double size = l->facet;
    for (size_t i = 0; i < l->source_count; i++) {
        const source *s = &l->sources[i];
        if (s->size < size)
            size = fmin(size, s->size + growth * hypot(p.x - s->at.x, p.y - s->at.y));
    }
    return size;
}

static bool add_source(layout *l, sw_point at, double size)
{
    if (l->source_count == SOURCES_MAX)
        return false;
    l->sources[l->source_count++] = (source){at, size};
    return true;
}

/* Turn at a corner: 0 straight on, positive to the left. */
static double turn_at(const layout *l, size_t i)
{
    sw_point o = l->v[(i + l->count - 1) % l->count], p = l->v[i], q = l->v[(i + 1) % l->count];
    double ax = p.x - o.x, ay = p.y - o.y, bx = q.x - p.x, by = q.y - p.y;
    return atan2(ax * by - ay * bx, ax * bx + ay * by);
}

/* Round a corner the temperature changes over less than a facet. */
static bool add_corner_sources(layout *l)
{
    const double slight = 0.45, sharp = 1.0;
    for (size_t i = 0; i < l->count; i++) {
        double turn = fabs(turn_at(l, i));
        if (turn > slight && !add_source(l, l->v[i], (turn > sharp ? 0.3 : 0.5) * l->facet))
            return false;
    }
    return true;
}

/* How far the first feet are from each corner. */
static sw_status reach_corners(layout *l, sw_misfit *misfit)
{
    for (size_t i = 0; i < l->count; i++) {
        double before = length_of(l, (i + l->count - 1) % l->count), after = length_of(l, i);
        double shorter = fmin(before, after), turn = fabs(turn_at(l, i));
        bool alike = fabs(before - after) < 1e-12 * shorter;
        double most = alike ? 0.5 * shorter : 0.25 * shorter;
        double least = l->depth * tan(0.5 * turn) / below_bisector;
        if (alike && size_at(l, l->v[i]) < shorter)
            most = 0.25 * shorter;
        l->reach[i] = fmax(fmin(0.5 * size_at(l, l->v[i]), most), least);
        if (least > most) {
            *misfit = (sw_misfit){SW_MISFIT_SHARP, .number = i, .place = l->v[i], .angle = SW_PI - turn, .edge = shorter,
                                  .cell = 2.0 * l->depth};
            return SW_ERR_RANGE;
        }
    }
    return SW_OK;
}

static bool add_foot(layout *l, size_t edge, double distance)
{
    if (l->foot_count == l->foot_room) {
        size_t room = l->foot_room ? 2 * l->foot_room : 256;
        sw_foot *larger = room <= 2 * FEET_MAX ? realloc(l->feet, room * sizeof *larger) : NULL;
        if (!larger)
            return false;
        l->feet = larger;
        l->foot_room = room;
    }
    sw_point p = l->v[edge], q = l->v[(edge + 1) % l->count];
    double length = length_of(l, edge);
    l->feet[l->foot_count++] = (sw_foot){.at = along(l, edge, distance),
                                         .normal = {-(q.y - p.y) / length, (q.x - p.x) / length},
                                         .edge = edge};
    return true;
}

/* Feet between the first and the last of an edge, so that each step is the size wanted where it is taken. */
static bool stand_on_edge(layout *l, size_t edge)
{
    enum { SAMPLES_MAX = 1024 };
    double length = length_of(l, edge), first = l->reach[edge], last = length - l->reach[(edge + 1) % l->count];
    if (last - first < 1e-9 * length)
        return add_foot(l, edge, 0.5 * length);
    double sum[SAMPLES_MAX + 1] = {0.0};
    int samples = (int)fmin(fmax(32.0, 32.0 * (last - first) / l->facet), SAMPLES_MAX);
    double step = (last - first) / samples;
    for (int i = 0; i < samples; i++)
        sum[i + 1] = sum[i] + step / size_at(l, along(l, edge, first + (i + 0.5) * step));
    int count = (int)fmax(1.0, ceil(sum[samples] - 0.25));
    for (int k = 0, i = 0; k <= count; k++) {
        double want = sum[samples] * k / count;
        while (i + 1 < samples && sum[i + 1] < want)
            i++;
        double at = k == count ? last : first + step * (i + (want - sum[i]) / (sum[i + 1] - sum[i]));
        if (!add_foot(l, edge, at))
            return false;
    }
    return true;
}

static void set_nodes(layout *l)
{
    for (size_t i = 0; i < l->foot_count; i++) {
        sw_foot *f = &l->feet[i];
        const sw_foot *next = &l->feet[(i + 1) % l->foot_count];
        f->node = f->edge == next->edge ? (sw_point){0.5 * (f->at.x + next->at.x), 0.5 * (f->at.y + next->at.y)}
                                        : l->v[next->edge];
        f->radius = hypot(hypot(f->node.x - f->at.x, f->node.y - f->at.y), l->depth);
    }
    for (size_t i = 0; i < l->foot_count; i++) {
        const sw_foot *before = &l->feet[(i + l->foot_count - 1) % l->foot_count];
        sw_foot *f = &l->feet[i];
        f->spacing = hypot(f->node.x - before->node.x, f->node.y - before->node.y);
    }
}

static bool is_within(sw_point p, const sw_foot *node)
{
    double x = p.x - node->node.x, y = p.y - node->node.y, r = (1.0 - 1e-9) * node->radius;
    return x * x + y * y < r * r;
}

/* Asks for nearer feet where a circle about a node holds a seed or an image of another foot. Returns how many did. */
static size_t find_intruders(layout *l, size_t *where)
{
    size_t found = 0, n = l->foot_count;
    for (size_t i = 0; i < n; i++) {
        const sw_foot *node = &l->feet[i];
        for (size_t j = 0; j < n; j++) {
            const sw_foot *f = &l->feet[j];
            if (j == i || j == (i + 1) % n)
                continue;
            double x = l->depth * f->normal.x, y = l->depth * f->normal.y;
            if (!is_within((sw_point){f->at.x + x, f->at.y + y}, node) && !is_within((sw_point){f->at.x - x, f->at.y - y}, node))
                continue;
            *where = i;
            found++;
            double half = sqrt(fmax(0.0, node->radius * node->radius - l->depth * l->depth));
            if (!add_source(l, node->node, 1.2 * half))
                return found;
            break;
        }
    }
    return found;
}

static sw_status stand(layout *l, sw_misfit *misfit)
{
    if (!add_corner_sources(l))
        return SW_ERR_MEMORY;
    for (int round = 0; round < ROUNDS_MAX; round++) {
        size_t where = 0, room = l->source_count;
        l->foot_count = 0;
        sw_status status = reach_corners(l, misfit);
        if (status != SW_OK)
            return status;
        for (size_t i = 0; i < l->count; i++)
            if (!stand_on_edge(l, i))
                return SW_ERR_MEMORY;
        set_nodes(l);
        if (find_intruders(l, &where) == 0)
            return SW_OK;
        if (l->source_count == SOURCES_MAX || l->sources[room].size < 0.5 * l->depth || round + 1 == ROUNDS_MAX) {
            *misfit = (sw_misfit){SW_MISFIT_NARROW, .number = l->feet[where].edge, .place = l->feet[where].node,
                                  .cell = 2.0 * l->depth};
            return SW_ERR_RANGE;
        }
    }
    return SW_OK;
}

sw_status sw_fitted_feet(size_t vertex_count, const sw_point *vertices, double facet, double depth, size_t *foot_count,
                         sw_foot **feet, sw_misfit *misfit)
{
    layout l = {.count = vertex_count, .v = vertices, .facet = facet, .depth = depth};
    l.sources = malloc(SOURCES_MAX * sizeof *l.sources);
    l.reach = malloc(vertex_count * sizeof *l.reach);
    sw_status status = l.sources && l.reach ? stand(&l, misfit) : SW_ERR_MEMORY;
    free(l.sources);
    free(l.reach);
    if (status != SW_OK) {
        free(l.feet);
        return status;
    }
    *foot_count = l.foot_count;
    *feet = l.feet;
    return SW_OK;
}
