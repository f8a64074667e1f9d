/* SPDX-License-Identifier: BSD-3-Clause */
/* Four numbers side by side, of four cells: what compilers make vector instructions of, whatever the machine's width. */
#ifndef SW_LANES_H
#define SW_LANES_H

/* What takes or returns lanes is always in line, so that how a machine passes them does not matter. */
#define SW_IN_LINE __attribute__((always_inline)) static inline

enum { SW_LANES = 4 };

typedef double sw_lanes __attribute__((vector_size(32)));
typedef long long sw_lane_mask __attribute__((vector_size(32)));
typedef double sw_loose_lanes __attribute__((vector_size(32), aligned(8), may_alias)); /* anywhere in memory */

SW_IN_LINE sw_lanes sw_load(const double *from)
{
    return *(const sw_loose_lanes *)from;
}

SW_IN_LINE void sw_store(sw_lanes x, double *to)
{
    *(sw_loose_lanes *)to = x;
}

SW_IN_LINE sw_lanes sw_all(double x)
{
    return (sw_lanes){x, x, x, x};
}

SW_IN_LINE sw_lanes sw_where(sw_lane_mask mask, sw_lanes x, sw_lanes otherwise)
{
    return (sw_lanes)((mask & (sw_lane_mask)x) | (~mask & (sw_lane_mask)otherwise));
}

SW_IN_LINE sw_lanes sw_at_least(sw_lanes x, double least)
{
    return sw_where(x > least, x, sw_all(least));
}

SW_IN_LINE sw_lanes sw_at_most(sw_lanes x, double most)
{
    return sw_where(x < most, x, sw_all(most));
}

/* Rows become columns. */
SW_IN_LINE void sw_transpose(sw_lanes *a, sw_lanes *b, sw_lanes *c, sw_lanes *d)
{
    const sw_lanes ab_even = __builtin_shufflevector(*a, *b, 0, 4, 2, 6), ab_odd = __builtin_shufflevector(*a, *b, 1, 5, 3, 7);
    const sw_lanes cd_even = __builtin_shufflevector(*c, *d, 0, 4, 2, 6), cd_odd = __builtin_shufflevector(*c, *d, 1, 5, 3, 7);
    *a = __builtin_shufflevector(ab_even, cd_even, 0, 1, 4, 5);
    *b = __builtin_shufflevector(ab_odd, cd_odd, 0, 1, 4, 5);
    *c = __builtin_shufflevector(ab_even, cd_even, 2, 3, 6, 7);
    *d = __builtin_shufflevector(ab_odd, cd_odd, 2, 3, 6, 7);
}

#endif
