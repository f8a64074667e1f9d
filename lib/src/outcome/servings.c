/* SPDX-License-Identifier: BSD-3-Clause */
#include "outcome_parts.h"

#include <stallwright/wrap_traits.h>

/* Whether a phase after the pull leaves the wrap on. */
static bool keeps_wrap(const sw_scenario *s, sw_phase phase)
{
    return phase == SW_PHASE_REST ? s->rest.keep_wrap : s->hold.keep_wrap;
}

static sw_wrap_kind wrap_of(const sw_scenario *s, sw_phase phase)
{
    return phase == SW_PHASE_WRAPPED ? s->wrap.kind : phase == SW_PHASE_REWRAPPED ? s->rewrap.kind : SW_WRAP_NONE;
}

/* What is in a tray or closed foil when it is first opened: juice less what evaporated, and the fat rendered since it was
 * put on. */
static void evaluate_kept(const sw_history *h, sw_outcome *o)
{
    const sw_scenario *s = &h->scenario;
    for (size_t i = 1; i < h->phase_count; i++) {
        if (!sw_wrap_traits_of(wrap_of(s, h->phases[i].phase))->holds_pool)
            continue;
        size_t last = i;
        while (last + 1 < h->phase_count && h->phases[last + 1].phase != SW_PHASE_REWRAPPED &&
               keeps_wrap(s, h->phases[last + 1].phase))
            last++;
        const sw_budget *before = &h->phases[i - 1].budget_at_end, *after = &h->phases[last].budget_at_end;
        o->kept_juice_mass = after->kept_mass;
        o->kept_fat_mass = after->rendered_mass - before->rendered_mass;
        o->kept_cap_fat_mass = after->cap_rendered_mass - before->cap_rendered_mass;
    }
}

void sw_evaluate_servings(const sw_history *h, sw_outcome *o)
{
    const sw_serving *serving = &h->scenario.serving;
    evaluate_kept(h, o);
    /* Bone is cooked as if it were meat: what is left of the meat proper is this share of what is left of all. */
    const double boneless = 1.0 - h->scenario.meat.bone;
    o->servings = boneless * o->at_end.meat_mass / serving->size;
    if (serving->people == 0 || !(o->yield_fraction > 0.0))
        return;
    o->raw_mass_needed = serving->people * serving->size / (boneless * o->yield_fraction);
    o->mass_to_buy = o->raw_mass_needed / (1.0 - serving->trimming);
}
