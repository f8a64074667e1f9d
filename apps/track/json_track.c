/* SPDX-License-Identifier: BSD-3-Clause */
#include "json_track.h"

#include "figures.h"
#include "json_output.h"

#include <math.h>

static json_t *json_track_band(const sw_track_band *b)
{
    json_t *o = json_object();
    json_put_number(o, "low", b->low);
    json_put_number(o, "middle", b->middle);
    json_put_number(o, "high", b->high);
    return o;
}

static void put_band(json_t *o, const char *name, const char *unit, const sw_track_band *b)
{
    char key[FIGURE_KEY_SIZE];
    json_object_set_new(o, figure_key(name, unit, key), json_track_band(b));
}

static json_t *json_choices(const sw_track *t)
{
    json_t *list = json_array();
    for (size_t i = 0; i < t->choice_count; i++) {
        const sw_track_choice *c = &t->choices[i];
        json_t *o = json_object();
        json_put_text(o, "choice", sw_track_choice_name(c->kind));
        json_object_set_new(o, "draws", json_integer((json_int_t)c->draws));
        put_band(o, "done", "s", &c->done);
        put_band(o, "yield_at_pull", "1", &c->yield);
        put_band(o, "bark", "1", &c->bark);
        json_put_number(o, "in_time_share", c->odds);
        json_put_number(o, "in_time_error", c->odds_error);
        json_put_number(o, "never_share", c->never);
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *json_inputs(const sw_track *t)
{
    json_t *list = json_array();
    for (size_t k = 0; k < t->population.count; k++) {
        const sw_population_input *x = &t->population.inputs[k];
        json_t *o = json_object();
        json_put_text(o, "input", x->key->name);
        json_put_text(o, "unit", x->key->si_unit);
        json_put_number(o, "usual", x->middle);
        json_object_set_new(o, "found", json_track_band(&t->values[k]));
        json_array_append_new(list, o);
    }
    return list;
}

json_t *json_track_fitted(const sw_track *t)
{
    json_t *list = json_array();
    for (size_t i = 0; i < t->curve_count; i++)
        json_array_append_new(list, json_pack("{s:f,s:f}", "time_s", t->curve_time[i], "probe_k", t->curve[i]));
    return list;
}

json_t *json_track_fan(const sw_track *t)
{
    json_t *list = json_array();
    for (size_t i = 0; i < SW_TRACK_MOMENTS; i++) {
        json_t *o = json_object();
        json_put_number(o, "time_s", t->moments[i]);
        put_band(o, "probe", "K", &t->fan[i]);
        json_array_append_new(list, o);
    }
    return list;
}

json_t *json_track_readings(const sw_readings *r, size_t step)
{
    json_t *list = json_array();
    for (size_t i = 0; i < r->count; i += step)
        json_array_append_new(list, json_pack("{s:i,s:f,s:f}", "probe", (int)r->list[i].probe + 1, "time_s", r->list[i].time, "probe_k",
                                              r->list[i].temperature));
    return list;
}

/* A sentence in SI units. */
static json_t *json_prose(const prose *p)
{
    static char text[PROSE_TEXT_SIZE];
    return json_text(prose_plain(p, SW_UNITS_SI, text, sizeof text));
}

static json_t *json_doubts(const track_input *in, const sw_track *t)
{
    static const char *const names[SW_TRACK_DOUBT_COUNT] = {"pit colder", "probe off", "stuck", "falling"};
    json_t *o = json_object(), *lines = json_array(), *assumed = json_array();
    for (int i = 0; i < SW_TRACK_DOUBT_COUNT; i++)
        json_object_set_new(o, names[i], json_boolean(t->is_doubted[i]));
    for (size_t i = 0; i < in->log.doubt_count && i < SW_LOG_DOUBTS_MAX; i++) {
        json_t *line = json_object();
        json_object_set_new(line, "line", json_integer(in->log.doubts[i].line));
        json_put_text(line, "sentence", in->log.doubts[i].sentence);
        json_array_append_new(lines, line);
    }
    for (size_t i = 0; i < in->note_count; i++)
        json_array_append_new(assumed, json_prose(&in->notes[i]));
    json_object_set_new(o, "log", lines);
    json_object_set_new(o, "assumed", assumed);
    return o;
}

static json_t *json_safety(const track_input *in, const sw_track *t)
{
    sw_track_safety v;
    json_t *o = json_object();
    track_judge(in, t, &v);
    json_put_text(o, "come_up", sw_verdict_name(v.come_up));
    json_put_number(o, "come_up_s", v.come_up_time);
    json_put_number(o, "come_up_least_s", SW_IS_ABSENT(v.come_up_time) ? SW_ABSENT : v.come_up_least);
    json_put_number(o, "come_up_limit_s", sw_come_up_limit());
    json_put_text(o, "fall_back", sw_verdict_name(v.fall_back));
    json_put_number(o, "lowest_since_hot_k", v.lowest_after);
    return o;
}

static json_t *json_sentences(const track_input *in, const sw_track *t)
{
    static track_sentences s;
    json_t *list = json_array();
    track_say(in, t, &s);
    for (size_t i = 0; i < s.count; i++) {
        json_t *o = json_object();
        json_put_text(o, "about", track_topic_name(s.topics[i]));
        json_object_set_new(o, "sentence", json_prose(&s.list[i]));
        json_array_append_new(list, o);
    }
    return list;
}

json_t *json_track(const track_input *in, const sw_track *t)
{
    json_t *d = json_heading(&t->population.stated), *stall = json_object();
    json_put_number(d, "start_clock_s", in->question.scenario.start_clock);
    json_put_number(d, "now_s", t->now);
    json_put_number(d, "probe_now_k", in->question.readings.count > 0 ? t->reading : SW_ABSENT);
    json_object_set_new(d, "is_done", json_boolean(t->is_done));
    json_put_number(d, "pull_k", t->population.stated.pull.value);
    json_put_number(d, "off_by_s", in->question.serve);
    json_object_set_new(d, "choices", json_choices(t));
    put_band(stall, "start", "s", &t->stall_start);
    put_band(stall, "end", "s", &t->stall_end);
    json_put_number(stall, "now_share", t->stalls_now);
    json_put_number(stall, "ever_share", t->stalls);
    json_object_set_new(d, "stall", stall);
    put_band(d, "wrap", "s", &t->wrap);
    json_put_number(d, "wrap_due_since_s", in->wrap_due);
    json_object_set_new(d, "inputs", json_inputs(t));
    put_band(d, "offset", "K", &t->offset);
    json_object_set_new(d, "readings_used", json_integer((json_int_t)t->used));
    json_put_number(d, "effective_draws", t->effective);
    json_object_set_new(d, "failed_draws", json_integer((json_int_t)t->failed));
    json_object_set_new(d, "doubts", json_doubts(in, t));
    json_object_set_new(d, "measured_safety", json_safety(in, t));
    json_object_set_new(d, "readings", json_track_readings(&in->question.readings, 1));
    json_object_set_new(d, "fitted", json_track_fitted(t));
    json_object_set_new(d, "fan", json_track_fan(t));
    json_object_set_new(d, "sentences", json_sentences(in, t));
    return d;
}

int json_track_print(const track_input *in, const sw_track *t)
{
    return json_print(json_track(in, t));
}
