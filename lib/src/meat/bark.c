/* SPDX-License-Identifier: BSD-3-Clause */
#include "bark.h"

#include "wrap.h"

#include <stallwright/wrap_traits.h>

#include <stallwright/kinetics.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Share of the rate of browning that the water allows: only what no film wets browns, as its own dryness lets it. */
static double browning_share(const sw_transport *transport, size_t face, const double *state)
{
    const size_t cell = transport->mesh->boundary_faces[face].cell;
    return (1.0 - sw_transport_film_share(transport, face)) * sw_browning_share(sw_transport_activity(transport, cell, state));
}

int sw_bark_init(sw_bark *bark, const sw_body *body, const double *state)
{
    const sw_mesh *mesh = body->mesh;
    *bark = (sw_bark){.body = body};
    bark->faces = calloc(mesh->boundary_face_count, sizeof *bark->faces);
    if (!bark->faces)
        return -1;
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        size_t cell = mesh->boundary_faces[i].cell;
        bark->faces[i].temperature = state[2 * cell];
        bark->faces[i].share = browning_share(body->transport, i, state);
        bark->faces[i].unbrowned = 1.0;
    }
    return 0;
}

void sw_bark_free(sw_bark *bark)
{
    free(bark->faces);
    *bark = (sw_bark){0};
}

void sw_bark_copy(sw_bark *bark, const sw_bark *from)
{
    memcpy(bark->faces, from->faces, bark->body->mesh->boundary_face_count * sizeof *bark->faces);
    bark->last_time = from->last_time;
}

void sw_bark_surround(sw_bark *bark, bool on_pit, const sw_wrap *wrap, sw_wrap_kind kind)
{
    const sw_mesh *mesh = bark->body->mesh;
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const bool in_pool = sw_lies_in_pool(&mesh->boundary_faces[i], wrap, kind);
        bark->faces[i].is_open = on_pit && sw_wrap_leaves_top_open(kind) && !in_pool;
    }
}

void sw_bark_advance(sw_bark *bark, double time, const double *state)
{
    const sw_mesh *mesh = bark->body->mesh;
    const sw_reaction_law *law = sw_reaction_law_of(SW_REACTION_BROWNING);
    const double step = time - bark->last_time;
    sw_transport_surround(bark->body->transport, time, state + 2 * mesh->cell_count);
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        sw_bark_face *f = &bark->faces[i];
        size_t cell = mesh->boundary_faces[i].cell;
        const double temperature = state[2 * cell], share = browning_share(bark->body->transport, i, state);
        double exposure = 0.5 * (f->share + share) * sw_reaction_exposure(law, f->temperature, temperature, step);
        double unbrowned = f->unbrowned * exp(-exposure);
        f->outside += (f->unbrowned - unbrowned) * sw_reaction_share_outside(law, f->temperature, temperature);
        f->unbrowned = unbrowned;
        f->temperature = temperature;
        f->share = share;
        if (f->is_open)
            f->open_time += step;
    }
    bark->last_time = time;
}
