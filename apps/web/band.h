/* How far a cook may go from the one computed, as cooks differ: the curves of many drawn from the population. */
#ifndef SW_APPS_BAND_H
#define SW_APPS_BAND_H

#include <stallwright/stallwright.h>

#include <jansson.h>

/* Cooks that many draws and tells, at each moment, the reading that a tenth of them are below, a half, and all but a tenth; the
 * same of when they are done. A cook that is done counts with what it read last. "failed" says how many do not end.
 * @param draws at least 2
 * @return SW_OK, or the first status that was no cook's own; *band is then unchanged */
sw_status band_of_population(sw_context *context, const sw_scenario *scenario, size_t draws, json_t **band);

#endif
