/* SPDX-License-Identifier: BSD-3-Clause */
/* The 2 x 2 blocks of the Jacobian: T and X of one cell by T and X of another. */
#ifndef SW_BLOCK_H
#define SW_BLOCK_H

#include <math.h>
#include <stdbool.h>

enum { BLOCK = 4 }; /* numbers in one, row by row */

/* A block in registers: as an array it would be stored and read back for its next use, which takes longer than the sums. */
typedef struct block {
    double a, b, c, d; /* row by row */
} block;

static inline block read_block(const double *from)
{
    return (block){from[0], from[1], from[2], from[3]};
}

static inline void write_block(block x, double *to)
{
    to[0] = x.a;
    to[1] = x.b;
    to[2] = x.c;
    to[3] = x.d;
}

static inline block times_block(block x, block y)
{
    return (block){x.a * y.a + x.b * y.c, x.a * y.b + x.b * y.d, x.c * y.a + x.d * y.c, x.c * y.b + x.d * y.d};
}

static inline block minus_block(block x, block y)
{
    return (block){x.a - y.a, x.b - y.b, x.c - y.c, x.d - y.d};
}

/* Returns false if the block is singular, or holds NaN. */
static inline bool invert_block(block x, block *inverse)
{
    const double determinant = x.a * x.d - x.b * x.c, scale = 1.0 / determinant;
    *inverse = (block){x.d * scale, -x.b * scale, -x.c * scale, x.a * scale};
    return fabs(determinant) > 1e-280;
}

#endif
