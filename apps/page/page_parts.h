/* SPDX-License-Identifier: BSD-3-Clause */
/* The files a page is made of, embedded when the program is built: apps/page/embed.cmake writes the C file. */
#ifndef SW_APPS_PAGE_PARTS_H
#define SW_APPS_PAGE_PARTS_H

#include <stddef.h>

typedef struct page_part {
    const char *name;
    const char *bytes; /* a zero follows them */
    size_t length;
} page_part;

extern const page_part page_parts[];
extern const size_t page_part_count;

#endif
