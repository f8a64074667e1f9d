/* SPDX-License-Identifier: BSD-3-Clause */
/* A finite-volume mesh as a list of faces: the physics loops over faces and does not know the shape.
 * Theory: docs/theory/numerics.md. */
#ifndef SW_MESH_H
#define SW_MESH_H

#include <stallwright/scenario.h>

#include <stddef.h>

#define SW_PI 3.14159265358979323846

typedef struct sw_point {
    double x, y; /* along the section, and up [m] */
} sw_point;

/* An interior face between the cells a and b; distances are from each centre to the face. */
typedef struct sw_face {
    size_t a, b;
    double area;       /* [m2] */
    double distance_a; /* [m] */
    double distance_b; /* [m] */
    double along_fibres; /* share of its flow that moves along the meat's fibres */
    double aslant;       /* share that moves aslant to them, which fibre triangles complete: 0 on grid lines */
} sw_face;

/* Three cells of one material about a corner of the mesh that they share, where fibres run aslant to faces. What the gradient
 * of their three values drives along the fibres, or across them, flows between each two in proportion to their difference. */
typedef struct sw_fibre_triangle {
    size_t cell[3];
    double along[3], across[3]; /* between the two cells other than that of this place: area over distance [m] */
} sw_fibre_triangle;

/* A face between a cell and the outside. */
typedef struct sw_boundary_face {
    size_t cell;
    double area;     /* [m2] */
    double distance; /* from the cell's centre to the face [m] */
    double height;   /* of the face's middle above the lowest point of the body [m] */
    double across;   /* of its middle along a section [m] */
    double facing;   /* vertical part of the outward normal: 1 faces up, 0 sideways, -1 down */
    double along_fibres; /* square of the outward normal's part along the meat's fibres: 1 where they end at the face */
    sw_side side;
} sw_boundary_face;

typedef struct sw_mesh {
    size_t cell_count;
    double *volume;   /* [m3] */
    double *position; /* cell centres: height, or distance from the axis or centre [m] */
    double *across;   /* cell centres along a section; all 0 in one dimension [m] */
    double *bounds;   /* one dimension: cell_count + 1 cell edges along the axis [m]; else NULL */
    bool mirrored_left; /* a section's left edge is a plane of symmetry */
    bool in_a_row;    /* the i-th face joins the cells i and i + 1, and there are no others */
    int *region;      /* material number of each cell */
    size_t *first_corner; /* sections: cell_count + 1, where each cell's corners begin; else NULL */
    sw_point *corners;    /* sections: of the cells, counter-clockwise; else NULL */
    size_t face_count;
    sw_face *faces;
    size_t boundary_face_count;
    sw_boundary_face *boundary_faces;
    size_t fibre_triangle_count; /* 0 where no fibres run aslant */
    sw_fibre_triangle *fibre_triangles;
} sw_mesh;

/* A layer of a one-dimensional mesh: its thickness, its cells and whether cells shrink towards either end. */
typedef struct sw_layer {
    double thickness;      /* [m] */
    size_t cells;
    double low_cell;       /* first cell's thickness, or 0 to let it be [m] */
    double high_cell;      /* last cell's thickness, or 0 [m] */
    int region;
} sw_layer;

/* A one-dimensional mesh of layers, from 0 up: across a slab, or from the axis or centre out.
 * extent: face area of a slab [m2], length of a cylinder [m], number of spheres [-].
 * insulated_low: the lower end of a slab gets no boundary face (a plane of symmetry).
 * Returns SW_OK, SW_ERR_ARGUMENT, SW_ERR_MEMORY; destroy with sw_mesh_destroy. */
sw_status sw_mesh_create(sw_shape shape, double extent, bool insulated_low, size_t layer_count, const sw_layer *layers,
                         sw_mesh **mesh);

void sw_mesh_destroy(sw_mesh *mesh);

/* A probe is a position: its reading is a weighted sum of the temperatures of a few cells. */
enum { SW_PROBE_CELLS_MAX = 12 };

typedef struct sw_probe {
    size_t count;
    size_t cell[SW_PROBE_CELLS_MAX];
    double weight[SW_PROBE_CELLS_MAX];
} sw_probe;

/* The probe at a position of a one-dimensional mesh: linear between the two nearest cell centres. */
sw_probe sw_mesh_probe(const sw_mesh *mesh, double position);

/* Its reading of a state T0, X0, T1, X1, ... [K] */
static inline double sw_probe_reading(const sw_probe *probe, const double *state)
{
    double sum = 0.0;
    for (size_t i = 0; i < probe->count; i++)
        sum += probe->weight[i] * state[2 * probe->cell[i]];
    return sum;
}

/* Cell widths along a line: count cells that grow from first_cell at the low end and last_cell at the high end (0 lets
 * an end be) and fill total exactly. */
void sw_grade_cells(double total, size_t count, double first_cell, double last_cell, double *widths);

#endif
