/* SPDX-License-Identifier: BSD-3-Clause */
#include "section_mesh.h"

#include <math.h>

sw_probe sw_section_probe(const sw_mesh *mesh, sw_point place)
{
    size_t nearest = 0;
    double best = HUGE_VAL;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        double distance = hypot(mesh->across[i] - place.x, mesh->position[i] - place.y);
        if (distance < best) {
            best = distance;
            nearest = i;
        }
    }
    sw_probe probe = {.count = 1, .cell = {nearest}, .weight = {1.0}};
    bool has_cell_to_the_left = false;
    double dx[SW_PROBE_CELLS_MAX], dy[SW_PROBE_CELLS_MAX], xx = 0.0, xy = 0.0, yy = 0.0;
    for (size_t i = 0; i < mesh->face_count && probe.count < SW_PROBE_CELLS_MAX; i++) {
        const sw_face *face = &mesh->faces[i];
        if (face->a != nearest && face->b != nearest)
            continue;
        size_t k = probe.count++, other = face->a == nearest ? face->b : face->a;
        probe.cell[k] = other;
        dx[k] = mesh->across[other] - mesh->across[nearest];
        dy[k] = mesh->position[other] - mesh->position[nearest];
        xx += dx[k] * dx[k];
        xy += dx[k] * dy[k];
        yy += dy[k] * dy[k];
        has_cell_to_the_left = has_cell_to_the_left || dx[k] < -fabs(dy[k]);
    }
    double determinant = xx * yy - xy * xy, px = place.x - mesh->across[nearest], py = place.y - mesh->position[nearest];
    /* Towards a plane of symmetry the temperature levels out: the gradient to the other side would be carried too far. */
    if (mesh->mirrored_left && px < 0.0 && !has_cell_to_the_left)
        px = 0.0;
    if (!(determinant > 1e-9 * xx * yy)) {
        probe.count = 1; /* neighbours on one line give no gradient */
        return probe;
    }
    for (size_t k = 1; k < probe.count; k++) {
        double gx = (yy * dx[k] - xy * dy[k]) / determinant, gy = (xx * dy[k] - xy * dx[k]) / determinant;
        probe.weight[k] = px * gx + py * gy;
        probe.weight[0] -= probe.weight[k];
    }
    return probe;
}
