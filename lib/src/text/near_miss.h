/* SPDX-License-Identifier: BSD-3-Clause */
/* Finds the word somebody probably meant, for error sentences only: a near miss is never accepted as the word. */
#ifndef SW_IO_NEAR_MISS_H
#define SW_IO_NEAR_MISS_H

#include <stddef.h>

/* Number of single-letter insertions, deletions, replacements and swaps of neighbours that turn one word into the
 * other; words longer than 64 letters count as infinitely far (SIZE_MAX). */
size_t sw_edit_distance(const char *one, const char *other);

/* The closest of the candidates offered so far; best stays NULL while none is close enough. */
typedef struct sw_near_miss {
    const char *word;
    const char *best;
    size_t distance;
} sw_near_miss;

/* length: of the part of the word that may be mistyped; a third of its letters may be wrong. */
sw_near_miss sw_near_miss_of(const char *word, size_t length);

/* Keeps the candidate if it is close to the word and closer than the best so far; it must outlive the near miss. */
void sw_near_miss_offer(sw_near_miss *miss, const char *candidate);

#endif
