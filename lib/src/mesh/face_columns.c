/* SPDX-License-Identifier: BSD-3-Clause */
#include "face_columns.h"

#include "lanes.h"

#include <stdlib.h>

static void fill_face(sw_face_columns *c, const sw_mesh *mesh, size_t i)
{
    const bool is_face = i < mesh->face_count;
    const sw_face *face = &mesh->faces[is_face ? i : mesh->face_count - 1];
    c->a[i] = face->a;
    c->b[i] = face->b;
    c->area[i] = is_face ? face->area : 0.0;
    c->distance_a[i] = face->distance_a;
    c->distance_b[i] = face->distance_b;
    c->along_fibres[i] = face->along_fibres;
    c->aslant[i] = face->aslant;
    c->alike[i] = mesh->region[face->a] == mesh->region[face->b] ? 1.0 : 0.0;
}

static sw_face_group describe_group(const sw_face_columns *c, size_t first)
{
    sw_face_group group = {true, true};
    for (size_t i = first; i < first + SW_LANES; i++) {
        group.is_alike = group.is_alike && c->alike[i] > 0.5;
        group.in_a_row = group.in_a_row && c->a[i] == c->a[first] + (i - first) && c->b[i] == c->b[first] + (i - first);
    }
    return group;
}

int sw_face_columns_init(sw_face_columns *c, const sw_mesh *mesh)
{
    enum { NUMBERS = 6 };
    *c = (sw_face_columns){.group_count = (mesh->face_count + SW_LANES - 1) / SW_LANES};
    const size_t n = SW_LANES * c->group_count;
    double *numbers = calloc(NUMBERS * n + 1, sizeof *numbers);
    c->area = numbers;
    c->group = calloc(c->group_count + 1, sizeof *c->group);
    c->a = calloc(2 * n + 1, sizeof *c->a);
    if (!numbers || !c->group || !c->a) {
        sw_face_columns_free(c);
        return -1;
    }
    c->b = c->a + n;
    c->distance_a = numbers + n;
    c->distance_b = numbers + 2 * n;
    c->along_fibres = numbers + 3 * n;
    c->aslant = numbers + 4 * n;
    c->alike = numbers + 5 * n;
    for (size_t i = 0; i < n; i++)
        fill_face(c, mesh, i);
    for (size_t i = 0; i < c->group_count; i++)
        c->group[i] = describe_group(c, SW_LANES * i);
    return 0;
}

void sw_face_columns_free(sw_face_columns *c)
{
    free(c->group);
    free(c->a);
    free(c->area);
    *c = (sw_face_columns){0};
}
