/* SPDX-License-Identifier: BSD-3-Clause */
/* Why an outline cannot be that of a section, or cannot be met by cells: told with the place, in its reader's units. */
#ifndef SW_OUTLINE_MISFIT_H
#define SW_OUTLINE_MISFIT_H

#include "mesh.h"

#include <stallwright/context.h>

typedef enum sw_misfit_kind {
    SW_MISFIT_FEW_CORNERS,
    SW_MISFIT_NO_NUMBER,    /* at a corner */
    SW_MISFIT_SAME_CORNERS, /* a corner and the other */
    SW_MISFIT_CROSSING,     /* an edge and the other */
    SW_MISFIT_NO_AREA,
    SW_MISFIT_SHARP,        /* a corner */
    SW_MISFIT_NARROW,       /* at a place on an edge */
    SW_MISFIT_MISSED        /* cells that do not meet the edges */
} sw_misfit_kind;

/* Corners and edges count from 0; an edge goes from the corner of its number to the next. */
typedef struct sw_misfit {
    sw_misfit_kind kind;
    size_t number, other; /* of corners or edges; of SW_MISFIT_FEW_CORNERS and SW_MISFIT_MISSED the count of corners or cells */
    sw_point place;
    double angle;         /* of a sharp corner [rad] */
    double edge, cell;    /* the shorter edge beside it, and the thickness of the outermost cells [m] */
} sw_misfit;

enum { SW_MISFIT_SIZE = 320 };

/* Writes a clause whose subject is the outline, such as "its edges 2 and 5 cross or touch"; returns text. */
const char *sw_say_misfit(const sw_context *context, const sw_misfit *misfit, char text[SW_MISFIT_SIZE]);

#endif
