/* SPDX-License-Identifier: BSD-3-Clause */
/* Pictures of sweeps: of a grid its curves and its stalls, of a random design its spread. */
#include "plot_sweep.h"

#include "plot_canvas.h"
#include "quantity.h"
#include "sweep_table.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { NO_FACTOR = SW_STUDY_FACTORS_MAX, CURVES_MAX = 300, FAN_RUNS_MAX = 2000, ROWS_MAX = 12, SWEEP_BOTTOM = 450 };

/* Of many runs so many are drawn, evenly chosen. */
static size_t stride_of(size_t count, size_t most)
{
    return (count + most - 1) / most;
}

static double longest_done(const sweep_view *v, sweep_figure figure)
{
    double longest = 0.0;
    for (size_t i = 0; i < v->run_count; i++)
        if (!SW_IS_ABSENT(v->figures[figure][i]))
            longest = fmax(longest, v->figures[figure][i]);
    return longest / 3600.0;
}

/* How many points of a curve lie before the pull. */
static size_t points_until_done(const sw_study_result *r)
{
    size_t count = (size_t)(r->outcome.done_time / SW_STUDY_CURVE_INTERVAL) + 1;
    return count < r->point_count ? count : r->point_count;
}

/* The curve of one cook up to its pull; a shade of 0..1 takes the place of the look's colour. */
static void draw_sweep_curve(const sw_study_result *r, sw_unit_system units, look l, double shade)
{
    const size_t count = points_until_done(r);
    double *x = malloc((count + 1) * sizeof *x), *y = malloc((count + 1) * sizeof *y);
    for (size_t i = 0; x && y && i < count; i++) {
        x[i] = (double)i * SW_STUDY_CURVE_INTERVAL / 3600.0;
        y[i] = axis_temperature(r->curves[SW_CURVE_PROBE][i], units);
    }
    if (x && y) {
        x[count] = r->outcome.done_time / 3600.0;
        y[count] = axis_temperature(r->outcome.done_probe, units);
        draw_shaded_line((int)count + 1, x, y, l, shade);
    }
    free(x);
    free(y);
}

/* The factor whose values the curves of a grid are coloured by: one with few values. */
static size_t colour_factor(const sw_study *study, const sweep_plane *plane)
{
    if (plane->across < NO_FACTOR && sw_study_factor(study, plane->across).value_count <= STYLE_COUNT)
        return plane->across;
    return sw_study_factor(study, plane->down).value_count <= STYLE_COUNT ? plane->down : NO_FACTOR;
}

static frame sweep_frame(const picture *p, double hours, double hottest)
{
    sw_unit_system units = p->options->units;
    return (frame){.top = TOP, .bottom = SWEEP_BOTTOM, .hours = hours, .low = axis_temperature(273.15, units),
                   .high = axis_temperature(hottest + 6.0, units)};
}

/* How light a curve is if no factor has few enough values for colours: by the factor that goes down, not up to white. */
static double shade_of(const sweep_view *v, size_t run, const sweep_plane *plane, size_t coloured_by)
{
    const size_t last = sw_study_factor(v->study, plane->down).value_count - 1;
    return coloured_by < NO_FACTOR ? -1.0 : 0.85 * (double)sw_study_choice(v->study, run, plane->down) / (double)last;
}

/* Draws the curves of a grid; returns an exit status. */
static int draw_family(const picture *p, const frame *f, const sweep_view *v, const sweep_plane *plane,
                       size_t coloured_by)
{
    const double width = v->run_count > 40 ? 1.2 : 2.2;
    set_heat_colours();
    const size_t stride = stride_of(v->run_count, CURVES_MAX);
    draw_grid(p, f);
    use_frame(p, f);
    for (size_t run = 0; run < v->run_count; run += stride) {
        sw_study_result result;
        if (v->has_failed[run])
            continue;
        int status = sweep_read(v, run, &result);
        if (status != EXIT_DONE)
            return status;
        draw_sweep_curve(&result, p->options->units,
                         look_of(coloured_by < NO_FACTOR ? sw_study_choice(v->study, run, coloured_by) : 0, width),
                         shade_of(v, run, plane, coloured_by));
        sw_study_result_free(&result);
    }
    draw_axes(p, f, "probe temperature", true);
    return EXIT_DONE;
}

static void draw_family_key(const picture *p, const sweep_view *v, const sweep_plane *plane, size_t coloured_by,
                            double y)
{
    char text[QUANTITY_SIZE], last[QUANTITY_SIZE], caption[200];
    double x = LEFT;
    use_page(p);
    if (coloured_by == NO_FACTOR) {
        const sw_factor_view f = sw_study_factor(v->study, plane->down);
        snprintf(caption, sizeof caption, "from dark to light: %s from %s to %s", f.key,
                 show_listed_value(v->study, plane->down, 0, p->options->units, text),
                 show_listed_value(v->study, plane->down, f.value_count - 1, p->options->units, last));
        put_text(x, y, 0.0, small_text, GREY, caption);
        return;
    }
    for (size_t i = 0; i < sw_study_factor(v->study, coloured_by).value_count; i++)
        x = put_sample(x, y, look_of(i, 2.2), show_listed_value(v->study, coloured_by, i, p->options->units, text));
}

/* ---- a map of the stall over two factors ---- */

enum { MAP_TOP = 588, CELLS_LEFT = 195, CELLS_HEIGHT = 300 };

typedef struct cell_grid {
    size_t rows, columns;
    double width, height; /* of a cell */
    double longest;      /* stall [h] */
} cell_grid;

/* Fills a cell: from dark for no time to light for the longest; white without a stall, grey if the cook failed. */
static void draw_cell(const sweep_view *v, const cell_grid *g, size_t run, double x, double y)
{
    const double hours = v->figures[SWEEP_stall_length][run] / 3600.0, share = hours / g->longest;
    const bool stalled = !SW_IS_ABSENT(hours);
    char text[32] = "none";
    fill_box(x, x + g->width, y, y + g->height, v->has_failed[run] ? PALE : WHITE);
    if (stalled) {
        fill_shaded_box(x, x + g->width, y, y + g->height, share);
        snprintf(text, sizeof text, "%.1f", hours);
    } else if (v->has_failed[run]) {
        snprintf(text, sizeof text, "failed");
    }
    if (g->width > width_of(text, small_text) && g->height > 18.0)
        put_text(x + 0.5 * g->width, y + 0.5 * g->height, 0.5, small_text, stalled && share < 0.7 ? WHITE : BLACK, text);
}

static void draw_cell_labels(const picture *p, const sweep_view *v, const sweep_plane *plane, const cell_grid *g)
{
    char text[QUANTITY_SIZE];
    const size_t row_step = stride_of(g->rows, 14);
    size_t column_step = 1;
    while (column_step < g->columns && (double)column_step * g->width < 110.0)
        column_step++;
    for (size_t r = 0; r < g->rows; r += row_step)
        put_text(CELLS_LEFT - 10.0, MAP_TOP + ((double)r + 0.5) * g->height, 1.0, small_text, BLACK,
                 show_listed_value(v->study, plane->down, r, p->options->units, text));
    for (size_t c = 0; c < g->columns; c += column_step)
        put_text(CELLS_LEFT + ((double)c + 0.5) * g->width, MAP_TOP + (double)g->rows * g->height + 16.0, 0.5, small_text,
                 BLACK, show_listed_value(v->study, plane->across, c, p->options->units, text));
}

static void draw_stall_map(const picture *p, const sweep_view *v, const sweep_plane *plane)
{
    char caption[200];
    const size_t rows = sw_study_factor(v->study, plane->down).value_count;
    const size_t columns = sw_study_factor(v->study, plane->across).value_count;
    const double longest = longest_done(v, SWEEP_stall_length);
    const cell_grid g = {rows, columns, (RIGHT - CELLS_LEFT) / (double)columns, CELLS_HEIGHT / (double)rows,
                         longest > 0.0 ? longest : 1.0};
    set_heat_colours();
    use_page(p);
    for (size_t r = 0; r < rows; r++)
        for (size_t c = 0; c < columns; c++)
            draw_cell(v, &g, sweep_plane_run(v->study, plane, r, c, 0), CELLS_LEFT + (double)c * g.width,
                      MAP_TOP + (double)r * g.height);
    const double x[] = {CELLS_LEFT, RIGHT, RIGHT, CELLS_LEFT, CELLS_LEFT};
    const double bottom = MAP_TOP + CELLS_HEIGHT, y[] = {MAP_TOP, MAP_TOP, bottom, bottom, MAP_TOP};
    draw_line(5, x, y, (look){BLACK, SOLID, 1.2});
    draw_cell_labels(p, v, plane, &g);
    snprintf(caption, sizeof caption, "hours of stall: %s down, %s across%s", sw_study_factor(v->study, plane->down).key,
             sw_study_factor(v->study, plane->across).key,
             rows * columns < v->run_count ? "; all else at its first value" : "");
    put_text(LEFT, MAP_TOP - 18.0, 0.0, small_text, BLACK, caption);
    if (longest > 0.0)
        draw_bar(p, 0.5 * (CELLS_LEFT + RIGHT) - 190.0, MAP_TOP + CELLS_HEIGHT + 42.0, 0.0, g.longest,
                 "hours of stall; white: none, grey: failed");
}

/* ---- rows of one factor ---- */

static void draw_sweep_row(const frame *f, const sweep_view *v, size_t run, double top, const char *label)
{
    const double start = v->figures[SWEEP_stall_start][run], length = v->figures[SWEEP_stall_length][run];
    const double done = v->figures[SWEEP_done_time][run], late_by = v->figures[SWEEP_late][run];
    char text[260], done_text[QUANTITY_SIZE], stall[QUANTITY_SIZE], yield[QUANTITY_SIZE], bark[QUANTITY_SIZE], late[QUANTITY_SIZE];
    const double y = top + 29.0;
    if (v->has_failed[run])
        snprintf(text, sizeof text, "%s: failed", label);
    else
        snprintf(text, sizeof text, "%s: done after %s, %s%s, yield %s, bark %s%s%s", label, show_duration(done, done_text),
                 SW_IS_ABSENT(length) ? "no stall" : "stall ", SW_IS_ABSENT(length) ? "" : show_duration(length, stall),
                 show_sweep_figure(SWEEP_yield_fraction, v->figures[SWEEP_yield_fraction][run], yield),
                 show_sweep_figure(SWEEP_bark, v->figures[SWEEP_bark][run], bark),
                 late_by > 0.0 ? ", late by " : late_by == 0.0 ? ", " : "",
                 SW_IS_ABSENT(late_by) ? "" : show_sweep_figure(SWEEP_late, late_by, late));
    put_text(LEFT + 8.0, top + 12.0, 0.0, small_text, v->has_failed[run] ? GREY : BLACK, text);
    if (v->has_failed[run])
        return;
    if (!SW_IS_ABSENT(start))
        fill_box(page_x(f, start / 3600.0), page_x(f, (start + length) / 3600.0), y - 6.0, y + 6.0, SAND);
    const double xs[] = {LEFT, page_x(f, done / 3600.0)}, ys[] = {y, y};
    draw_line(2, xs, ys, (look){BLUE, SOLID, 2.0});
    fill_disc(xs[1], y, DOT, BLUE);
}

static void draw_sweep_rows(const picture *p, const frame *curves, const sweep_view *v, size_t factor)
{
    char label[QUANTITY_SIZE];
    const size_t values = sw_study_factor(v->study, factor).value_count, stride = stride_of(values, ROWS_MAX);
    for (size_t i = 0, row = 0; i < values; i += stride, row++)
        draw_sweep_row(curves, v, i, SWEEP_BOTTOM + 100.0 + CHOICE_ROW * (double)row,
                       show_listed_value(v->study, factor, i, p->options->units, label));
}

static int draw_grid_sweep(const picture *p, const sweep_view *v)
{
    const sweep_plane plane = sweep_plane_of(v->study);
    const size_t coloured_by = colour_factor(v->study, &plane);
    const frame f = sweep_frame(p, 1.03 * longest_done(v, SWEEP_done_time), 273.15 + 96.0);
    int status = draw_family(p, &f, v, &plane, coloured_by);
    if (status != EXIT_DONE)
        return status;
    draw_family_key(p, v, &plane, coloured_by, SWEEP_BOTTOM + 78.0);
    if (plane.across < NO_FACTOR)
        draw_stall_map(p, v, &plane);
    else
        draw_sweep_rows(p, &f, v, plane.down);
    return EXIT_DONE;
}

static int grid_sweep_height(const sweep_view *v)
{
    const sweep_plane plane = sweep_plane_of(v->study);
    if (plane.across < NO_FACTOR)
        return MAP_TOP + CELLS_HEIGHT + 112;
    const size_t values = sw_study_factor(v->study, plane.down).value_count, stride = stride_of(values, ROWS_MAX);
    return SWEEP_BOTTOM + 120 + CHOICE_ROW * (int)((values + stride - 1) / stride);
}

/* ---- the spread of a random design ---- */

enum { BOX_ROW = 44, BOX_TOP = SWEEP_BOTTOM + 100 };

/* Readings of the runs drawn, point by point: count values for each of the points of the time axis. */
typedef struct fan {
    size_t count, points;
    double *readings;
} fan;

/* A cook that is pulled keeps its last reading. */
static int fill_fan(const sweep_view *v, fan *n)
{
    const size_t stride = stride_of(v->run_count, FAN_RUNS_MAX);
    n->points = (size_t)(longest_done(v, SWEEP_done_time) * 3600.0 / SW_STUDY_CURVE_INTERVAL) + 2;
    n->readings = malloc(n->points * FAN_RUNS_MAX * sizeof *n->readings);
    if (!n->readings) {
        print_error("the picture cannot be drawn: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    for (size_t run = 0; run < v->run_count; run += stride) {
        sw_study_result r;
        if (v->has_failed[run])
            continue;
        int status = sweep_read(v, run, &r);
        if (status != EXIT_DONE)
            return status;
        const size_t until = points_until_done(&r);
        for (size_t i = 0; i < n->points; i++)
            n->readings[i * FAN_RUNS_MAX + n->count] = i < until ? r.curves[SW_CURVE_PROBE][i] : r.outcome.done_probe;
        n->count++;
        sw_study_result_free(&r);
    }
    return EXIT_DONE;
}

/* The band between two shares, or the line of one. */
static void draw_band(const fan *n, double low, double high, int colour, sw_unit_system units)
{
    double *x = malloc(2 * n->points * sizeof *x), *y = malloc(2 * n->points * sizeof *y);
    for (size_t i = 0; x && y && i < n->points; i++) {
        double *readings = n->readings + i * FAN_RUNS_MAX;
        x[i] = x[2 * n->points - 1 - i] = (double)i * SW_STUDY_CURVE_INTERVAL / 3600.0;
        y[i] = axis_temperature(sw_quantile(readings, n->count, low), units);
        y[2 * n->points - 1 - i] = axis_temperature(sw_quantile(readings, n->count, high), units);
    }
    if (x && y && low < high) {
        fill_polygon(2 * (int)n->points, x, y, colour);
    } else if (x && y) {
        draw_line((int)n->points, x, y, (look){colour, SOLID, 2.6});
    }
    free(x);
    free(y);
}

static void draw_fan(const picture *p, const frame *f, const fan *n)
{
    sw_unit_system units = p->options->units;
    use_frame(p, f);
    draw_band(n, sweep_shares[0], sweep_shares[4], FAINT_BLUE, units);
    draw_band(n, sweep_shares[1], sweep_shares[3], LIGHT_BLUE, units);
    draw_grid(p, f);
    use_frame(p, f);
    draw_band(n, sweep_shares[2], sweep_shares[2], BLUE, units);
    draw_axes(p, f, "probe temperature", true);
}

/* A figure as a box: the middle half, whiskers over nine tenths, a line at the middle. */
static void draw_box_row(const frame *f, const sweep_view *v, sweep_figure figure, double *values, double top)
{
    double at[SWEEP_SHARE_COUNT];
    double x[SWEEP_SHARE_COUNT];
    char text[200], low[QUANTITY_SIZE], middle[QUANTITY_SIZE], high[QUANTITY_SIZE];
    const double y = top + 31.0;
    memcpy(values, v->figures[figure], v->run_count * sizeof *values);
    for (size_t i = 0; i < SWEEP_SHARE_COUNT; i++) {
        at[i] = sw_quantile(values, v->run_count, sweep_shares[i]);
        x[i] = page_x(f, at[i] / 3600.0);
    }
    snprintf(text, sizeof text, "%s %s; 9 in 10 between %s and %s", sweep_figure_title(figure), show_duration(at[2], middle),
             show_duration(at[0], low), show_duration(at[4], high));
    if (SW_IS_ABSENT(at[0]))
        snprintf(text, sizeof text, "%s: none", sweep_figure_title(figure));
    put_text(LEFT + 8.0, top + 12.0, 0.0, small_text, BLACK, text);
    if (SW_IS_ABSENT(at[0]))
        return;
    const double whisker[] = {x[0], x[4]}, line[] = {y, y}, middle_x[] = {x[2], x[2]}, middle_y[] = {y - 8.0, y + 8.0};
    draw_line(2, whisker, line, (look){BLUE, SOLID, 1.6});
    fill_box(x[1], x[3], y - 8.0, y + 8.0, LIGHT_BLUE);
    draw_line(2, middle_x, middle_y, (look){BLUE, SOLID, 3.0});
}

static int draw_boxes(const picture *p, const frame *f, const sweep_view *v)
{
    static const sweep_figure rows[] = {SWEEP_stall_start, SWEEP_stall_length, SWEEP_done_time};
    double *values = malloc(v->run_count * sizeof *values);
    if (!values) {
        print_error("the picture cannot be drawn: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    use_page(p);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        draw_box_row(f, v, rows[i], values, BOX_TOP + BOX_ROW * (double)i);
    free(values);
    return EXIT_DONE;
}

static int draw_random_sweep(const picture *p, const sweep_view *v)
{
    fan n = {0};
    int status = fill_fan(v, &n);
    const frame f = sweep_frame(p, 1.03 * longest_done(v, SWEEP_done_time), 273.15 + 96.0);
    if (status == EXIT_DONE && n.count > 0) {
        draw_fan(p, &f, &n);
        status = draw_boxes(p, &f, v);
        put_text(LEFT, SWEEP_BOTTOM + 78.0, 0.0, small_text, GREY,
                 "line: half the cooks are below; dark: half of them; pale: nine in ten. Pulled cooks keep their last reading.");
    }
    free(n.readings);
    return status;
}

int plot_sweep(const command_options *o, const sweep_view *v)
{
    picture p;
    char subtitle[300], mass[QUANTITY_SIZE];
    const bool is_grid = sw_study_design(v->study) == SW_DESIGN_GRID;
    const sw_scenario *s = sw_study_base(v->study);
    sw_scenario settled = *s;
    sw_scenario_settle(&settled);
    if (sw_study_journal_failures(v->journal) == v->run_count) {
        print_note(o, "no picture is drawn: every cook failed");
        return EXIT_DONE;
    }
    int status = picture_begin(&p, o, is_grid ? grid_sweep_height(v) : BOX_TOP + 3 * BOX_ROW + 16);
    if (status != EXIT_DONE)
        return status;
    status = is_grid ? draw_grid_sweep(&p, v) : draw_random_sweep(&p, v);
    snprintf(subtitle, sizeof subtitle, "%s, %s; %s of %zu cooks, each up to its pull", sw_meat_name(&s->meat),
             show_mass(settled.meat.mass, o->units, mass), is_grid ? "a grid" : "a random design", v->run_count);
    put_title(&p, s->title, subtitle);
    int ended = picture_end(&p);
    return status == EXIT_DONE ? ended : status;
}
