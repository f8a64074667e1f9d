/* SPDX-License-Identifier: BSD-3-Clause */
#include "plan_page.h"

#include "json_plan.h"
#include "page.h"
#include "plan_table.h"
#include "plan_words.h"
#include "wrap_words.h"

#include <math.h>

/* A paragraph, if there is something to say. */
static void put_paragraph(page_text *t, const prose *words)
{
    if (words->count == 0)
        return;
    page_markup(t, "<p>");
    page_prose(t, words);
    page_markup(t, "</p>\n");
}

static void put_said(page *p, const char *name, const plan_view *v, void (*say)(const plan_view *, prose *))
{
    prose words;
    say(v, &words);
    put_paragraph(page_begin(p, name), &words);
}

/* The same without a paragraph of its own. */
static void put_words(page *p, const char *name, const plan_view *v, void (*say)(const plan_view *, prose *))
{
    prose words;
    say(v, &words);
    page_prose(page_begin(p, name), &words);
}

static void put_moment(page_text *t, const plan_view *v, double before)
{
    char text[CLOCK_TEXT_SIZE];
    page_markup(t, "<td>");
    page_escaped(t, show_moment_briefly(&v->clock, before, text));
    page_markup(t, "</td>");
}

static void put_timetable(page *p, const plan_view *views, size_t pieces)
{
    const plan_view *v = &views[0];
    size_t count;
    const plan_row *rows = plan_timetable(views, pieces, &count);
    page_text *t = page_begin(p, "timetable");
    page_markup(t, "<table class=\"timetable\"><thead><tr><th scope=\"col\">what</th><th scope=\"col\">a tenth by</th><th scope=\"col\">half "
                   "by</th><th scope=\"col\">nine tenths by</th><th scope=\"col\" class=\"words\">look for</th></tr></thead><tbody>\n");
    for (size_t i = 0; i < count; i++) {
        page_markup(t, "<tr><th scope=\"row\">");
        page_escaped(t, rows[i].what);
        page_markup(t, "</th>");
        if (rows[i].draws == 0) {
            page_markup(t, "<td></td>");
            put_moment(t, v, rows[i].middle);
            page_markup(t, "<td></td>");
        } else {
            put_moment(t, v, rows[i].first);
            put_moment(t, v, rows[i].middle);
            put_moment(t, v, rows[i].last);
        }
        page_markup(t, "<td class=\"words\">");
        page_prose(t, &rows[i].look);
        page_markup(t, "</td></tr>\n");
    }
    page_markup(t, "</tbody></table>");
}

static void put_late(page_text *t, const plan_view *v)
{
    prose words;
    if (!v->plan->is_median_run)
        return;
    say_late(v, &words);
    put_paragraph(t, &words);
    page_markup(t, "<ul>\n");
    for (int r = 0; v->plan->late.is_found && r < SW_RESCUE_COUNT; r++) {
        say_rescue(v, (sw_plan_rescue)r, &words);
        if (words.count == 0)
            continue;
        page_markup(t, "<li>");
        page_prose(t, &words);
        page_markup(t, "</li>\n");
    }
    page_markup(t, v->plan->late.is_found ? "</ul>\n" : "<li>Look at the probe early and often.</li></ul>\n");
}

static void put_early(page_text *t, const plan_view *v)
{
    prose words;
    say_early(v, &words);
    put_paragraph(t, &words);
    say_longest(v, &words);
    put_paragraph(t, &words);
}

/* ---- the odds: a drawing of lines that needs no script ---- */

enum { CHART_WIDTH = 720, CHART_HEIGHT = 300, CHART_LEFT = 44, CHART_TOP = 12, CHART_BOTTOM = 262, CHART_RIGHT = 710, CHART_POINTS = 120 };

typedef struct chart {
    double longest, shortest; /* leads at the edges [s] */
} chart;

static double chart_x(const chart *c, double lead)
{
    return CHART_LEFT + (CHART_RIGHT - CHART_LEFT) * (c->longest - lead) / (c->longest - c->shortest);
}

static double chart_y(double share)
{
    return CHART_BOTTOM - (CHART_BOTTOM - CHART_TOP) * share;
}

static void put_curve(page_text *t, const chart *c, const double *ready, size_t count, double hold, bool is_too_long, const char *look)
{
    page_markup(t, "<polyline fill=\"none\" %s points=\"", look);
    for (int i = 0; i < CHART_POINTS; i++) {
        const double lead = c->longest + (c->shortest - c->longest) * i / (CHART_POINTS - 1);
        const sw_odds odds = is_too_long ? sw_odds_held_too_long(ready, count, hold, lead) : sw_odds_in_time(ready, count, hold, lead);
        page_markup(t, "%.1f,%.1f ", chart_x(c, lead), chart_y(odds.share));
    }
    page_markup(t, "\"></polyline>\n");
}

/* Told apart by colour-blind eyes and by their dashes. */
static const char *const looks[SW_WRAP_COUNT] = {
    [SW_WRAP_NONE] = "stroke=\"#14509f\" stroke-width=\"2\"",
    [SW_WRAP_PAPER] = "stroke=\"#b5651d\" stroke-width=\"2\" stroke-dasharray=\"9 3\"",
    [SW_WRAP_OPEN_TRAY] = "stroke=\"#1b7a3d\" stroke-width=\"2\" stroke-dasharray=\"2 3\"",
    [SW_WRAP_CLOSED_FOIL] = "stroke=\"#7a3f98\" stroke-width=\"2\" stroke-dasharray=\"9 3 2 3\"",
    [SW_WRAP_COVERED_PAN] = "stroke=\"#555555\" stroke-width=\"2\" stroke-dasharray=\"5 5\""};
static const char too_long_look[] = "stroke=\"#888888\" stroke-width=\"1.5\" stroke-dasharray=\"4 4\"";

static void put_axes(page_text *t, const chart *c, const plan_view *v)
{
    char text[CLOCK_TEXT_SIZE];
    const double hour = 3600.0, step = hour * ceil((c->longest - c->shortest) / hour / 6.0);
    for (int i = 0; i <= 4; i++)
        page_markup(t, "<line x1=\"%d\" x2=\"%d\" y1=\"%.1f\" y2=\"%.1f\" stroke=\"#cfcac0\"></line><text x=\"%d\" y=\"%.1f\" text-anchor=\"end\">%d "
                       "%%</text>\n",
                    CHART_LEFT, CHART_RIGHT, chart_y(0.25 * i), chart_y(0.25 * i), CHART_LEFT - 4, chart_y(0.25 * i) + 4.0, 25 * i);
    for (double lead = hour * ceil(c->shortest / hour); lead <= c->longest + 1.0; lead += step) {
        const double x = chart_x(c, lead);
        page_markup(t, "<line x1=\"%.1f\" x2=\"%.1f\" y1=\"%d\" y2=\"%d\" stroke=\"#cfcac0\"></line><text x=\"%.1f\" y=\"%d\" text-anchor=\"%s\">", x, x,
                    CHART_TOP, CHART_BOTTOM, x, CHART_BOTTOM + 18, x > CHART_RIGHT - 30 ? "end" : x < CHART_LEFT + 30 ? "start" : "middle");
        page_escaped(t, show_moment_briefly(&v->clock, lead, text));
        page_markup(t, "</text>\n");
    }
}

static double put_sample(page_text *t, double x, const char *look, const char *words)
{
    page_markup(t, "<line x1=\"%.0f\" x2=\"%.0f\" y1=\"%d\" y2=\"%d\" %s></line><text x=\"%.0f\" y=\"%d\">%s</text>\n", x, x + 26.0, CHART_HEIGHT - 8,
                CHART_HEIGHT - 8, look, x + 31.0, CHART_HEIGHT - 4, words);
    return x + 125.0;
}

static void put_chart(page_text *t, const plan_view *v)
{
    const sw_plan *plan = v->plan;
    const sw_serving *serving = &plan->stated.serving;
    const double slow = sw_time_reached_by(plan->ready, plan->draws, 0.99), fast = sw_time_reached_by(plan->ready, plan->draws, 0.01);
    const chart c = {(isfinite(slow) ? slow : 2.0 * fast) + serving->hold_at_least + 10800.0, fmax(fast + serving->hold_at_least - 14400.0, 0.0)};
    page_markup(t, "<svg class=\"odds\" viewBox=\"0 0 %d %d\" role=\"img\" aria-label=\"Odds against the start; the table below has the figures\">\n",
                CHART_WIDTH, CHART_HEIGHT);
    put_axes(t, &c, v);
    const double at = chart_x(&c, plan->starts.recommended);
    page_markup(t, "<line x1=\"%.1f\" x2=\"%.1f\" y1=\"%d\" y2=\"%d\" stroke=\"#1c1c1c\" stroke-width=\"2\"></line>\n", at, at, CHART_TOP, CHART_BOTTOM);
    put_curve(t, &c, plan->ready, plan->draws, serving->hold_at_most, true, too_long_look);
    put_curve(t, &c, plan->ready, plan->draws, serving->hold_at_least, false, looks[plan->stated.wrap.kind]);
    double x = put_sample(t, CHART_LEFT, looks[plan->stated.wrap.kind], sw_wrap_name(plan->stated.wrap.kind));
    for (size_t i = 0; i < plan->choice_count; i++)
        if (plan->choices[i].pit_change == 0.0 && !plan->choices[i].is_asked) {
            put_curve(t, &c, plan->choices[i].ready, plan->choices[i].count, serving->hold_at_least, false, looks[plan->choices[i].wrap]);
            x = put_sample(t, x, looks[plan->choices[i].wrap], sw_wrap_name(plan->choices[i].wrap));
        }
    put_sample(t, x, too_long_look, "held too long");
    page_markup(t, "</svg>");
}

static void put_share(page_text *t, double share)
{
    page_markup(t, "<td>");
    page_quantity(t, PROSE_SHARE, share);
    page_markup(t, "</td>");
}

static void put_by_start(page_text *t, const plan_view *v)
{
    double leads[PLAN_STARTS_MAX];
    const size_t count = plan_told_starts(v, leads);
    page_markup(t, "<table><thead><tr><th scope=\"col\">meat on</th><th scope=\"col\">in time</th><th scope=\"col\">held too long</th></tr></thead><tbody>\n");
    for (size_t i = 0; i < count; i++) {
        char text[CLOCK_TEXT_SIZE];
        page_markup(t, "<tr><th scope=\"row\">");
        page_escaped(t, show_moment_briefly(&v->clock, leads[i], text));
        page_markup(t, "</th>");
        put_share(t, plan_in_time(v, leads[i]).share);
        put_share(t, plan_held_too_long(v, leads[i]).share);
        page_markup(t, "</tr>\n");
    }
    page_markup(t, "</tbody></table>");
}

static void put_choices(page_text *t, const plan_view *v)
{
    page_markup(t, "<table><thead><tr><th scope=\"col\">wrap</th><th scope=\"col\">pit</th><th scope=\"col\">latest start</th><th "
                   "scope=\"col\">recommended</th><th scope=\"col\">odds from the plan's start</th></tr></thead><tbody>\n");
    for (size_t i = 0; i < v->plan->choice_count; i++) {
        const sw_plan_choice *c = &v->plan->choices[i];
        page_markup(t, "<tr><th scope=\"row\">%s</th><td>", sw_wrap_name(c->wrap));
        page_quantity(t, PROSE_TEMPERATURE, v->plan->stated.pit.steps[0].temperature + c->pit_change);
        page_markup(t, "</td>");
        put_moment(t, v, c->starts.latest);
        put_moment(t, v, c->starts.recommended);
        put_share(t, plan_choice_in_time(v, c, v->plan->starts.recommended).share);
        page_markup(t, "</tr>\n");
    }
    page_markup(t, "</tbody></table>");
}

/* Of several pieces each cook is called after its piece. */
static void put_safety(page *p, const plan_view *views, size_t pieces)
{
    static char names[SW_PLAN_PIECES_MAX * PLAN_COOKS_MAX][PIECE_LABEL_SIZE + 40];
    page_row rows[SW_PLAN_PIECES_MAX * PLAN_COOKS_MAX];
    size_t count = 0;
    for (size_t k = 0; k < pieces; k++) {
        plan_cook cooks[PLAN_COOKS_MAX];
        const size_t more = plan_cooks(&views[k], cooks);
        for (size_t i = 0; i < more; i++, count++) {
            const char *label = views[k].label;
            snprintf(names[count], sizeof names[count], "%s%s%s", label ? label : "", label ? ", " : "", cooks[i].label);
            rows[count] = (page_row){names[count], cooks[i].run, false, NULL};
        }
    }
    page_safety(p, rows, count);
}

static page *begin(const command_options *o, const plan_view *v)
{
    char serving[CLOCK_TEXT_SIZE];
    prose words;
    page *p = page_create(o);
    if (!p) {
        print_error("the page could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        return NULL;
    }
    page_common(p, &v->plan->stated);
    page_escaped(page_begin(p, "serving"), show_serving(&v->clock, serving));
    say_honestly(&words);
    page_prose(page_begin(p, "honest"), &words);
    return p;
}

int plan_page_write(const command_options *o, const plan_view *v)
{
    page *p = begin(o, v);
    if (!p)
        return EXIT_FAILED;
    page_meat(p, &v->plan->stated, &v->asked->meat);
    put_words(p, "start", v, say_start);
    put_timetable(p, v, 1);
    put_said(p, "slicing", v, say_slicing);
    put_late(page_begin(p, "late"), v);
    put_early(page_begin(p, "early"), v);
    put_words(p, "odds", v, say_odds);
    put_said(p, "narrow", v, say_narrow);
    put_chart(page_begin(p, "chart"), v);
    put_by_start(page_begin(p, "by-start"), v);
    put_choices(page_begin(p, "choices"), v);
    put_said(p, "mass", v, say_mass);
    put_said(p, "outside", v, say_outside);
    put_safety(p, v, 1);
    page_data(p, "plan", json_plan(v));
    return page_write(p, "plan.html");
}

/* ---- several pieces ---- */

static void put_label(page_text *t, const plan_view *v)
{
    page_markup(t, "<h3>");
    page_escaped(t, v->label);
    page_markup(t, "</h3>\n");
}

/* A list with a sentence of each piece, if it has one. */
static void put_sentences(page_text *t, const plan_party *party, void (*say)(const plan_view *, prose *))
{
    for (size_t k = 0; k < party->count; k++) {
        prose words;
        say(&party->views[k], &words);
        if (words.count == 0)
            continue;
        page_markup(t, "<p><strong>");
        page_escaped(t, party->views[k].label);
        page_markup(t, "</strong>: ");
        page_prose(t, &words);
        page_markup(t, "</p>\n");
    }
}

static void put_meats(page_text *t, const plan_party *party)
{
    for (size_t k = 0; k < party->count; k++) {
        const sw_scenario *s = &party->views[k].plan->stated;
        page_markup(t, "%s<strong>", k > 0 ? "; " : "");
        page_escaped(t, party->views[k].label);
        page_markup(t, "</strong>: ");
        page_escaped(t, sw_meat_name(&s->meat));
        page_markup(t, ", ");
        page_quantity(t, PROSE_MASS, s->meat.mass);
        page_markup(t, ", ");
        page_quantity(t, PROSE_LENGTH, s->meat.thickness);
        page_markup(t, " thick, %s", show_wrap(s->wrap.kind, (char[WRAP_WORDS_SIZE]){0}));
    }
    page_markup(t, "; pit at ");
    page_quantity(t, PROSE_TEMPERATURE, party->views[0].plan->stated.pit.steps[0].temperature);
}

static void put_odds_of_each(page_text *t, const plan_party *party)
{
    for (size_t k = 0; k < party->count; k++) {
        const plan_view *v = &party->views[k];
        put_label(t, v);
        page_markup(t, "<figure><div class=\"scroll\">");
        put_chart(t, v);
        page_markup(t, "</div></figure>\n<div class=\"scroll\">");
        put_by_start(t, v);
        page_markup(t, "</div>\n<div class=\"scroll\">");
        put_choices(t, v);
        page_markup(t, "</div>\n");
    }
}

static void put_together(page *p, const char *name, const plan_party *party, void (*say)(const plan_party *, prose *))
{
    prose words;
    say(party, &words);
    put_paragraph(page_begin(p, name), &words);
}

int plan_page_write_pieces(const command_options *o, const plan_party *party)
{
    prose words;
    page *p = begin(o, &party->views[0]);
    if (!p)
        return EXIT_FAILED;
    put_meats(page_begin(p, "meats"), party);
    put_sentences(page_begin(p, "starts"), party, say_start);
    put_timetable(p, party->views, party->count);
    put_sentences(page_begin(p, "slicing"), party, say_slicing);
    page_text *t = page_begin(p, "late-and-early");
    for (size_t k = 0; k < party->count; k++) {
        page_markup(t, "<div>");
        put_label(t, &party->views[k]);
        put_late(t, &party->views[k]);
        put_early(t, &party->views[k]);
        page_markup(t, "</div>\n");
    }
    put_together(p, "together", party, say_together);
    say_one_pit(&words);
    page_prose(page_begin(p, "one-pit"), &words);
    put_sentences(page_begin(p, "narrow"), party, say_narrow);
    put_odds_of_each(page_begin(p, "odds-of-each"), party);
    put_together(p, "mass", party, say_mass_of_all);
    put_sentences(page_begin(p, "outside"), party, say_outside);
    put_safety(p, party->views, party->count);
    page_data(p, "plan", json_plan_of_pieces(party));
    return page_write(p, "plan_pieces.html");
}
