/* SPDX-License-Identifier: BSD-3-Clause */
/* The sentences of an explanation. A sentence is chosen by the numbers it states. */
#include "explanation_words.h"

#include <math.h>

static bool has_stall(const sw_run *run)
{
    return !SW_IS_ABSENT(run->outcome.stall_start);
}

static void say_no_stall(const sw_explanation *e, prose *p)
{
    const sw_stall_definition *d = &e->cook.scenario.stall;
    if (SW_IS_ABSENT(e->slowest_rate))
        prose_add(p, "There is no stall: the probe is never between {temperature} and {temperature}, where a stall can be.",
                  d->above, d->below);
    else if (e->slowest_rate < d->rate)
        prose_add(p, "There is no stall: between {temperature} and {temperature} the probe is slow, {rate} at its slowest, "
                  "but not under {rate}, mean of {duration}, for {duration} on end.", d->above, d->below, e->slowest_rate, d->rate,
                  d->window, d->duration);
    else
        prose_add(p, "There is no stall: between {temperature} and {temperature} the probe never rises slower than {rate}, "
                  "and only less than {rate} counts.", d->above, d->below, e->slowest_rate, d->rate);
}

void say_course(const sw_explanation *e, prose *p)
{
    const sw_outcome *o = &e->cook.outcome;
    prose_clear(p);
    if (e->never_ends)
        prose_add(p, "This cook never finishes: {text}. What follows is its first {duration}. ", e->never_ends_reason,
                  o->done_time);
    else
        prose_add(p, "The probe reads {temperature} and the meat comes off the pit after {duration}. ", o->done_probe,
                  o->done_time);
    if (has_stall(&e->cook))
        prose_add(p, "It stalls after {duration} at {temperature}, for {duration}: it rises by less than {rate}, at the "
                  "slowest by {rate}.", o->stall_start, o->stall_probe, o->stall_length, e->cook.scenario.stall.rate,
                  o->stall_slowest_rate);
    else
        say_no_stall(e, p);
}

void say_heat(const sw_explanation *e, prose *p)
{
    const sw_heat_budget *b = &e->heat.total;
    const double in = sw_heat_received(b);
    prose_clear(p);
    if (!(in > 0.0)) {
        prose_add(p, "The meat receives no heat.");
        return;
    }
    prose_add(p, "Until then the meat receives {heat}: {share} from hot air and {share} as radiation from hot walls. ", in,
              b->item[SW_HEAT_air] / in, b->item[SW_HEAT_radiation] / in);
    if (!e->cook.scenario.solver.evaporation)
        prose_add(p, "Evaporation is switched off and takes nothing. ");
    else if (b->item[SW_HEAT_evaporation] < 0.0)
        prose_add(p, "More vapour condenses on the cold meat than evaporates from it, {mass} of water, and brings it another "
                     "{heat}. ", -e->cook.outcome.at_pull.evaporated_mass, -b->item[SW_HEAT_evaporation]);
    else
        prose_add(p, "Evaporating {mass} of water takes {heat} of it, {share}. ", e->cook.outcome.at_pull.evaporated_mass,
                  b->item[SW_HEAT_evaporation], b->item[SW_HEAT_evaporation] / in);
    prose_add(p, "Warming the meat takes {share}", (b->item[SW_HEAT_warming] + b->item[SW_HEAT_vapour]) / in);
    if (b->item[SW_HEAT_vapour] > 0.0)
        prose_add(p, ", of which {share} has left again with the vapour", b->item[SW_HEAT_vapour] / in);
    prose_add(p, "; melting and rendering fat takes {share}, and {share} leaves with dripping juice.", b->item[SW_HEAT_fat] / in,
              b->item[SW_HEAT_drip] / in);
}

void say_share(const sw_explanation *e, prose *p)
{
    prose_clear(p);
    if (!e->cook.scenario.solver.evaporation) {
        prose_add(p, "There is no hour in which evaporation takes nearly all of the heat: it takes none.");
        return;
    }
    if (e->heat.largest_share == e->heat.count) {
        prose_add(p, "There is no hour in which evaporation takes any of the heat.");
        return;
    }
    const size_t most = e->heat.largest_share;
    const double share = sw_heat_evaporation_share(&e->heat.heat[most]);
    if (e->heat.nearly_all < e->heat.count)
        prose_add(p, "Evaporation first takes nearly all of the heat, {share} or more, in the {text} that begin{text} after "
                  "{duration}. ", SW_NEARLY_ALL_HEAT, e->heat.step > 3600.0 ? "hours" : "hour", e->heat.step > 3600.0 ? "" : "s",
                  e->heat.start[e->heat.nearly_all]);
    else
        prose_add(p, "In no hour does evaporation take nearly all of the heat, {share} or more. ", SW_NEARLY_ALL_HEAT);
    prose_add(p, "It takes the most, {share}, from {duration} to {duration}.", share, e->heat.start[most], e->heat.end[most]);
}

/* Whether the surface is wet, and by what: the meat itself, a film of juice that runs over it, or not at all. */
static void say_surface(const sw_plateau *s, prose *p)
{
    prose_add(p, "Its surface is at {temperature} on average", s->surface);
    if (SW_IS_ABSENT(s->wet_bulb) || s->surface <= s->wet_bulb || s->surface >= s->air) {
        prose_add(p, ", the air at {temperature}.", s->air);
        return;
    }
    prose_add(p, ", between the {temperature} of a wet cloth in that air (its wet-bulb) and the {temperature} of the air: ",
              s->wet_bulb, s->air);
    if (sw_surface_state_of(s->activity_at_start, s->film_at_start) == SW_SURFACE_WET)
        prose_add(p, "with a water activity of {number} it is wet, and radiation from the walls and what covers it hold it above "
                  "the wet-bulb.", s->activity_at_start);
    else if (s->film_at_start >= SW_FILM_TO_SPEAK_OF)
        prose_add(p, "juice that runs over it wets {share} of it as the stall begins; where no film wets it, it gives off "
                     "less vapour than a wet surface would, so it is hotter than one (water activity of both together: "
                     "{number}).",
                  s->film_at_start, s->activity_at_start);
    else
        prose_add(p, "with a water activity of {number} and no film of juice to speak of it has dried faster than water "
                     "arrives from within, and so it is hotter than a wet surface would be.", s->activity_at_start);
}

void say_plateau(const sw_explanation *e, prose *p)
{
    const sw_plateau *s = &e->plateau;
    prose_clear(p);
    if (!has_stall(&e->cook)) {
        prose_add(p, "There is no plateau to explain.");
        return;
    }
    prose_add(p, "During the stall {heat} reaches the meat an hour, and evaporation takes {share} of that: {mass} of water an "
              "hour. ", s->heat_an_hour, s->evaporation_share, s->evaporated_an_hour);
    if (!SW_IS_ABSENT(s->could_evaporate_an_hour)) {
        const double ratio = s->evaporated_an_hour / s->could_evaporate_an_hour;
        prose_add(p, "All of the heat could evaporate {mass} an hour: ", s->could_evaporate_an_hour);
        prose_add(p, ratio > 0.75  ? "the meat gives up nearly as much water as the heat can evaporate, so little is left to "
                                     "warm it. "
                     : ratio > 0.4 ? "the water the meat gives up uses a large part of that, so it warms slowly. "
                                   : "the water the meat gives up uses less than half of that, so evaporation alone does not "
                                     "hold it. ");
    }
    say_surface(s, p);
}

void say_water(const sw_explanation *e, prose *p)
{
    const sw_plateau *s = &e->plateau;
    const sw_meat *meat = &e->cook.scenario.meat;
    prose_clear(p);
    if (!has_stall(&e->cook))
        return;
    if (meat->water_holding_loss <= 0.0) {
        prose_add(p, "The protein of this meat holds its water: none is pressed out, and what evaporates comes by diffusion. ");
    } else {
        const double above = s->probe_at_start - meat->water_holding_temperature;
        prose_add(p, "The water comes from within. As it cooks the protein shrinks and releases {share} of its water, half of "
                  "that by {temperature}; the stall begins with the probe {difference} {text} that. ",
                  meat->water_holding_loss, meat->water_holding_temperature, fabs(above), above >= 0.0 ? "above" : "below");
    }
    prose_add(p, "{mass} of water left before the stall and {mass} in it; where the probe is, the meat holds {share} of its raw "
              "water when the stall begins and {share} when it ends.", s->lost_before, s->lost_after - s->lost_before,
              s->middle_at_start, s->middle_at_end);
}

void say_ending(const sw_explanation *e, prose *p)
{
    const sw_plateau *s = &e->plateau;
    const sw_outcome *o = &e->cook.outcome;
    prose_clear(p);
    switch (e->ending) {
    case SW_STALL_ENDING_NONE:
        prose_add(p, "No stall, so nothing ends it.");
        break;
    case SW_STALL_ENDING_WRAP:
        prose_add(p, "The wrap ends it: it goes on after {duration} at {temperature}, and {duration} later the probe rises by "
                  "{rate} again.", o->wrap_time, o->wrap_probe, o->stall_end - o->wrap_time, e->cook.scenario.stall.rate);
        break;
    case SW_STALL_ENDING_PULL:
        prose_add(p, e->never_ends ? "Nothing ends it: it goes on as far as the cook was followed."
                                   : "Nothing ends it: the meat is pulled in the stall.");
        break;
    case SW_STALL_ENDING_PIT:
        prose_add(p, "A hotter pit ends it.");
        break;
    case SW_STALL_ENDING_DRY:
        prose_add(p, "It ends as the surface dries: its water activity falls from {number} to {number}, and evaporation from "
                  "{mass} of water an hour at its most to {mass}.", s->activity_at_start, s->activity_at_end,
                  s->evaporation_at_most, s->evaporation_at_end);
        break;
    case SW_STALL_ENDING_SHORT:
        prose_add(p, "It ends as water runs short: evaporation falls from {mass} of water an hour at its most to {mass}",
                  s->evaporation_at_most, s->evaporation_at_end);
        if (s->dry_depth_at_end > s->dry_depth_at_start)
            prose_add(p, ", while the layer that has lost half of its water grows from {length} to {length}",
                      s->dry_depth_at_start, s->dry_depth_at_end);
        if (s->film_at_start >= SW_FILM_TO_SPEAK_OF && s->film_at_end < s->film_at_start)
            prose_add(p, "{text} the film of juice wets {share} of the surface instead of {share}",
                      s->dry_depth_at_end > s->dry_depth_at_start ? ", and" : ", while", s->film_at_end, s->film_at_start);
        prose_add(p, ". The heat it no longer takes warms the meat.");
        break;
    case SW_STALL_ENDING_RANGE:
        prose_add(p, "It ends by its definition: the probe passes {temperature}, where the last approach to the pit's "
                  "temperature begins.", e->cook.scenario.stall.below);
        break;
    default:
        prose_add(p, "It ends although evaporation goes on at {mass} of water an hour: more heat comes in than it takes.",
                  s->evaporation_at_end);
        break;
    }
}

/* Otherwise the done time is set by the clock and says nothing. */
static bool is_pulled_by_probe(const sw_explanation *e)
{
    return e->cook.history->scenario.pull.kind == SW_ENDING_PROBE_TEMPERATURE || e->never_ends;
}

/* A time that changes by less than this share has not changed to speak of. */
#define NO_CHANGE 0.02

static void say_done(const sw_explanation *e, const sw_run *run, prose *p)
{
    const double before = e->cook.outcome.done_time, now = run->outcome.done_time;
    if (!is_pulled_by_probe(e))
        prose_add(p, "comes off after {duration} with the probe at {temperature} instead of {temperature}", now,
                  run->outcome.done_probe, e->cook.outcome.done_probe);
    else if (e->never_ends)
        prose_add(p, "finishes, after {duration}, where the cook as planned never does", now);
    else if (fabs(now - before) < NO_CHANGE * before)
        prose_add(p, "takes about as long, {duration}", now);
    else
        prose_add(p, now < before ? "is done {duration} sooner" : "takes {duration} longer", fabs(now - before));
}

static void say_stall_change(const sw_explanation *e, const sw_run *run, prose *p)
{
    const bool before = has_stall(&e->cook), now = has_stall(run);
    if (before && !now)
        prose_add(p, ", and the stall is gone");
    else if (!before && now)
        prose_add(p, ", and stalls for {duration}", run->outcome.stall_length);
    else if (now && fabs(run->outcome.stall_length - e->cook.outcome.stall_length) < NO_CHANGE * e->cook.outcome.stall_length)
        prose_add(p, ", with as long a stall, {duration}", run->outcome.stall_length);
    else if (now)
        prose_add(p, ", with a stall of {duration} instead of {duration}", run->outcome.stall_length,
                  e->cook.outcome.stall_length);
    else
        prose_add(p, ", still without a stall");
}

static void say_yield_change(const sw_explanation *e, const sw_run *run, prose *p)
{
    const double more = run->outcome.yield_at_pull - e->cook.outcome.yield_at_pull;
    if (!e->never_ends && fabs(more) < 0.0005)
        prose_add(p, ", with as much of the raw weight left");
    else if (!e->never_ends)
        prose_add(p, more >= 0.0 ? ", with {points} more of the raw weight left" : ", with {points} less of the raw weight left",
                  fabs(more));
}

/* What the numbers say about the cause. */
/* What a wrap from the start does to evaporation; in a closed one more may condense than evaporates. */
static void say_wrapped(const sw_run *run, double evaporated_as_planned, prose *p)
{
    const double evaporated = run->outcome.at_pull.evaporated_mass;
    const char *wrap = sw_wrap_name(run->scenario.wrap.kind);
    if (evaporated < 0.0)
        prose_add(p, ": under {text} from the start {mass} more condenses than evaporates until the pull, where {mass} evaporates.",
                  wrap, -evaporated, evaporated_as_planned);
    else
        prose_add(p, ": under {text} from the start {mass} evaporates until the pull instead of {mass}.", wrap, evaporated,
                  evaporated_as_planned);
}

static void say_lesson(const sw_explanation *e, sw_cause c, prose *p)
{
    const sw_run *run = &e->changed[c].run;
    const bool before = has_stall(&e->cook), now = has_stall(run);
    const bool longer = now && run->outcome.stall_length > e->cook.outcome.stall_length;
    const char *makes = !before ? now ? "makes a stall here" : "makes no stall here, and taking it away makes none"
                        : !now  ? "is what makes the stall"
                        : longer ? "is not what makes the stall: without it there is a longer one"
                                 : "lengthens the stall, but is not all of it";
    const double longer_by = run->outcome.done_time / e->cook.outcome.done_time - 1.0;
    const char *pace = fabs(longer_by) < NO_CHANGE ? "hardly changes the pace"
                       : longer_by > 0.0           ? "slows the cook"
                                                   : "speeds the cook up";
    switch (c) {
    case SW_CAUSE_no_evaporation:
        prose_add(p, before || !now ? ": evaporation {text}." : ": here the lack of evaporation {text}.", makes);
        break;
    case SW_CAUSE_holds_its_water:
        prose_add(p, before || !now ? ": the water that shrinking protein presses out {text}."
                                    : ": here meat that holds its water {text}.", makes);
        break;
    case SW_CAUSE_damp_pit:
        if (!e->cook.scenario.solver.evaporation) {
            prose_add(p, ": without evaporation the vapour in the air does not matter.");
            break;
        }
        prose_add(p, ": with a humidity ratio of {times} instead of {times} the air carries off {text}, and that {text}.",
                  run->scenario.pit.humidity_ratio, e->cook.history->scenario.pit.humidity_ratio,
                  run->outcome.at_pull.evaporated_mass < e->cook.outcome.at_pull.evaporated_mass ? "less" : "no less", pace);
        break;
    case SW_CAUSE_twice_the_draught:
        prose_add(p, ": a draught brings more heat {text}, and that {text}.",
                  e->cook.scenario.solver.evaporation ? "and carries off more vapour" : "and nothing evaporates", pace);
        break;
    case SW_CAUSE_half_the_thickness:
        prose_add(p, ": thickness sets the time; half of it takes {times} of the time.",
                  run->outcome.done_time / e->cook.outcome.done_time);
        break;
    default:
        if (!e->cook.scenario.solver.evaporation) {
            prose_add(p, ": without evaporation {text} only keeps heat out.", sw_wrap_name(run->scenario.wrap.kind));
            break;
        }
        say_wrapped(run, e->cook.outcome.at_pull.evaporated_mass, p);
        break;
    }
}

void say_change(const sw_explanation *e, sw_cause c, prose *p)
{
    const sw_changed_cook *changed = &e->changed[c];
    prose_clear(p);
    if (changed->is_no_change) {
        prose_add(p, "is already so in the cook as planned: there is nothing to change.");
    } else if (changed->is_impossible) {
        prose_add(p, "cannot be computed: {text}.", changed->run.failure);
    } else if (changed->run.status != SW_OK) {
        prose_add(p, changed->run.status == SW_ERR_NEVER_ENDS ? "never finishes: {text}." : "failed: {text}.",
                  changed->run.failure);
    } else {
        say_done(e, &changed->run, p);
        say_stall_change(e, &changed->run, p);
        say_yield_change(e, &changed->run, p);
        if (!e->never_ends && is_pulled_by_probe(e))
            say_lesson(e, c, p);
        else
            prose_add(p, ".");
    }
}

void say_common(const sw_explanation *e, size_t number, prose *p)
{
    const sw_common_explanation *c = &e->common[number];
    const double evaporation = e->heat.total.item[SW_HEAT_evaporation];
    prose_clear(p);
    if (c->high > c->low)
        prose_add(p, "{heat} to {heat}", c->low, c->high);
    else
        prose_add(p, "{heat}", c->high);
    if (evaporation > 0.0)
        prose_add(p, ", at most {share} of what evaporation takes", c->high / evaporation);
    if (has_stall(&e->cook) && e->plateau.heat_an_hour > 0.0)
        prose_add(p, "; the heat flow in the stall supplies it in {duration}",
                  3600.0 * c->high / e->plateau.heat_an_hour);
    prose_add(p, ".");
}
