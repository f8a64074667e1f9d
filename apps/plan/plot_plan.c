/* SPDX-License-Identifier: BSD-3-Clause */
#include "plot_plan.h"

#include "plan_words.h"
#include "plot_canvas.h"

#include <math.h>
#include <string.h>

enum { PANEL_HEIGHT = 190, PANEL_STEP = 262, FIRST_PANEL = 112, POINTS = 200, PANELS_MAX = SW_PLAN_PIECES_MAX };

/* Across: leads, early at the left; up: odds. In dots of the page. */
typedef struct panel {
    double top, longest, shortest; /* leads at the edges [s] */
} panel;

static double across(const panel *a, double lead)
{
    return LEFT + (RIGHT - LEFT) * (a->longest - lead) / (a->longest - a->shortest);
}

static double up(const panel *a, double share)
{
    return a->top + PANEL_HEIGHT * (1.0 - share);
}

static void draw_curve(const panel *a, const double *ready, size_t count, double hold, bool is_too_long, look l)
{
    double x[POINTS], y[POINTS];
    for (int i = 0; i < POINTS; i++) {
        const double lead = a->longest + (a->shortest - a->longest) * i / (POINTS - 1);
        x[i] = across(a, lead);
        y[i] = up(a, is_too_long ? sw_odds_held_too_long(ready, count, hold, lead).share : sw_odds_in_time(ready, count, hold, lead).share);
    }
    draw_line(POINTS, x, y, l);
}

static double whole_hours(double seconds)
{
    return 3600.0 * ceil(seconds / 3600.0);
}

static void draw_grid_of(const plan_view *v, const panel *a)
{
    char text[CLOCK_TEXT_SIZE];
    const double step = 3600.0 * ceil((a->longest - a->shortest) / 3600.0 / 8.0);
    for (int i = 0; i <= 4; i++) {
        const double y = up(a, 0.25 * i), ys[] = {y, y}, xs[] = {LEFT, RIGHT};
        draw_line(2, xs, ys, (look){PALE, SOLID, 1.0});
        snprintf(text, sizeof text, "%d", 25 * i);
        put_text(LEFT - 8.0, y, 1.0, small_text, BLACK, text);
    }
    for (double lead = whole_hours(a->shortest); lead <= a->longest + 1.0; lead += step) {
        const double x = across(a, lead), xs[] = {x, x}, ys[] = {a->top, a->top + PANEL_HEIGHT};
        draw_line(2, xs, ys, (look){PALE, SOLID, 1.0});
        if (x > LEFT + 30.0 && x < RIGHT - 30.0)
            put_text(x, a->top + PANEL_HEIGHT + 14.0, 0.5, small_text, BLACK, show_moment_briefly(&v->clock, lead, text));
    }
    const double xs[] = {LEFT, RIGHT, RIGHT, LEFT, LEFT}, bottom = a->top + PANEL_HEIGHT, ys[] = {a->top, a->top, bottom, bottom, a->top};
    draw_line(5, xs, ys, (look){BLACK, SOLID, 1.2});
}

/* Of the plan itself: where the start is, between what, and the odds asked. */
static void draw_starts(const plan_view *v, const panel *a)
{
    const sw_plan_starts *s = &v->plan->starts;
    if (SW_IS_ABSENT(s->recommended))
        return;
    const double early = isfinite(s->earliest) && s->earliest >= s->latest ? fmin(s->earliest, a->longest) : s->latest;
    if (early > s->latest)
        fill_box(across(a, early), across(a, s->latest), a->top, a->top + PANEL_HEIGHT, SAND);
    const double at = across(a, s->recommended), xs[] = {at, at}, ys[] = {a->top, a->top + PANEL_HEIGHT};
    draw_line(2, xs, ys, (look){BLACK, SOLID, 2.0});
    const double y = up(a, v->plan->odds), across_all[] = {LEFT, RIGHT}, level[] = {y, y};
    draw_line(2, across_all, level, (look){GREY, SHORT_DASHES, 1.0});
}

static void draw_panel(const plan_view *v, panel *a, double pit_change, bool is_asked, sw_unit_system units)
{
    const sw_plan *plan = v->plan;
    char caption[160], pit[QUANTITY_SIZE];
    if (is_asked)
        draw_starts(v, a);
    draw_grid_of(v, a);
    if (is_asked) {
        draw_curve(a, plan->ready, plan->draws, plan->stated.serving.hold_at_most, true, (look){GREY, LONG_DASHES, 2.0});
        draw_curve(a, plan->ready, plan->draws, plan->stated.serving.hold_at_least, false, look_of(plan->stated.wrap.kind, 3.2));
    }
    for (size_t c = 0; c < plan->choice_count; c++) {
        const sw_plan_choice *choice = &plan->choices[c];
        if (choice->pit_change == pit_change && !choice->is_asked)
            draw_curve(a, choice->ready, choice->count, plan->stated.serving.hold_at_least, false, look_of(choice->wrap, 1.8));
    }
    snprintf(caption, sizeof caption, "%s%spit at %s%s", v->label ? v->label : "", v->label ? ", " : "", show_temperature(plan->stated.pit.steps[0].temperature + pit_change, units, pit),
             is_asked ? ", as planned (line: the recommended start; band: starts that keep both promises)" : "");
    put_text(LEFT, a->top - 14.0, 0.0, small_text, BLACK, caption);
}

/* A panel that is drawn. */
typedef struct drawn_panel {
    const plan_view *view;
    double pit_change; /* [K] */
} drawn_panel;

static void put_key(const drawn_panel *panels, size_t count, double y)
{
    double x = LEFT;
    bool is_told[SW_WRAP_COUNT] = {false};
    for (size_t i = 0; i < count; i++) {
        const sw_plan *plan = panels[i].view->plan;
        is_told[plan->stated.wrap.kind] = true;
        for (size_t c = 0; c < plan->choice_count; c++)
            is_told[plan->choices[c].wrap] = true;
    }
    for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++)
        if (is_told[wrap])
            x = put_sample(x, y, look_of((size_t)wrap, 2.4), sw_wrap_name((sw_wrap_kind)wrap));
    put_sample(x, y, (look){GREY, LONG_DASHES, 2.0}, "held too long");
}

/* Of one piece its pits, coolest first; of several each in the pit that was asked for. Returns how many. */
static size_t list_panels(const plan_view *views, size_t pieces, drawn_panel panels[PANELS_MAX])
{
    size_t count = 0;
    if (pieces > 1) {
        for (size_t k = 0; k < pieces; k++)
            panels[count++] = (drawn_panel){&views[k], 0.0};
        return count;
    }
    for (int step = -1; step <= 1; step++) {
        bool any = step == 0;
        for (size_t c = 0; c < views->plan->choice_count; c++)
            any = any || views->plan->choices[c].pit_change == step * SW_PLAN_PIT_STEP;
        if (any)
            panels[count++] = (drawn_panel){views, step * SW_PLAN_PIT_STEP};
    }
    return count;
}

/* The leads at the edges; false if hardly a cook is ever ready. */
static bool set_edges(const plan_view *v, panel *a)
{
    const sw_plan *plan = v->plan;
    const double least = plan->stated.serving.hold_at_least, slow = sw_time_reached_by(plan->ready, plan->draws, 0.99);
    const double fast = sw_time_reached_by(plan->ready, plan->draws, 0.01);
    a->longest = whole_hours((isfinite(slow) ? slow : 2.0 * fast) + least) + 3.0 * 3600.0;
    a->shortest = fmax(whole_hours(fast + least) - 4.0 * 3600.0, 3600.0);
    return isfinite(fast);
}

static void draw_panels(const command_options *o, const drawn_panel *panels, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        panel a = {.top = FIRST_PANEL + PANEL_STEP * (double)i};
        (void)set_edges(panels[i].view, &a);
        draw_panel(panels[i].view, &a, panels[i].pit_change, panels[i].pit_change == 0.0, o->units);
        put_text(0.5 * (LEFT + RIGHT), a.top + PANEL_HEIGHT + 34.0, 0.5, small_text, BLACK, "when the meat goes on");
    }
    put_key(panels, count, FIRST_PANEL + PANEL_STEP * (double)count - 12.0);
    put_upright_text(FIRST_PANEL + 0.5 * (PANEL_STEP * (double)count), label_text, BLACK, "odds, per cent");
}

int plot_plan(const command_options *o, const plan_view *views, size_t pieces)
{
    picture p;
    drawn_panel panels[PANELS_MAX];
    panel edges;
    char subtitle[300], serving[CLOCK_TEXT_SIZE];
    const size_t count = list_panels(views, pieces, panels);
    for (size_t i = 0; i < count; i++)
        if (!set_edges(panels[i].view, &edges)) {
            print_error("there is nothing to draw: hardly a cook is ever ready");
            return EXIT_FAILED;
        }
    int status = picture_begin(&p, o, (int)(FIRST_PANEL + PANEL_STEP * count + 20));
    if (status != EXIT_DONE)
        return status;
    use_page(&p);
    draw_panels(o, panels, count);
    snprintf(subtitle, sizeof subtitle, "Odds of being ready in time, served at %s, by when the meat goes on", show_serving(&views->clock, serving));
    put_title(&p, views->plan->stated.title, subtitle);
    return picture_end(&p);
}
