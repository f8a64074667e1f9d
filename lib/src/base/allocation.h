/* SPDX-License-Identifier: BSD-3-Clause */
/* Stands before every source of the library (lib/CMakeLists.txt), so that all of it takes its memory where its user says
 * (<stallwright/memory.h>). Between parentheses, (malloc) and (free) are those of the C library: for what other libraries made or
 * are about to take. */
#ifndef SW_ALLOCATION_H
#define SW_ALLOCATION_H

#include <stddef.h>
#include <stdlib.h>
#include <string.h>

void *sw_allocate(size_t size);
void *sw_allocate_zeroed(size_t count, size_t size);
void *sw_reallocate(void *block, size_t size);
void sw_release(void *block);
char *sw_copy_text(const char *text);
char *sw_copy_beginning(const char *text, size_t size);

/* What is used now; for the module of HDF5. */
struct sw_allocator;
const struct sw_allocator *sw_allocator_used(void);

/* A text of the C library in memory of ours, which takes its place; NULL without memory. */
char *sw_adopt_text(char *text);

#define malloc(size) sw_allocate(size)
#define calloc(count, size) sw_allocate_zeroed(count, size)
#define realloc(block, size) sw_reallocate(block, size)
#define free(block) sw_release(block)
#undef strdup
#define strdup(text) sw_copy_text(text)
#undef strndup
#define strndup(text, size) sw_copy_beginning(text, size)

#endif
