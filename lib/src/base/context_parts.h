/* SPDX-License-Identifier: BSD-3-Clause */
/* What a context holds. */
#ifndef SW_CONTEXT_PARTS_H
#define SW_CONTEXT_PARTS_H

#include "shelf.h"

enum { SW_MESSAGE_SIZE = 1024 };

/* A cook of lean and fat takes six tables; cooks of a few kinds may take turns. */
enum { SW_SHELF_PLACES = 12 };

typedef struct sw_shelf_place {
    void (*maker)(void);
    size_t size;
    unsigned char bytes[SW_SHELF_KEY_MAX];
    sw_shared *shared; /* NULL: empty */
} sw_shelf_place;

struct sw_context {
    sw_unit_system units;
    char message[SW_MESSAGE_SIZE];
    sw_shelf_place shelf[SW_SHELF_PLACES];
    size_t next_place; /* that is filled */
};

void sw_shelf_clear(sw_context *context);

#endif
