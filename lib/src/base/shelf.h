/* SPDX-License-Identifier: BSD-3-Clause */
/* What many cooks have in common and none of them changes, such as tables: made once and kept with the context of those who use it.
 * Each holder lets go of it, whenever and in whatever thread; the last one destroys it. */
#ifndef SW_SHELF_H
#define SW_SHELF_H

#include <stallwright/context.h>

#include <stdatomic.h>

/* First member of what is shared. It begins with one holder, who made it. */
typedef struct sw_shared {
    atomic_int holders;
    void (*destroy)(struct sw_shared *shared);
} sw_shared;

void sw_shared_begin(sw_shared *shared, void (*destroy)(sw_shared *shared));

/* NULL is let go of in silence. */
void sw_shared_let_go(sw_shared *shared);

/* What says that two are the same: what they are made by, and what of. */
typedef struct sw_shelf_key {
    void (*maker)(void); /* the function that makes it, whatever its type */
    const void *bytes;   /* borrowed; equal bytes make equal things */
    size_t size;         /* up to SW_SHELF_KEY_MAX; of what has a longer one nothing is kept */
} sw_shelf_key;

enum { SW_SHELF_KEY_MAX = 320 };

/* What was kept under a key, with one more holder; NULL if there is none, or no context. */
sw_shared *sw_shelf_take(sw_context *context, const sw_shelf_key *key);

/* Keeps something under a key that has nothing yet, in the place of what has been there longest; without a context nothing is kept. The
 * shelf is one more holder of it. */
void sw_shelf_keep(sw_context *context, const sw_shelf_key *key, sw_shared *shared);

#endif
