/* SPDX-License-Identifier: BSD-3-Clause */
/* What a page may call besides <stallwright/handles.h>: what the program tells of a cook, as JSON. A text holds until the next call;
 * NULL where a call failed, its sentence in the context. */
#include "band_parts.h"
#include "json_output.h"
#include "web_files.h"
#include "web_json.h"
#include "web_plan.h"
#include "web_track.h"

#include <stdlib.h>
#include <string.h>

#define WEB_EXPORT(name) __attribute__((export_name(#name)))

static char *answer;

/* Told how far a cook has come: the page's function. */
__attribute__((import_module("page"), import_name("progress"))) void page_progress(double time, double probe);

static int observe(double time, double probe, void *data)
{
    (void)data;
    page_progress(time, probe);
    return 0;
}

/* Told how many cooks of how many are done: the page's function. */
__attribute__((import_module("page"), import_name("count"))) void page_count(double done, double total);

static const sw_watch watch = {.observe = observe};

/* For sw_setup_cook, which takes a function of the module. */
WEB_EXPORT(web_observer) sw_cook_observer web_observer(void)
{
    return observe;
}

WEB_EXPORT(web_allocate) void *web_allocate(size_t size)
{
    return malloc(size);
}

WEB_EXPORT(web_release) void web_release(void *memory)
{
    free(memory);
}

static const char *no_memory(sw_context *context)
{
    sw_fail(context, SW_ERR_MEMORY, "%s", sw_status_text(SW_ERR_MEMORY));
    return NULL;
}

/* Takes the document over. */
static const char *tell(sw_context *context, json_t *document)
{
    free(answer);
    answer = json_dumps(document, JSON_COMPACT | JSON_REAL_PRECISION(17));
    json_decref(document);
    return answer ? answer : no_memory(context);
}

WEB_EXPORT(web_tables) const char *web_tables(sw_context *context)
{
    return tell(context, web_tables_json());
}

/* 1 if the cause was changed, 0 if the cook is like that already, -1 without memory. */
WEB_EXPORT(web_change_cause) int web_change_cause(sw_setup *setup, int cause)
{
    sw_scenario *modelled = malloc(sizeof *modelled);
    if (!modelled)
        return -1;
    *modelled = *sw_setup_scenario(setup);
    sw_scenario_settle(modelled);
    const bool changed = sw_cause_change((sw_cause)cause, modelled, sw_setup_scenario(setup));
    free(modelled);
    return changed;
}

/* The cook that was run last, so that what is asked of it next need not run it again. */
static struct {
    sw_run *run;
    sw_scenario stated; /* of run, as it was set */
    bool never_ends;
    char reason[SW_RUN_FAILURE_SIZE];
} last;

static void forget_last(void)
{
    if (last.run)
        sw_run_free(last.run);
    free(last.run);
    last.run = NULL;
}

/* NULL without memory. */
static const sw_run *run_of(sw_context *context, sw_setup *setup)
{
    const sw_scenario *stated = sw_setup_scenario(setup);
    if (last.run && memcmp(&last.stated, stated, sizeof *stated) == 0)
        return last.run;
    forget_last();
    last.run = calloc(1, sizeof *last.run);
    if (!last.run)
        return NULL;
    last.run->scenario = *stated;
    memcpy(&last.stated, stated, sizeof *stated);
    strcpy(last.run->label, "cook");
    last.never_ends = false;
    sw_run_or_follow(context, last.run, &watch, &last.never_ends, last.reason);
    return last.run;
}

WEB_EXPORT(web_cook) const char *web_cook(sw_context *context, sw_setup *setup, int moments, int layers)
{
    const sw_run *run = run_of(context, setup);
    return run ? tell(context, web_cook_json(run, last.never_ends, last.reason, (size_t)moments, (size_t)layers)) : no_memory(context);
}

static band_part part;

/* Draws of the band as numbers (band_parts.h), of which the answer is how many; NULL in the out-parameter where it failed. */
WEB_EXPORT(web_band_part) int web_band_part(sw_context *context, sw_setup *setup, int draws, int first, int count, const double **numbers)
{
    free(part.numbers);
    const sw_status status = band_part_make(context, sw_setup_scenario(setup), (size_t)draws, (size_t)first, (size_t)count, &part);
    *numbers = status == SW_OK ? part.numbers : NULL;
    return (int)part.count;
}

/* The bands of the figures as the program has them with as many draws, and that of the curve. */
WEB_EXPORT(web_band) const char *web_band(sw_context *context, sw_setup *setup, double *numbers, int count, int draws, int all_draws)
{
    const band_part parts = {numbers, (size_t)count};
    const sw_run *run = run_of(context, setup);
    json_t *told;
    if (!run)
        return no_memory(context);
    return band_parts_gather(context, run, &parts, (size_t)draws, (size_t)all_draws, &told) == SW_OK ? tell(context, told) : NULL;
}

WEB_EXPORT(web_explain) const char *web_explain(sw_context *context, sw_setup *setup)
{
    sw_explanation *explanation;
    if (sw_explain(context, sw_setup_scenario(setup), &watch, &explanation) != SW_OK)
        return NULL;
    const char *told = tell(context, web_explanation_json(explanation));
    sw_explanation_destroy(explanation);
    return told;
}

static void count(size_t done, size_t total, void *data)
{
    (void)data;
    page_count((double)done, (double)total);
}

/* When the meat goes on. date: "2026-11-28" or NULL; left: how long there is from lighting the fire until it is served [s], 0 without a
 * date. The time of day is serving.time. */
WEB_EXPORT(web_plan) const char *web_plan(sw_context *context, sw_setup *setup, const char *date, double now, double odds, int draws, int compared)
{
    const sw_scenario *stated = sw_setup_scenario(setup);
    char why[CLOCK_WHY_SIZE];
    plan_clock clock;
    sw_plan *plan = NULL;
    if (!plan_clock_set(&clock, date, stated->serving.time, why)) {
        sw_fail(context, SW_ERR_ARGUMENT, "%s", why);
        return NULL;
    }
    const double left = date ? (double)clock.serving - now : 0.0;
    const sw_plan_question question = {.stated = stated, .odds = odds, .seed = 1, .draws = (size_t)draws, .compared_draws = (size_t)compared,
                                       .longest_lead = date ? left > 1.0 ? left : 1.0 : 0.0, .threads = 1, .count = count};
    if (sw_plan_make(context, &question, &plan) != SW_OK)
        return NULL;
    const plan_view view = {plan, stated, NULL, odds, clock};
    const char *told = tell(context, web_plan_json(&view));
    sw_plan_destroy(plan);
    return told;
}

/* A cook under way, as the page keeps it (web_under_way.h). serving [s after the meat went on]: NaN if it is not told. */
WEB_EXPORT(web_track) const char *web_track(sw_context *context, sw_setup *setup, const char *under_way, double now, double serving, int draws,
                                            int choice_draws)
{
    const web_track_asked asked = {under_way, now, serving, (size_t)draws, (size_t)choice_draws};
    json_t *told;
    return web_track_find(context, sw_setup_scenario(setup), &asked, &told) == SW_OK ? tell(context, told) : NULL;
}

/* What that cook told of its pit, added to what its setup has learned of it: a file as the program writes it. */
WEB_EXPORT(web_learn) const char *web_learn(sw_context *context, sw_setup *setup, const char *under_way, double now, int draws)
{
    const web_track_asked asked = {under_way, now, SW_ABSENT, (size_t)draws, 0};
    sw_pit_learned learned;
    if (web_track_learn(context, sw_setup_scenario(setup), &asked, &learned) != SW_OK)
        return NULL;
    free(answer);
    answer = web_learned_write(context, &learned);
    return answer;
}

/* ---- files ---- */

/* Reads a scenario file into a setup: the status; name is what sentences call it. */
WEB_EXPORT(web_setup_read) int web_setup_read(sw_context *context, sw_setup *setup, const char *name, const char *text)
{
    return web_scenario_read(context, setup, name, text);
}

/* What a setup says, as settings. */
WEB_EXPORT(web_scenario) const char *web_scenario(sw_context *context, sw_setup *setup)
{
    return tell(context, web_scenario_json(context, setup));
}

/* A setup as a scenario file. */
WEB_EXPORT(web_scenario_file) const char *web_scenario_file(sw_context *context, sw_setup *setup, int us)
{
    free(answer);
    answer = web_scenario_write(context, setup, us ? SW_UNITS_US : SW_UNITS_SI);
    return answer;
}

/* A log; the setup has the wrap that is planned. */
WEB_EXPORT(web_log) const char *web_log(sw_context *context, sw_setup *setup, const char *name, const char *text, int us)
{
    const sw_unit_system units = us ? SW_UNITS_US : SW_UNITS_SI;
    json_t *told;
    return web_log_read(context, name, text, units, sw_setup_scenario(setup)->wrap.kind, &told) == SW_OK ? tell(context, told) : NULL;
}
