/* SPDX-License-Identifier: BSD-3-Clause */
#include "delaunay.h"

#ifdef SW_HAVE_QHULL

#include "memory_at_hand.h"

#include <libqhull_r/qhull_ra.h>

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

/* Qhull ends the program where some of its first allocations fail. What it takes, some times over [bytes]. */
static const size_t room = (size_t)1 << 20, room_a_point = 4096;

bool sw_has_delaunay(void)
{
    return true;
}

/* Facets of the lower hull are the triangles; visitid holds their number from 1, 0 for all others. */
static size_t number_triangles(qhT *qh)
{
    size_t count = 0;
    facetT *facet;
    FORALLfacets {
        facet->visitid = facet->upperdelaunay ? 0 : (unsigned int)++count;
    }
    return count;
}

static bool copy_triangles(qhT *qh, sw_triangle *triangles)
{
    facetT *facet, *neighbor, **neighborp;
    vertexT *vertex, **vertexp;
    FORALLfacets {
        if (facet->visitid == 0)
            continue;
        sw_triangle *t = &triangles[facet->visitid - 1];
        size_t corner = 0, side = 0;
        if (!facet->simplicial || qh_setsize(qh, facet->vertices) != 3)
            return false;
        FOREACHvertex_(facet->vertices)
            t->corner[corner++] = (size_t)qh_pointid(qh, vertex->point);
        /* Of a simplicial facet the n-th neighbour lies across from the n-th vertex. */
        FOREACHneighbor_(facet)
            t->neighbour[side++] = neighbor->visitid == 0 ? SIZE_MAX : neighbor->visitid - 1;
    }
    return true;
}

sw_status sw_delaunay(size_t count, const sw_point *points, size_t *triangle_count, sw_triangle **triangles)
{
    /* Qhull writes what goes wrong to a stream; ours goes nowhere, since the library prints nothing. */
    if (!sw_memory_is_at_hand(room + count * room_a_point))
        return SW_ERR_MEMORY;
    FILE *nowhere = fopen("/dev/null", "w");
    coordT *coordinates = malloc(2 * count * sizeof *coordinates);
    if (!nowhere || !coordinates) {
        free(coordinates);
        if (nowhere)
            fclose(nowhere);
        return SW_ERR_MEMORY;
    }
    for (size_t i = 0; i < count; i++) {
        coordinates[2 * i] = points[i].x;
        coordinates[2 * i + 1] = points[i].y;
    }
    char options[] = "qhull d Qbb Qt Pp";
    qhT hull;
    qh_zero(&hull, nowhere);
    int flag = qh_new_qhull(&hull, 2, (int)count, coordinates, False, options, NULL, nowhere);
    sw_status status = flag == 0 ? SW_OK : flag == qh_ERRmem ? SW_ERR_MEMORY : SW_ERR_ARGUMENT;
    if (status == SW_OK) {
        size_t made = number_triangles(&hull);
        sw_triangle *list = malloc((made + 1) * sizeof *list);
        status = !list ? SW_ERR_MEMORY : copy_triangles(&hull, list) ? SW_OK : SW_ERR_ARGUMENT;
        if (status == SW_OK) {
            *triangle_count = made;
            *triangles = list;
        } else {
            free(list);
        }
    }
    int left, total;
    qh_freeqhull(&hull, !qh_ALL);
    qh_memfreeshort(&hull, &left, &total);
    free(coordinates);
    fclose(nowhere);
    return status;
}

#else

bool sw_has_delaunay(void)
{
    return false;
}

sw_status sw_delaunay(size_t count, const sw_point *points, size_t *triangle_count, sw_triangle **triangles)
{
    (void)count;
    (void)points;
    (void)triangle_count;
    (void)triangles;
    return SW_ERR_ARGUMENT;
}

#endif
