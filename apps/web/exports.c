/* What a page may call: a scenario is created, set by key, cooked, and answers in JSON. Numbers are SI. A function returns a
 * status, or a text that holds until the next call, NULL where it failed; web_message then has the sentence. */
#include "curve_band.h"
#include "web_json.h"

#include <stdlib.h>
#include <string.h>

#define WEB_EXPORT(name) __attribute__((export_name(#name)))

static sw_context *context;
static char *answer;

/* Told how far a cook has come: the page's function. */
__attribute__((import_module("page"), import_name("progress"))) void page_progress(double time, double probe);

static int observe(double time, double probe, void *data)
{
    (void)data;
    page_progress(time, probe);
    return 0;
}

static const sw_watch watch = {.observe = observe};

WEB_EXPORT(web_begin) int web_begin(void)
{
    return sw_context_create(&context);
}

WEB_EXPORT(web_message) const char *web_message(void)
{
    return sw_context_message(context);
}

WEB_EXPORT(web_set_units) void web_set_units(int us)
{
    sw_context_set_units(context, us ? SW_UNITS_US : SW_UNITS_SI);
}

WEB_EXPORT(web_allocate) void *web_allocate(size_t size)
{
    return malloc(size);
}

WEB_EXPORT(web_release) void web_release(void *memory)
{
    free(memory);
}

/* Takes the document over. */
static const char *tell(json_t *document)
{
    free(answer);
    answer = json_dumps(document, JSON_COMPACT | JSON_REAL_PRECISION(17));
    json_decref(document);
    if (!answer)
        sw_fail(context, SW_ERR_MEMORY, "%s", sw_status_text(SW_ERR_MEMORY));
    return answer;
}

WEB_EXPORT(web_tables) const char *web_tables(void)
{
    return tell(web_tables_json());
}

/* ---- a scenario ---- */

WEB_EXPORT(web_scenario_create) sw_scenario *web_scenario_create(void)
{
    sw_scenario *scenario = malloc(sizeof *scenario);
    if (scenario)
        sw_scenario_init(scenario);
    return scenario;
}

WEB_EXPORT(web_set_number) int web_set_number(sw_scenario *scenario, const char *name, double number)
{
    return sw_scenario_set_number(context, scenario, name, number);
}

WEB_EXPORT(web_set_word) int web_set_word(sw_scenario *scenario, const char *name, const char *word)
{
    return sw_scenario_set_word(context, scenario, name, word);
}

WEB_EXPORT(web_set_ending) int web_set_ending(sw_scenario *scenario, const char *name, const char *kind, double value)
{
    static const char *const names[] = {[SW_ENDING_NONE] = "none", [SW_ENDING_PROBE_TEMPERATURE] = "temperature",
                                        [SW_ENDING_DURATION] = "duration", [SW_ENDING_BARK] = "bark", [SW_ENDING_CLOCK] = "clock",
                                        [SW_ENDING_USUAL] = "usual"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (names[i] && strcmp(names[i], kind) == 0)
            return sw_scenario_set_ending(context, scenario, name, (sw_ending){(sw_ending_kind)i, value});
    return sw_fail(context, SW_ERR_ARGUMENT, "%s: \"%s\" is no way to end a phase", name, kind);
}

WEB_EXPORT(web_check) int web_check(const sw_scenario *scenario)
{
    return sw_scenario_check(context, scenario);
}

/* 1 if the cause was changed, 0 if the cook is like that already. */
WEB_EXPORT(web_change_cause) int web_change_cause(sw_scenario *scenario, int cause)
{
    sw_scenario *modelled = malloc(sizeof *modelled);
    if (!modelled)
        return 0;
    *modelled = *scenario;
    sw_scenario_settle(modelled);
    const bool changed = sw_cause_change((sw_cause)cause, modelled, scenario);
    free(modelled);
    return changed;
}

/* ---- what is computed ---- */

WEB_EXPORT(web_cook) const char *web_cook(const sw_scenario *scenario, int moments, int layers)
{
    sw_run *run = calloc(1, sizeof *run);
    char *reason = calloc(1, SW_RUN_FAILURE_SIZE);
    bool never_ends = false;
    const char *told = NULL;
    if (run && reason) {
        run->scenario = *scenario;
        strcpy(run->label, "cook");
        sw_run_or_follow(context, run, &watch, &never_ends, reason);
        told = tell(web_cook_json(run, never_ends, reason, (size_t)moments, (size_t)layers));
        sw_run_free(run);
    } else {
        sw_fail(context, SW_ERR_MEMORY, "%s", sw_status_text(SW_ERR_MEMORY));
    }
    free(run);
    free(reason);
    return told;
}

/* The bands of the figures as sw_band_find has them, digit by digit those of the program, and of the curve. */
WEB_EXPORT(web_band) const char *web_band(const sw_scenario *scenario, int draws, int curves)
{
    sw_run *run = calloc(1, sizeof *run);
    json_t *curve = NULL;
    sw_band band;
    sw_status status = run ? SW_OK : sw_fail(context, SW_ERR_MEMORY, "%s", sw_status_text(SW_ERR_MEMORY));
    if (run) {
        run->scenario = *scenario;
        strcpy(run->label, "cook");
        status = sw_run_cook(context, run, NULL);
    }
    if (status == SW_OK)
        status = sw_band_find(context, scenario, run, (size_t)draws, 1, 1, NULL, &band);
    if (status == SW_OK)
        status = curve_band_find(context, scenario, (size_t)curves, &curve);
    if (run)
        sw_run_free(run);
    free(run);
    return status == SW_OK ? tell(web_band_json(&band, curve)) : NULL;
}

WEB_EXPORT(web_explain) const char *web_explain(const sw_scenario *scenario)
{
    sw_explanation *explanation;
    if (sw_explain(context, scenario, &watch, &explanation) != SW_OK)
        return NULL;
    const char *told = tell(web_explanation_json(explanation));
    sw_explanation_destroy(explanation);
    return told;
}
