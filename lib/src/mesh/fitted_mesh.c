/* SPDX-License-Identifier: BSD-3-Clause */
#include "delaunay.h"
#include "fitted_seeds.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

/* Faces below this share of a facet are round-off: four seeds on one circle. */
static const double round_off = 1e-11;

typedef struct builder {
    const sw_fitted_section *section;
    size_t foot_count, seed_count, point_count, triangle_count;
    sw_foot *feet;
    sw_seed *seeds;
    sw_point *points; /* the seeds, then the images of the outermost ones */
    size_t *owner;    /* of each image: its seed */
    sw_triangle *triangles;
    double lowest;
} builder;

static void free_builder(builder *b)
{
    free(b->feet);
    free(b->seeds);
    free(b->points);
    free(b->owner);
    free(b->triangles);
}

static sw_status triangulate(builder *b)
{
    size_t room = b->seed_count + b->foot_count;
    b->points = malloc(room * sizeof *b->points);
    b->owner = malloc(b->foot_count * sizeof *b->owner);
    if (!b->points || !b->owner)
        return SW_ERR_MEMORY;
    b->point_count = b->seed_count;
    for (size_t i = 0; i < b->seed_count; i++) {
        const sw_seed *seed = &b->seeds[i];
        b->points[i] = seed->at;
        if (seed->foot == SIZE_MAX)
            continue;
        sw_point foot = b->feet[seed->foot].at;
        b->owner[b->point_count - b->seed_count] = i;
        b->points[b->point_count++] = (sw_point){2.0 * foot.x - seed->at.x, 2.0 * foot.y - seed->at.y};
    }
    return sw_delaunay(b->point_count, b->points, &b->triangle_count, &b->triangles);
}

/* What a triangle adds to the face across from one of its corners: the signed length from the middle of the opposite side to the
 * centre of the circle; and how much of it is completed by the triangle, or lies beside the outline and along the fibres. */
typedef struct part {
    double length, aslant, along_fibres;
} part;

static bool is_image(const builder *b, size_t point)
{
    return point >= b->seed_count;
}

/* Whether its three values belong to one material. */
static bool carries_gradient(const builder *b, const sw_triangle *t)
{
    const size_t *c = t->corner;
    return !is_image(b, c[0]) && !is_image(b, c[1]) && !is_image(b, c[2]) && b->seeds[c[0]].region == b->seeds[c[1]].region &&
           b->seeds[c[1]].region == b->seeds[c[2]].region;
}

/* A triangle seen from one corner, k; i and j are the two others. */
typedef struct view {
    double ix, iy, jx, jy; /* from k [m] */
    double twice_area;     /* [m2] */
} view;

static view view_from(const builder *b, const sw_triangle *t, int corner)
{
    sw_point k = b->points[t->corner[corner]], i = b->points[t->corner[(corner + 1) % 3]], j = b->points[t->corner[(corner + 2) % 3]];
    view v = {i.x - k.x, i.y - k.y, j.x - k.x, j.y - k.y, 0.0};
    v.twice_area = fabs(v.ix * v.jy - v.iy * v.jx);
    return v;
}

static part part_of(const builder *b, const sw_triangle *t, int side)
{
    const view v = view_from(b, t, side);
    const double x = v.jx - v.ix, y = v.jy - v.iy, apart = hypot(x, y);
    part p = {.length = apart * (v.ix * v.jx + v.iy * v.jy) / (2.0 * v.twice_area)};
    if (carries_gradient(b, t))
        p.aslant = p.length;
    else /* no third value is known at the outline, none of the kind at another material: what flows goes straight across */
        p.along_fibres = p.length * (x / apart) * (x / apart);
    return p;
}

/* With a linear field in the triangle, from the gradients of the three corners' shares. */
static void add_fibre_triangle(const builder *b, sw_mesh *m, const sw_triangle *t)
{
    if (!carries_gradient(b, t))
        return;
    sw_fibre_triangle f;
    for (int k = 0; k < 3; k++) {
        const view v = view_from(b, t, k);
        f.cell[k] = t->corner[k];
        f.along[k] = b->section->depth * v.iy * v.jy / (2.0 * v.twice_area);
        f.across[k] = b->section->depth * v.ix * v.jx / (2.0 * v.twice_area);
    }
    m->fibre_triangles[m->fibre_triangle_count++] = f;
}

static sw_mesh *allocate(const builder *b)
{
    sw_mesh *m = calloc(1, sizeof *m);
    if (!m)
        return NULL;
    size_t n = m->cell_count = b->seed_count;
    m->volume = calloc(n, sizeof *m->volume);
    m->position = calloc(n, sizeof *m->position);
    m->across = calloc(n, sizeof *m->across);
    m->region = calloc(n, sizeof *m->region);
    m->faces = calloc(3 * b->triangle_count + 1, sizeof *m->faces);
    m->boundary_faces = calloc(b->foot_count, sizeof *m->boundary_faces);
    m->fibre_triangles = calloc(b->triangle_count + 1, sizeof *m->fibre_triangles);
    m->first_corner = calloc(n + 2, sizeof *m->first_corner);
    m->corners = calloc(3 * b->triangle_count + 1, sizeof *m->corners);
    if (!m->volume || !m->position || !m->across || !m->region || !m->faces || !m->boundary_faces || !m->fibre_triangles ||
        !m->first_corner || !m->corners) {
        sw_mesh_destroy(m);
        return NULL;
    }
    return m;
}

static void add_boundary_face(const builder *b, sw_mesh *m, size_t cell, double length)
{
    size_t number = b->seeds[cell].foot;
    const sw_foot *foot = &b->feet[number], *before = &b->feet[(number + b->foot_count - 1) % b->foot_count];
    double facing = -foot->normal.y;
    m->boundary_faces[m->boundary_face_count++] = (sw_boundary_face){
        .cell = cell,
        .area = length * b->section->depth,
        .distance = hypot(b->seeds[cell].at.x - foot->at.x, b->seeds[cell].at.y - foot->at.y),
        .height = 0.5 * (foot->node.y + before->node.y) - b->lowest,
        .across = 0.5 * (foot->node.x + before->node.x),
        .facing = facing,
        .along_fibres = b->section->fibres_along ? foot->normal.x * foot->normal.x : 0.0,
        .side = facing > 0.5 ? SW_SIDE_TOP : facing < -0.5 ? SW_SIDE_BOTTOM : SW_SIDE_END,
    };
}

static bool has_fibre_triangles(const sw_fitted_section *s)
{
    return s->fibres_along && s->has_slanted_flow;
}

static void add_face(const builder *b, sw_mesh *m, size_t i, size_t j, part p, double apart)
{
    const sw_fitted_section *s = b->section;
    const bool is_diagonal = p.length < round_off * s->facet;
    /* A diagonal between four seeds on a circle has no length, yet fibre triangles join its seeds. */
    if (is_diagonal && !has_fibre_triangles(s))
        return;
    /* Parts of a length may be less than nothing or more than the whole: then the shares are kept from it. */
    const bool is_slanted = s->fibres_along && !is_diagonal;
    const double aslant = is_slanted ? fmin(fmax(p.aslant / p.length, 0.0), 1.0) : 0.0;
    const double along = is_slanted ? fmin(fmax(p.along_fibres / p.length, 0.0), 1.0 - aslant) : 0.0;
    m->faces[m->face_count++] = (sw_face){.a = i < j ? i : j,
                                          .b = i < j ? j : i,
                                          .area = is_diagonal ? 0.0 : p.length * s->depth,
                                          .distance_a = 0.5 * apart,
                                          .distance_b = 0.5 * apart,
                                          .along_fibres = along,
                                          .aslant = aslant};
}

/* One side of the triangulation: a face between two seeds, or a piece of the outline. False if an image is met by a seed
 * that is not its own: the outline would be missed there. */
static bool add_side(const builder *b, sw_mesh *m, const sw_triangle *t, int side)
{
    size_t i = t->corner[(side + 1) % 3], j = t->corner[(side + 2) % 3], other = t->neighbour[side];
    if (is_image(b, i) && is_image(b, j))
        return true;
    if (other == SIZE_MAX)
        return false;
    const sw_triangle *n = &b->triangles[other];
    int back = n->corner[0] != i && n->corner[0] != j ? 0 : n->corner[1] != i && n->corner[1] != j ? 1 : 2;
    part p = part_of(b, t, side), q = part_of(b, n, back);
    p.length += q.length;
    p.aslant += q.aslant;
    p.along_fibres += q.along_fibres;
    double apart = hypot(b->points[j].x - b->points[i].x, b->points[j].y - b->points[i].y);
    if (!is_image(b, i) && !is_image(b, j)) {
        m->volume[i] += 0.25 * apart * p.length;
        m->volume[j] += 0.25 * apart * p.length;
        add_face(b, m, i, j, p, apart);
        return true;
    }
    size_t cell = is_image(b, i) ? j : i, image = is_image(b, i) ? i : j;
    if (b->owner[image - b->seed_count] != cell)
        return p.length < 1e-7 * b->section->facet;
    m->volume[cell] += 0.25 * apart * p.length;
    add_boundary_face(b, m, cell, p.length);
    return true;
}

static sw_point circle_centre(sw_point a, sw_point b, sw_point c)
{
    double bx = b.x - a.x, by = b.y - a.y, cx = c.x - a.x, cy = c.y - a.y, twice = 2.0 * (bx * cy - by * cx);
    double bb = bx * bx + by * by, cc = cx * cx + cy * cy;
    return (sw_point){a.x + (cy * bb - by * cc) / twice, a.y + (bx * cc - cx * bb) / twice};
}

/* Corners of a cell in the order in which they lie round its seed: few, so sorting by insertion will do. */
static void sort_round(sw_point seed, size_t count, sw_point *corners)
{
    for (size_t i = 1; i < count; i++) {
        sw_point c = corners[i];
        double angle = atan2(c.y - seed.y, c.x - seed.x);
        size_t k = i;
        for (; k > 0 && atan2(corners[k - 1].y - seed.y, corners[k - 1].x - seed.x) > angle; k--)
            corners[k] = corners[k - 1];
        corners[k] = c;
    }
}

static void fill_corners(const builder *b, sw_mesh *m)
{
    size_t *first = m->first_corner; /* one place further on while it is filled */
    for (size_t t = 0; t < b->triangle_count; t++)
        for (int k = 0; k < 3; k++)
            if (!is_image(b, b->triangles[t].corner[k]))
                first[b->triangles[t].corner[k] + 2]++;
    for (size_t i = 0; i < m->cell_count; i++)
        first[i + 2] += first[i + 1];
    for (size_t t = 0; t < b->triangle_count; t++) {
        const size_t *c = b->triangles[t].corner;
        sw_point centre = circle_centre(b->points[c[0]], b->points[c[1]], b->points[c[2]]);
        for (int k = 0; k < 3; k++)
            if (!is_image(b, c[k]))
                m->corners[first[c[k] + 1]++] = centre;
    }
    for (size_t i = 0; i < m->cell_count; i++)
        sort_round(b->points[i], first[i + 1] - first[i], m->corners + first[i]);
}

static bool fill(const builder *b, sw_mesh *m)
{
    for (size_t i = 0; i < b->seed_count; i++) {
        m->across[i] = b->seeds[i].at.x;
        m->position[i] = b->seeds[i].at.y;
        m->region[i] = b->seeds[i].region;
    }
    for (size_t t = 0; t < b->triangle_count; t++)
        for (int k = 0; k < 3; k++) {
            size_t other = b->triangles[t].neighbour[k];
            if ((other == SIZE_MAX || other > t) && !add_side(b, m, &b->triangles[t], k))
                return false;
        }
    for (size_t t = 0; t < b->triangle_count && has_fibre_triangles(b->section); t++)
        add_fibre_triangle(b, m, &b->triangles[t]);
    for (size_t i = 0; i < b->seed_count; i++)
        m->volume[i] *= b->section->depth;
    fill_corners(b, m);
    return m->boundary_face_count == b->foot_count;
}

sw_status sw_fitted_mesh_create(const sw_fitted_section *section, sw_mesh **mesh, sw_misfit *misfit)
{
    builder b = {.section = section, .lowest = HUGE_VAL};
    for (size_t i = 0; i < section->vertex_count; i++)
        b.lowest = fmin(b.lowest, section->vertices[i].y);
    sw_status status = sw_fitted_feet(section->vertex_count, section->vertices, section->facet, section->bare.depth[0],
                                      &b.foot_count, &b.feet, misfit);
    if (status == SW_OK)
        status = sw_fitted_seeds(section, b.foot_count, b.feet, &b.seed_count, &b.seeds);
    if (status == SW_OK)
        status = triangulate(&b);
    sw_mesh *m = NULL;
    if (status == SW_OK && !(m = allocate(&b)))
        status = SW_ERR_MEMORY;
    if (status == SW_OK && !fill(&b, m))
        status = SW_ERR_ARGUMENT;
    if (status == SW_ERR_ARGUMENT) {
        *misfit = (sw_misfit){SW_MISFIT_MISSED, .number = b.seed_count};
        status = SW_ERR_RANGE;
    }
    free_builder(&b);
    if (status != SW_OK) {
        sw_mesh_destroy(m);
        return status;
    }
    *mesh = m;
    return SW_OK;
}
