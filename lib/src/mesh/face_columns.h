/* SPDX-License-Identifier: BSD-3-Clause */
/* The interior faces of a mesh side by side, in groups for loops in vector lanes (lanes.h). */
#ifndef SW_FACE_COLUMNS_H
#define SW_FACE_COLUMNS_H

#include "mesh.h"

/* What holds for all faces of a group. */
typedef struct sw_face_group {
    bool in_a_row; /* their cells a follow each other in the numbering, and so do their cells b */
    bool is_alike; /* each has the same material on both sides */
} sw_face_group;

/* The faces in the order of the mesh, four to a group (SW_LANES); the last group is filled up with the last face, without area. */
typedef struct sw_face_columns {
    size_t group_count;
    sw_face_group *group;
    size_t *a, *b; /* cells */
    double *area, *distance_a, *distance_b, *along_fibres, *aslant;
    double *alike;                 /* 1 where both cells are of one material, else 0 */
} sw_face_columns;

/* Returns 0, or -1 without memory. */
int sw_face_columns_init(sw_face_columns *columns, const sw_mesh *mesh);
void sw_face_columns_free(sw_face_columns *columns);

#endif
