/* SPDX-License-Identifier: BSD-3-Clause */
#include "web_plan.h"

#include "json_output.h"
#include "json_plan.h"
#include "plan_table.h"
#include "plan_words.h"
#include "web_json.h"

static json_t *rows_json(const plan_view *v)
{
    json_t *list = json_array();
    size_t count = 0;
    const plan_row *rows = SW_IS_ABSENT(v->plan->starts.latest) ? NULL : plan_timetable(v, 1, &count);
    for (size_t i = 0; i < count; i++) {
        json_t *row = json_object();
        json_put_text(row, "what", rows[i].what);
        json_object_set_new(row, "look", web_prose_json(&rows[i].look));
        json_array_append_new(list, row);
    }
    return list;
}

static void put(json_t *object, const char *name, const plan_view *v, void (*say)(const plan_view *, prose *))
{
    prose said;
    say(v, &said);
    json_object_set_new(object, name, web_prose_json(&said));
}

/* What a plan with a start says besides. */
static void put_start(json_t *says, const plan_view *v)
{
    json_t *rescues = json_array();
    put(says, "start", v, say_start);
    put(says, "odds", v, say_odds);
    put(says, "narrow", v, say_narrow);
    put(says, "slicing", v, say_slicing);
    if (v->plan->is_median_run) {
        put(says, "late", v, say_late);
        put(says, "early", v, say_early);
        put(says, "longest", v, say_longest);
    }
    for (int r = 0; r < SW_RESCUE_COUNT && v->plan->is_median_run; r++) {
        prose said;
        say_rescue(v, (sw_plan_rescue)r, &said);
        if (said.count > 0)
            json_array_append_new(rescues, web_prose_json(&said));
    }
    json_object_set_new(says, "rescues", rescues);
}

json_t *web_plan_json(const plan_view *v)
{
    json_t *object = json_object(), *says = json_object();
    judged_cook judged[PLAN_COOKS_MAX];
    prose said;
    if (SW_IS_ABSENT(v->plan->starts.latest))
        put(says, "impossible", v, say_impossible);
    else
        put_start(says, v);
    put(says, "mass", v, say_mass);
    put(says, "outside", v, say_outside);
    say_honestly(&said);
    json_object_set_new(says, "honestly", web_prose_json(&said));
    json_object_set_new(object, "plan", json_plan(v));
    json_object_set_new(object, "rows", rows_json(v));
    json_object_set_new(object, "says", says);
    json_object_set_new(object, "warnings", web_warnings_json(judged, plan_judged(v, judged)));
    return object;
}
