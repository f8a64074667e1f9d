/* SPDX-License-Identifier: BSD-3-Clause */
#include "fitted_seeds.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

/* Two columns that come towards one another, from edges at more than 60 degrees, stop when their next seeds would be nearer
 * than this share of a layer's width; of two side by side one is left out below the other share. */
static const double nearest_opposite = 0.6, opposite = 0.5, nearest_beside = 0.5;

/* A column of seeds that has begun to grow inwards. */
typedef struct column {
    sw_point at, normal;
    const sw_layer_depths *layers;
    size_t foot, edge, other_edge; /* SIZE_MAX where it stands on no foot, on no edge; on a corner two edges are its own */
    bool has_stopped;
    /* By which columns are put in order, in whole parts of a millionth, so that round-off does not decide: where the foot is, from the
     * middle and from the lowest point, and where it points. */
    double aside, up, upward;
} column;

typedef struct sower {
    const sw_fitted_section *section;
    size_t foot_count;
    const sw_foot *feet;
    column *columns;
    size_t column_count, column_room;
    sw_seed *seeds;
    size_t seed_count, seed_room;
    /* Squares of the plane with the seeds in each, chained. */
    sw_point low;
    double middle, square;
    size_t nx, ny, *first, *next;
} sower;

static bool add_column(sower *s, column c)
{
    if (s->column_count == s->column_room) {
        size_t room = s->column_room ? 2 * s->column_room : 256;
        column *larger = realloc(s->columns, room * sizeof *larger);
        if (!larger)
            return false;
        s->columns = larger;
        s->column_room = room;
    }
    const double part = 1e-6 * s->section->facet;
    c.aside = round(fabs(c.at.x - s->middle) / part);
    c.up = round((c.at.y - s->low.y) / part);
    c.upward = round(1e6 * c.normal.y);
    s->columns[s->column_count++] = c;
    return true;
}

static size_t square_at(double place, double low, double side, size_t count)
{
    double i = floor((place - low) / side);
    return i < 0.0 ? 0 : i >= (double)count ? count - 1 : (size_t)i;
}

static bool add_seed(sower *s, sw_seed seed)
{
    if (s->seed_count == s->seed_room) {
        size_t room = s->seed_room ? 2 * s->seed_room : 1024;
        sw_seed *larger = realloc(s->seeds, room * sizeof *larger);
        if (!larger)
            return false;
        s->seeds = larger;
        size_t *chain = realloc(s->next, room * sizeof *chain);
        if (!chain)
            return false;
        s->next = chain;
        s->seed_room = room;
    }
    size_t square = square_at(seed.at.x, s->low.x, s->square, s->nx) * s->ny + square_at(seed.at.y, s->low.y, s->square, s->ny);
    s->next[s->seed_count] = s->first[square];
    s->first[square] = s->seed_count;
    s->seeds[s->seed_count++] = seed;
    return true;
}

/* Whether a seed of another column lies nearer than a distance. */
static bool has_near_seed(const sower *s, sw_point p, size_t own, double distance)
{
    size_t i0 = square_at(p.x - distance, s->low.x, s->square, s->nx), i1 = square_at(p.x + distance, s->low.x, s->square, s->nx);
    size_t j0 = square_at(p.y - distance, s->low.y, s->square, s->ny), j1 = square_at(p.y + distance, s->low.y, s->square, s->ny);
    for (size_t i = i0; i <= i1; i++)
        for (size_t j = j0; j <= j1; j++)
            for (size_t k = s->first[i * s->ny + j]; k != SIZE_MAX; k = s->next[k])
                if (s->seeds[k].column != own && hypot(p.x - s->seeds[k].at.x, p.y - s->seeds[k].at.y) < distance)
                    return true;
    return false;
}

static double distance_to_segment(sw_point p, sw_point a, sw_point b)
{
    double x = b.x - a.x, y = b.y - a.y, square = x * x + y * y;
    double t = fmin(fmax(((p.x - a.x) * x + (p.y - a.y) * y) / square, 0.0), 1.0);
    return hypot(p.x - a.x - t * x, p.y - a.y - t * y);
}

/* Distance of a place from the nearer side of the seam, less than 0 in it. */
static double distance_to_seam(const sw_seam *seam, sw_point p)
{
    return distance_to_segment(p, seam->from, seam->to) - 0.5 * seam->thickness;
}

static bool is_in_seam(const sw_fitted_section *f, sw_point p)
{
    const sw_seam *s = &f->seam;
    double x = s->to.x - s->from.x, y = s->to.y - s->from.y, along = (p.x - s->from.x) * x + (p.y - s->from.y) * y;
    return s->thickness > 0.0 && along >= 0.0 && along <= x * x + y * y && distance_to_seam(s, p) < 0.0;
}

/* Whether a place at a depth below its own line is nearer to another edge, or about to meet the column that comes from there:
 * seeds mirrored at the line between two edges are (other - depth) / sin(half their angle) apart. Of edges at a small angle,
 * as those of a round end, columns go on side by side. */
static bool meets_an_edge(const sw_fitted_section *f, const column *c, sw_point p, double depth, double width)
{
    size_t n = f->vertex_count;
    for (size_t e = 0; e < n; e++) {
        if (e == c->edge || e == c->other_edge)
            continue;
        sw_point a = f->vertices[e], b = f->vertices[(e + 1) % n];
        double length = hypot(b.x - a.x, b.y - a.y), other = distance_to_segment(p, a, b);
        double half_angle = 0.5 * hypot(c->normal.x + (b.y - a.y) / length, c->normal.y - (b.x - a.x) / length);
        if (other - depth < (half_angle > opposite ? nearest_opposite * half_angle : -0.5) * width)
            return true;
    }
    return false;
}

static bool is_in_a_circle(const sower *s, sw_point p)
{
    for (size_t i = 0; i < s->foot_count; i++)
        if (hypot(p.x - s->feet[i].node.x, p.y - s->feet[i].node.y) < s->feet[i].radius * (1.0 + 1e-6))
            return true;
    return false;
}

/* Depth of a layer below the line that its column grows from: for the seam, its side. */
static double depth_below(const sower *s, const column *c, size_t layer)
{
    return c->layers->depth[layer] - (c->layers == &s->section->in_seam ? 0.5 * s->section->seam.thickness : 0.0);
}

static bool grow_column(sower *s, size_t number, size_t layer)
{
    column *c = &s->columns[number];
    if (c->has_stopped || layer >= c->layers->count)
        return true;
    const sw_fitted_section *f = s->section;
    bool of_seam = c->layers == &f->in_seam, is_outermost = layer == 0 && c->foot != SIZE_MAX;
    double from_line = c->layers->depth[layer], depth = depth_below(s, c, layer);
    double width = layer > 0 ? from_line - c->layers->depth[layer - 1] : 2.0 * from_line;
    sw_point p = {c->at.x + from_line * c->normal.x, c->at.y + from_line * c->normal.y};
    if (!is_outermost) {
        c->has_stopped = meets_an_edge(f, c, p, fmax(depth, 0.0), width) ||
                         (!of_seam && f->seam.thickness > 0.0 && distance_to_seam(&f->seam, p) < depth + 0.3 * width);
        if (c->has_stopped || is_in_a_circle(s, p) ||
            has_near_seed(s, p, number, (of_seam && layer < 2 ? 0.0 : nearest_beside) * width))
            return true;
    }
    bool is_fat = layer < c->layers->fat_count || is_in_seam(f, p);
    return add_seed(s, (sw_seed){.at = p,
                                 .region = is_fat ? f->fat_region : 0,
                                 .foot = is_outermost ? c->foot : SIZE_MAX,
                                 .across = c->at.x,
                                 .column = number,
                                 .layer = layer});
}

static const sw_layer_depths *layers_of(const sw_fitted_section *f, sw_point inward)
{
    bool has_cap = f->under_cap.count > 0 && (f->cap_is_below ? inward.y : -inward.y) > 0.5;
    return has_cap ? &f->under_cap : &f->bare;
}

/* Where an outline turns inwards the columns on either side part: others stand on the corner itself. */
static bool add_fan(sower *s, const sw_foot *foot, const sw_foot *next)
{
    double cross = foot->normal.x * next->normal.y - foot->normal.y * next->normal.x;
    double turn = atan2(cross, foot->normal.x * next->normal.x + foot->normal.y * next->normal.y);
    int count = turn < 0.0 ? (int)floor(-turn / 0.5) : 0;
    for (int k = 1; k <= count; k++) {
        double angle = turn * k / (count + 1);
        sw_point n = {foot->normal.x * cos(angle) - foot->normal.y * sin(angle),
                      foot->normal.x * sin(angle) + foot->normal.y * cos(angle)};
        if (!add_column(s, (column){.at = foot->node, .normal = n, .layers = layers_of(s->section, n), .foot = SIZE_MAX,
                                    .edge = foot->edge, .other_edge = next->edge}))
            return false;
    }
    return true;
}

static bool stand_columns(sower *s)
{
    const sw_fitted_section *f = s->section;
    for (size_t i = 0; i < s->foot_count; i++) {
        const sw_foot *foot = &s->feet[i], *next = &s->feet[(i + 1) % s->foot_count];
        if (!add_column(s, (column){.at = foot->at, .normal = foot->normal, .layers = layers_of(f, foot->normal), .foot = i,
                                    .edge = foot->edge, .other_edge = SIZE_MAX}) ||
            (foot->edge != next->edge && !add_fan(s, foot, next)))
            return false;
    }
    if (!(f->seam.thickness > 0.0))
        return true;
    double x = f->seam.to.x - f->seam.from.x, y = f->seam.to.y - f->seam.from.y, length = hypot(x, y);
    size_t count = (size_t)ceil(length / f->facet);
    for (size_t i = 0; i < 2 * count; i++) {
        double share = ((double)(i / 2) + 0.5) / (double)count, side = i % 2 ? -1.0 : 1.0;
        if (!add_column(s, (column){.at = {f->seam.from.x + share * x, f->seam.from.y + share * y},
                                    .normal = {-side * y / length, side * x / length}, .layers = &f->in_seam,
                                    .foot = SIZE_MAX, .edge = SIZE_MAX, .other_edge = SIZE_MAX}))
            return false;
    }
    return true;
}

static sw_status lay_squares(sower *s)
{
    sw_point high = s->low = s->section->vertices[0];
    for (size_t i = 1; i < s->section->vertex_count; i++) {
        sw_point v = s->section->vertices[i];
        s->low = (sw_point){fmin(s->low.x, v.x), fmin(s->low.y, v.y)};
        high = (sw_point){fmax(high.x, v.x), fmax(high.y, v.y)};
    }
    s->middle = 0.5 * (s->low.x + high.x);
    s->square = fmax(s->section->facet, (high.x - s->low.x + high.y - s->low.y) / 1000.0);
    s->nx = 1 + (size_t)((high.x - s->low.x) / s->square);
    s->ny = 1 + (size_t)((high.y - s->low.y) / s->square);
    s->first = malloc(s->nx * s->ny * sizeof *s->first);
    if (!s->first)
        return SW_ERR_MEMORY;
    for (size_t i = 0; i < s->nx * s->ny; i++)
        s->first[i] = SIZE_MAX;
    return SW_OK;
}

/* Columns grow in an order that a mirror image shares, and so has the same seeds. */
static int from_the_middle(const void *a, const void *b)
{
    const column *x = a, *y = b;
    const double of_x[] = {x->aside, x->up, x->upward}, of_y[] = {y->aside, y->up, y->upward};
    for (int i = 0; i < 3; i++)
        if (of_x[i] != of_y[i])
            return of_x[i] < of_y[i] ? -1 : 1;
    return 0;
}

static int by_column(const void *a, const void *b)
{
    const sw_seed *x = a, *y = b;
    if (x->across != y->across)
        return x->across < y->across ? -1 : 1;
    if (x->column != y->column)
        return x->column < y->column ? -1 : 1;
    return x->layer < y->layer ? -1 : x->layer > y->layer;
}

static sw_status sow(sower *s)
{
    if (lay_squares(s) != SW_OK || !stand_columns(s))
        return SW_ERR_MEMORY;
    qsort(s->columns, s->column_count, sizeof *s->columns, from_the_middle);
    const sw_fitted_section *f = s->section;
    size_t layers = f->bare.count;
    layers = f->under_cap.count > layers ? f->under_cap.count : layers;
    layers = f->in_seam.count > layers ? f->in_seam.count : layers;
    for (size_t layer = 0; layer < layers; layer++)
        for (size_t i = 0; i < s->column_count; i++)
            if (!grow_column(s, i, layer))
                return SW_ERR_MEMORY;
    qsort(s->seeds, s->seed_count, sizeof *s->seeds, by_column);
    return SW_OK;
}

sw_status sw_fitted_seeds(const sw_fitted_section *section, size_t foot_count, const sw_foot *feet, size_t *seed_count,
                          sw_seed **seeds)
{
    sower s = {.section = section, .foot_count = foot_count, .feet = feet};
    sw_status status = sow(&s);
    free(s.columns);
    free(s.first);
    free(s.next);
    if (status != SW_OK) {
        free(s.seeds);
        return status;
    }
    *seed_count = s.seed_count;
    *seeds = s.seeds;
    return SW_OK;
}
