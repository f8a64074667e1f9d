/* SPDX-License-Identifier: BSD-3-Clause */
#include "outcome_parts.h"

#include <math.h>

double sw_dryness_index(double water_activity)
{
    return fmin(1.0, fmax(0.0, (0.97 - water_activity) / (0.97 - 0.75)));
}

/* The phase that the wrap ended, the last one on the pit, and the last one; NULL if there is none. */
typedef struct moments {
    const sw_phase_record *wrap, *pull, *end;
} moments;

static moments moments_of(const sw_history *h)
{
    moments m = {0};
    for (size_t i = 0; i < h->phase_count; i++) {
        const sw_phase_record *p = &h->phases[i];
        if (p->phase == SW_PHASE_WRAPPED && i > 0)
            m.wrap = p - 1;
        if (p->phase <= SW_PHASE_REWRAPPED)
            m.pull = p;
        m.end = p;
    }
    return m;
}

static void evaluate_side(const moments *m, int side, sw_side_outcome *o)
{
    const sw_side_record *end = &m->end->sides_at_end[side], *pull = &m->pull->sides_at_end[side];
    o->area = end->area;
    o->open_time = end->open_time;
    o->temperature_at_pull = pull->temperature;
    o->water_content_at_end = end->water_content;
    o->dryness_at_pull = sw_dryness_index(pull->water_activity);
    o->dryness_at_end = sw_dryness_index(end->water_activity);
    o->browning = end->browning;
    o->browning_outside = end->browning_outside;
    /* A browned surface that has gone wet is a soft bark: half of one (guess). */
    o->bark = o->browning * (0.5 + 0.5 * o->dryness_at_end);
    if (!m->wrap)
        return;
    o->water_content_at_wrap = m->wrap->sides_at_end[side].water_content;
    o->dryness_at_wrap = sw_dryness_index(m->wrap->sides_at_end[side].water_activity);
    /* A surface that was wet when it was wrapped has nothing to lose. */
    if (o->dryness_at_wrap > 0.0)
        o->softening = fmax(0.0, 1.0 - o->dryness_at_end / o->dryness_at_wrap);
}

void sw_evaluate_bark(const sw_history *h, sw_outcome *o)
{
    const moments m = moments_of(h);
    double area = 0.0, open = 0.0, bark = 0.0, softening = 0.0, softening_area = 0.0;
    for (int side = 0; m.end && side < SW_SIDE_COUNT; side++) {
        sw_side_outcome *s = &o->sides[side];
        if (!(m.end->sides_at_end[side].area > 0.0))
            continue;
        evaluate_side(&m, side, s);
        area += s->area;
        open += s->area * s->open_time;
        bark += s->area * s->bark;
        if (!SW_IS_ABSENT(s->softening)) {
            softening += s->area * s->softening;
            softening_area += s->area;
        }
    }
    if (area > 0.0) {
        o->open_surface_time = open / area;
        o->bark = bark / area;
    }
    if (softening_area > 0.0)
        o->softening = softening / softening_area;
}
