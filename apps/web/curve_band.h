/* SPDX-License-Identifier: BSD-3-Clause */
/* How far the curve of a cook may lie from the one computed, as cooks differ: between the curves of the draws of its band. */
#ifndef SW_APPS_CURVE_BAND_H
#define SW_APPS_CURVE_BAND_H

#include <stallwright/everything.h>

#include <jansson.h>

/* Curves of draws, as they are seen. */
typedef struct curve_band curve_band;

/* NULL without memory. */
curve_band *curve_band_create(size_t draws);
void curve_band_destroy(curve_band *band);

/* As sw_band_question has it; data is the curve_band. */
sw_status curve_band_see(sw_context *context, size_t number, const sw_run *draw, void *data);

/* Tells, at each moment, the reading that a tenth of the draws are below and that all but a tenth are. A cook that is done counts
 * with what it read last. As in the bands of times, what is coarse is taken out by the median cook made both ways.
 * @param done of the cook itself [s]
 * @return NULL without memory */
json_t *curve_band_tell(const curve_band *band, double done);

#endif
