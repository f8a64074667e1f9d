/* SPDX-License-Identifier: BSD-3-Clause */
#include "plan_words.h"

#include <math.h>

static const char *moment(const plan_view *v, double before, char *text)
{
    return show_moment(&v->clock, before, text);
}

void say_start(const plan_view *v, prose *p)
{
    const sw_plan_starts *s = &v->plan->starts;
    char at[CLOCK_TEXT_SIZE], earliest[CLOCK_TEXT_SIZE], latest[CLOCK_TEXT_SIZE];
    prose_clear(p);
    prose_add(p, "Put the meat on at {text}.", moment(v, s->recommended, at));
    prose_add(p, " At the latest {text}: then {chance} of cooks like this one are ready in time.", moment(v, s->latest, latest), v->plan->odds);
    if (isfinite(s->earliest) && s->earliest >= s->latest)
        prose_add(p, " At the earliest {text}: then {chance} are held no longer than {duration}.", moment(v, s->earliest, earliest),
                  v->plan->odds, v->plan->stated.serving.hold_at_most);
}

void say_odds(const plan_view *v, prose *p)
{
    const double lead = v->plan->starts.recommended;
    const sw_odds in_time = plan_in_time(v, lead), too_long = plan_held_too_long(v, lead);
    prose_clear(p);
    prose_add(p, "From there {chance} of {whole} drawn cooks are ready, with {duration} of hold or more, in time (error {points});", in_time.share,
              (double)v->plan->draws, v->plan->stated.serving.hold_at_least, in_time.error);
    prose_add(p, " {chance} would be held for longer than {duration} (error {points}).", too_long.share,
              v->plan->stated.serving.hold_at_most, too_long.error);
}

void say_narrow(const plan_view *v, prose *p)
{
    const sw_plan *plan = v->plan;
    char earliest[CLOCK_TEXT_SIZE];
    prose_clear(p);
    if (!isfinite(plan->starts.earliest) || plan->starts.earliest >= plan->starts.latest)
        return;
    prose_add(p, "Such cooks differ by more than the hold can absorb: to hold {chance} of them no longer than {duration} the "
                 "meat would have to go "
                 "on at {text} or later. Being in time takes priority here. A longer serving.hold_at_most, a given "
                 "meat.thickness or lower odds make "
                 "room.",
              plan->odds, plan->stated.serving.hold_at_most, moment(v, plan->starts.earliest, earliest));
}

void say_impossible(const plan_view *v, prose *p)
{
    const sw_plan *plan = v->plan;
    const double most = 1.0 - (double)plan->never_ready / (double)plan->draws;
    prose_clear(p);
    prose_add(p, "No start is ready in time with odds of {chance}{text}: of {whole} drawn cooks {whole} never reach the pull "
                 "or the end of their rest, so "
                 "the most is {chance}{text}. A hotter pit, a wrap, or a pull at a lower temperature would help",
              v->odds, v->label ? " of all together" : "", (double)plan->draws, (double)plan->never_ready, most, v->label ? " of this one" : "");
    if (most >= 0.01)
        prose_add(p, "; lower odds (--odds) would find a start");
    prose_add(p, ".");
}

void say_slicing(const plan_view *v, prose *p)
{
    const sw_plan *plan = v->plan;
    const sw_outcome *o = &plan->median.outcome;
    const double slicing = plan->stated.serving.temperature, lead = plan->starts.recommended;
    char at[CLOCK_TEXT_SIZE];
    prose_clear(p);
    if (!plan->is_median_run || plan->median.status != SW_OK || SW_IS_ABSENT(o->slice_probe))
        return;
    if (SW_IS_ABSENT(o->rest_to_slicing))
        prose_add(p, "Ready, but too hot to slice well: when it is served the probe of the median cook still reads {temperature}, over {temperature} "
                     "(serving.temperature). Open the wrap and let it stand for a while first.",
                  o->slice_probe, slicing);
    else
        prose_add(p, "Ready, but too hot to slice well until {text} in the median cook, when the probe has fallen to {temperature}.",
                  moment(v, lead - o->done_time - o->rest_to_slicing, at), slicing);
}

void say_late(const plan_view *v, prose *p)
{
    const sw_plan_late *late = &v->plan->late;
    const double lead = v->plan->starts.recommended;
    char at[CLOCK_TEXT_SIZE];
    prose_clear(p);
    if (!late->is_found) {
        prose_add(p, "The probe does not show a slow cook before the usual one is done: keep the hold in reserve, and look "
                     "early.");
        return;
    }
    prose_add(p, "Look at the probe at {text}. A usual cook then reads {temperature}; one that reads {temperature} or less is among the slowest of "
                 "twenty. What can be done from there:",
              moment(v, lead - late->shows, at), late->usual, late->probe);
}

/* When it would be ready against when it is served. */
static void add_ready(const plan_view *v, double ready, prose *p)
{
    const double left = v->plan->starts.recommended - ready;
    char at[CLOCK_TEXT_SIZE];
    if (!isfinite(ready)) {
        prose_add(p, "never ready");
        return;
    }
    prose_add(p, "ready at {text}, ", moment(v, left, at));
    if (left >= 0.0)
        prose_add(p, "{duration} before serving", left);
    else
        prose_add(p, "{duration} too late", -left);
}

void say_rescue(const plan_view *v, sw_plan_rescue rescue, prose *p)
{
    const sw_plan_late *late = &v->plan->late;
    const double base = late->ready[SW_RESCUE_NOTHING], gain = base - late->ready[rescue];
    prose_clear(p);
    if (!late->is_found || !late->is_open[rescue])
        return;
    prose_add(p, "{text}: ", rescue == SW_RESCUE_NOTHING  ? "Nothing"
                             : rescue == SW_RESCUE_FOIL   ? "Closed foil at once"
                             : rescue == SW_RESCUE_HOTTER ? "The pit hotter"
                                                          : "Both");
    if (rescue == SW_RESCUE_HOTTER)
        prose_add(p, "by {difference}, ", SW_PLAN_PIT_STEP);
    add_ready(v, late->ready[rescue], p);
    if (rescue != SW_RESCUE_NOTHING && isfinite(gain))
        prose_add(p, gain >= 0.0 ? "; it buys {duration}" : "; it costs {duration}", fabs(gain));
    prose_add(p, ".");
    if (rescue == SW_RESCUE_FOIL || rescue == SW_RESCUE_BOTH)
        prose_add(p, " The bark softens in foil.");
}

void say_early(const plan_view *v, prose *p)
{
    const sw_plan *plan = v->plan;
    const double left = plan->starts.recommended - plan->early_ready;
    prose_clear(p);
    if (!plan->is_median_run || SW_IS_ABSENT(plan->early_ready) || !isfinite(plan->early_ready))
        return;
    prose_add(p, "One cook in ten is even faster than this: ");
    add_ready(v, plan->early_ready, p);
    prose_add(p, ". Hold it {text} until it is served.", plan->stated.hold.keep_wrap && plan->stated.wrap.kind != SW_WRAP_NONE ? "in its wrap" : "as planned");
    if (left > plan->stated.serving.hold_at_most)
        prose_add(p, " That is longer than serving.hold_at_most, {duration}: carve then, or serve sooner.", plan->stated.serving.hold_at_most);
}

void say_longest(const plan_view *v, prose *p)
{
    const sw_plan *plan = v->plan;
    const sw_run *run = &plan->longest;
    prose_clear(p);
    if (!plan->is_median_run || run->status != SW_OK || SW_IS_ABSENT(run->outcome.kept_hot) || SW_IS_ABSENT(run->outcome.slice_time))
        return;
    const double most = run->outcome.slice_time - run->outcome.done_time;
    if (run->outcome.kept_hot < plan->rest)
        prose_add(p, "WARNING: it gets too cool in the rest already: {duration} after the pull part of the median cook's "
                     "meat falls below the limit for hot food. Rest it for a shorter time, in its wrap, or somewhere warmer.",
                  60.0 * floor(run->outcome.kept_hot / 60.0));
    else if (run->outcome.kept_hot >= most - 1.0)
        prose_add(p, "Held for the longest that is planned, {duration}, all of the median cook stays hot enough.", plan->stated.serving.hold_at_most);
    else
        prose_add(p, "WARNING: the hold does not keep it hot for that long: {duration} after the pull part of the median "
                     "cook's meat falls below the limit for hot food. Do not hold it longer than that.",
                  60.0 * floor(run->outcome.kept_hot / 60.0));
}

void say_mass(const plan_view *v, prose *p)
{
    const sw_plan *plan = v->plan;
    prose_clear(p);
    if (SW_IS_ABSENT(plan->mass_to_buy))
        return;
    prose_add(p, "For {whole} people at {mass} each buy {mass} of untrimmed meat ({mass} would do for one cook in ten, {mass} for nine in ten), by this "
                 "cut's trimming and the yields of the draws. This cook has {mass} of trimmed meat.",
              (double)plan->stated.serving.people, plan->stated.serving.size, plan->mass_to_buy, plan->mass_to_buy_low, plan->mass_to_buy_high,
              plan->stated.meat.mass);
}

void say_together(const plan_party *party, prose *p)
{
    const sw_plan_of_pieces *all = party->plan;
    const sw_serving *serving = &all->pieces[0]->stated.serving;
    prose_clear(p);
    if (SW_IS_ABSENT(all->in_time.share))
        return;
    prose_add(p, "From these starts all pieces are ready together, with {duration} of hold or more, in {chance} of {whole} draws (error "
                 "{points}); in {chance} one of them or more would be held for longer than {duration} (error {points}). For "
                 "odds of {chance} for all together each piece alone needs {chance}.",
              serving->hold_at_least, all->in_time.share, (double)all->pieces[0]->draws, all->in_time.error,
              all->held_too_long.share, serving->hold_at_most, all->held_too_long.error, all->odds, all->odds_of_each);
}

void say_one_pit(prose *p)
{
    prose_clear(p);
    prose_add(p, "One pit for all: its heat and draught are the same at every piece, and its air takes up the vapour of all of them as if they lay in "
                 "it from first to last. That some go on hours before others is left out, and so is that a full pit heats more slowly. What is "
                 "done about a late piece, a hotter pit above all, changes the others too.");
}

void say_mass_of_all(const plan_party *party, prose *p)
{
    const sw_plan_of_pieces *all = party->plan;
    const sw_serving *serving = &all->pieces[0]->stated.serving;
    double mass = 0.0;
    prose_clear(p);
    if (SW_IS_ABSENT(all->mass_to_buy))
        return;
    for (size_t k = 0; k < all->count; k++)
        mass += all->pieces[k]->stated.meat.mass;
    prose_add(p, "For {whole} people at {mass} each buy {mass} of untrimmed meat in all ({mass} would do for one cook in ten, {mass} for nine in ten), "
                 "shared among the pieces as these are. These have {mass} of trimmed meat together.",
              (double)serving->people, serving->size, all->mass_to_buy, all->mass_to_buy_low, all->mass_to_buy_high, mass);
}

/* How the draws did on measured cooks, told and not corrected for: validation/measured_cooks/report.md, which the calibration writes.
 * They stand here only; test_plan.sh holds them against the report. */
enum { MEASURED_ENDS = 39, ENDS_IN_BAND = 27 };
static const double measured_later = 0.06;

void say_honestly(prose *p)
{
    prose_clear(p);
    prose_add(p, "How well this works: of {whole} measured cooks {whole} ended between the 10 and 90 % points of such draws, "
                 "and the median draw took {share} less time than the cook. So the odds are too hopeful: take the recommended "
                 "start, or an earlier one, before the latest.",
              (double)MEASURED_ENDS, (double)ENDS_IN_BAND, measured_later);
}

/* What the measured cooks had, as bought and at first: validation/measured_cooks/cooks.csv. */
static const double least_measured_mass = 1.65, most_measured_mass = 7.85, least_measured_pit = 356.15, most_measured_pit = 408.15;

void say_outside(const plan_view *v, prose *p)
{
    const sw_scenario *s = &v->plan->stated;
    const double pit = s->pit.steps[0].temperature, bought = s->meat.mass / (1.0 - s->serving.trimming);
    prose_clear(p);
    if (bought < least_measured_mass || bought > most_measured_mass)
        prose_add(p, "No measured cook had a piece of {mass} as bought; they had {mass} to {mass}.", bought, least_measured_mass, most_measured_mass);
    if (pit < least_measured_pit || pit > most_measured_pit)
        prose_add(p, "{text}No measured cook began in a pit at {temperature}; they had {temperature} to {temperature}.", p->count > 0 ? " " : "", pit,
                  least_measured_pit, most_measured_pit);
}
