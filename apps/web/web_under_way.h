/* SPDX-License-Identifier: BSD-3-Clause */
/* What a page keeps of a cook under way, as the program reads it from its options and a log. */
#ifndef SW_APPS_WEB_UNDER_WAY_H
#define SW_APPS_WEB_UNDER_WAY_H

#include "track_input.h"

/* "wrapped", "pit", "lid", "spritzed", "off", "held", "sliced": as the page's entries are called. */
const char *web_event_name(track_event_kind kind);

/* Puts into an input that is all zero what a text says: {"entries": [{"kind", "time", "value", "probe"}], "log": {"names", "has_pit",
 * "rows": [[time, first probe, second, pit]]} or null}. Times are after the meat went on [s], temperatures [K], what is not read is null; a
 * "reading" is an entry too. To be given to track_input_free, also on error.
 * @return SW_OK, SW_ERR_INPUT, SW_ERR_MEMORY */
sw_status web_under_way_read(sw_context *context, const char *text, track_input *input);

#endif
