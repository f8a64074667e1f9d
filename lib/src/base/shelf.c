/* SPDX-License-Identifier: BSD-3-Clause */
#include "context_parts.h"

#include <stdbool.h>
#include <string.h>

void sw_shared_begin(sw_shared *shared, void (*destroy)(sw_shared *shared))
{
    atomic_init(&shared->holders, 1);
    shared->destroy = destroy;
}

void sw_shared_let_go(sw_shared *shared)
{
    if (shared && atomic_fetch_sub(&shared->holders, 1) == 1)
        shared->destroy(shared);
}

static bool is_of(const sw_shelf_place *place, const sw_shelf_key *key)
{
    return place->shared && place->maker == key->maker && place->size == key->size && memcmp(place->bytes, key->bytes, key->size) == 0;
}

sw_shared *sw_shelf_take(sw_context *context, const sw_shelf_key *key)
{
    for (size_t i = 0; context && i < SW_SHELF_PLACES; i++) {
        const sw_shelf_place *place = &context->shelf[i];
        if (!is_of(place, key))
            continue;
        atomic_fetch_add(&place->shared->holders, 1);
        return place->shared;
    }
    return NULL;
}

void sw_shelf_keep(sw_context *context, const sw_shelf_key *key, sw_shared *shared)
{
    if (!context || key->size > SW_SHELF_KEY_MAX)
        return;
    sw_shelf_place *place = &context->shelf[context->next_place];
    context->next_place = (context->next_place + 1) % SW_SHELF_PLACES;
    sw_shared_let_go(place->shared);
    atomic_fetch_add(&shared->holders, 1);
    place->maker = key->maker;
    place->size = key->size;
    memcpy(place->bytes, key->bytes, key->size);
    place->shared = shared;
}

void sw_shelf_clear(sw_context *context)
{
    for (size_t i = 0; i < SW_SHELF_PLACES; i++)
        sw_shared_let_go(context->shelf[i].shared);
}
