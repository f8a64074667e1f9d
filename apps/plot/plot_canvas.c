/* SPDX-License-Identifier: BSD-3-Clause */
#include "plot_canvas.h"

#include "outputs.h"
#include "progress.h"
#include "quantity.h"

#ifdef SW_HAVE_PLPLOT
#include <plplot.h>
#else
#include "no_plplot.h"
#endif

#include <math.h>
#include <string.h>

static const PLINT red[COLOUR_COUNT] = {255, 20, 105, 228, 20, 205, 30, 150, 244, 214, 150};
static const PLINT green[COLOUR_COUNT] = {255, 20, 105, 228, 80, 95, 130, 60, 226, 228, 185};
static const PLINT blue[COLOUR_COUNT] = {255, 20, 105, 228, 160, 10, 90, 150, 190, 244, 226};

/* Marks and gaps of a line [micrometres]. */
typedef struct line_pattern {
    PLINT count;
    PLINT marks[3], gaps[3];
} line_pattern;

static const line_pattern line_patterns[STYLE_COUNT] = {
    [SOLID] = {0, {0}, {0}},
    [LONG_DASHES] = {1, {3200}, {1300}},
    [DOTS] = {1, {700}, {900}},
    [DASH_DOT] = {2, {2600, 700}, {1000, 1000}},
    [SHORT_DASHES] = {1, {1500}, {1000}},
    [DASH_DOT_DOT] = {3, {2600, 700, 700}, {900, 900, 900}},
};
static const int line_colours[STYLE_COUNT] = {BLUE, ORANGE, GREEN, PURPLE, BLACK, GREY};

look look_of(size_t n, double width)
{
    return (look){line_colours[n % STYLE_COUNT], (line_style)((n + n / STYLE_COUNT) % STYLE_COUNT), width};
}

const double title_text = 6.2, label_text = 4.6, small_text = 4.0;

static void set_text_size(double millimetres)
{
    plschr(millimetres, 1.0);
}

/* ---- the page ---- */

/* The devices that write files of each ending that --plot takes, the first bytes of such files, and the bytes near the end of
 * one that is complete. */
typedef struct file_kind {
    const char *device, *first_bytes, *last_bytes;
} file_kind;
/* SVG by the device that writes text as text; the other two through cairo. */
static const file_kind file_kinds[] = {
    {"svg", "<?xml", "</svg>"}, {"pngcairo", "\x89PNG", "IEND"}, {"pdfcairo", "%PDF", "%%EOF"}};

static const file_kind *kind_of(const char *path)
{
    return &file_kinds[output_ending(&option_plot, path)];
}

/* PLplot prints its warnings and exits the program on errors unless it is told not to. */
static int do_not_exit(const char *text)
{
    (void)text;
    return 0;
}

static void silence_plplot(void)
{
    static int code;
    static char message[320];
    plsError(&code, message);
    plsexit(do_not_exit);
}

/* PLplot would ask at the terminal for a device it does not have. */
static bool has_device(const char *device)
{
    enum { DEVICES_MAX = 64 };
    const char *menu[DEVICES_MAX] = {NULL}, *names[DEVICES_MAX] = {NULL}, **menu_list = menu, **name_list = names;
    int count = DEVICES_MAX;
    plgDevs(&menu_list, &name_list, &count);
    for (int i = 0; i < count && i < DEVICES_MAX; i++)
        if (names[i] && strcmp(names[i], device) == 0)
            return true;
    print_error("PLplot cannot draw with \"%s\": its driver is not installed (Debian: plplot-driver-cairo)", device);
    return false;
}

int picture_begin(picture *p, const command_options *o, int height)
{
    p->options = o;
    p->height = height;
    p->title[0] = p->description[0] = '\0';
    const file_kind *kind = kind_of(o->plot_path);
    silence_plplot();
    if (!has_device(kind->device))
        return EXIT_FAILED;
    int status = output_file_begin(&p->file, o->plot_path, kind->first_bytes, o->force);
    if (status != EXIT_DONE)
        return status;
    plsdev(kind->device);
    plsfnam(p->file.temporary);
    plspage(DOTS_PER_INCH, DOTS_PER_INCH, PAGE_WIDTH, height, 0, 0);
    plscolbg(255, 255, 255);
    plscmap0n(COLOUR_COUNT);
    plinit();
    plscmap0(red, green, blue, COLOUR_COUNT);
    pladv(0);
    plsmaj(1.8, 1.0);
    plsmin(0.0, 1.0);
    return EXIT_DONE;
}

/* Whether the end of the file has reached the disk. */
static bool is_complete(const picture *p)
{
    char end[65] = "";
    const char *last = kind_of(p->file.path)->last_bytes;
    FILE *drawn = fopen(p->file.temporary, "rb");
    if (!drawn)
        return false;
    if (fseek(drawn, -64, SEEK_END) != 0)
        rewind(drawn);
    size_t count = fread(end, 1, sizeof end - 1, drawn);
    fclose(drawn);
    return memmem(end, count, last, strlen(last)) != NULL;
}

int picture_end(picture *p)
{
    plend();
    if (was_interrupted()) {
        output_file_abandon(&p->file);
        return report_interrupt();
    }
    if (!is_complete(p)) {
        print_error("the picture \"%s\" could not be written whole: is the disk full?", p->file.path);
        output_file_abandon(&p->file);
        return EXIT_FAILED;
    }
    int status = picture_file_describe(&p->file, (picture_kind)output_ending(&option_plot, p->file.path), p->title, p->description,
                                       DOTS_PER_INCH);
    if (status != EXIT_DONE) {
        output_file_abandon(&p->file);
        return status;
    }
    status = output_file_finish(&p->file);
    if (status == EXIT_DONE)
        print_note(p->options, "picture drawn to \"%s\"", p->file.path);
    return status;
}

int picture_give_up(picture *p)
{
    plend();
    print_error("memory for the picture \"%s\" could not be allocated", p->file.path);
    output_file_abandon(&p->file);
    return EXIT_FAILED;
}

void use_page(const picture *p)
{
    plvpor(0.0, 1.0, 0.0, 1.0);
    plwind(0.0, PAGE_WIDTH, p->height, 0.0);
}

void use_place(const picture *p, const place *at, double x0, double x1, double y0, double y1)
{
    plvpor(at->left / PAGE_WIDTH, (at->left + at->width) / PAGE_WIDTH, 1.0 - (at->top + at->height) / p->height,
           1.0 - at->top / p->height);
    plwind(x0, x1, y0, y1);
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

void put_text(double x, double y, double justify, double size, int colour, const char *text)
{
    char copy[400];
    set_text_size(size);
    plcol0(colour);
    plptex(x, y, 1.0, 0.0, justify, plain(text, copy, sizeof copy));
}

void put_upright_text(double y, double size, int colour, const char *text)
{
    set_text_size(size);
    plcol0(colour);
    plptex(24.0, y, 0.0, -1.0, 0.5, text);
}

/* Letters of the font are two thirds as wide as the height it is set to. */
double width_of(const char *text, double size)
{
    size_t letters = 0;
    for (; *text; text++)
        letters += ((unsigned char)*text & 0xC0) != 0x80;
    return 0.67 * size / 25.4 * DOTS_PER_INCH * (double)letters;
}

void put_title(picture *p, const char *title, const char *subtitle)
{
    snprintf(p->title, sizeof p->title, "%s", title);
    snprintf(p->description, sizeof p->description, "%s", subtitle);
    use_page(p);
    put_text(LEFT, 28.0, 0.0, title_text, BLACK, title);
    put_text(LEFT, 57.0, 0.0, small_text, GREY, subtitle);
}

/* ---- lines and fillings ---- */

static void set_look(look l)
{
    plcol0(l.colour);
    plwidth(l.width);
    const line_pattern *pattern = &line_patterns[l.style];
    if (pattern->count > 0)
        plstyl(pattern->count, pattern->marks, pattern->gaps);
    else
        pllsty(1);
}

void draw_line(int count, const double *x, const double *y, look l)
{
    set_look(l);
    plline(count, x, y);
    pllsty(1);
    plwidth(1);
}

void draw_shaded_line(int count, const double *x, const double *y, look l, double shade)
{
    set_look(l);
    if (shade >= 0.0)
        plcol1(shade);
    plline(count, x, y);
    pllsty(1);
}

void fill_polygon(int count, const double *x, const double *y, int colour)
{
    plcol0(colour);
    plpsty(0);
    plfill(count, x, y);
}

void fill_box(double x0, double x1, double y0, double y1, int colour)
{
    const double x[] = {x0, x1, x1, x0}, y[] = {y0, y0, y1, y1};
    fill_polygon(4, x, y, colour);
}

void fill_shaded_polygon(int count, const double *x, const double *y, double shade)
{
    plcol1(shade);
    plpsty(0);
    plfill(count, x, y);
}

void fill_shaded_box(double x0, double x1, double y0, double y1, double shade)
{
    const double x[] = {x0, x1, x1, x0}, y[] = {y0, y0, y1, y1};
    fill_shaded_polygon(4, x, y, shade);
}

void fill_hatched_box(double x0, double x1, double y0, double y1, int colour, int slope, int spacing)
{
    const double x[] = {x0, x1, x1, x0, x0}, y[] = {y0, y0, y1, y1, y0};
    plcol0(colour);
    if (spacing == 0)
        plpsty(0);
    else
        plpat(1, &slope, &spacing);
    plfill(4, x, y);
    plline(5, x, y);
}

void fill_disc(double x, double y, double radius, int colour)
{
    enum { CORNERS = 32 };
    double xs[CORNERS], ys[CORNERS];
    for (int i = 0; i < CORNERS; i++) {
        xs[i] = x + radius * cos(2.0 * M_PI * i / CORNERS);
        ys[i] = y + radius * sin(2.0 * M_PI * i / CORNERS);
    }
    fill_polygon(CORNERS, xs, ys, colour);
}

void fill_ring(double x, double y, double radius, int colour)
{
    fill_disc(x, y, radius, colour);
    fill_disc(x, y, 0.62 * radius, WHITE);
}

/* ---- shades ---- */

void set_heat_colours(void)
{
    const double at[] = {0.0, 0.25, 0.5, 0.75, 1.0}, r[] = {0.05, 0.28, 0.60, 0.90, 1.0},
                g[] = {0.10, 0.25, 0.33, 0.55, 0.92}, b[] = {0.35, 0.47, 0.42, 0.25, 0.60};
    plscmap1n(200);
    plscmap1l(1, 5, at, r, g, b, NULL);
}

void set_water_colours(void)
{
    const double at[] = {0.0, 0.5, 1.0}, r[] = {0.97, 0.45, 0.03}, g[] = {0.94, 0.68, 0.22}, b[] = {0.82, 0.76, 0.45};
    plscmap1n(200);
    plscmap1l(1, 3, at, r, g, b, NULL);
}

void draw_bar(const picture *p, double left, double top, double low, double high, const char *label)
{
    enum { BAR_WIDTH = 380, BAR_HEIGHT = 15, STEPS = 100 };
    use_place(p, &(place){left, top, BAR_WIDTH, BAR_HEIGHT}, low, high, 0.0, 1.0);
    for (int k = 0; k < STEPS; k++) {
        double from = low + (high - low) * k / STEPS, to = low + (high - low) * (k + 1) / STEPS;
        fill_shaded_box(from, to, 0.0, 1.0, (k + 0.5) / STEPS);
    }
    plcol0(BLACK);
    set_text_size(small_text);
    plbox("bcnt", 0.0, 0, "bc", 0.0, 0);
    use_page(p);
    put_text(left + 0.5 * BAR_WIDTH, top + BAR_HEIGHT + 36.0, 0.5, small_text, BLACK, label);
}

/* ---- a frame: hours across, temperature up ---- */

void use_frame(const picture *p, const frame *f)
{
    plvpor(LEFT / (double)PAGE_WIDTH, RIGHT / (double)PAGE_WIDTH, 1.0 - f->bottom / p->height,
           1.0 - f->top / p->height);
    plwind(0.0, f->hours, f->low, f->high);
}

double page_x(const frame *f, double hours)
{
    return LEFT + (RIGHT - LEFT) * hours / f->hours;
}

double page_y(const frame *f, double temperature)
{
    return f->bottom - (f->bottom - f->top) * (temperature - f->low) / (f->high - f->low);
}

/* Between the numbers on the axis of hours. */
static double hour_step(const frame *f)
{
    static const double steps[] = {0.5, 1.0, 2.0, 4.0, 6.0, 12.0};
    size_t i = 0;
    while (i + 1 < sizeof steps / sizeof *steps && f->hours / steps[i] > 14.0)
        i++;
    return steps[i];
}

const char *degree(sw_unit_system units)
{
    return units == SW_UNITS_US ? "°F" : "°C";
}

void draw_grid(const picture *p, const frame *f)
{
    use_frame(p, f);
    plcol0(PALE);
    plwidth(0.8);
    plbox("g", hour_step(f), 0, "g", 0.0, 0);
    plwidth(1);
}

void put_hours_caption(double y)
{
    put_text(0.5 * (LEFT + RIGHT), y, 0.5, label_text, BLACK, "hours since the meat went on");
}

void draw_axes(const picture *p, const frame *f, const char *quantity, bool has_hours)
{
    char label[96];
    use_frame(p, f);
    plcol0(BLACK);
    set_text_size(label_text);
    plbox(has_hours ? "bcnt" : "bct", hour_step(f), 0, "bcntv", 0.0, 0);
    snprintf(label, sizeof label, "%s, %s", quantity, degree(p->options->units));
    use_page(p);
    put_upright_text(0.5 * (f->top + f->bottom), label_text, BLACK, label);
    if (has_hours)
        put_hours_caption(f->bottom + 46.0);
}

void draw_hour_lines(const picture *p, const frame *f)
{
    use_frame(p, f);
    plcol0(PALE);
    plbox("g", hour_step(f), 0, "", 0.0, 0);
}

void draw_hour_axis(const picture *p, const frame *f)
{
    use_frame(p, f);
    plcol0(BLACK);
    set_text_size(label_text);
    plbox("bcnt", hour_step(f), 0, "bc", 0.0, 0);
    use_page(p);
    put_hours_caption(f->bottom + 46.0);
}

void draw_axes_open_right(const picture *p, const frame *f)
{
    use_frame(p, f);
    plcol0(BLACK);
    set_text_size(label_text);
    plbox("bcnt", hour_step(f), 0, "bntv", 0.0, 0);
    plbox("", 0.0, 0, "c", 0.0, 0);
}

double put_sample(double x, double y, look l, const char *text)
{
    const double xs[] = {x, x + 46.0}, ys[] = {y, y};
    draw_line(2, xs, ys, l);
    put_text(x + 54.0, y, 0.0, small_text, BLACK, text);
    return x + 54.0 + width_of(text, small_text) + 28.0;
}
