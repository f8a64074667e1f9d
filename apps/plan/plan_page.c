#include "plan_page.h"

#include "json_plan.h"
#include "page.h"
#include "plan_table.h"
#include "plan_words.h"

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

static void put_timetable(page *p, const plan_view *v)
{
    static plan_row rows[PLAN_ROWS_MAX];
    const size_t count = plan_rows(v, rows);
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

static void put_late_and_early(page *p, const plan_view *v)
{
    prose words;
    page_text *t = page_begin(p, "late");
    if (v->plan->is_median_run) {
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
    t = page_begin(p, "early");
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

static void put_chart(page *p, const plan_view *v)
{
    const sw_plan *plan = v->plan;
    const sw_serving *serving = &plan->stated.serving;
    const double slow = sw_time_reached_by(plan->ready, plan->draws, 0.99), fast = sw_time_reached_by(plan->ready, plan->draws, 0.01);
    const chart c = {(isfinite(slow) ? slow : 2.0 * fast) + serving->hold_at_least + 10800.0, fmax(fast + serving->hold_at_least - 14400.0, 0.0)};
    page_text *t = page_begin(p, "chart");
    page_markup(t, "<svg class=\"odds\" viewBox=\"0 0 %d %d\" role=\"img\" aria-label=\"Odds against the start; the table below has the figures\" "
                   "font-size=\"12\">\n",
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

static void put_by_start(page *p, const plan_view *v)
{
    double leads[PLAN_STARTS_MAX];
    const size_t count = plan_told_starts(v, leads);
    page_text *t = page_begin(p, "by-start");
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

static void put_choices(page *p, const plan_view *v)
{
    page_text *t = page_begin(p, "choices");
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

static void put_safety(page *p, const plan_view *v)
{
    page_row rows[PLAN_COOKS_MAX];
    plan_cook cooks[PLAN_COOKS_MAX];
    const size_t count = plan_cooks(v, cooks);
    for (size_t i = 0; i < count; i++)
        rows[i] = (page_row){cooks[i].label, cooks[i].run, false, NULL};
    page_safety(p, rows, count);
}

int plan_page_write(const command_options *o, const plan_view *v)
{
    char serving[CLOCK_TEXT_SIZE];
    prose words;
    page *p = page_create(o);
    if (!p) {
        print_error("the page could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    page_common(p, &v->plan->stated);
    page_meat(p, &v->plan->stated, &v->asked->meat);
    page_escaped(page_begin(p, "serving"), show_serving(&v->clock, serving));
    put_words(p, "start", v, say_start);
    put_timetable(p, v);
    put_said(p, "slicing", v, say_slicing);
    put_late_and_early(p, v);
    put_words(p, "odds", v, say_odds);
    put_said(p, "narrow", v, say_narrow);
    put_chart(p, v);
    put_by_start(p, v);
    put_choices(p, v);
    put_said(p, "mass", v, say_mass);
    say_honestly(&words);
    page_prose(page_begin(p, "honest"), &words);
    put_said(p, "outside", v, say_outside);
    put_safety(p, v);
    page_data(p, "plan", json_plan(v));
    return page_write(p, "plan.html");
}
