/* How far the curve of a cook may lie from the one computed, as cooks differ: the curves of many drawn from the population. */
#ifndef SW_APPS_CURVE_BAND_H
#define SW_APPS_CURVE_BAND_H

#include <stallwright/stallwright.h>

#include <jansson.h>

/* Cooks that many draws, the first of those that sw_band_find makes, and tells, at each moment, the reading that a tenth of them
 * are below and that all but a tenth are. A cook that is done counts with what it read last.
 * @param draws at least 2
 * @return SW_OK, or the first status that was no cook's own; *band is then unchanged */
sw_status curve_band_find(sw_context *context, const sw_scenario *scenario, size_t draws, json_t **band);

#endif
