/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Where the library takes its memory from. */
#ifndef STALLWRIGHT_MEMORY_H
#define STALLWRIGHT_MEMORY_H

#include <stallwright/status.h>

#include <stddef.h>

SW_BEGIN_DECLARATIONS

/** Functions that do what malloc, calloc, realloc and free of the C library do, from any thread. */
typedef struct sw_allocator {
    void *(*allocate)(size_t size);
    void *(*allocate_zeroed)(size_t count, size_t size);
    void *(*reallocate)(void *block, size_t size);
    void (*release)(void *block);
} sw_allocator;

/** Sets where the library takes all its memory from. Memory that a caller must free has to be released there too. Libraries that
 * this one uses keep to the C library. Call this before any other function: memory must be released by the allocator it came from.
 * @param allocator copied; NULL: the functions of the C library, as without this call
 * @return SW_OK; SW_ERR_ARGUMENT (a function is missing; nothing is changed) */
SW_API sw_status sw_set_allocator(const sw_allocator *allocator);

SW_END_DECLARATIONS

#endif
