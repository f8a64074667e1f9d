/* SPDX-License-Identifier: BSD-3-Clause */
#include "plot_track.h"

#include "plot_canvas.h"
#include "quantity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { CURVES_BOTTOM = 450, KEY_ROOM = 96, ROWS_TOP = CURVES_BOTTOM + KEY_ROOM, POINTS_SHOWN = 400 };

static const look fitted_look = {BLUE, SOLID, 2.6}, middle_look = {BLUE, SHORT_DASHES, 2.0}, pull_look = {BLACK, DOTS, 1.6};

/* The curves need hours for the latest choice that ends, and for what was read. */
static double last_hour(const sw_track *t)
{
    double last = t->now;
    for (size_t i = 0; i < t->choice_count; i++) {
        const sw_track_band *done = &t->choices[i].done;
        last = fmax(last, isfinite(done->high) ? done->high : isfinite(done->middle) ? done->middle : last);
    }
    return 1.03 * fmax(last, t->now + 3600.0) / 3600.0;
}

static double hottest(const track_input *in, const sw_track *t)
{
    double highest = t->population.stated.pull.value;
    for (size_t i = 0; i < in->question.readings.count; i++)
        highest = fmax(highest, in->question.readings.list[i].temperature);
    return highest + 8.0;
}

/* Moments of the fan within the frame. */
static size_t fan_moments(const sw_track *t, const frame *f)
{
    size_t count = 0;
    while (count < SW_TRACK_MOMENTS && t->moments[count] / 3600.0 <= f->hours && !SW_IS_ABSENT(t->fan[count].middle))
        count++;
    return count;
}

static void draw_fan(const picture *p, const frame *f, const sw_track *t)
{
    const sw_unit_system units = p->options->units;
    const size_t count = fan_moments(t, f);
    double x[2 * SW_TRACK_MOMENTS], y[2 * SW_TRACK_MOMENTS], middle[SW_TRACK_MOMENTS];
    for (size_t i = 0; i < count; i++) {
        x[i] = x[2 * count - 1 - i] = t->moments[i] / 3600.0;
        y[i] = axis_temperature(t->fan[i].low, units);
        y[2 * count - 1 - i] = axis_temperature(t->fan[i].high, units);
        middle[i] = axis_temperature(t->fan[i].middle, units);
    }
    if (count < 2)
        return;
    use_frame(p, f);
    fill_polygon((int)(2 * count), x, y, FAINT_BLUE);
    draw_line((int)count, x, middle, middle_look);
}

/* The likeliest cook, so far as it has gone. */
static void draw_fitted(const picture *p, const frame *f, const sw_track *t)
{
    double *x = malloc(t->curve_count * sizeof *x), *y = malloc(t->curve_count * sizeof *y);
    int count = 0;
    for (size_t i = 0; x && y && i < t->curve_count && t->curve_time[i] <= t->now + 1.0; i++, count++) {
        x[count] = t->curve_time[i] / 3600.0;
        y[count] = axis_temperature(t->curve[i], p->options->units);
    }
    use_frame(p, f);
    if (count > 1)
        draw_line(count, x, y, fitted_look);
    free(x);
    free(y);
}

/* Those of the second probe are rings. */
static void draw_point(double x, double y, size_t probe)
{
    if (probe == 0)
        fill_disc(x, y, 2.2, GREY);
    else
        fill_ring(x, y, 3.4, ORANGE);
}

static void draw_readings(const picture *p, const frame *f, const sw_readings *r)
{
    const size_t step = 1 + r->count / POINTS_SHOWN;
    use_page(p);
    for (size_t i = 0; i < r->count; i += step)
        draw_point(page_x(f, r->list[i].time / 3600.0), page_y(f, axis_temperature(r->list[i].temperature, p->options->units)), r->list[i].probe);
}

static void draw_lines(const picture *p, const frame *f, const track_input *in, const sw_track *t)
{
    char text[QUANTITY_SIZE + 24], clock[QUANTITY_SIZE], pull[QUANTITY_SIZE];
    const double y = page_y(f, axis_temperature(t->population.stated.pull.value, p->options->units)), x = page_x(f, t->now / 3600.0);
    const double ys[] = {y, y}, xs[] = {LEFT, RIGHT}, now_x[] = {x, x}, now_y[] = {f->bottom, f->top};
    use_page(p);
    draw_line(2, xs, ys, pull_look);
    draw_line(2, now_x, now_y, (look){GREY, SHORT_DASHES, 1.0});
    snprintf(text, sizeof text, "pull, %s", show_temperature(t->population.stated.pull.value, p->options->units, pull));
    put_text(LEFT + 8.0, y - 10.0, 0.0, small_text, BLACK, text);
    snprintf(text, sizeof text, "now, %s", track_moment(in, t->now, clock));
    const bool is_left = x + width_of(text, small_text) + 8.0 > RIGHT;
    put_text(is_left ? x - 5.0 : x + 5.0, f->bottom - 15.0, is_left ? 1.0 : 0.0, small_text, GREY, text);
}

static void put_key(const track_input *in, double y)
{
    const sw_readings *r = &in->question.readings;
    double x = LEFT;
    for (size_t k = 0; k < SW_TRACK_PROBES_MAX; k++) {
        size_t count = 0;
        char name[64];
        for (size_t i = 0; i < r->count; i++)
            count += r->list[i].probe == k ? 1 : 0;
        if (count == 0)
            continue;
        draw_point(x + 6.0, y, k);
        snprintf(name, sizeof name, "read%s%s", r->probe_names[k][0] ? ", " : "", r->probe_names[k]);
        put_text(x + 16.0, y, 0.0, small_text, BLACK, name);
        x += 16.0 + width_of(name, small_text) + 26.0;
    }
    x = put_sample(x, y, fitted_look, "likeliest cook");
    x = put_sample(x, y, middle_look, "going on as planned");
    fill_box(x, x + 46.0, y - 7.0, y + 7.0, FAINT_BLUE);
    put_text(x + 54.0, y, 0.0, small_text, BLACK, "four in five");
}

/* A row of one choice: when it is done, and between when four in five are. */
static void draw_choice(const frame *f, const track_input *in, const sw_track_choice *c, double top, look l)
{
    char text[300], low[QUANTITY_SIZE], middle[QUANTITY_SIZE], high[QUANTITY_SIZE], kept[QUANTITY_SIZE];
    const double y = top + 29.0, end = fmin(c->done.high / 3600.0, f->hours);
    snprintf(text, sizeof text, "%s: done %s (%s to %s)", sw_track_choice_name(c->kind), track_moment(in, c->done.middle, middle),
             track_moment(in, c->done.low, low), track_moment(in, c->done.high, high));
    if (!SW_IS_ABSENT(c->yield.middle))
        snprintf(text + strlen(text), sizeof text - strlen(text), ", yield %s", show_share(c->yield.middle, kept));
    put_text(LEFT + 8.0, top + 12.0, 0.0, small_text, BLACK, text);
    if (!isfinite(c->done.low) || c->done.low / 3600.0 > f->hours)
        return;
    const double xs[] = {page_x(f, c->done.low / 3600.0), page_x(f, end)}, ys[] = {y, y};
    draw_line(2, xs, ys, (look){l.colour, l.style, 6.0});
    if (isfinite(c->done.middle) && c->done.middle / 3600.0 <= f->hours)
        fill_disc(page_x(f, c->done.middle / 3600.0), y, DOT + 1, BLACK);
}

static void draw_choices(const picture *p, const frame *curves, const track_input *in, const sw_track *t)
{
    frame rows = {.top = ROWS_TOP, .bottom = ROWS_TOP + CHOICE_ROW * (double)t->choice_count + 4.0, .hours = curves->hours, .high = 1.0};
    draw_hour_lines(p, &rows);
    use_page(p);
    for (size_t i = 0; i < t->choice_count; i++)
        draw_choice(&rows, in, &t->choices[i], rows.top + CHOICE_ROW * (double)i, look_of(i, 6.0));
    draw_hour_axis(p, &rows);
}

int plot_track(const track_options *options, const track_input *in, const sw_track *t)
{
    const command_options *o = &options->shared;
    const bool has_choices = !t->is_done;
    char subtitle[300], cut[CUT_TEXT_SIZE], clock[QUANTITY_SIZE];
    picture p;
    int status = picture_begin(&p, o, has_choices ? ROWS_TOP + CHOICE_ROW * (int)t->choice_count + 72 : ROWS_TOP + 4);
    if (status != EXIT_DONE)
        return status;
    const frame f = {.top = TOP, .bottom = CURVES_BOTTOM, .hours = last_hour(t), .low = axis_temperature(273.15, o->units),
                     .high = axis_temperature(hottest(in, t), o->units)};
    draw_fan(&p, &f, t);
    draw_grid(&p, &f);
    draw_readings(&p, &f, &in->question.readings);
    draw_fitted(&p, &f, t);
    draw_lines(&p, &f, in, t);
    draw_axes(&p, &f, "probe temperature", true);
    use_page(&p);
    put_key(in, CURVES_BOTTOM + 72.0);
    if (has_choices)
        draw_choices(&p, &f, in, t);
    snprintf(subtitle, sizeof subtitle, "%s, %s, on at %s", sw_meat_name(&t->population.stated.meat),
             show_cut(&in->question.scenario.meat, &t->population.stated.meat, o->units, cut), show_clock(t->population.stated.start_clock, 0.0, clock));
    put_title(&p, t->population.stated.title, subtitle);
    return picture_end(&p);
}
