/* SPDX-License-Identifier: BSD-3-Clause */
/* Some libraries crash or end the program where their allocations fail. So that this is not where memory runs out, as much as
 * they need at most is asked for and given back before they are called. */
#ifndef SW_MEMORY_AT_HAND_H
#define SW_MEMORY_AT_HAND_H

#include <stdbool.h>
#include <stdlib.h>

static inline bool sw_memory_is_at_hand(size_t size)
{
    void *volatile block = (malloc)(size); /* the C library's, as theirs is; volatile: it is not left out as useless */
    const bool at_hand = block != NULL;
    (free)(block);
    return at_hand;
}

#endif
