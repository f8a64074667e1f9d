/* SPDX-License-Identifier: BSD-3-Clause */
/* Pictures of one cook and of several: curves over the hours. */
#include "plot_curves.h"

#include "missing.h"
#include "plot.h"
#include "plot_section.h"
#include "quantity.h"
#include "wrap_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void draw_series(const sw_history *h, const double *series, double until, sw_unit_system units, look l)
{
    double *x = malloc(h->row_count * sizeof *x), *y = malloc(h->row_count * sizeof *y);
    int count = 0;
    for (size_t i = 0; x && y && i < h->row_count; i++) {
        x[count] = h->series[SW_SERIES_time][i] / 3600.0;
        y[count] = axis_temperature(series[i], units);
        if (x[count] <= until + 1e-9)
            count++;
    }
    if (count > 1)
        draw_line(count, x, y, l);
    free(x);
    free(y);
}

double highest_value(const sw_history *h, sw_series series)
{
    double highest = h->series[series][0];
    for (size_t i = 1; i < h->row_count; i++)
        highest = fmax(highest, h->series[series][i]);
    return highest;
}

void draw_stall_band(const picture *p, const frame *f, const sw_outcome *o)
{
    if (SW_IS_ABSENT(o->stall_start))
        return;
    double x0 = page_x(f, o->stall_start / 3600.0), x1 = page_x(f, o->stall_end / 3600.0);
    use_page(p);
    fill_box(x0, x1, f->top, f->bottom, SAND);
}

/* ---- one cook ---- */

enum { MARK_ROOM = 30 };

static const look top_surface_look = {ORANGE, SHORT_DASHES, 1.8}, air_look = {GREY, LONG_DASHES, 1.4};

static double last_hour(const sw_history *h)
{
    return h->series[SW_SERIES_time][h->row_count - 1] / 3600.0;
}

/* An upright line with a word at its top, to its right; to its left if the word would meet the next line or the edge. */
static void draw_mark(const frame *f, double x, double next, const char *word)
{
    const double xs[] = {x, x}, ys[] = {f->bottom, f->top};
    draw_line(2, xs, ys, (look){GREY, SHORT_DASHES, 1.0});
    bool is_left = x + width_of(word, small_text) + 8.0 > next;
    put_text(is_left ? x - 5.0 : x + 5.0, f->top + 15.0, is_left ? 1.0 : 0.0, small_text, GREY, word);
}

/* When the first wrap was changed or taken off; absent if it was not. */
static double rewrap_time(const sw_history *h)
{
    for (size_t i = 0; i < h->phase_count; i++)
        if (h->phases[i].phase == SW_PHASE_REWRAPPED)
            return h->phases[i].start;
    return SW_ABSENT;
}

static void draw_marks(const picture *p, const frame *f, const sw_run *run)
{
    const sw_outcome *o = &run->outcome;
    const char *anew = run->history->scenario.rewrap.kind == SW_WRAP_NONE ? "unwrapped" : "rewrapped";
    const struct {
        double time;
        const char *word;
    } marks[] = {
        {o->wrap_time, "wrapped"},
        {o->pour_time, "poured"},
        {rewrap_time(run->history), anew},
        {o->done_time, "pulled"},
        /* The end of the rest is the end of it all if there is no hold. */
        {o->rest_end < o->slice_time || SW_IS_ABSENT(o->slice_time) ? o->rest_end : SW_ABSENT, "rested"},
    };
    double next = RIGHT;
    use_page(p);
    if (!SW_IS_ABSENT(o->stall_start))
        put_text(page_x(f, 0.5 * (o->stall_start + o->stall_end) / 3600.0), f->bottom - 15.0, 0.5, small_text, BLACK,
                 "stall");
    for (size_t i = sizeof marks / sizeof *marks; i-- > 0;) {
        if (SW_IS_ABSENT(marks[i].time))
            continue;
        double x = page_x(f, marks[i].time / 3600.0);
        draw_mark(f, x, next, marks[i].word);
        next = x;
    }
}

static void draw_probes(const picture *p, const frame *f, const sw_history *h, double sample_y)
{
    sw_unit_system units = p->options->units;
    double x = LEFT;
    for (size_t i = 0; i < h->probe_count; i++) {
        /* Orange and long dashes are taken. */
        static const look looks[SW_PROBES_MAX] = {
            {BLUE, SOLID, 2.6}, {PURPLE, DASH_DOT, 2.6}, {GREEN, DOTS, 2.6}, {BLACK, DASH_DOT_DOT, 2.6}};
        const look l = looks[i];
        char name[48];
        snprintf(name, sizeof name, h->probe_count > 1 ? "probe, %s" : "probe", h->probes[i].name);
        use_frame(p, f);
        draw_series(h, h->probe_series[i], f->hours, units, l);
        use_page(p);
        x = put_sample(x, sample_y, l, name);
    }
    x = put_sample(x, sample_y, top_surface_look, "top surface");
    put_sample(x, sample_y, air_look, "air around the meat");
}

/* Adds the first hour that was missed, or the phase that does not end, in a few words; after "; " if the text says more. */
static void add_missing(const sw_run *run, sw_unit_system units, char *text, size_t size)
{
    char words[160];
    prose said;
    const size_t length = strlen(text);
    if (run->history->missing_count == 0)
        return;
    say_missing_briefly(&run->history->scenario, &run->history->missing[0], &said);
    snprintf(text + length, size - length, "%s%s", length > 0 ? "; " : "", prose_plain(&said, units, words, sizeof words));
}

static void draw_cook_curves(picture *p, const sw_run *run, double bottom)
{
    const sw_history *h = run->history;
    sw_unit_system units = p->options->units;
    char missing[160] = "";
    char subtitle[300], mass[QUANTITY_SIZE], thickness[QUANTITY_SIZE], done[QUANTITY_SIZE];
    frame f = {.top = TOP, .bottom = bottom, .hours = 1.02 * last_hour(h), .low = axis_temperature(273.15, units)};
    double hottest = axis_temperature(highest_value(h, SW_SERIES_air_temperature), units);
    /* Room above all curves for the words of the marks. */
    f.high = f.low + (hottest - f.low) * (bottom - TOP) / (bottom - TOP - MARK_ROOM);
    draw_stall_band(p, &f, &run->outcome);
    draw_grid(p, &f);
    draw_marks(p, &f, run);
    use_frame(p, &f);
    draw_series(h, h->series[SW_SERIES_air_temperature], f.hours, units, air_look);
    draw_series(h, h->series[SW_SERIES_top_surface_temperature], f.hours, units, top_surface_look);
    draw_probes(p, &f, h, bottom + 76.0);
    draw_axes(p, &f, "temperature", true);
    snprintf(subtitle, sizeof subtitle, "%s, %s, %s thick; %s; pulled after %s", sw_meat_name(&run->scenario.meat),
             show_mass(h->scenario.meat.mass, units, mass), show_length(h->scenario.meat.thickness, units, thickness),
             show_wrap(run->scenario.wrap.kind, (char[WRAP_WORDS_SIZE]){0}), show_duration(run->outcome.done_time, done));
    add_missing(run, units, missing, sizeof missing);
    use_page(p);
    put_text(RIGHT - 8.0, bottom - 15.0, 1.0, small_text, BLACK, missing);
    put_title(p, run->scenario.title, subtitle);
}

int plot_cook(const command_options *o, const sw_run *run)
{
    picture p;
    bool section = sw_shape_is_section(run->scenario.meat.shape);
    int status = picture_begin(&p, o, section ? 1010 : 640);
    if (status != EXIT_DONE)
        return status;
    draw_cook_curves(&p, run, section ? 480.0 : 540.0);
    if (section && !draw_section_maps(&p, run))
        return picture_give_up(&p);
    return picture_end(&p);
}

/* ---- several cooks ---- */

enum { CURVES_BOTTOM = 490, ROWS_TOP = CURVES_BOTTOM + 12 };

static void draw_choice_curve(const picture *p, const frame *f, const sw_run *run, look l)
{
    const sw_outcome *o = &run->outcome;
    sw_unit_system units = p->options->units;
    use_frame(p, f);
    /* Up to the pull; rest and hold would cross all other curves. */
    draw_series(run->history, run->history->series[SW_SERIES_probe_temperature], o->done_time / 3600.0, units, l);
    use_page(p);
    fill_disc(page_x(f, o->done_time / 3600.0), page_y(f, axis_temperature(o->done_probe, units)), DOT, l.colour);
    if (!SW_IS_ABSENT(o->wrap_time))
        fill_ring(page_x(f, o->wrap_time / 3600.0), page_y(f, axis_temperature(o->wrap_probe, units)), DOT, BLACK);
}

/* A row of one choice: what it came to in words, and its cook as a line with the stall as a bar. */
static void draw_choice_row(const frame *f, const sw_run *run, sw_unit_system units, look l, double top)
{
    const sw_outcome *o = &run->outcome;
    char text[360], done[QUANTITY_SIZE], stall[QUANTITY_SIZE], kept[QUANTITY_SIZE];
    double y = top + 29.0;
    if (!run->history) {
        snprintf(text, sizeof text, "%s: failed", run->label);
        put_text(LEFT + 8.0, top + 12.0, 0.0, small_text, GREY, text);
        return;
    }
    snprintf(text, sizeof text, "%s: done after %s, %s%s, yield %s", run->label, show_duration(o->done_time, done),
             SW_IS_ABSENT(o->stall_length) ? "no stall" : "stall ",
             SW_IS_ABSENT(o->stall_length) ? "" : show_duration(o->stall_length, stall),
             show_share(o->yield_fraction, kept));
    add_missing(run, units, text, sizeof text);
    put_text(LEFT + 8.0, top + 12.0, 0.0, small_text, BLACK, text);
    if (!SW_IS_ABSENT(o->stall_start))
        fill_box(page_x(f, o->stall_start / 3600.0), page_x(f, o->stall_end / 3600.0), y - 6.0, y + 6.0, SAND);
    const double xs[] = {LEFT, page_x(f, o->done_time / 3600.0)}, ys[] = {y, y};
    draw_line(2, xs, ys, l);
    fill_disc(xs[1], y, DOT, l.colour);
    if (!SW_IS_ABSENT(o->wrap_time))
        fill_ring(page_x(f, o->wrap_time / 3600.0), y, DOT, BLACK);
}

static void draw_choice_rows(const picture *p, const frame *curves, const sw_run *runs, size_t count)
{
    frame rows = {.top = ROWS_TOP, .bottom = ROWS_TOP + CHOICE_ROW * (double)count + 4.0, .hours = curves->hours, .high = 1.0};
    draw_hour_lines(p, &rows);
    use_page(p);
    for (size_t i = 0; i < count; i++)
        draw_choice_row(&rows, &runs[i], p->options->units, look_of(i, 2.6), rows.top + CHOICE_ROW * (double)i);
    draw_hour_axis(p, &rows);
}

int plot_compare(const command_options *o, const sw_run *runs, size_t count)
{
    picture p;
    int status = picture_begin(&p, o, ROWS_TOP + CHOICE_ROW * (int)count + 72);
    if (status != EXIT_DONE)
        return status;
    frame f = {.top = TOP, .bottom = CURVES_BOTTOM, .low = axis_temperature(273.15, o->units)};
    double hottest = 273.15, longest = 0.0;
    for (size_t i = 0; i < count; i++)
        if (runs[i].history) {
            longest = fmax(longest, runs[i].outcome.done_time / 3600.0);
            hottest = fmax(hottest, highest_value(runs[i].history, SW_SERIES_probe_temperature));
        }
    f.hours = 1.03 * longest;
    f.high = axis_temperature(hottest + 6.0, o->units);
    draw_grid(&p, &f);
    for (size_t i = count; i-- > 0;)
        if (runs[i].history)
            draw_choice_curve(&p, &f, &runs[i], look_of(i, 2.6));
    draw_axes(&p, &f, "probe temperature", false);
    draw_choice_rows(&p, &f, runs, count);
    char subtitle[300], mass[QUANTITY_SIZE], pit[QUANTITY_SIZE];
    const sw_scenario *s = &runs[0].scenario;
    sw_scenario settled = *s;
    sw_scenario_settle(&settled);
    snprintf(subtitle, sizeof subtitle, "%s, %s, pit at %s. Ring: wrapped; dot: pulled; bar: stall", sw_meat_name(&s->meat),
             show_mass(settled.meat.mass, o->units, mass), show_temperature(s->pit.steps[0].temperature, o->units, pit));
    put_title(&p, s->title, subtitle);
    return picture_end(&p);
}
