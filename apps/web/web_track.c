/* SPDX-License-Identifier: BSD-3-Clause */
#include "web_track.h"

#include "json_output.h"
#include "json_track.h"
#include "web_json.h"

#include <math.h>
#include <stdlib.h>

/* As the program has it, so that the numbers are the same. */
enum { SEED = 1 };

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

/* As apps/track/track_input.c makes it from what was typed. */
static void fill(const sw_scenario *scenario, const web_track_asked *asked, track_input *in)
{
    const double rest = scenario->rest.until.kind == SW_ENDING_DURATION ? scenario->rest.until.value : 0.0;
    for (size_t i = 0; i < asked->count; i++)
        in->list[i] = (sw_reading){.time = asked->pairs[2 * i], .temperature = asked->pairs[2 * i + 1]};
    in->serving = asked->serving;
    in->question = (sw_track_question){.scenario = *scenario, .readings = {.count = asked->count, .list = in->list}, .now = asked->now,
                                       .serve = SW_IS_ABSENT(asked->serving) ? SW_ABSENT : asked->serving - rest, .draws = asked->draws,
                                       .choice_draws = asked->choice_draws, .threads = 1, .seed = SEED};
    in->wrap_due = sw_track_wrap_due(&in->question.readings, asked->now, scenario);
    in->pit_read = in->pit_planned = SW_ABSENT;
}

static void end(track_input *in, sw_track *track)
{
    sw_track_destroy(track);
    if (in)
        free(in->list);
    free(in);
}

/* Both out-parameters are to be given to end, also on error. */
static sw_status find(sw_context *context, const sw_scenario *scenario, const web_track_asked *asked, track_input **input, sw_track **track)
{
    track_input *in = calloc(1, sizeof *in);
    *input = in;
    *track = NULL;
    if (in)
        in->list = calloc(asked->count + 1, sizeof *in->list);
    if (!in || !in->list)
        return sw_fail(context, SW_ERR_MEMORY, "%s", sw_status_text(SW_ERR_MEMORY));
    fill(scenario, asked, in);
    const sw_status status = sw_scenario_check(context, &in->question.scenario);
    return status == SW_OK ? sw_track_find(context, &in->question, track) : status;
}

sw_status web_track_find(sw_context *context, const sw_scenario *scenario, const web_track_asked *asked, json_t **told)
{
    track_input *in;
    sw_track *track;
    const sw_status status = find(context, scenario, asked, &in, &track);
    if (status == SW_OK) {
        *told = json_object();
        json_object_set_new(*told, "track", json_track(in, track));
        json_object_set_new(*told, "says", says_json(in, track));
    }
    end(in, track);
    return status;
}

sw_status web_track_learn(sw_context *context, const sw_scenario *scenario, const web_track_asked *asked, sw_pit_learned *learned)
{
    track_input *in;
    sw_track *track;
    sw_pit_learned known = scenario->pit.learned;
    sw_status status = find(context, scenario, asked, &in, &track);
    if (status == SW_OK)
        status = sw_track_learn(context, &in->question, track, &known);
    if (status == SW_OK)
        *learned = known;
    end(in, track);
    return status;
}
