/* A finite-volume mesh as a list of faces: the physics loops over faces and does not know the shape.
 * Theory: docs/theory/numerics.md. */
#ifndef SW_MESH_H
#define SW_MESH_H

#include <stallwright/scenario.h>

#include <stddef.h>

/* An interior face between the cells a and b; distances are from each centre to the face. */
typedef struct sw_face {
    size_t a, b;
    double area;       /* [m2] */
    double distance_a; /* [m] */
    double distance_b; /* [m] */
} sw_face;

/* A face between a cell and the outside. */
typedef struct sw_boundary_face {
    size_t cell;
    double area;     /* [m2] */
    double distance; /* from the cell's centre to the face [m] */
    sw_side side;
} sw_boundary_face;

typedef struct sw_mesh {
    size_t cell_count;
    double *volume;   /* [m3] */
    double *position; /* cell centres along the one axis [m] */
    double *bounds;   /* cell_count + 1 cell edges along the axis [m] */
    int *region;      /* material number of each cell */
    size_t face_count;
    sw_face *faces;
    size_t boundary_face_count;
    sw_boundary_face *boundary_faces;
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

/* Two cells and the weight of the first, for the value at a position by linear interpolation between cell centres. */
typedef struct sw_probe {
    size_t a, b;
    double weight_a;
} sw_probe;

sw_probe sw_mesh_probe(const sw_mesh *mesh, double position);

#endif
