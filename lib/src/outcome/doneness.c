/* SPDX-License-Identifier: BSD-3-Clause */
#include "course.h"
#include "outcome_parts.h"

#include <math.h>

const char *sw_tenderness_name(sw_tenderness tenderness)
{
    static const char *const names[] = {"unknown", "not tender", "probably not tender", "probably tender", "tender"};
    return tenderness >= SW_TENDERNESS_UNKNOWN && tenderness <= SW_TENDERNESS_TENDER ? names[tenderness] : "unknown";
}

static void evaluate_cells(const sw_history *h, sw_reaction reaction, sw_reaction_outcome *o)
{
    double sum = 0.0, volume = 0.0;
    if (!h->cell_extent[reaction])
        return;
    for (size_t i = 0; i < h->cell_count; i++) {
        double extent = h->cell_extent[reaction][i];
        if (SW_IS_ABSENT(extent))
            continue;
        o->least = volume > 0.0 ? fmin(o->least, extent) : extent;
        o->most = volume > 0.0 ? fmax(o->most, extent) : extent;
        sum += h->cell_volume[i] * extent;
        volume += h->cell_volume[i];
    }
    if (volume > 0.0)
        o->mean = sum / volume;
    o->outside = h->cell_outside[reaction];
}

static void evaluate_probes(const sw_history *h, sw_reaction reaction, sw_reaction_outcome *o)
{
    for (size_t i = 0; i < h->probe_count; i++) {
        double extent = h->probe_extent[i][reaction];
        if (i > 0 && extent >= o->probe)
            continue;
        o->probe = extent;
        o->probe_outside = extent > 0.0 ? h->probe_outside[i][reaction] / extent : 0.0;
    }
}

/* How fast the share grows at the probe where it is least at last. */
static double collagen_rate(const sw_history *h, size_t row)
{
    size_t toughest = 0;
    for (size_t i = 1; i < h->probe_count; i++)
        if (h->probe_extent[i][SW_REACTION_COLLAGEN] < h->probe_extent[toughest][SW_REACTION_COLLAGEN])
            toughest = i;
    return (1.0 - h->series[SW_SERIES_probe_collagen][row]) *
           sw_reaction_rate(sw_reaction_law_of(SW_REACTION_COLLAGEN), h->probe_series[toughest][row]);
}

/* When the share first passed the limit. */
static double tender_time(const sw_history *h)
{
    const double *time = h->series[SW_SERIES_time], *share = h->series[SW_SERIES_probe_collagen];
    for (size_t i = 0; i < h->row_count; i++)
        if (share[i] >= SW_TENDER_COLLAGEN) {
            const size_t before = i > 0 ? i - 1 : 0;
            const double slope[] = {collagen_rate(h, before), collagen_rate(h, i)};
            const sw_course piece = {i - before + 1, time + before, share + before, slope};
            return sw_course_reach(&piece, SW_TENDER_COLLAGEN);
        }
    return SW_ABSENT;
}

static sw_tenderness tenderness_of(const sw_outcome *o)
{
    if (o->probe_collagen >= SW_TENDER_COLLAGEN)
        return o->probe_collagen_low >= SW_TENDER_COLLAGEN ? SW_TENDERNESS_TENDER : SW_TENDERNESS_PROBABLY;
    return o->probe_collagen_high >= SW_TENDER_COLLAGEN ? SW_TENDERNESS_PROBABLY_NOT : SW_TENDERNESS_NOT;
}

void sw_evaluate_doneness(const sw_history *h, size_t pull, sw_outcome *o)
{
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++) {
        evaluate_cells(h, (sw_reaction)r, &o->reactions[r]);
        evaluate_probes(h, (sw_reaction)r, &o->reactions[r]);
    }
    const double *share = h->series[SW_SERIES_probe_collagen];
    const double uncertainty = sw_reaction_law_of(SW_REACTION_COLLAGEN)->uncertainty;
    o->probe_collagen_at_pull = share[pull];
    o->probe_collagen = share[h->row_count - 1];
    /* A first-order rate that is f times as high leaves the f-th power of what it left. */
    o->probe_collagen_low = 1.0 - pow(1.0 - o->probe_collagen, 1.0 / uncertainty);
    o->probe_collagen_high = 1.0 - pow(1.0 - o->probe_collagen, uncertainty);
    o->tender_time = tender_time(h);
    o->tenderness = tenderness_of(o);
}
