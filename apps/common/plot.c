#include "plot.h"

#include "output_file.h"
#include "quantity.h"

#include <plplot.h>

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Colours told apart also by colour-blind eyes and, with the line styles, in grey. */
enum { WHITE, BLACK, GREY, PALE, BLUE, ORANGE, GREEN, PURPLE, SAND, COLOUR_COUNT };

static const PLINT red[COLOUR_COUNT] = {255, 20, 120, 232, 20, 205, 30, 125, 246};
static const PLINT green[COLOUR_COUNT] = {255, 20, 120, 232, 80, 95, 130, 60, 232};
static const PLINT blue[COLOUR_COUNT] = {255, 20, 120, 232, 160, 10, 90, 140, 205};

static const PLINT line_colours[] = {BLUE, ORANGE, GREEN, PURPLE, BLACK, GREY};
static const PLINT line_styles[] = {1, 2, 4, 5, 3, 6};
static const PLINT probe_colours[SW_PROBES_MAX] = {BLUE, PURPLE, GREEN, BLACK};
static const PLINT probe_styles[SW_PROBES_MAX] = {1, 5, 6, 3};
enum { STYLE_COUNT = sizeof line_colours / sizeof *line_colours };

/* Texts are sized by the height of the page: a tall page needs smaller ones. */
static PLFLT text_scale = 1.0;

static void set_text_size(PLFLT size)
{
    plschr(0.0, size * text_scale);
}

typedef struct picture {
    output_file file;
    const command_options *options;
} picture;

static const char *device_for(const char *path)
{
    static const char *const devices[][2] = {{".svg", "svgcairo"}, {".png", "pngcairo"}, {".pdf", "pdfcairo"}};
    size_t length = strlen(path);
    for (size_t i = 0; i < sizeof devices / sizeof *devices; i++)
        if (length > 4 && strcmp(path + length - 4, devices[i][0]) == 0)
            return devices[i][1];
    return NULL;
}

bool plot_path_is_good(const char *path)
{
    if (device_for(path))
        return true;
    print_error("--plot is \"%s\"; a picture is a .svg, .png or .pdf file", path);
    return false;
}

static bool picture_begin(picture *p, const command_options *o, PLINT width, PLINT height)
{
    p->options = o;
    if (!output_file_begin(&p->file, o->plot_path, o->force))
        return false;
    const char *device = device_for(o->plot_path);
    /* A PDF page is laid out in points. */
    PLINT scale = strcmp(device, "pdfcairo") == 0 ? 72 : 90;
    plsdev(device);
    plsfnam(p->file.temporary);
    plspage(scale, scale, width * scale / 90, height * scale / 90, 0, 0);
    plscolbg(255, 255, 255);
    plscmap0n(COLOUR_COUNT);
    plscmap0(red, green, blue, COLOUR_COUNT);
    plspal1("", 1);
    plinit();
    text_scale = height > 700 ? 0.66 : 1.0;
    set_text_size(0.85);
    plscmap0(red, green, blue, COLOUR_COUNT);
    return true;
}

static int picture_end(picture *p)
{
    plend();
    if (access(p->file.temporary, R_OK) != 0) {
        print_error("the picture \"%s\" could not be drawn", p->file.path);
        return EXIT_FAILED;
    }
    FILE *drawn = fopen(p->file.temporary, "rb");
    long size = drawn && fseek(drawn, 0, SEEK_END) == 0 ? ftell(drawn) : -1;
    if (drawn)
        fclose(drawn);
    if (size <= 0) {
        print_error("the picture \"%s\" could not be written: is the disk full?", p->file.path);
        output_file_abandon(&p->file);
        return EXIT_FAILED;
    }
    return output_file_finish(&p->file) ? EXIT_DONE : EXIT_FAILED;
}

/* '#' begins a command in PLplot's texts; doubled it is itself. */
static const char *plain(const char *text, char *copy, size_t size)
{
    size_t used = 0;
    for (; *text && used + 3 < size; text++) {
        if (*text == '#')
            copy[used++] = '#';
        copy[used++] = *text;
    }
    copy[used] = '\0';
    return copy;
}

static const char *degree(sw_unit_system units)
{
    return units == SW_UNITS_US ? "°F" : "°C";
}

/* A curve of a history: hours against displayed temperatures, up to a time. */
typedef struct curve {
    size_t count;
    PLFLT *x, *y;
} curve;

static curve curve_of(const sw_history *h, const double *series, sw_unit_system units)
{
    curve c = {h->row_count, malloc(h->row_count * sizeof(PLFLT)), malloc(h->row_count * sizeof(PLFLT))};
    for (size_t i = 0; c.x && c.y && i < c.count; i++) {
        c.x[i] = h->series[SW_SERIES_time][i] / 3600.0;
        c.y[i] = axis_temperature(series[i], units);
    }
    return c;
}

static void draw_curve(curve c, PLINT colour, PLINT style, PLFLT width)
{
    if (c.x && c.y) {
        plcol0(colour);
        pllsty(style);
        plwidth(width);
        plline((PLINT)c.count, c.x, c.y);
    }
    pllsty(1);
    plwidth(1);
    free(c.x);
    free(c.y);
}

/* Axes with a pale grid; room is the share of the page from the top that they take. */
static void draw_axes(PLFLT bottom, PLFLT top, PLFLT hours, PLFLT low, PLFLT high, const char *y_label)
{
    plvpor(0.085, 0.975, bottom, top);
    plwind(0.0, hours, low, high);
    plcol0(PALE);
    plwidth(0.7);
    plbox("g", hours > 12 ? 2.0 : 1.0, 0, "g", 0.0, 0);
    plcol0(BLACK);
    plwidth(1);
    plbox("bcnst", hours > 12 ? 2.0 : 1.0, 0, "bcnstv", 0.0, 0);
    plmtex("b", 3.0, 0.5, 0.5, "hours since the meat went on");
    plmtex("l", 4.2, 0.5, 0.5, y_label);
}

static void draw_title(const char *title, const char *subtitle)
{
    char copy[300];
    plcol0(BLACK);
    set_text_size(1.15);
    plmtex("t", 2.5, 0.0, 0.0, plain(title, copy, sizeof copy));
    set_text_size(0.85);
    plcol0(GREY);
    plmtex("t", 1.3, 0.0, 0.0, plain(subtitle, copy, sizeof copy));
    plcol0(BLACK);
}

static void shade(PLFLT x0, PLFLT x1, PLFLT low, PLFLT high, PLINT colour)
{
    const PLFLT x[] = {x0, x1, x1, x0}, y[] = {low, low, high, high};
    plcol0(colour);
    plfill(4, x, y);
}

/* An upright line with a word beside its top. */
static void mark(PLFLT x, PLFLT hours, PLFLT low, PLFLT high, const char *word)
{
    const PLFLT xs[] = {x, x}, ys[] = {low, high};
    plcol0(GREY);
    pllsty(3);
    plline(2, xs, ys);
    pllsty(1);
    set_text_size(0.75);
    plptex(x - 0.011 * hours, low + 0.02 * (high - low), 0.0, 1.0, 0.0, word);
    set_text_size(0.85);
}

static void legend(size_t count, const char *const *texts, const PLINT *colours, const PLINT *styles, PLINT position)
{
    PLINT kinds[16], text_colours[16];
    PLFLT widths[16], legend_width, legend_height;
    for (size_t i = 0; i < count; i++) {
        kinds[i] = PL_LEGEND_LINE;
        text_colours[i] = BLACK;
        widths[i] = 2.5;
    }
    pllegend(&legend_width, &legend_height, PL_LEGEND_BACKGROUND, position, 0.015, 0.02, 0.06, WHITE, GREY, 1, 0, 0,
             (PLINT)count, kinds, 1.0, 0.85 * text_scale, 2.0, 0.0, text_colours, texts, NULL, NULL, NULL, NULL, colours, styles,
             widths, NULL, NULL, NULL, NULL);
}

static double last_time(const sw_history *h)
{
    return h->series[SW_SERIES_time][h->row_count - 1] / 3600.0;
}

static double highest_value(const sw_history *h, sw_series series, size_t rows)
{
    double highest = h->series[series][0];
    for (size_t i = 1; i < rows; i++)
        highest = fmax(highest, h->series[series][i]);
    return highest;
}

static void draw_cook_curves(const cook_run *run, sw_unit_system units, PLFLT bottom, PLFLT top)
{
    static const char *const texts[] = {"probe", "top surface", "air"};
    static const PLINT colours[] = {BLUE, ORANGE, GREY}, styles[] = {1, 2, 4};
    const sw_history *h = run->history;
    const sw_outcome *o = &run->outcome;
    double low = axis_temperature(273.15, units);
    double high = axis_temperature(highest_value(h, SW_SERIES_air_temperature, h->row_count) + 12.0, units);
    PLFLT hours = 1.02 * last_time(h);
    char label[64], subtitle[200], mass[QUANTITY_SIZE], thickness[QUANTITY_SIZE], done[QUANTITY_SIZE];
    snprintf(label, sizeof label, "temperature, %s", degree(units));
    draw_axes(bottom, top, hours, low, high, label);
    if (!SW_IS_ABSENT(o->stall_start)) {
        shade(o->stall_start / 3600.0, o->stall_end / 3600.0, low, high, SAND);
        plcol0(BLACK);
        set_text_size(0.75);
        plptex(0.5 * (o->stall_start + o->stall_end) / 3600.0, low + 0.96 * (high - low), 1.0, 0.0, 0.5, "stall");
        set_text_size(0.85);
    }
    if (!SW_IS_ABSENT(o->wrap_time))
        mark(o->wrap_time / 3600.0, hours, low, high, "wrapped");
    mark(o->done_time / 3600.0, hours, low, high, "pulled");
    if (!SW_IS_ABSENT(o->rest_end) && o->slice_time > o->rest_end)
        mark(o->rest_end / 3600.0, hours, low, high, "rested");
    draw_curve(curve_of(h, h->series[SW_SERIES_air_temperature], units), GREY, 4, 1.5);
    draw_curve(curve_of(h, h->series[SW_SERIES_top_surface_temperature], units), ORANGE, 2, 1.8);
    if (h->probe_count > 1)
        for (size_t i = 0; i < h->probe_count; i++)
            draw_curve(curve_of(h, h->probe_series[i], units), probe_colours[i], probe_styles[i], 2.2);
    else
        draw_curve(curve_of(h, h->series[SW_SERIES_probe_temperature], units), BLUE, 1, 2.6);
    plcol0(BLACK);
    plbox("bc", 0, 0, "bc", 0, 0);
    snprintf(subtitle, sizeof subtitle, "%s, %s, %s thick; wrap: %s; pulled after %s", run->scenario.meat.name,
             show_mass(run->scenario.meat.mass, units, mass),
             show_length(h->scenario.meat.thickness, units, thickness), sw_wrap_name(run->scenario.wrap.kind),
             show_duration(o->done_time, done));
    draw_title(run->scenario.title, subtitle);
    if (h->probe_count > 1) {
        const char *names[SW_PROBES_MAX + 2];
        PLINT name_colours[SW_PROBES_MAX + 2], name_styles[SW_PROBES_MAX + 2];
        char probe_names[SW_PROBES_MAX][48];
        size_t n = h->probe_count;
        for (size_t i = 0; i < n; i++) {
            snprintf(probe_names[i], sizeof probe_names[i], "probe, %.31s", h->probes[i].name);
            names[i] = probe_names[i];
            name_colours[i] = probe_colours[i];
            name_styles[i] = probe_styles[i];
        }
        for (size_t i = 1; i < 3; i++) {
            names[n] = texts[i];
            name_colours[n] = colours[i];
            name_styles[n++] = styles[i];
        }
        legend(n, names, name_colours, name_styles, PL_POSITION_BOTTOM | PL_POSITION_INSIDE);
    } else {
        legend(3, texts, colours, styles, PL_POSITION_BOTTOM | PL_POSITION_INSIDE);
    }
}

/* ---- maps of a section ---- */

enum { MAP_X = 160, MAP_Y = 60, MAP_LEVELS = 41, MOMENTS = 3 };

/* The outline of the section, for masking and drawing. */
typedef struct outline {
    size_t count;
    double point[SW_OUTLINE_MAX][2];
    double left, right, low, high;
    double mirror; /* what lies left of here was not computed: it mirrors the right */
} outline;

static outline the_outline; /* PLplot's mask callback takes no data */

static bool is_inside(double x, double y)
{
    bool inside = false;
    for (size_t i = 0, j = the_outline.count - 1; i < the_outline.count; j = i++) {
        const double *a = the_outline.point[i], *b = the_outline.point[j];
        if ((a[1] > y) != (b[1] > y) && x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0])
            inside = !inside;
    }
    return inside;
}

static PLINT is_meat(PLFLT x, PLFLT y)
{
    /* The rim itself is meat: grid points just outside are let in, and the outline is drawn over them. */
    double dx = 0.006 * (the_outline.right - the_outline.left), dy = 0.012 * (the_outline.high - the_outline.low);
    return is_inside(x, y) || is_inside(x - dx, y) || is_inside(x + dx, y) || is_inside(x, y - dy) ||
           is_inside(x, y + dy);
}

/* Value at a place: the cells nearest to it, weighted by the inverse square of their distance. */
static double value_at(const sw_history *h, const double *values, double x, double y)
{
    enum { NEAR = 4 };
    double distance[NEAR] = {HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL}, value[NEAR] = {0};
    if (x < the_outline.mirror)
        x = 2.0 * the_outline.mirror - x;
    for (size_t i = 0; i < h->cell_count; i++) {
        double dx = h->cell_across[i] - x, dy = h->cell_position[i] - y, d = dx * dx + dy * dy;
        if (d >= distance[NEAR - 1])
            continue;
        int k = NEAR - 1;
        for (; k > 0 && d < distance[k - 1]; k--) {
            distance[k] = distance[k - 1];
            value[k] = value[k - 1];
        }
        distance[k] = d;
        value[k] = values[i];
    }
    double sum = 0.0, weights = 0.0;
    for (int k = 0; k < NEAR; k++) {
        double w = 1.0 / (distance[k] + 1e-12);
        sum += w * value[k];
        weights += w;
    }
    return sum / weights;
}

static size_t field_near(const sw_history *h, double hours)
{
    size_t best = 0;
    for (size_t i = 1; i < h->field_count; i++)
        if (fabs(h->field_time[i] - 3600.0 * hours) < fabs(h->field_time[best] - 3600.0 * hours))
            best = i;
    return best;
}

static void set_heat_colours(void)
{
    const PLFLT at[] = {0.0, 0.25, 0.5, 0.75, 1.0}, r[] = {0.05, 0.28, 0.60, 0.90, 1.0},
                g[] = {0.10, 0.25, 0.33, 0.55, 0.92}, b[] = {0.35, 0.47, 0.42, 0.25, 0.60};
    plscmap1n(200);
    plscmap1l(1, 5, at, r, g, b, NULL);
}

static void set_water_colours(void)
{
    const PLFLT at[] = {0.0, 0.5, 1.0}, r[] = {0.97, 0.45, 0.03}, g[] = {0.94, 0.68, 0.22}, b[] = {0.82, 0.76, 0.45};
    plscmap1n(200);
    plscmap1l(1, 3, at, r, g, b, NULL);
}

static void draw_map(const cook_run *run, const double *values, double scale_low, double scale_high, bool heat,
                     sw_unit_system units, PLFLT left, PLFLT right, PLFLT bottom, PLFLT top, const char *caption)
{
    const sw_history *h = run->history;
    const outline *o = &the_outline;
    PLFLT *rows[MAP_X], *grid = malloc(sizeof(PLFLT) * MAP_X * MAP_Y);
    PLFLT levels[MAP_LEVELS];
    if (!grid)
        return;
    double margin = 0.04 * (o->right - o->left);
    double x0 = o->left - margin, x1 = o->right + margin, y0 = o->low - margin, y1 = o->high + margin;
    for (size_t i = 0; i < MAP_X; i++) {
        rows[i] = grid + i * MAP_Y;
        for (size_t j = 0; j < MAP_Y; j++) {
            double x = x0 + (x1 - x0) * (double)i / (MAP_X - 1), y = y0 + (y1 - y0) * (double)j / (MAP_Y - 1);
            double v = value_at(h, values, x, y);
            v = heat ? axis_temperature(v, units) : v;
            rows[i][j] = fmin(fmax(v, scale_low), scale_high);
        }
    }
    for (int k = 0; k < MAP_LEVELS; k++)
        levels[k] = scale_low + (scale_high - scale_low) * k / (MAP_LEVELS - 1);
    if (heat)
        set_heat_colours();
    else
        set_water_colours();
    plvpas(left, right, bottom, top, (y1 - y0) / (x1 - x0));
    plwind(x0, x1, y0, y1);
    plpsty(0);
    plshades((PLFLT_MATRIX)rows, MAP_X, MAP_Y, is_meat, x0, x1, y0, y1, levels, MAP_LEVELS, 1.0, 0, 0.0, plfill, 1,
             NULL, NULL);
    PLFLT px[SW_OUTLINE_MAX + 1], py[SW_OUTLINE_MAX + 1];
    for (size_t i = 0; i <= o->count; i++) {
        px[i] = o->point[i % o->count][0];
        py[i] = o->point[i % o->count][1];
    }
    plcol0(WHITE);
    plwidth(4);
    plline((PLINT)o->count + 1, px, py);
    plcol0(BLACK);
    plwidth(1.2);
    plline((PLINT)o->count + 1, px, py);
    for (size_t i = 0; i < h->probe_count; i++) {
        PLFLT x = h->probes[i].across, y = h->probes[i].height;
        plcol0(WHITE);
        plssym(0.0, 1.3);
        plpoin(1, &x, &y, 17);
        plcol0(BLACK);
        plssym(0.0, 1.0);
        plpoin(1, &x, &y, 4);
    }
    set_text_size(0.9);
    plmtex("t", 0.3, 0.5, 0.5, caption);
    free(grid);
}

static void draw_colour_bar(double low, double high, bool heat, PLFLT left, PLFLT right, PLFLT bottom, PLFLT top,
                            const char *label)
{
    if (heat)
        set_heat_colours();
    else
        set_water_colours();
    plvpor(left, right, bottom, top);
    plwind(low, high, 0.0, 1.0);
    for (int k = 0; k < 100; k++) {
        PLFLT x[] = {low + (high - low) * k / 100.0, low + (high - low) * (k + 1) / 100.0, 0, 0}, y[] = {0, 0, 1, 1};
        x[2] = x[1];
        x[3] = x[0];
        plcol1((k + 0.5) / 100.0);
        plfill(4, x, y);
    }
    plcol0(BLACK);
    set_text_size(0.85);
    plbox("bcnt", 0.0, 0, "bc", 0.0, 0);
    plmtex("b", 3.0, 0.5, 0.5, label);
    set_text_size(0.85);
}

/* The moments to draw: as typed, or thirds of the time on the pit. */
static size_t read_moments(const cook_run *run, const char *typed, double *moments)
{
    size_t count = 0;
    if (!typed) {
        for (; count < MOMENTS; count++)
            moments[count] = run->outcome.done_time / 3600.0 * (double)(count + 1) / MOMENTS;
        return count;
    }
    while (*typed && count < MOMENTS) {
        char *end;
        double hours = strtod(typed, &end);
        if (end == typed || !(hours >= 0.0) || (*end && *end != ',')) {
            print_error("--hours is \"%s\"; write up to %d numbers of hours with commas between, such as 2,6,10", typed,
                        MOMENTS);
            return 0;
        }
        moments[count++] = hours;
        typed = *end ? end + 1 : end;
    }
    return count;
}

static void take_outline(const cook_run *run)
{
    outline *o = &the_outline;
    o->count = sw_section_outline(&run->history->scenario.meat, o->point);
    o->left = o->right = o->point[0][0];
    o->low = o->high = o->point[0][1];
    for (size_t i = 1; i < o->count; i++) {
        o->left = fmin(o->left, o->point[i][0]);
        o->right = fmax(o->right, o->point[i][0]);
        o->low = fmin(o->low, o->point[i][1]);
        o->high = fmax(o->high, o->point[i][1]);
    }
    double first = run->history->cell_across[0], middle = 0.5 * (o->left + o->right);
    for (size_t i = 1; i < run->history->cell_count; i++)
        first = fmin(first, run->history->cell_across[i]);
    o->mirror = first > middle ? middle : -HUGE_VAL;
}

static void draw_section_maps(const cook_run *run, sw_unit_system units, const double *moments, size_t count)
{
    const sw_history *h = run->history;
    take_outline(run);
    double hottest = 0.0, wettest = 0.0;
    for (size_t m = 0; m < count; m++) {
        size_t at = field_near(h, moments[m]) * h->cell_count;
        for (size_t i = 0; i < h->cell_count; i++) {
            hottest = fmax(hottest, h->field_temperature[at + i]);
            wettest = fmax(wettest, h->field_water_content[at + i]);
        }
    }
    double low = axis_temperature(273.15, units), high = axis_temperature(hottest, units);
    for (size_t m = 0; m < count; m++) {
        size_t field = field_near(h, moments[m]), at = field * h->cell_count;
        PLFLT left = 0.03 + 0.32 * (PLFLT)m, right = left + 0.31;
        char caption[64];
        snprintf(caption, sizeof caption, "after %.1f h", h->field_time[field] / 3600.0);
        draw_map(run, h->field_temperature + at, low, high, true, units, left, right, 0.265, 0.40, caption);
        draw_map(run, h->field_water_content + at, 0.0, wettest, false, units, left, right, 0.105, 0.24, "");
    }
    char label[64];
    snprintf(label, sizeof label, "temperature, %s (upper row)", degree(units));
    draw_colour_bar(low, high, true, 0.08, 0.46, 0.068, 0.083, label);
    draw_colour_bar(0.0, wettest, false, 0.54, 0.92, 0.068, 0.083, "water, kg per kg dry matter (lower row)");
    /* A bar of 10 cm or 4 in. */
    double bar = units == SW_UNITS_US ? 4 * 0.0254 : 0.10;
    if (bar > 0.8 * (the_outline.right - the_outline.left))
        bar *= 0.2;
    plvpor(0.03, 0.34, 0.235, 0.26);
    double span = (the_outline.right - the_outline.left) * 1.08;
    plwind(0.0, span, 0.0, 1.0);
    plcol0(BLACK);
    const PLFLT xs[] = {0.02 * span, 0.02 * span + bar}, ys[] = {0.5, 0.5};
    plwidth(3);
    plline(2, xs, ys);
    plwidth(1);
    set_text_size(0.8);
    char text[32];
    snprintf(text, sizeof text, units == SW_UNITS_US ? "%.1f in" : "%.0f cm", units == SW_UNITS_US ? bar / 0.0254 : 100 * bar);
    plptex(0.04 * span + bar, 0.5, 1.0, 0.0, 0.0, text);
    set_text_size(0.85);
}

int plot_cook(const command_options *o, const cook_run *run, const char *hours)
{
    picture p;
    bool section = sw_shape_is_section(run->scenario.meat.shape);
    double moments[MOMENTS];
    size_t count = section ? read_moments(run, hours, moments) : 0;
    if (section && count == 0)
        return EXIT_BAD_USE;
    if (!picture_begin(&p, o, 1000, section ? 1000 : 640))
        return EXIT_FAILED;
    pladv(0);
    draw_cook_curves(run, o->units, section ? 0.52 : 0.115, section ? 0.925 : 0.88);
    if (section)
        draw_section_maps(run, o->units, moments, count);
    return picture_end(&p);
}

int plot_compare(const command_options *o, const cook_run *runs, size_t count)
{
    picture p;
    if (!picture_begin(&p, o, 1000, 640))
        return EXIT_FAILED;
    double hours = 0.0, high = 0.0, low = axis_temperature(273.15, o->units);
    const char *texts[16];
    PLINT colours[16], styles[16];
    char labels[16][96], y_label[64], subtitle[200], mass[QUANTITY_SIZE], pit[QUANTITY_SIZE];
    size_t shown = 0;
    for (size_t i = 0; i < count && i < 16; i++)
        if (runs[i].history) {
            hours = fmax(hours, runs[i].outcome.done_time / 3600.0);
            high = fmax(high, highest_value(runs[i].history, SW_SERIES_probe_temperature, runs[i].history->row_count));
        }
    high = axis_temperature(high + 8.0, o->units);
    pladv(0);
    snprintf(y_label, sizeof y_label, "probe temperature, %s", degree(o->units));
    draw_axes(0.115, 0.88, 1.03 * hours, low, high, y_label);
    for (size_t i = 0; i < count && i < 16; i++) {
        const sw_history *h = runs[i].history;
        if (!h)
            continue;
        const sw_outcome *out = &runs[i].outcome;
        curve c = curve_of(h, h->series[SW_SERIES_probe_temperature], o->units);
        /* Up to the pull; rest and hold would cross all other curves. */
        while (c.count > 1 && c.x && c.x[c.count - 1] > out->done_time / 3600.0 + 1e-9)
            c.count--;
        colours[shown] = line_colours[i % STYLE_COUNT];
        styles[shown] = line_styles[i % STYLE_COUNT];
        draw_curve(c, colours[shown], styles[shown], 2.6);
        PLFLT x = out->done_time / 3600.0, y = axis_temperature(out->done_probe, o->units);
        plcol0(colours[shown]);
        plssym(0.0, 1.0);
        plpoin(1, &x, &y, 17);
        if (!SW_IS_ABSENT(out->wrap_time)) {
            x = out->wrap_time / 3600.0;
            y = axis_temperature(out->wrap_probe, o->units);
            plpoin(1, &x, &y, 4);
        }
        char done[QUANTITY_SIZE], stall[QUANTITY_SIZE];
        snprintf(labels[shown], sizeof labels[shown], "%s: done %s, stall %s", runs[i].label,
                 show_duration(out->done_time, done),
                 SW_IS_ABSENT(out->stall_length) ? "none" : show_duration(out->stall_length, stall));
        texts[shown] = labels[shown];
        shown++;
    }
    plcol0(BLACK);
    plbox("bc", 0, 0, "bc", 0, 0);
    const sw_scenario *s = &runs[0].scenario;
    snprintf(subtitle, sizeof subtitle, "%s, %s, pit at %s; ring: wrapped, dot: pulled", s->meat.name,
             show_mass(s->meat.mass, o->units, mass), show_temperature(s->pit.steps[0].temperature, o->units, pit));
    draw_title(s->title, subtitle);
    if (shown > 0)
        legend(shown, texts, colours, styles, PL_POSITION_RIGHT | PL_POSITION_BOTTOM | PL_POSITION_INSIDE);
    return picture_end(&p);
}
