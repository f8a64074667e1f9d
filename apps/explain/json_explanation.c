/* SPDX-License-Identifier: BSD-3-Clause */
#include "json_explanation.h"

#include "explanation_words.h"
#include "figures.h"
#include "json_output.h"

#include <string.h>

static json_t *json_heat(const sw_heat_budget *b)
{
    json_t *object = json_object();
    char key[FIGURE_KEY_SIZE];
    for (int i = 0; i < SW_HEAT_ITEM_COUNT; i++) {
        snprintf(key, sizeof key, "%s_heat_j", sw_heat_name((sw_heat_item)i));
        json_put_number(object, key, b->item[i]);
    }
    return object;
}

static json_t *json_hours(const sw_explanation *e)
{
    json_t *list = json_array();
    for (size_t i = 0; i < e->heat.count; i++) {
        json_t *object = json_object(), *heat = json_heat(&e->heat.heat[i]);
        json_put_number(object, "from_s", e->heat.start[i]);
        json_put_number(object, "to_s", e->heat.end[i]);
        json_put_number(object, "probe_k", e->heat.probe[i]);
        json_put_number(object, "evaporation_share", sw_heat_evaporation_share(&e->heat.heat[i]));
        json_object_update_new(object, heat);
        json_array_append_new(list, object);
    }
    return list;
}

static json_t *json_plateau(const sw_plateau *s)
{
    json_t *object = json_object();
    char key[FIGURE_KEY_SIZE];
#define PUT(name, unit, long_name) json_put_number(object, figure_key(#name, unit, key), s->name);
    SW_PLATEAU_LIST(PUT)
#undef PUT
    return object;
}

static json_t *json_prose(const prose *p)
{
    char text[2 * PROSE_TEXT_SIZE];
    return json_string(prose_plain(p, SW_UNITS_SI, text, sizeof text));
}

static json_t *json_changes(const sw_explanation *e)
{
    json_t *list = json_array();
    const double done = e->never_ends ? SW_ABSENT : e->cook.outcome.done_time;
    for (int i = 0; i < SW_CAUSE_COUNT; i++) {
        const sw_changed_cook *c = &e->changed[i];
        prose p;
        say_change(e, (sw_cause)i, &p);
        json_t *object = json_object();
        json_put_text(object, "cause", sw_cause_name((sw_cause)i));
        json_object_set_new(object, "is_no_change", json_boolean(c->is_no_change));
        json_object_set_new(object, "choice", c->is_no_change ? json_null() : json_choice(&c->run, done));
        json_object_set_new(object, "sentence", json_prose(&p));
        json_array_append_new(list, object);
    }
    return list;
}

static json_t *json_common(const sw_explanation *e)
{
    json_t *list = json_array();
    for (size_t i = 0; i < SW_COMMON_EXPLANATIONS; i++) {
        json_t *object = json_object();
        json_put_text(object, "name", e->common[i].name);
        json_put_text(object, "source", e->common[i].source);
        json_put_number(object, "low_j", e->common[i].low);
        json_put_number(object, "high_j", e->common[i].high);
        json_array_append_new(list, object);
    }
    return list;
}

static json_t *json_sentences(const sw_explanation *e)
{
    static void (*const say[])(const sw_explanation *, prose *) = {say_course,  say_heat,  say_share,
                                                                say_plateau, say_water, say_ending};
    json_t *list = json_array();
    for (size_t i = 0; i < sizeof say / sizeof *say; i++) {
        prose p;
        say[i](e, &p);
        if (p.count > 0)
            json_array_append_new(list, json_prose(&p));
    }
    return list;
}

/* The cook as planned: one that never ends has no outcome, whatever it was followed to. */
static json_t *json_planned(const sw_explanation *e)
{
    sw_run none = {.status = SW_ERR_NEVER_ENDS, .scenario = e->cook.scenario};
    snprintf(none.label, sizeof none.label, "%s", e->cook.label);
    snprintf(none.failure, sizeof none.failure, "%s", e->never_ends_reason);
    return json_choice(e->never_ends ? &none : &e->cook, SW_ABSENT);
}

void json_add_explanation(json_t *document, const sw_explanation *e)
{
    const bool some = e->heat.count > 0;
    json_object_set_new(document, "never_ends", json_boolean(e->never_ends));
    json_put_number(document, "followed_s", e->cook.outcome.done_time);
    json_object_set_new(document, "choices", json_pack("[o]", json_planned(e)));
    json_object_set_new(document, "heat", json_heat(&e->heat.total));
    json_object_set_new(document, "hours", json_hours(e));
    json_put_number(document, "nearly_all_share", SW_NEARLY_ALL_HEAT);
    json_put_number(document, "nearly_all_from_s", some && e->heat.nearly_all < e->heat.count ? e->heat.start[e->heat.nearly_all] : SW_ABSENT);
    json_put_number(document, "largest_share_from_s",
                    some && e->heat.largest_share < e->heat.count ? e->heat.start[e->heat.largest_share] : SW_ABSENT);
    json_object_set_new(document, "plateau", json_plateau(&e->plateau));
    json_put_text(document, "stall_ending", sw_stall_ending_name(e->ending));
    json_put_number(document, "slowest_rate_k_per_s", e->slowest_rate);
    json_object_set_new(document, "changes", json_changes(e));
    json_object_set_new(document, "common_explanations", json_common(e));
    json_object_set_new(document, "sentences", json_sentences(e));
}
