/* SPDX-License-Identifier: BSD-3-Clause */
#include "json_output.h"

#include "figures.h"
#include "messages.h"
#include "missing.h"
#include "output_file.h"
#include "probe_table.h"

#include <math.h>
#include <string.h>

/* A number, or null if the figure does not exist. */
static void put_number(json_t *object, const char *key, double value)
{
    json_object_set_new(object, key, isfinite(value) ? json_real(value) : json_null());
}

json_t *json_text(const char *text)
{
    json_t *value = text ? json_string(text) : json_null();
    if (!value) {
        char plain[SW_RUN_FAILURE_SIZE];
        snprintf(plain, sizeof plain, "%s", text);
        for (char *at = plain; *at; at++)
            *at = (unsigned char)*at < 128 ? *at : '?';
        value = json_string(plain);
    }
    return value;
}

void json_put_number(json_t *object, const char *key, double value)
{
    put_number(object, key, value);
}

void json_put_text(json_t *object, const char *key, const char *text)
{
    json_object_set_new(object, key, json_text(text));
}

json_t *json_budget(const sw_budget *budget)
{
    json_t *object = json_object();
    char key[FIGURE_KEY_SIZE];
#define PUT(name, unit, long_name) put_number(object, figure_key(#name, unit, key), budget->name);
    SW_BUDGET_LIST(PUT)
#undef PUT
    return object;
}

json_t *json_milestones(const sw_milestone *milestones, size_t count)
{
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++) {
        json_t *milestone = json_object();
        put_number(milestone, "probe_k", milestones[i].probe_temperature);
        put_number(milestone, "time_s", milestones[i].time);
        json_array_append_new(list, milestone);
    }
    return list;
}

/* Verdicts, in the order of a cook. */
static json_t *json_safety(const sw_safety *safety)
{
    json_t *list = json_array();
    for (int i = 0; i < SW_SAFETY_RULE_COUNT; i++) {
        const sw_safety_finding *f = &safety->findings[i];
        const sw_safety_rule rule = (sw_safety_rule)i;
        const sw_safety_band band = sw_safety_rule_band(rule);
        json_t *finding = json_object();
        json_put_text(finding, "rule", sw_safety_rule_name(rule));
        json_put_text(finding, "source", sw_safety_rule_source(rule));
        json_put_text(finding, "verdict", sw_verdict_name(f->verdict));
        json_put_text(finding, "reason", f->reason);
        json_put_text(finding, "unit", sw_safety_rule_unit(rule));
        put_number(finding, "figure", f->figure);
        put_number(finding, "limit", f->limit);
        put_number(finding, "margin", f->margin);
        put_number(finding, "dwell_k", f->temperature);
        put_number(finding, "band_low_k", band.low);
        put_number(finding, "band_high_k", band.high);
        put_number(finding, "below_s", f->below);
        json_object_set_new(finding, "beyond_fit", json_boolean(f->beyond_fit));
        json_array_append_new(list, finding);
    }
    return list;
}

json_t *json_missing(const sw_history *h)
{
    json_t *list = json_array();
    char key[FIGURE_KEY_SIZE], text[PROSE_TEXT_SIZE];
    prose p;
    for (size_t i = 0; i < h->missing_count; i++) {
        const sw_missing *m = &h->missing[i];
        json_t *object = json_object();
        json_put_text(object, "ending", sw_planned_end_key(m->end));
        json_put_text(object, "reason", sw_missing_reason_name(m->reason));
#define PUT(name, unit, long_name) put_number(object, figure_key(#name, unit, key), m->name);
        SW_MISSING_LIST(PUT)
#undef PUT
        say_missing(&h->scenario, m, &p);
        json_put_text(object, "sentence", prose_plain(&p, SW_UNITS_SI, text, sizeof text));
        json_array_append_new(list, object);
    }
    return list;
}

static json_t *json_reactions(const sw_outcome *outcome)
{
    json_t *object = json_object();
    char key[FIGURE_KEY_SIZE];
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++) {
        const sw_reaction_outcome *o = &outcome->reactions[r];
        json_t *reaction = json_object();
#define PUT(name, unit, long_name) put_number(reaction, figure_key(#name, unit, key), o->name);
        SW_REACTION_FIGURE_LIST(PUT)
#undef PUT
        json_object_set_new(object, sw_reaction_law_of((sw_reaction)r)->name, reaction);
    }
    return object;
}

static json_t *json_sides(const sw_outcome *outcome)
{
    json_t *object = json_object();
    char key[FIGURE_KEY_SIZE];
    for (int i = 0; i < SW_SIDE_COUNT; i++) {
        const sw_side_outcome *o = &outcome->sides[i];
        json_t *side = json_object();
#define PUT(name, unit, long_name) put_number(side, figure_key(#name, unit, key), o->name);
        SW_SIDE_FIGURE_LIST(PUT)
#undef PUT
        json_object_set_new(object, sw_side_name((sw_side)i), SW_IS_ABSENT(o->area) ? json_null() : side);
        if (SW_IS_ABSENT(o->area))
            json_decref(side);
    }
    return object;
}

/* What each probe told; sw_outcome_evaluate has it, the history its name. */
static json_t *json_probe_outcomes(const sw_run *run)
{
    json_t *list = json_array();
    char key[FIGURE_KEY_SIZE];
    for (size_t i = 0; i < run->outcome.probe_count; i++) {
        const sw_probe_outcome *o = &run->outcome.probes[i];
        json_t *probe = json_object();
        json_put_text(probe, "name", run->history->probes[i].name);
#define PUT(name, unit, long_name) put_number(probe, figure_key(#name, unit, key), o->name);
        SW_PROBE_FIGURE_LIST(PUT)
#undef PUT
        json_object_set_new(probe, "milestones", json_milestones(o->milestones, o->milestone_count));
        json_array_append_new(list, probe);
    }
    return list;
}

json_t *json_choice(const sw_run *run, double unwrapped_done)
{
    const bool failed = run->status != SW_OK;
    json_t *object = json_object();
    figure figures[FIGURES_MAX];
    size_t count = choice_figures(run, unwrapped_done, figures);
    json_put_text(object, "label", run->label);
    json_put_text(object, "wrap", sw_wrap_name(run->scenario.wrap.kind));
    json_put_text(object, "error", failed ? run->failure : NULL);
    for (size_t i = 0; i < count; i++)
        put_number(object, figures[i].key, figures[i].value);
    json_put_text(object, "top_state", failed ? NULL : sw_surface_state_name(run->outcome.top_state_at_pull));
    if (failed || run->history) { /* a sweep keeps figures only */
        json_object_set_new(object, "safety", failed ? json_null() : json_safety(&run->safety));
        json_object_set_new(object, "missing", failed ? json_null() : json_missing(run->history));
        json_put_text(object, "tenderness", failed || run->outcome.tenderness == SW_TENDERNESS_UNKNOWN
                                                ? NULL : sw_tenderness_name(run->outcome.tenderness));
        json_object_set_new(object, "reactions", failed ? json_null() : json_reactions(&run->outcome));
        json_object_set_new(object, "probes", failed ? json_null() : json_probe_outcomes(run));
        json_put_text(object, "done_by", failed ? NULL : pulling_probe(run));
        json_object_set_new(object, "sides", failed ? json_null() : json_sides(&run->outcome));
    }
    json_object_set_new(object, "budget_at_pull", failed ? json_null() : json_budget(&run->outcome.at_pull));
    json_object_set_new(object, "budget_at_end", failed ? json_null() : json_budget(&run->outcome.at_end));
    return object;
}

static void put_interval(json_t *object, const char *name, const char *unit, const sw_interval *interval)
{
    char key[FIGURE_KEY_SIZE];
    const struct {
        const char *which;
        double value;
    } parts[] = {{"low", interval->low}, {"middle", interval->middle}, {"high", interval->high}};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        snprintf(key, sizeof key, "%s_%s%s", name, parts[i].which, unit);
        json_put_number(object, key, parts[i].value);
    }
}

json_t *json_band(const sw_band *band)
{
    if (!band)
        return json_null();
    json_t *object = json_object();
    json_object_set_new(object, "draws", json_integer((json_int_t)band->draws));
    json_object_set_new(object, "never_done", json_integer((json_int_t)band->never_done));
    json_object_set_new(object, "without_stall", json_integer((json_int_t)band->without_stall));
    put_interval(object, "done", "_s", &band->of[SW_SENSITIVE_done]);
    put_interval(object, "stall_length", "_s", &band->of[SW_SENSITIVE_stall]);
    put_interval(object, "yield_at_pull", "", &band->of[SW_SENSITIVE_yield]);
    return object;
}

static json_t *json_law(const sw_reaction_law *law)
{
    const bool is_arrhenius = law->form == SW_RATE_ARRHENIUS;
    json_t *object = json_object();
    json_put_text(object, "meaning", law->meaning);
    put_number(object, "rate_per_s", law->rate);
    put_number(object, "reference_k", law->reference_temperature);
    put_number(object, is_arrhenius ? "activation_energy_j_per_mol" : "z_k", law->sensitivity);
    put_number(object, "uncertainty_factor", law->uncertainty);
    put_number(object, "fitted_from_k", law->lowest_temperature);
    put_number(object, "fitted_to_k", law->highest_temperature);
    json_put_text(object, "source", law->source);
    return object;
}

static json_t *json_composition(const sw_composition *c)
{
    json_t *object = json_object();
    put_number(object, "water", c->water);
    put_number(object, "protein", c->protein);
    put_number(object, "fat", c->fat);
    put_number(object, "carbohydrate", c->carbohydrate);
    put_number(object, "ash", c->ash);
    return object;
}

static json_t *json_pit(const sw_pit *pit)
{
    json_t *object = json_object();
    json_put_text(object, "kind", sw_pit_kind_name(pit->kind));
    put_number(object, "convection_w_per_m2_k", pit->convection > 0.0 ? pit->convection : SW_ABSENT);
    put_number(object, "humidity_ratio", pit->humidity == SW_HUMIDITY_GIVEN ? pit->humidity_ratio : SW_ABSENT);
    return object;
}

json_t *json_heading(const sw_scenario *s)
{
    sw_scenario settled = *s;
    sw_scenario_settle(&settled);
    json_t *object = json_object();
    json_put_text(object, "program", "stallwright");
    json_put_text(object, "version", sw_version());
    json_object_set_new(object, "format", json_integer(JSON_FORMAT));
    json_put_text(object, "title", s->title);
    put_number(object, "start_clock_s", s->start_clock);
    json_t *meat = json_object();
    json_put_text(meat, "name", sw_meat_name(&s->meat));
    json_put_text(meat, "cut", sw_cut_name(s->meat.cut));
    json_put_text(meat, "shape", sw_shape_name(s->meat.shape));
    put_number(meat, "mass_kg", settled.meat.mass);
    put_number(meat, "thickness_m", settled.meat.thickness > 0.0 ? settled.meat.thickness : SW_ABSENT);
    put_number(meat, "width_m", s->meat.width);
    json_object_set_new(meat, "composition", json_composition(&settled.meat.composition));
    put_number(meat, "bone", settled.meat.bone);
    json_object_set_new(object, "meat", meat);
    json_object_set_new(object, "pit", json_pit(&settled.pit));
    put_number(object, "pull_k", settled.pull.kind == SW_ENDING_PROBE_TEMPERATURE ? settled.pull.value : SW_ABSENT);
    json_t *stall = json_object();
    put_number(stall, "above_k", s->stall.above);
    put_number(stall, "below_k", s->stall.below);
    put_number(stall, "rate_k_per_s", s->stall.rate);
    put_number(stall, "window_s", s->stall.window);
    put_number(stall, "duration_s", s->stall.duration);
    json_object_set_new(object, "stall_definition", stall);
    json_t *serving = json_object();
    put_number(serving, "size_kg", s->serving.size);
    json_object_set_new(serving, "people", json_integer(s->serving.people));
    put_number(serving, "trimming", settled.serving.trimming);
    json_object_set_new(object, "serving", serving);
    put_number(object, "tender_collagen", SW_TENDER_COLLAGEN);
    json_t *laws = json_object();
    for (int r = 0; r < SW_REACTION_COUNT; r++)
        json_object_set_new(laws, sw_reaction_law_of((sw_reaction)r)->name, json_law(sw_reaction_law_of((sw_reaction)r)));
    json_object_set_new(object, "reaction_laws", laws);
    return object;
}

int json_print(json_t *document)
{
    /* A document jansson could not make or write whole is reported by the stream or here, never cut short in silence. */
    int failed = document ? json_dumpf(document, stdout, JSON_INDENT(2) | JSON_REAL_PRECISION(17)) : -1;
    json_decref(document);
    putchar('\n');
    int status = flush_standard_output();
    if (failed && status == EXIT_DONE) {
        print_error("the JSON output could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        status = EXIT_FAILED;
    }
    return status;
}
