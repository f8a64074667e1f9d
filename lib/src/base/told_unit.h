/* SPDX-License-Identifier: BSD-3-Clause */
/* How the values of a quantity are told: the unit people use in either system. */
#ifndef SW_TOLD_UNIT_H
#define SW_TOLD_UNIT_H

#include <stallwright/quantity.h>

/* The value in this unit is (SI value - zero) * per_si + offset. */
typedef struct sw_told_unit {
    const char *form; /* printf format of the number and its unit */
    double per_si, zero, offset;
} sw_told_unit;

const sw_told_unit *sw_told_unit_of(sw_quantity quantity, sw_unit_system system);

#endif
