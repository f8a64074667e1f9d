/* SPDX-License-Identifier: BSD-3-Clause */
#include "json_plan.h"

#include "json_output.h"
#include "plan_table.h"
#include "plan_words.h"

#include <math.h>

/* A moment so long before serving: seconds since 1970 and in words, with a date and without. */
static void put_moment(json_t *object, const char *key, const plan_view *v, double before)
{
    char text[CLOCK_TEXT_SIZE];
    json_t *moment = json_object();
    const bool is_there = isfinite(before);
    json_put_number(moment, "before_serving_s", before);
    json_put_number(moment, "unix_s", is_there && v->clock.has_date ? (double)plan_clock_moment(&v->clock, before) : SW_ABSENT);
    json_put_text(moment, "words", is_there ? show_moment(&v->clock, before, text) : NULL);
    json_object_set_new(object, key, moment);
}

static void put_odds(json_t *object, const char *key, sw_odds odds)
{
    json_t *pair = json_object();
    json_put_number(pair, "share", odds.share);
    json_put_number(pair, "error", odds.error);
    json_object_set_new(object, key, pair);
}

static void put_sentence(json_t *object, const char *key, const prose *p)
{
    char text[PROSE_TEXT_SIZE];
    json_put_text(object, key, p->count > 0 ? prose_plain(p, SW_UNITS_SI, text, sizeof text) : NULL);
}

static void put_words(json_t *object, const char *key, const plan_view *v, void (*say)(const plan_view *, prose *))
{
    prose p;
    say(v, &p);
    put_sentence(object, key, &p);
}

static json_t *json_starts(const plan_view *v, const sw_plan_starts *starts)
{
    json_t *object = json_object();
    put_moment(object, "latest", v, starts->latest);
    put_moment(object, "earliest", v, isfinite(starts->earliest) ? starts->earliest : SW_ABSENT);
    put_moment(object, "recommended", v, starts->recommended);
    return object;
}

static json_t *json_timetable(const plan_view *views, size_t pieces)
{
    const plan_view *v = &views[0];
    json_t *list = json_array();
    size_t count = 0;
    bool has_starts = true;
    for (size_t k = 0; k < pieces; k++)
        has_starts = has_starts && !SW_IS_ABSENT(views[k].plan->starts.latest);
    const plan_row *rows = has_starts ? plan_timetable(views, pieces, &count) : NULL;
    for (size_t i = 0; i < count; i++) {
        json_t *row = json_object();
        json_put_text(row, "event", rows[i].key);
        json_put_text(row, "piece", rows[i].piece);
        json_object_set_new(row, "draws", json_integer((json_int_t)rows[i].draws));
        put_moment(row, "one_in_ten_by", v, rows[i].first);
        put_moment(row, "half_by", v, rows[i].middle);
        put_moment(row, "nine_in_ten_by", v, rows[i].last);
        put_sentence(row, "look_for", &rows[i].look);
        json_array_append_new(list, row);
    }
    return list;
}

static json_t *json_by_start(const plan_view *v)
{
    double leads[PLAN_STARTS_MAX];
    json_t *list = json_array();
    const size_t count = plan_told_starts(v, leads);
    for (size_t i = 0; i < count; i++) {
        json_t *row = json_object();
        put_moment(row, "start", v, leads[i]);
        put_odds(row, "in_time", plan_in_time(v, leads[i]));
        put_odds(row, "held_too_long", plan_held_too_long(v, leads[i]));
        json_array_append_new(list, row);
    }
    return list;
}

static json_t *json_choices(const plan_view *v)
{
    double leads[PLAN_STARTS_MAX];
    json_t *list = json_array();
    const size_t starts = plan_told_starts(v, leads);
    for (size_t c = 0; c < v->plan->choice_count; c++) {
        const sw_plan_choice *choice = &v->plan->choices[c];
        json_t *object = json_object(), *odds = json_array();
        json_put_text(object, "wrap", sw_wrap_name(choice->wrap));
        json_put_number(object, "pit_k", v->plan->stated.pit.steps[0].temperature + choice->pit_change);
        json_object_set_new(object, "is_asked", json_boolean(choice->is_asked));
        json_object_set_new(object, "draws", json_integer((json_int_t)choice->count));
        json_object_set_new(object, "starts", json_starts(v, &choice->starts));
        for (size_t i = 0; i < starts; i++) {
            json_t *row = json_object();
            put_moment(row, "start", v, leads[i]);
            put_odds(row, "in_time", plan_choice_in_time(v, choice, leads[i]));
            json_array_append_new(odds, row);
        }
        json_object_set_new(object, "by_start", odds);
        json_array_append_new(list, object);
    }
    return list;
}

static json_t *json_late(const plan_view *v)
{
    const sw_plan_late *late = &v->plan->late;
    const double lead = v->plan->starts.recommended;
    json_t *object = json_object(), *steps = json_array();
    put_words(object, "sentence", v, say_late);
    put_moment(object, "shows", v, late->is_found ? lead - late->shows : SW_ABSENT);
    json_put_number(object, "probe_k", late->is_found ? late->probe : SW_ABSENT);
    json_put_number(object, "usual_probe_k", late->is_found ? late->usual : SW_ABSENT);
    for (int r = 0; late->is_found && r < SW_RESCUE_COUNT; r++) {
        prose p;
        if (!late->is_open[r])
            continue;
        json_t *step = json_object();
        json_put_text(step, "what", sw_plan_rescue_name((sw_plan_rescue)r));
        put_moment(step, "ready", v, isfinite(late->ready[r]) ? lead - late->ready[r] : SW_ABSENT);
        say_rescue(v, (sw_plan_rescue)r, &p);
        put_sentence(step, "sentence", &p);
        json_put_number(step, "unmet_rules", late->run[r].status == SW_OK ? late->run[r].outcome.unmet_rules : SW_ABSENT);
        json_array_append_new(steps, step);
    }
    json_object_set_new(object, "steps", steps);
    return object;
}

static json_t *json_safety_words(const plan_view *v)
{
    static safety_warning warnings[JUDGED_MAX * SW_SAFETY_RULE_COUNT];
    judged_cook judged[PLAN_COOKS_MAX];
    json_t *list = json_array();
    const size_t count = safety_warnings(judged, plan_judged(v, judged), warnings);
    for (size_t i = 0; i < count; i++) {
        char text[SAFETY_TEXT_SIZE];
        json_array_append_new(list, json_text(show_safety_finding(warnings[i].rule, warnings[i].safety,
                                                                  warnings[i].label[0] ? warnings[i].label : NULL, SW_UNITS_SI, text)));
    }
    return list;
}

/* The cooks of the plan, each with its verdicts. */
static json_t *json_cooks(const plan_view *v)
{
    const sw_run *const runs[] = {&v->plan->median, &v->plan->longest, &v->plan->early};
    json_t *list = json_array();
    for (size_t i = 0; i < sizeof runs / sizeof *runs; i++)
        if (runs[i]->history)
            json_array_append_new(list, json_choice(runs[i], SW_ABSENT));
    for (int r = 0; r < SW_RESCUE_COUNT; r++)
        if (v->plan->late.run[r].history)
            json_array_append_new(list, json_choice(&v->plan->late.run[r], SW_ABSENT));
    return list;
}

static void put_sentences(json_t *object, const plan_view *v)
{
    const bool is_possible = !SW_IS_ABSENT(v->plan->starts.latest);
    prose p;
    put_words(object, "sentence", v, is_possible ? say_start : say_impossible);
    if (is_possible)
        put_words(object, "narrow", v, say_narrow);
    else
        json_put_text(object, "narrow", NULL);
    put_words(object, "slicing", v, say_slicing);
    put_words(object, "longest_hold", v, say_longest);
    put_words(object, "outside", v, say_outside);
    say_honestly(&p);
    put_sentence(object, "how_well", &p);
}

json_t *json_plan(const plan_view *v)
{
    const sw_plan *plan = v->plan;
    const double lead = plan->starts.recommended;
    json_t *object = json_object();
    put_moment(object, "serving", v, 0.0);
    json_put_number(object, "odds_asked", plan->odds);
    json_object_set_new(object, "draws", json_integer((json_int_t)plan->draws));
    json_object_set_new(object, "never_ready", json_integer((json_int_t)plan->never_ready));
    json_put_number(object, "hold_at_least_s", plan->stated.serving.hold_at_least);
    json_put_number(object, "hold_at_most_s", plan->stated.serving.hold_at_most);
    json_object_set_new(object, "starts", json_starts(v, &plan->starts));
    put_odds(object, "in_time", SW_IS_ABSENT(lead) ? (sw_odds){SW_ABSENT, SW_ABSENT} : plan_in_time(v, lead));
    put_odds(object, "held_too_long", SW_IS_ABSENT(lead) ? (sw_odds){SW_ABSENT, SW_ABSENT} : plan_held_too_long(v, lead));
    put_sentences(object, v);
    json_object_set_new(object, "timetable", json_timetable(v, 1));
    json_object_set_new(object, "by_start", json_by_start(v));
    json_object_set_new(object, "compared", json_choices(v));
    json_object_set_new(object, "late", plan->is_median_run ? json_late(v) : json_null());
    put_moment(object, "early_ready", v, isfinite(plan->early_ready) ? lead - plan->early_ready : SW_ABSENT);
    json_put_number(object, "mass_to_buy_low_kg", plan->mass_to_buy_low);
    json_put_number(object, "mass_to_buy_kg", plan->mass_to_buy);
    json_put_number(object, "mass_to_buy_high_kg", plan->mass_to_buy_high);
    json_object_set_new(object, "warnings", json_safety_words(v));
    json_object_set_new(object, "choices", json_cooks(v));
    return object;
}

json_t *json_plan_of_pieces(const plan_party *party)
{
    const sw_plan_of_pieces *all = party->plan;
    json_t *object = json_object(), *pieces = json_array();
    prose p;
    put_moment(object, "serving", &party->views[0], 0.0);
    json_put_number(object, "odds_asked", all->odds);
    json_put_number(object, "odds_of_each", all->odds_of_each);
    put_odds(object, "in_time", all->in_time);
    put_odds(object, "held_too_long", all->held_too_long);
    say_together(party, &p);
    put_sentence(object, "sentence", &p);
    say_one_pit(&p);
    put_sentence(object, "one_pit", &p);
    say_honestly(&p);
    put_sentence(object, "how_well", &p);
    json_object_set_new(object, "timetable", json_timetable(party->views, party->count));
    json_put_number(object, "mass_to_buy_low_kg", all->mass_to_buy_low);
    json_put_number(object, "mass_to_buy_kg", all->mass_to_buy);
    json_put_number(object, "mass_to_buy_high_kg", all->mass_to_buy_high);
    for (size_t k = 0; k < party->count; k++) {
        json_t *piece = json_object();
        json_put_text(piece, "label", party->views[k].label);
        json_put_number(piece, "pit_pieces", party->views[k].asked->pit.pieces);
        json_object_set_new(piece, "heading", json_heading(&party->views[k].plan->stated));
        json_object_set_new(piece, "plan", json_plan(&party->views[k]));
        json_array_append_new(pieces, piece);
    }
    json_object_set_new(object, "pieces", pieces);
    return object;
}
