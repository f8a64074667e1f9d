/* SPDX-License-Identifier: BSD-3-Clause */
/* The band of a cook in parts, so that several workers draw it: of its figures, and of its curve, which is how far the curve may lie
 * from the one computed, as cooks differ. */
#ifndef SW_APPS_BAND_PARTS_H
#define SW_APPS_BAND_PARTS_H

#include <stallwright/everything.h>

#include <jansson.h>

/* Draws one after the other: number, rows, figures, then times and probe of each row. Release numbers with free. */
typedef struct band_part {
    double *numbers;
    size_t count;
} band_part;

/* Makes some draws, with the program's seed; number `draws` is the median cook.
 * @param part out; also to be released on error
 * @return what sw_band_draw returns */
sw_status band_part_make(sw_context *context, const sw_scenario *stated, size_t draws, size_t first, size_t count, band_part *part);

/* Bands of the figures as the program has them, and "curve": at each moment the reading that a tenth of the draws are below and that
 * all but a tenth are. A cook that is done counts with what it read last. As in the bands of times, what is coarse is taken out by the
 * median cook made both ways.
 * @param parts all of them, one behind the other, in any order
 * @param draws how many there are
 * @param all_draws with which number parts have the median cook
 * @param told out; unchanged on error
 * @return SW_OK; SW_ERR_ARGUMENT (a draw is missing); what sw_band_gather returns */
sw_status band_parts_gather(sw_context *context, const sw_run *run, const band_part *parts, size_t draws, size_t all_draws, json_t **told);

#endif
