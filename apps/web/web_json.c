/* SPDX-License-Identifier: BSD-3-Clause */
#include "web_json.h"

#include "explanation_words.h"
#include "json_explanation.h"
#include "json_output.h"
#include "missing.h"
#include "page_cook.h"

json_t *web_prose_json(const prose *p)
{
    json_t *list = json_array();
    for (size_t i = 0; i < p->count; i++) {
        const prose_piece *piece = &p->pieces[i];
        json_t *pair = json_array();
        json_array_append_new(pair, json_string(prose_kind_name(piece->kind)));
        json_array_append_new(pair, piece->kind == PROSE_TEXT ? json_text(p->texts + piece->text) : json_real(piece->value));
        json_array_append_new(list, pair);
    }
    return list;
}

static json_t *range_json(sw_range range)
{
    return json_pack("[f, f]", range.minimum, range.maximum);
}

static const char *type_name(sw_key_type type)
{
    switch (type) {
    case SW_KEY_TEXT: return "text";
    case SW_KEY_CHOICE: return "choice";
    case SW_KEY_SWITCH: return "switch";
    case SW_KEY_WHOLE: return "whole";
    case SW_KEY_VALUE: return "value";
    case SW_KEY_ENDING: return "ending";
    case SW_KEY_SCHEDULE: return "schedule";
    default: return "list";
    }
}

static json_t *key_json(const sw_scenario_key *key)
{
    json_t *object = json_object();
    json_put_text(object, "type", type_name(key->type));
    json_put_text(object, "meaning", key->meaning);
    json_object_set_new(object, "range", range_json(key->range));
    json_put_text(object, "unit", sw_setup_key_unit(key->name));
    if (key->type == SW_KEY_ENDING) {
        json_object_set_new(object, "temperature", range_json(key->ending.temperature));
        json_object_set_new(object, "duration", range_json(key->ending.duration));
    }
    if (key->type == SW_KEY_CHOICE) {
        json_t *words = json_array();
        for (int i = 0; i < key->choice_count; i++)
            json_array_append_new(words, json_string(key->choice_name(i)));
        json_object_set_new(object, "words", words);
    }
    return object;
}

static json_t *cut_json(sw_cut cut)
{
    const sw_cut_traits *traits = sw_cut_traits_of(cut);
    return json_pack("{s:s, s:s, s:f, s:f}", "name", traits->name, "description", traits->description, "pull_k", traits->pull,
                     "trimming", traits->trimming);
}

static json_t *wrap_json(sw_wrap_kind kind)
{
    const sw_wrap_traits *traits = sw_wrap_traits_of(kind);
    return json_pack("{s:s, s:b, s:b}", "name", traits->name, "holds_pool", (int)traits->holds_pool, "leaves_top_open",
                     (int)sw_wrap_leaves_top_open(kind));
}

json_t *web_tables_json(void)
{
    json_t *object = json_object(), *keys = json_object(), *cuts = json_array(), *wraps = json_array(), *causes = json_array();
    char limit[2][QUANTITY_SIZE];
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        json_object_set_new(keys, sw_scenario_key_at(i)->name, key_json(sw_scenario_key_at(i)));
    for (int i = 0; i < SW_CUT_COUNT; i++)
        json_array_append_new(cuts, cut_json((sw_cut)i));
    for (int i = 0; i < SW_WRAP_COUNT; i++)
        json_array_append_new(wraps, wrap_json((sw_wrap_kind)i));
    for (int i = 0; i < SW_CAUSE_COUNT; i++)
        json_array_append_new(causes, json_pack("{s:s, s:s}", "name", sw_cause_name((sw_cause)i), "words",
                                                sw_cause_long_name((sw_cause)i)));
    json_object_set_new(object, "keys", keys);
    json_object_set_new(object, "cuts", cuts);
    json_object_set_new(object, "wraps", wraps);
    json_object_set_new(object, "causes", causes);
    json_object_set_new(object, "version", json_string(sw_version()));
    json_object_set_new(object, "deference", json_string(safety_deference));
    json_object_set_new(object, "hot_holding", json_pack("[s, s]", show_hot_holding_limit(SW_UNITS_SI, limit[0]),
                                                         show_hot_holding_limit(SW_UNITS_US, limit[1])));
    return object;
}

/* ---- a cook ---- */

json_t *web_warnings_json(const judged_cook *judged, size_t judged_count)
{
    static safety_warning warnings[JUDGED_MAX * SW_SAFETY_RULE_COUNT];
    char si[SAFETY_TEXT_SIZE], us[SAFETY_TEXT_SIZE];
    json_t *list = json_array();
    const size_t count = safety_warnings(judged, judged_count, warnings);
    for (size_t i = 0; i < count; i++) {
        const safety_warning *w = &warnings[i];
        const char *label = w->label[0] ? w->label : NULL;
        json_t *both = json_array();
        json_array_append_new(both, json_text(show_safety_finding(w->rule, w->safety, label, SW_UNITS_SI, si)));
        json_array_append_new(both, json_text(show_safety_finding(w->rule, w->safety, label, SW_UNITS_US, us)));
        json_array_append_new(list, both);
    }
    return list;
}

static json_t *missing_json(const sw_history *h)
{
    json_t *list = json_array();
    prose said;
    for (size_t i = 0; i < h->missing_count; i++) {
        say_missing(&h->scenario, &h->missing[i], &said);
        json_array_append_new(list, web_prose_json(&said));
    }
    return list;
}

/* Phases with when they ended. */
static json_t *phases_json(const sw_history *h)
{
    json_t *list = json_array();
    for (size_t i = 0; i < h->phase_count; i++) {
        const sw_phase_record *p = &h->phases[i];
        json_array_append_new(list, json_pack("{s:s, s:f, s:f, s:f}", "phase", sw_phase_name(p->phase), "start_s", p->start,
                                              "end_s", p->end, "probe_k", p->probe_at_end));
    }
    return list;
}

json_t *web_cook_json(const sw_run *run, bool never_ends, const char *never_ends_reason, size_t moments, size_t layers)
{
    json_t *object = json_object();
    const page_detail detail = {.moments = moments, .layers = layers, .to_the_end = layers == 0};
    json_put_text(object, "never_ends", never_ends ? never_ends_reason : NULL);
    json_object_set_new(object, "choice", json_choice(run, SW_ABSENT));
    json_object_set_new(object, "cook", page_cook(run, never_ends, detail));
    if (run->status != SW_OK)
        return object;
    const sw_meat *meat = &run->history->scenario.meat;
    const judged_cook judged = {NULL, &run->safety};
    json_object_set_new(object, "modelled", json_pack("{s:s, s:s, s:f, s:f}", "name", sw_meat_name(meat), "shape",
                                                      sw_shape_name(meat->shape), "mass_kg", meat->mass, "thickness_m", meat->thickness));
    json_object_set_new(object, "phases", phases_json(run->history));
    json_object_set_new(object, "warnings", web_warnings_json(&judged, never_ends ? 0 : 1));
    json_object_set_new(object, "missing", missing_json(run->history));
    return object;
}

/* ---- an explanation ---- */

json_t *web_explanation_json(const sw_explanation *e)
{
    static const struct {
        const char *name;
        void (*say)(const sw_explanation *, prose *);
    } paragraphs[] = {{"course", say_course}, {"heat", say_heat}, {"share", say_share}, {"plateau", say_plateau}, {"water", say_water},
                      {"ending", say_ending}};
    json_t *object = json_object(), *common = json_array(), *changes = json_array(), *document = json_object();
    prose said;
    for (size_t i = 0; i < sizeof paragraphs / sizeof *paragraphs; i++) {
        paragraphs[i].say(e, &said);
        json_object_set_new(object, paragraphs[i].name, web_prose_json(&said));
    }
    for (size_t i = 0; i < SW_COMMON_EXPLANATIONS; i++) {
        say_common(e, i, &said);
        json_array_append_new(common, json_pack("{s:s, s:s, s:o}", "name", e->common[i].name, "source", e->common[i].source, "says",
                                                web_prose_json(&said)));
    }
    for (int i = 0; i < SW_CAUSE_COUNT; i++) {
        say_change(e, (sw_cause)i, &said);
        json_array_append_new(changes, json_pack("{s:s, s:b, s:o}", "words", sw_cause_long_name((sw_cause)i), "is_no_change",
                                                 (int)e->changed[i].is_no_change, "says", web_prose_json(&said)));
    }
    json_add_explanation(document, e);
    json_object_set_new(object, "document", document);
    json_object_set_new(object, "common", common);
    json_object_set_new(object, "changes", changes);
    return object;
}
