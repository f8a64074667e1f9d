/* SPDX-License-Identifier: BSD-3-Clause */
/* The surface of the meat by sides, for the history. */
#ifndef SW_SIDE_RECORD_H
#define SW_SIDE_RECORD_H

#include "bark.h"

#include <stallwright/cook.h>

/* Means by area of each side; SW_ABSENT for a side that the cut does not have. */
void sw_bark_sides(const sw_bark *bark, double time, const double *state, sw_side_record sides[SW_SIDE_COUNT]);

#endif
