/* SPDX-License-Identifier: BSD-3-Clause */
#include "track_words.h"

#include <math.h>
#include <string.h>

const char *track_topic_name(track_topic topic)
{
    static const char *const names[] = {"now", "done", "stall", "wrap", "found", "doubt", "safety"};
    return names[topic];
}

static prose *begin(track_sentences *s, track_topic topic)
{
    if (s->count == TRACK_SENTENCES_MAX)
        s->count--;
    s->topics[s->count] = topic;
    prose_clear(&s->list[s->count]);
    return &s->list[s->count++];
}

const char *track_moment(const track_input *in, double time, char *text)
{
    if (isinf(time))
        snprintf(text, QUANTITY_SIZE, "never");
    else if (SW_IS_ABSENT(time))
        snprintf(text, QUANTITY_SIZE, "-");
    else
        show_clock(in->question.scenario.start_clock, 60.0 * round(time / 60.0), text);
    return text;
}

static void say_now(const track_input *in, const sw_track *t, track_sentences *s)
{
    char clock[QUANTITY_SIZE];
    if (in->question.readings.count == 0) {
        prose_add(begin(s, TRACK_NOW), "There are no readings yet: this is what the plan says before the fire is lit.");
        return;
    }
    const sw_readings *r = &in->question.readings;
    const char *name = r->probe_names[t->deciding];
    const bool is_called = name[0] && strcmp(name, "probe") != 0;
    const sw_reading *last = NULL;
    for (size_t i = 0; i < r->count; i++)
        if (r->list[i].probe == t->deciding && (!last || r->list[i].time >= last->time))
            last = &r->list[i];
    prose *p = begin(s, TRACK_NOW);
    prose_add(p, "At {text}, {duration} after the meat went on: {whole} reading{text}, the last of the probe{text}{text} {temperature}.",
              track_moment(in, t->now, clock), t->now, (double)r->count, r->count == 1 ? "" : "s",
              is_called ? " " : "", is_called ? name : "", last ? last->temperature : SW_ABSENT);
    if (!SW_IS_ABSENT(t->reading))
        prose_add(p, " All of them together put it at {temperature} now.", t->reading);
}

static void say_done(const track_input *in, const sw_track *t, track_sentences *s)
{
    char low[QUANTITY_SIZE], middle[QUANTITY_SIZE], high[QUANTITY_SIZE];
    const sw_track_choice *c = &t->choices[0];
    prose *p = begin(s, TRACK_DONE);
    const double pull = t->population.stated.pull.value;
    if (!SW_IS_ABSENT(in->off))
        prose_add(p, "The meat came off at {text}. What follows is what it would have done on the pit. ", track_moment(in, in->off, middle));
    if (t->is_done) {
        prose_add(p, "Done: the probe reads {temperature}, at which it is to come off.", pull);
        return;
    }
    if (isinf(c->done.middle)) {
        prose_add(p, "Not done in this pit: {chance} of the cooks like this one level off below {temperature}, or take more "
                     "than another day. A hotter pit, or a wrap, may help.", c->never, pull);
        return;
    }
    prose_add(p, "Done, {temperature} at the probe, at about {text}; four cooks in five like this one get there between {text} and {text}.", pull,
              track_moment(in, c->done.middle, middle), track_moment(in, c->done.low, low), track_moment(in, c->done.high, high));
    if (c->never > 0.005)
        prose_add(p, " {chance} of them level off below it, or take more than another day.", c->never);
    if (!SW_IS_ABSENT(c->odds))
        prose_add(p, " The odds that it is off the pit by {text}, in time to be served at {text}, are {chance}.",
                  track_moment(in, in->question.serve, low), track_moment(in, in->serving, high), c->odds);
}

static void say_stall(const track_input *in, const sw_track *t, track_sentences *s)
{
    char clock[QUANTITY_SIZE];
    prose *p = begin(s, TRACK_STALL);
    if (t->stalls < 0.1 || SW_IS_ABSENT(t->stall_end.middle)) {
        prose_add(p, "No stall is expected.");
        return;
    }
    if (t->stalls_now > 0.5) {
        prose_add(p, "It is in the stall ({chance} of the cooks say so), which began at about {text}", t->stalls_now,
                  track_moment(in, t->stall_start.middle, clock));
        prose_add(p, " and goes on for about {duration} more ({duration} to {duration}).", fmax(t->stall_end.middle - t->now, 0.0),
                  fmax(t->stall_end.low - t->now, 0.0), fmax(t->stall_end.high - t->now, 0.0));
    } else if (t->stall_end.middle <= t->now) {
        prose_add(p, "The stall is over; it ended at about {text}.", track_moment(in, t->stall_end.middle, clock));
    } else if (t->stall_start.middle > t->now) {
        prose_add(p, "The stall is still to come, at about {text}, and lasts some {duration}.", track_moment(in, t->stall_start.middle, clock),
                  t->stall_end.middle - t->stall_start.middle);
    } else {
        prose_add(p, "It is at the edge of the stall: {chance} of the cooks are in it now.", t->stalls_now);
    }
}

/* "03:40", as --wrapped takes it. */
static const char *show_clock_alone(double start_clock, double time, char *text)
{
    show_clock(start_clock, 60.0 * floor(time / 60.0), text);
    text[strcspn(text, " ")] = '\0';
    return text;
}

static void say_wrap(const track_input *in, const sw_track *t, track_sentences *s)
{
    char low[QUANTITY_SIZE], middle[QUANTITY_SIZE], high[QUANTITY_SIZE];
    const sw_wrap *w = &in->question.scenario.wrap;
    if (w->kind == SW_WRAP_NONE)
        return;
    if (!SW_IS_ABSENT(in->wrap_due)) {
        prose_add(begin(s, TRACK_DOUBT), "WARNING: the scenario plans the wrap ({text}) at {temperature}, which the probe has read since {text}; nothing "
                  "says that it went on. This assumes that the meat is open so far and is wrapped now. ", sw_wrap_name(w->kind), w->when.value,
                  track_moment(in, in->wrap_due, low));
        if (in->has_controls)
            prose_add(&s->list[s->count - 1], "If it is wrapped, say when, below \"Wrapped in\"; if it stays open, set no wrap.");
        else
            prose_add(&s->list[s->count - 1], "If it is wrapped, say when: --wrapped {text}={text}; if it stays open: --set wrap.kind=none.",
                      show_clock_alone(in->question.scenario.start_clock, in->wrap_due, middle), sw_wrap_name(w->kind));
        return;
    }
    if (w->when.kind == SW_ENDING_DURATION && w->when.value <= t->now)
        prose_add(begin(s, TRACK_WRAP), "Wrapped ({text}) since {text}.", sw_wrap_name(w->kind), track_moment(in, w->when.value, middle));
    else if (!SW_IS_ABSENT(t->wrap.middle))
        prose_add(begin(s, TRACK_WRAP), "Wrap ({text}) at about {text}, between {text} and {text}.", sw_wrap_name(w->kind),
                  track_moment(in, t->wrap.middle, middle), track_moment(in, t->wrap.low, low), track_moment(in, t->wrap.high, high));
}

/* "behaves like": what the readings say of the unknowns, if they say something. */
static void say_offset(double middle, double low, double high, const char *comma, prose *p)
{
    prose_add(p, "{text}the pit as the meat feels it is {difference} {text} what was stated ({difference} {text} to "
                 "{difference} {text})", comma, fabs(middle),
              middle < 0.0 ? "below" : "above", fabs(low), low < 0.0 ? "below" : "above", fabs(high), high < 0.0 ? "below" : "above");
}

static void say_found(const track_input *in, const sw_track *t, track_sentences *s)
{
    const double gauge = in->question.scenario.pit.steps[0].temperature;
    if (t->used == 0)
        return;
    prose *p = begin(s, TRACK_FOUND);
    prose_add(p, "What the readings say: ");
    for (size_t k = 0; k < t->population.count; k++) {
        const sw_population_input *x = &t->population.inputs[k];
        const sw_track_band *v = &t->values[k];
        const char *comma = k == 0 ? "" : "; ";
        if (strcmp(x->key->name, "meat.thickness") == 0)
            prose_add(p, "{text}the meat behaves like {length} over the probe ({length} to {length})", comma, v->middle, v->low, v->high);
        else if (strcmp(x->key->name, "pit.temperature") == 0)
            say_offset(v->middle - gauge, v->low - gauge, v->high - gauge, comma, p);
        else if (strcmp(x->key->name, "pit.convection") == 0)
            prose_add(p, "{text}heat passes from air to meat {number} times as well as assumed ({number} to "
                         "{number})", comma, v->middle / x->middle, v->low / x->middle,
                      v->high / x->middle);
        else if (strcmp(x->key->name, "pit.humidity_ratio") == 0)
            prose_add(p, "{text}its air carries {number} times the water vapour ({number} to {number})", comma, v->middle / x->middle, v->low / x->middle, v->high / x->middle);
    }
    prose_add(p, ". The probe lies {difference} {text} the curve of such a cook.", fabs(t->offset.middle), t->offset.middle < 0.0 ? "below" : "above");
    if (t->modes > 1)
        prose_add(p, " Two different cooks explain the readings; both are in the band.");
}

/* A logged pit so far below its plan that a fire may be out; a choice [K]. */
static const double pit_fell = 20.0;

static void say_doubts(const track_input *in, const sw_track *t, track_sentences *s)
{
    static const char *const words[SW_TRACK_DOUBT_COUNT] = {
        [SW_TRACK_PIT_COLDER] = "WARNING: the meat warms as if the pit were far colder than stated. Check the fire.",
        [SW_TRACK_PROBE_OFF] = ("WARNING: the readings do not fit this cook. The probe may be in fat, at a bone or near an edge; try another "
                                "place, and check what the scenario says of the meat."),
        [SW_TRACK_STUCK] = "WARNING: the probe has read the same to the last digit for hours, longer than a stall does. Check it.",
        [SW_TRACK_FALLING] = "WARNING: the meat cools. Check the fire, and keep hot food hot."};
    if (in->pit_read < in->pit_planned - pit_fell)
        prose_add(begin(s, TRACK_DOUBT), "WARNING: the pit reads {temperature}, {difference} below what was planned. Check "
                                         "the fire. The rest assumes that it stays "
                                         "so.", in->pit_read, in->pit_planned - in->pit_read);
    for (int i = 0; i < SW_TRACK_DOUBT_COUNT; i++)
        if (t->is_doubted[i])
            prose_add(begin(s, TRACK_DOUBT), "{text}", words[i]);
    if (t->effective < 0.15 * (double)t->draw_count)
        prose_add(begin(s, TRACK_DOUBT), "WARNING: few of the cooks that were tried agree with the readings; the band is rough.");
}

/* On the measured curve itself. */
static void say_safety(const track_input *in, const sw_track *t, track_sentences *s)
{
    sw_track_safety v;
    const sw_safety_band band = sw_safety_rule_band(SW_SAFETY_come_up);
    char up[QUANTITY_SIZE], limit[QUANTITY_SIZE];
    if (in->reading_count == 0)
        return;
    track_judge(in, t, &v);
    if (!SW_IS_ABSENT(v.come_up_time)) {
        show_duration_rounded_up(v.come_up_time, up);
        show_duration_rounded_down(sw_come_up_limit(), limit);
        prose_add(begin(s, TRACK_SAFETY), "{text}The middle, as measured, {text} {text} from {temperature} to {temperature}; {text} are allowed ({text}).",
                  v.come_up == SW_VERDICT_NOT_MET ? "WARNING: " : "",
                  v.is_through && v.come_up == SW_VERDICT_NOT_MET && v.come_up_least <= sw_come_up_limit() ? "may have taken up to, its readings being far apart,"
                  : v.is_through ? "took at most" : v.come_up == SW_VERDICT_NOT_MET ? "has already taken" : "is under way for", up, band.low, band.high, limit,
                  sw_safety_rule_source(SW_SAFETY_come_up));
    }
    if (v.fall_back == SW_VERDICT_NOT_MET)
        prose_add(begin(s, TRACK_SAFETY), "WARNING: the middle, as measured, was at {temperature} and fell to {temperature} again. Hot food is kept at or "
                  "above that ({text}).", sw_hot_holding_limit(), v.lowest_after, sw_safety_rule_source(SW_SAFETY_fall_back));
}

void track_say(const track_input *in, const sw_track *t, track_sentences *s)
{
    s->count = 0;
    say_doubts(in, t, s);
    say_now(in, t, s);
    say_done(in, t, s);
    if (!t->is_done) {
        say_stall(in, t, s);
        say_wrap(in, t, s);
    }
    say_found(in, t, s);
    say_safety(in, t, s);
}
