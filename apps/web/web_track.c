/* SPDX-License-Identifier: BSD-3-Clause */
#include "web_track.h"

#include "happened.h"
#include "json_output.h"
#include "json_track.h"
#include "web_json.h"
#include "web_under_way.h"

#include <math.h>
#include <stdlib.h>

/* As the program has it, so that the numbers are the same. */
enum { SEED = 1 };

/* Moments of the curve of rest and hold. */
enum { MOMENTS = 240 };

/* All of a question and its answer; to be ended, also on error. */
typedef struct found {
    track_input in;
    sw_scenario scenario; /* with what happened put into it */
    sw_track *track;
    double held, sliced; /* after the meat came off [s]; SW_ABSENT: not yet */
} found;

static void end(found *f)
{
    if (f) {
        sw_track_destroy(f->track);
        track_input_free(&f->in);
    }
    free(f);
}

/* When it was done after the meat came off. */
static double after_off(const track_input *in, track_event_kind kind)
{
    const size_t off = track_off_event(in);
    for (size_t i = off; i < in->event_count; i++)
        if (in->events[i].kind == kind)
            return in->events[i].time - in->events[off].time;
    return SW_ABSENT;
}

static sw_status ask(sw_context *context, const web_track_asked *asked, found *f)
{
    sw_status status = web_under_way_read(context, asked->under_way, &f->in);
    if (status != SW_OK)
        return status;
    f->in.question.draws = asked->draws;
    f->in.question.choice_draws = asked->choice_draws;
    f->in.question.threads = 1;
    f->in.question.seed = SEED;
    f->in.question.now = fmax(f->in.question.now, asked->now);
    f->held = after_off(&f->in, TRACK_HELD);
    f->sliced = after_off(&f->in, TRACK_SLICED);
    status = track_put_happened(context, &f->scenario, &f->in);
    if (status != SW_OK)
        return status;
    track_set_serving(&f->scenario, asked->serving, &f->in);
    return track_set_question(context, &f->scenario, &f->in);
}

/* NULL in the out-parameter without memory. */
static sw_status find(sw_context *context, const sw_scenario *scenario, const web_track_asked *asked, found **made)
{
    found *f = calloc(1, sizeof *f);
    *made = f;
    if (!f)
        return sw_fail(context, SW_ERR_MEMORY, "%s", sw_status_text(SW_ERR_MEMORY));
    f->scenario = *scenario;
    const sw_status status = ask(context, asked, f);
    return status == SW_OK ? sw_track_find(context, &f->in.question, &f->track) : status;
}

static json_t *says_json(const track_input *in, const sw_track *track)
{
    static track_sentences said;
    json_t *list = json_array();
    track_say(in, track, &said);
    for (size_t i = 0; i < said.count; i++) {
        json_t *pair = json_array();
        json_array_append_new(pair, json_string(track_topic_name(said.topics[i])));
        json_array_append_new(pair, web_prose_json(&said.list[i]));
        json_array_append_new(list, pair);
    }
    return list;
}

static json_t *notes_json(const track_input *in)
{
    json_t *list = json_array();
    for (size_t i = 0; i < in->note_count; i++)
        json_array_append_new(list, web_prose_json(&in->notes[i]));
    return list;
}

/* A phase that lasted so long, or none. */
static sw_ending lasted(double time)
{
    const double shortest = sw_scenario_key_find("rest.until")->ending.duration.minimum;
    return time >= shortest ? (sw_ending){SW_ENDING_DURATION, time} : (sw_ending){SW_ENDING_NONE, 0.0};
}

/* The likeliest cook, off when it came off, rested and held as it was. */
static json_t *after_json(sw_context *context, const found *f)
{
    sw_run *run = calloc(1, sizeof *run);
    bool never_ends = false;
    char reason[SW_RUN_FAILURE_SIZE] = "";
    if (!run)
        return json_null();
    sw_population_scenario(&f->track->population, f->track->best, &run->scenario);
    run->scenario.pull = (sw_ending){SW_ENDING_DURATION, f->in.off};
    const bool is_held = !SW_IS_ABSENT(f->held), is_sliced = !SW_IS_ABSENT(f->sliced);
    if (is_held || is_sliced)
        run->scenario.rest.until = lasted(is_held ? f->held : f->sliced);
    if (is_sliced)
        run->scenario.hold.until = is_held ? lasted(f->sliced - f->held) : (sw_ending){SW_ENDING_NONE, 0.0};
    snprintf(run->label, sizeof run->label, "cook");
    sw_run_or_follow(context, run, NULL, &never_ends, reason);
    json_t *told = web_cook_json(run, never_ends, reason, MOMENTS, 0);
    sw_run_free(run);
    free(run);
    return told;
}

sw_status web_track_find(sw_context *context, const sw_scenario *scenario, const web_track_asked *asked, json_t **told)
{
    found *f;
    const sw_status status = find(context, scenario, asked, &f);
    if (status == SW_OK) {
        *told = json_object();
        json_object_set_new(*told, "track", json_track(&f->in, f->track));
        json_object_set_new(*told, "says", says_json(&f->in, f->track));
        json_object_set_new(*told, "notes", notes_json(&f->in));
        json_object_set_new(*told, "after", SW_IS_ABSENT(f->in.off) ? json_null() : after_json(context, f));
    }
    end(f);
    return status;
}

sw_status web_track_learn(sw_context *context, const sw_scenario *scenario, const web_track_asked *asked, sw_pit_learned *learned)
{
    found *f;
    sw_pit_learned known = scenario->pit.learned;
    sw_status status = find(context, scenario, asked, &f);
    if (status == SW_OK)
        status = sw_track_learn(context, &f->in.question, f->track, &known);
    if (status == SW_OK)
        *learned = known;
    end(f);
    return status;
}
