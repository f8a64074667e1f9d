/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook as the data of a page: its curves, its heat and its cross-sections, thinned to what a chart can show. Only rows and
 * layers that were computed are taken; nothing is interpolated. */
#ifndef SW_APPS_PAGE_COOK_H
#define SW_APPS_PAGE_COOK_H

#include <stallwright/everything.h>

#include <jansson.h>

/* Most moments and, in one dimension, layers that are taken; until the pull, or to the end of the last phase. */
typedef struct page_detail {
    size_t moments, layers;
    bool to_the_end;
} page_detail;

/* A cook that failed has its error only; of one that never ends it is said. */
json_t *page_cook(const sw_run *run, bool never_ends, page_detail detail);

#endif
