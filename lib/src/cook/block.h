/* The 2 x 2 blocks of the Jacobian: T and X of one cell by T and X of another. */
#ifndef SW_BLOCK_H
#define SW_BLOCK_H

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

#endif
