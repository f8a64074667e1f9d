/* SPDX-License-Identifier: BSD-3-Clause */
#include "plan_table.h"

#include "output_file.h"
#include "plan_words.h"
#include "table.h"
#include "wrap_words.h"

#include <math.h>
#include <string.h>

sw_odds plan_choice_in_time(const plan_view *v, const sw_plan_choice *c, double lead)
{
    return sw_odds_in_time(c->ready, c->count, v->plan->stated.serving.hold_at_least, lead);
}

/* Whole hours before serving, from where the asked plan is all but sure to where it hardly is. */
size_t plan_told_starts(const plan_view *v, double *leads)
{
    const sw_plan *plan = v->plan;
    const double hour = 3600.0, least = plan->stated.serving.hold_at_least;
    const double slow = sw_time_reached_by(plan->ready, plan->draws, 0.99), fast = sw_time_reached_by(plan->ready, plan->draws, 0.01);
    const double from = isfinite(slow) ? slow : 2.0 * sw_time_reached_by(plan->ready, plan->draws, 0.5);
    if (!isfinite(from))
        return 0;
    const double step = hour * fmax(1.0, ceil((from - fast) / hour / 10.0));
    size_t count = 0;
    for (double lead = step * ceil((from + least) / step); lead > fast + least - step && count < PLAN_STARTS_MAX; lead -= step)
        leads[count++] = lead;
    return count;
}

size_t plan_cooks(const plan_view *v, plan_cook cooks[PLAN_COOKS_MAX])
{
    const sw_plan *plan = v->plan;
    const plan_cook all[PLAN_COOKS_MAX] = {{"the median cook", &plan->median},
                 {"held longest", &plan->longest},
                 {"an early cook", &plan->early},
                 {"a late cook", &plan->late.run[SW_RESCUE_NOTHING]},
                 {"a late one in foil", &plan->late.run[SW_RESCUE_FOIL]},
                 {"a late one in a hotter pit", &plan->late.run[SW_RESCUE_HOTTER]},
                 {"a late one with both", &plan->late.run[SW_RESCUE_BOTH]}};
    size_t count = 0;
    for (size_t i = 0; i < PLAN_COOKS_MAX; i++)
        if (all[i].run->history)
            cooks[count++] = all[i];
    return count;
}

size_t plan_judged(const plan_view *v, judged_cook judged[PLAN_COOKS_MAX])
{
    plan_cook cooks[PLAN_COOKS_MAX];
    const size_t count = plan_cooks(v, cooks);
    for (size_t i = 0; i < count; i++)
        judged[i] = (judged_cook){cooks[i].label, &cooks[i].run->safety};
    return count;
}

static void print_words(const plan_view *v, void (*say)(const plan_view *, prose *), sw_unit_system units)
{
    prose p;
    say(v, &p);
    if (p.count > 0)
        prose_print(&p, units, "", "", stdout);
}

static void print_heading(const plan_view *v, sw_unit_system units)
{
    const sw_scenario *s = &v->plan->stated;
    char serving[CLOCK_TEXT_SIZE], cut[CUT_TEXT_SIZE], pit[QUANTITY_SIZE], wrap[WRAP_WORDS_SIZE];
    printf("%s\nServed at %s, to be in time with odds of %.3g %%\n%s, %s,\npit at %s, %s\n\n", s->title, show_serving(&v->clock, serving),
           100.0 * v->plan->odds, sw_meat_name(&s->meat), show_cut(&v->asked->meat, &s->meat, units, cut),
           show_temperature(s->pit.steps[0].temperature, units, pit), show_wrap(s->wrap.kind, wrap));
}

static void print_rows(const plan_view *views, size_t pieces, sw_unit_system units)
{
    static table t;
    char text[CLOCK_TEXT_SIZE];
    size_t count;
    const plan_row *rows = plan_timetable(views, pieces, &count);
    const plan_clock *clock = &views[0].clock;
    t = (table){.has_heading = true};
    table_set(&t, 0, 0, "timetable");
    table_set(&t, 0, 1, "a tenth by");
    table_set(&t, 0, 2, "half by");
    table_set(&t, 0, 3, "nine tenths");
    for (size_t i = 0; i < count; i++) {
        table_set(&t, i + 1, 0, rows[i].what);
        table_set(&t, i + 1, 2, show_moment_briefly(clock, rows[i].middle, text));
        if (rows[i].draws == 0)
            continue;
        table_set(&t, i + 1, 1, show_moment_briefly(clock, rows[i].first, text));
        table_set(&t, i + 1, 3, show_moment_briefly(clock, rows[i].last, text));
    }
    table_print(&t, false, stdout);
    printf("\nWhat to look for\n");
    for (size_t i = 0; i < count; i++) {
        static prose look;
        char first[96];
        snprintf(first, sizeof first, "- %s: ", rows[i].what);
        look = rows[i].look;
        if (rows[i].draws > 0 && rows[i].draws < views[0].plan->draws)
            prose_add(&look, " (In {whole} of {whole} draws.)", (double)rows[i].draws, (double)views[0].plan->draws);
        if (look.count > 0)
            prose_print(&look, units, first, "  ", stdout);
    }
}

static void print_rescues(const plan_view *v, sw_unit_system units)
{
    prose p;
    printf("%sIf it runs late\n", v->label ? "" : "\n");
    print_words(v, say_late, units);
    for (int r = 0; r < SW_RESCUE_COUNT; r++) {
        say_rescue(v, (sw_plan_rescue)r, &p);
        if (p.count > 0)
            prose_print(&p, units, "- ", "  ", stdout);
    }
    printf("\nIf it is early\n");
    print_words(v, say_early, units);
    print_words(v, say_longest, units);
}

/* Odds against the start, a column a wrap, in the pit that was asked for. */
static void print_odds(const plan_view *v)
{
    static table t;
    double leads[PLAN_STARTS_MAX];
    char text[CLOCK_TEXT_SIZE];
    const size_t count = plan_told_starts(v, leads);
    t = (table){.has_heading = true};
    table_set(&t, 0, 0, "meat on");
    table_set(&t, 0, 1, "in time");
    table_set(&t, 0, 2, "held too long");
    for (size_t i = 0; i < count; i++) {
        size_t column = 3;
        table_set(&t, i + 1, 0, show_moment_briefly(&v->clock, leads[i], text));
        table_set(&t, i + 1, 1, show_chance(plan_in_time(v, leads[i]).share, text));
        table_set(&t, i + 1, 2, show_chance(plan_held_too_long(v, leads[i]).share, text));
        for (size_t c = 0; c < v->plan->choice_count; c++) {
            const sw_plan_choice *choice = &v->plan->choices[c];
            if (choice->pit_change != 0.0 || choice->is_asked)
                continue;
            table_set(&t, 0, column, sw_wrap_name(choice->wrap));
            table_set(&t, i + 1, column++, show_chance(plan_choice_in_time(v, choice, leads[i]).share, text));
        }
    }
    printf("\nOdds from other starts, and with other wraps\n");
    table_print(&t, false, stdout);
}

/* Each wrap in each pit: its latest start, and the odds from the recommended one. */
static void print_choices(const plan_view *v, sw_unit_system units)
{
    static table t;
    char text[CLOCK_TEXT_SIZE];
    prose p;
    static const char *const heads[] = {"wrap", "pit", "latest start", "recommended", "odds from the plan's start"};
    t = (table){.has_heading = true};
    for (size_t i = 0; i < sizeof heads / sizeof *heads; i++)
        table_set(&t, 0, i, heads[i]);
    for (size_t c = 0; c < v->plan->choice_count; c++) {
        const sw_plan_choice *choice = &v->plan->choices[c];
        const double lead = v->plan->starts.recommended;
        table_set(&t, c + 1, 0, sw_wrap_name(choice->wrap));
        table_set(&t, c + 1, 1, show_temperature(v->plan->stated.pit.steps[0].temperature + choice->pit_change, units, text));
        table_set(&t, c + 1, 2, show_moment_briefly(&v->clock, choice->starts.latest, text));
        table_set(&t, c + 1, 3, show_moment_briefly(&v->clock, choice->starts.recommended, text));
        table_set(&t, c + 1, 4, SW_IS_ABSENT(lead) ? "-" : show_chance(plan_choice_in_time(v, choice, lead).share, text));
    }
    printf("\nOther wraps and pits, the same draws for all\n");
    table_print(&t, false, stdout);
    const size_t draws = v->plan->choices[0].count;
    prose_clear(&p);
    prose_add(&p, "(By {whole} draws each: near {share} an error of {points}, in the middle of {points}; differences between rows are sharper.)",
              (double)draws, v->plan->odds, sw_odds_of((size_t)lround(v->plan->odds * (double)draws), draws).error,
              sw_odds_of(draws / 2, draws).error);
    prose_print(&p, units, "", "", stdout);
}

static void print_cautions(void)
{
    printf("A model, not a thermometer: the readings of your probe decide. Fire and hot fat\n"
           "burn; carbon monoxide kills: never burn charcoal, wood or gas indoors.\n");
    print_safety_deference();
}

/* How well the odds did, and of each plan whether it is outside what was measured and what it breaks. */
static void print_doubts(const plan_view *views, size_t pieces, sw_unit_system units)
{
    prose p;
    printf("\n");
    say_honestly(&p);
    prose_print(&p, units, "", "", stdout);
    for (size_t k = 0; k < pieces; k++) {
        judged_cook judged[PLAN_COOKS_MAX];
        say_outside(&views[k], &p);
        if (views[k].label)
            printf("\n%s\n", views[k].label);
        if (p.count > 0)
            prose_print(&p, units, "", "", stdout);
        print_safety_warnings(judged, plan_judged(&views[k], judged), units);
    }
    print_cautions();
}

int print_plan(const plan_view *v, const command_options *o)
{
    print_heading(v, o->units);
    if (SW_IS_ABSENT(v->plan->starts.latest)) {
        print_words(v, say_impossible, o->units);
    } else {
        print_words(v, say_start, o->units);
        print_words(v, say_odds, o->units);
        print_words(v, say_narrow, o->units);
        printf("\n");
        print_rows(v, 1, o->units);
        print_words(v, say_slicing, o->units);
        if (v->plan->is_median_run)
            print_rescues(v, o->units);
        print_odds(v);
    }
    if (v->plan->choice_count > 0)
        print_choices(v, o->units);
    prose p;
    say_mass(v, &p);
    if (p.count > 0) {
        printf("\nWhat to buy\n");
        prose_print(&p, o->units, "", "", stdout);
    }
    print_doubts(v, 1, o->units);
    return flush_standard_output();
}

/* ---- several pieces ---- */

static void print_heading_of_all(const plan_party *party, sw_unit_system units)
{
    const sw_scenario *first = &party->views[0].plan->stated;
    char serving[CLOCK_TEXT_SIZE], pit[QUANTITY_SIZE];
    printf("%s\nServed at %s, pieces in one pit: %zu,\nto be in time together with odds of %.3g %%\nPit at %s\n", first->title,
           show_serving(&party->views[0].clock, serving), party->count, 100.0 * party->plan->odds,
           show_temperature(first->pit.steps[0].temperature, units, pit));
    for (size_t k = 0; k < party->count; k++) {
        const plan_view *v = &party->views[k];
        const sw_scenario *s = &v->plan->stated;
        char cut[CUT_TEXT_SIZE], line[CUT_TEXT_SIZE + 2 * SW_TEXT_MAX], first_words[PIECE_LABEL_SIZE + 8], wrap[WRAP_WORDS_SIZE];
        snprintf(first_words, sizeof first_words, "- %s: ", v->label);
        snprintf(line, sizeof line, "%s, %s, %s", sw_meat_name(&s->meat), show_cut(&v->asked->meat, &s->meat, units, cut),
                 show_wrap(s->wrap.kind, wrap));
        print_wrapped(line, 80, first_words, "  ", stdout);
    }
    printf("\n");
}

static void print_starts_of_all(const plan_party *party, sw_unit_system units)
{
    prose p;
    for (size_t k = 0; k < party->count; k++) {
        const plan_view *v = &party->views[k];
        char first[PIECE_LABEL_SIZE + 8];
        snprintf(first, sizeof first, "- %s: ", v->label);
        (SW_IS_ABSENT(v->plan->starts.latest) ? say_impossible : say_start)(v, &p);
        prose_print(&p, units, first, "  ", stdout);
    }
    say_together(party, &p);
    if (p.count > 0)
        prose_print(&p, units, "", "", stdout);
    say_one_pit(&p);
    prose_print(&p, units, "", "", stdout);
}

static void print_piece(const plan_view *v, sw_unit_system units)
{
    printf("\n---- %s ----\n", v->label);
    if (!SW_IS_ABSENT(v->plan->starts.latest)) {
        print_words(v, say_narrow, units);
        print_words(v, say_slicing, units);
        if (v->plan->is_median_run)
            print_rescues(v, units);
        print_odds(v);
    }
    if (v->plan->choice_count > 0)
        print_choices(v, units);
}

int print_plan_of_pieces(const plan_party *party, const command_options *o)
{
    prose p;
    print_heading_of_all(party, o->units);
    print_starts_of_all(party, o->units);
    if (!SW_IS_ABSENT(party->plan->in_time.share)) {
        printf("\n");
        print_rows(party->views, party->count, o->units);
    }
    for (size_t k = 0; k < party->count; k++)
        print_piece(&party->views[k], o->units);
    say_mass_of_all(party, &p);
    if (p.count > 0) {
        printf("\nWhat to buy\n");
        prose_print(&p, o->units, "", "", stdout);
    }
    print_doubts(party->views, party->count, o->units);
    return flush_standard_output();
}
