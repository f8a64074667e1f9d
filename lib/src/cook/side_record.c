/* SPDX-License-Identifier: BSD-3-Clause */
#include "side_record.h"

static void divide(sw_side_record *side)
{
    const double area = side->area;
#define DIVIDE(name, unit, long_name) side->name = area > 0.0 ? side->name / area : SW_ABSENT;
    SW_SIDE_LIST(DIVIDE)
#undef DIVIDE
    side->area = area > 0.0 ? area : SW_ABSENT;
}

void sw_bark_sides(const sw_bark *bark, double time, const double *state, sw_side_record sides[SW_SIDE_COUNT])
{
    const sw_mesh *mesh = bark->body->mesh;
    for (int side = 0; side < SW_SIDE_COUNT; side++)
        sides[side] = (sw_side_record){0};
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const sw_bark_face *f = &bark->faces[i];
        sw_side_record *side = &sides[mesh->boundary_faces[i].side];
        size_t cell = mesh->boundary_faces[i].cell;
        double area = mesh->boundary_faces[i].area;
        side->area += area;
        side->open_time += area * f->open_time;
        side->temperature += area * state[2 * cell];
        side->water_content += area * state[2 * cell + 1];
        side->water_activity += area * sw_transport_surface_activity(bark->body->transport, i, time, state);
        side->browning += area * (1.0 - f->unbrowned);
        side->browning_outside += area * f->outside;
    }
    for (int side = 0; side < SW_SIDE_COUNT; side++)
        divide(&sides[side]);
}
