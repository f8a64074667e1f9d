#include "plot.h"

#include "output_file.h"
#include "quantity.h"
#include "sweep_table.h"

#include <plplot.h>

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Colours told apart also by colour-blind eyes and, with the line styles, in grey. */
enum { WHITE, BLACK, GREY, PALE, BLUE, ORANGE, GREEN, PURPLE, SAND, FAINT_BLUE, LIGHT_BLUE, COLOUR_COUNT };

static const PLINT red[COLOUR_COUNT] = {255, 20, 105, 228, 20, 205, 30, 150, 244, 214, 150};
static const PLINT green[COLOUR_COUNT] = {255, 20, 105, 228, 80, 95, 130, 60, 226, 228, 185};
static const PLINT blue[COLOUR_COUNT] = {255, 20, 105, 228, 160, 10, 90, 150, 190, 244, 226};

/* Marks and gaps of a line [micrometres]. */
typedef struct line_style {
    PLINT count;
    PLINT marks[3], gaps[3];
} line_style;

static const line_style line_styles[] = {
    {0, {0}, {0}},                            /* solid */
    {1, {3200}, {1300}},                      /* long dashes */
    {1, {700}, {900}},                        /* dots */
    {2, {2600, 700}, {1000, 1000}},           /* dash, dot */
    {1, {1500}, {1000}},                      /* short dashes */
    {3, {2600, 700, 700}, {900, 900, 900}},   /* dash, dot, dot */
};
static const PLINT line_colours[] = {BLUE, ORANGE, GREEN, PURPLE, BLACK, GREY};
enum { STYLE_COUNT = sizeof line_styles / sizeof *line_styles };

/* How a curve looks. */
typedef struct look {
    PLINT colour;
    const line_style *style;
    PLFLT width;
} look;

/* The look of the n-th of many: all of the first thirty-six differ. */
static look look_of(size_t n, PLFLT width)
{
    return (look){line_colours[n % STYLE_COUNT], &line_styles[(n + n / STYLE_COUNT) % STYLE_COUNT], width};
}

static const look top_surface_look = {ORANGE, &line_styles[4], 1.8}, air_look = {GREY, &line_styles[1], 1.4};

/* Heights of letters [mm]. */
static const PLFLT title_text = 6.2, label_text = 4.6, small_text = 4.0;

static void set_text_size(PLFLT millimetres)
{
    plschr(millimetres, 1.0);
}

/* ---- the page ---- */

/* A page is laid out in dots from its upper left corner. The devices size letters for 72 dots to the inch. */
enum { PAGE_WIDTH = 1000, DOTS_PER_INCH = 72, LEFT = 85, RIGHT = 975, TOP = 78 };

typedef struct picture {
    output_file file;
    const command_options *options;
    PLFLT height;
} picture;

/* Endings of file names, the devices that write them, and the bytes near the end of a file that is complete. */
static const struct {
    const char *ending, *device, *last_bytes;
} file_kinds[] = {{".svg", "svgcairo", "</svg>"}, {".png", "pngcairo", "IEND"}, {".pdf", "pdfcairo", "%%EOF"}};

static int file_kind(const char *path)
{
    size_t length = strlen(path);
    for (int i = 0; i < (int)(sizeof file_kinds / sizeof *file_kinds); i++)
        if (length > 4 && strcmp(path + length - 4, file_kinds[i].ending) == 0)
            return i;
    return -1;
}

bool plot_path_is_good(const char *path)
{
    if (file_kind(path) >= 0)
        return true;
    print_error("--plot is \"%s\"; a picture is a .svg, .png or .pdf file", path);
    return false;
}

/* PLplot prints its warnings and exits the program on errors unless it is told not to. */
static int do_not_exit(const char *text)
{
    (void)text;
    return 0;
}

static void silence_plplot(void)
{
    static PLINT code;
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
    plgFileDevs(&menu_list, &name_list, &count);
    for (int i = 0; i < count && i < DEVICES_MAX; i++)
        if (names[i] && strcmp(names[i], device) == 0)
            return true;
    print_error("PLplot cannot draw with \"%s\": its driver is not installed (Debian: plplot-driver-cairo)", device);
    return false;
}

static int picture_begin(picture *p, const command_options *o, PLINT height)
{
    p->options = o;
    p->height = height;
    const char *device = file_kinds[file_kind(o->plot_path)].device;
    silence_plplot();
    if (!has_device(device))
        return EXIT_FAILED;
    int status = output_file_begin(&p->file, o->plot_path, o->force);
    if (status != EXIT_DONE)
        return status;
    plsdev(device);
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
    const char *last = file_kinds[file_kind(p->file.path)].last_bytes;
    FILE *drawn = fopen(p->file.temporary, "rb");
    if (!drawn)
        return false;
    if (fseek(drawn, -64, SEEK_END) != 0)
        rewind(drawn);
    size_t count = fread(end, 1, sizeof end - 1, drawn);
    fclose(drawn);
    return memmem(end, count, last, strlen(last)) != NULL;
}

static int picture_end(picture *p)
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
    int status = output_file_finish(&p->file);
    if (status == EXIT_DONE)
        print_note(p->options, "picture drawn to \"%s\"", p->file.path);
    return status;
}

/* What is drawn next is placed in dots on the page, downwards from the top. */
static void use_page(const picture *p)
{
    plvpor(0.0, 1.0, 0.0, 1.0);
    plwind(0.0, PAGE_WIDTH, p->height, 0.0);
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

/* A text on the page; justify 0: x is its left end, 0.5: its middle, 1: its right end. */
static void put_text(PLFLT x, PLFLT y, PLFLT justify, PLFLT size, PLINT colour, const char *text)
{
    char copy[400];
    set_text_size(size);
    plcol0(colour);
    plptex(x, y, 1.0, 0.0, justify, plain(text, copy, sizeof copy));
}

/* About how wide a text is [dots]; letters of the font are two thirds as wide as the height it is set to. */
static PLFLT width_of(const char *text, PLFLT size)
{
    size_t letters = 0;
    for (; *text; text++)
        letters += ((unsigned char)*text & 0xC0) != 0x80;
    return 0.67 * size / 25.4 * DOTS_PER_INCH * (PLFLT)letters;
}

static void put_title(const picture *p, const char *title, const char *subtitle)
{
    use_page(p);
    put_text(LEFT, 28.0, 0.0, title_text, BLACK, title);
    put_text(LEFT, 57.0, 0.0, small_text, GREY, subtitle);
}

static void set_look(look l)
{
    plcol0(l.colour);
    plwidth(l.width);
    if (l.style->count > 0)
        plstyl(l.style->count, l.style->marks, l.style->gaps);
    else
        pllsty(1);
}

static void draw_line(PLINT count, const PLFLT *x, const PLFLT *y, look l)
{
    set_look(l);
    plline(count, x, y);
    pllsty(1);
    plwidth(1);
}

static void fill_box(PLFLT x0, PLFLT x1, PLFLT y0, PLFLT y1, PLINT colour)
{
    const PLFLT x[] = {x0, x1, x1, x0}, y[] = {y0, y0, y1, y1};
    plcol0(colour);
    plpsty(0);
    plfill(4, x, y);
}

/* A disc about a point; in a window whose units are as long across as up. */
static void fill_disc(PLFLT x, PLFLT y, PLFLT radius, PLINT colour)
{
    enum { CORNERS = 32 };
    PLFLT xs[CORNERS], ys[CORNERS];
    for (int i = 0; i < CORNERS; i++) {
        xs[i] = x + radius * cos(2.0 * M_PI * i / CORNERS);
        ys[i] = y + radius * sin(2.0 * M_PI * i / CORNERS);
    }
    plcol0(colour);
    plpsty(0);
    plfill(CORNERS, xs, ys);
}

/* A white disc with a rim. */
static void fill_ring(PLFLT x, PLFLT y, PLFLT radius, PLINT colour)
{
    fill_disc(x, y, radius, colour);
    fill_disc(x, y, 0.62 * radius, WHITE);
}

/* ---- a frame: hours across, temperature up ---- */

typedef struct frame {
    PLFLT top, bottom; /* on the page */
    PLFLT hours;       /* from 0 */
    PLFLT low, high;   /* temperatures, in the units shown */
} frame;

static void use_frame(const picture *p, const frame *f)
{
    plvpor(LEFT / (PLFLT)PAGE_WIDTH, RIGHT / (PLFLT)PAGE_WIDTH, 1.0 - f->bottom / p->height, 1.0 - f->top / p->height);
    plwind(0.0, f->hours, f->low, f->high);
}

static PLFLT page_x(const frame *f, PLFLT hours)
{
    return LEFT + (RIGHT - LEFT) * hours / f->hours;
}

static PLFLT page_y(const frame *f, PLFLT temperature)
{
    return f->bottom - (f->bottom - f->top) * (temperature - f->low) / (f->high - f->low);
}

/* Between the numbers on the axis of hours. */
static PLFLT hour_step(const frame *f)
{
    static const PLFLT steps[] = {0.5, 1.0, 2.0, 4.0, 6.0, 12.0};
    size_t i = 0;
    while (i + 1 < sizeof steps / sizeof *steps && f->hours / steps[i] > 14.0)
        i++;
    return steps[i];
}

static const char *degree(sw_unit_system units)
{
    return units == SW_UNITS_US ? "°F" : "°C";
}

static void draw_grid(const picture *p, const frame *f)
{
    use_frame(p, f);
    plcol0(PALE);
    plwidth(0.8);
    plbox("g", hour_step(f), 0, "g", 0.0, 0);
    plwidth(1);
}

/* Frame and numbers, over what was drawn in it. */
static void draw_axes(const picture *p, const frame *f, const char *quantity, bool has_hours)
{
    char label[96];
    use_frame(p, f);
    plcol0(BLACK);
    set_text_size(label_text);
    plbox(has_hours ? "bcnt" : "bct", hour_step(f), 0, "bcntv", 0.0, 0);
    snprintf(label, sizeof label, "%s, %s", quantity, degree(p->options->units));
    use_page(p);
    plptex(24.0, 0.5 * (f->top + f->bottom), 0.0, -1.0, 0.5, label);
    if (has_hours)
        put_text(0.5 * (LEFT + RIGHT), f->bottom + 46.0, 0.5, label_text, BLACK, "hours since the meat went on");
}

/* One series of a history, up to a time [h]. */
static void draw_series(const sw_history *h, const double *series, PLFLT until, sw_unit_system units, look l)
{
    PLFLT *x = malloc(h->row_count * sizeof *x), *y = malloc(h->row_count * sizeof *y);
    PLINT count = 0;
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

static double highest_value(const sw_history *h, sw_series series)
{
    double highest = h->series[series][0];
    for (size_t i = 1; i < h->row_count; i++)
        highest = fmax(highest, h->series[series][i]);
    return highest;
}

static double last_hour(const sw_history *h)
{
    return h->series[SW_SERIES_time][h->row_count - 1] / 3600.0;
}

/* ---- one cook ---- */

enum { MARK_ROOM = 30 };

/* An upright line with a word at its top, to its right; to its left if the word would meet the next line or the edge. */
static void draw_mark(const frame *f, PLFLT x, PLFLT next, const char *word)
{
    const PLFLT xs[] = {x, x}, ys[] = {f->bottom, f->top};
    draw_line(2, xs, ys, (look){GREY, &line_styles[4], 1.0});
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

static void draw_marks(const picture *p, const frame *f, const cook_run *run)
{
    const sw_outcome *o = &run->outcome;
    const char *anew = run->history->scenario.rewrap.kind == SW_WRAP_NONE ? "unwrapped" : "rewrapped";
    const struct {
        double time;
        const char *word;
    } marks[] = {
        {o->wrap_time, "wrapped"},
        {rewrap_time(run->history), anew},
        {o->done_time, "pulled"},
        /* The end of the rest is the end of it all if there is no hold. */
        {o->rest_end < o->slice_time ? o->rest_end : SW_ABSENT, "rested"},
    };
    PLFLT next = RIGHT;
    use_page(p);
    if (!SW_IS_ABSENT(o->stall_start))
        put_text(page_x(f, 0.5 * (o->stall_start + o->stall_end) / 3600.0), f->bottom - 15.0, 0.5, small_text, BLACK,
                 "stall");
    for (size_t i = sizeof marks / sizeof *marks; i-- > 0;) {
        if (SW_IS_ABSENT(marks[i].time))
            continue;
        PLFLT x = page_x(f, marks[i].time / 3600.0);
        draw_mark(f, x, next, marks[i].word);
        next = x;
    }
}

static void draw_stall_band(const picture *p, const frame *f, const sw_outcome *o)
{
    if (SW_IS_ABSENT(o->stall_start))
        return;
    PLFLT x0 = page_x(f, o->stall_start / 3600.0), x1 = page_x(f, o->stall_end / 3600.0);
    use_page(p);
    fill_box(x0, x1, f->top, f->bottom, SAND);
}

/* One entry of the row of line samples under a frame; returns where the next begins. */
static PLFLT put_sample(PLFLT x, PLFLT y, look l, const char *text)
{
    const PLFLT xs[] = {x, x + 46.0}, ys[] = {y, y};
    draw_line(2, xs, ys, l);
    put_text(x + 54.0, y, 0.0, small_text, BLACK, text);
    return x + 54.0 + width_of(text, small_text) + 28.0;
}

static void draw_probes(const picture *p, const frame *f, const sw_history *h, PLFLT sample_y)
{
    sw_unit_system units = p->options->units;
    PLFLT x = LEFT;
    for (size_t i = 0; i < h->probe_count; i++) {
        /* Orange and long dashes are taken. */
        static const int looks[SW_PROBES_MAX] = {0, 3, 2, 4};
        look l = {line_colours[looks[i]], &line_styles[i == 0 ? 0 : i == 1 ? 3 : i == 2 ? 2 : 5], 2.6};
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

static void draw_cook_curves(const picture *p, const cook_run *run, PLFLT bottom)
{
    const sw_history *h = run->history;
    sw_unit_system units = p->options->units;
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
    snprintf(subtitle, sizeof subtitle, "%s, %s, %s thick; wrap: %s; pulled after %s", run->scenario.meat.name,
             show_mass(run->scenario.meat.mass, units, mass), show_length(h->scenario.meat.thickness, units, thickness),
             sw_wrap_name(run->scenario.wrap.kind), show_duration(run->outcome.done_time, done));
    put_title(p, run->scenario.title, subtitle);
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

static outline the_outline; /* of the section being drawn */

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

static bool is_meat(double x, double y)
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

/* Where maps stand on the page, in columns and two rows. */
enum { MAP_LEFT = 30, MAP_COLUMN = 320, MAP_WIDTH = 310, HEAT_TOP = 612, WATER_TOP = 778, MAP_HEIGHT = 138, BAR_TOP = 940 };

/* Dots on the page for a metre of meat: as many as fit, with a margin, across and up. */
static PLFLT dots_per_metre(void)
{
    const outline *o = &the_outline;
    return fmin(MAP_WIDTH / (1.08 * (o->right - o->left)), MAP_HEIGHT / (1.08 * (o->high - o->low)));
}

/* A window in metres whose middle is that of the section, on the whole place of a map. */
static void use_map(const picture *p, size_t column, PLFLT top)
{
    const outline *o = &the_outline;
    PLFLT left = MAP_LEFT + MAP_COLUMN * (PLFLT)column, scale = dots_per_metre();
    PLFLT x = 0.5 * (o->left + o->right), y = 0.5 * (o->low + o->high);
    PLFLT half_width = 0.5 * MAP_WIDTH / scale, half_height = 0.5 * MAP_HEIGHT / scale;
    plvpor(left / PAGE_WIDTH, (left + MAP_WIDTH) / PAGE_WIDTH, 1.0 - (top + MAP_HEIGHT) / p->height, 1.0 - top / p->height);
    plwind(x - half_width, x + half_width, y - half_height, y + half_height);
}

/* What a map shows: temperature or water, on a scale of colours. */
typedef struct map_scale {
    bool is_heat;
    double low, high;
} map_scale;

static void set_colours(const map_scale *m)
{
    if (m->is_heat)
        set_heat_colours();
    else
        set_water_colours();
}

/* Level of a place on a scale, -1 outside the meat. */
static int level_at(const sw_history *h, const double *values, const map_scale *m, sw_unit_system units, double x, double y)
{
    if (!is_meat(x, y))
        return -1;
    double v = value_at(h, values, x, y), share = ((m->is_heat ? axis_temperature(v, units) : v) - m->low) / (m->high - m->low);
    return (int)(fmin(fmax(share, 0.0), 1.0) * (MAP_LEVELS - 1) + 0.5);
}

/* Fills the outline with the colours of the values, in strips of one colour: a contouring routine would fill every grid
 * cell on its own and make vector pictures of 27 MB. The window of the map is in use. */
static void shade_values(const sw_history *h, const double *values, const map_scale *m, sw_unit_system units)
{
    const outline *o = &the_outline;
    const double dx = (o->right - o->left) / MAP_X, dy = (o->high - o->low) / MAP_Y;
    set_colours(m);
    plpsty(0);
    for (int j = 0; j < MAP_Y; j++) {
        int start = 0, level = -1;
        for (int i = 0; i <= MAP_X; i++) {
            int next = i < MAP_X ? level_at(h, values, m, units, o->left + (i + 0.5) * dx, o->low + (j + 0.5) * dy) : -1;
            if (next == level)
                continue;
            if (level >= 0) {
                /* A little too large, to the right and up, so that no seam shows; the next strip covers it. */
                PLFLT left = o->left + start * dx, right = o->left + (i + 0.2) * dx;
                PLFLT low = o->low + j * dy, high = o->low + (j + 1.3) * dy;
                const PLFLT x[] = {left, right, right, left}, y[] = {low, low, high, high};
                plcol1((PLFLT)level / (MAP_LEVELS - 1));
                plfill(4, x, y);
            }
            level = next;
            start = i;
        }
    }
}

static void draw_outline(void)
{
    const outline *o = &the_outline;
    PLFLT x[SW_OUTLINE_MAX + 1], y[SW_OUTLINE_MAX + 1];
    for (size_t i = 0; i <= o->count; i++) {
        x[i] = o->point[i % o->count][0];
        y[i] = o->point[i % o->count][1];
    }
    draw_line((PLINT)o->count + 1, x, y, (look){WHITE, &line_styles[0], 4.0});
    draw_line((PLINT)o->count + 1, x, y, (look){BLACK, &line_styles[0], 1.2});
}

static void draw_map(const picture *p, const cook_run *run, const double *values, const map_scale *m, size_t column)
{
    const sw_history *h = run->history;
    use_map(p, column, m->is_heat ? HEAT_TOP : WATER_TOP);
    shade_values(h, values, m, p->options->units);
    draw_outline();
    for (size_t i = 0; i < h->probe_count; i++)
        fill_ring(h->probes[i].across, h->probes[i].height, 4.0 / dots_per_metre(), BLACK);
}

/* A bar of the colours in use, with its scale, from a place on the page. */
static void draw_bar(const picture *p, PLFLT left, PLFLT top, PLFLT low, PLFLT high, const char *label)
{
    enum { BAR_WIDTH = 380, BAR_HEIGHT = 15, STEPS = 100 };
    plvpor(left / PAGE_WIDTH, (left + BAR_WIDTH) / PAGE_WIDTH, 1.0 - (top + BAR_HEIGHT) / p->height, 1.0 - top / p->height);
    plwind(low, high, 0.0, 1.0);
    for (int k = 0; k < STEPS; k++) {
        PLFLT from = low + (high - low) * k / STEPS, to = low + (high - low) * (k + 1) / STEPS;
        const PLFLT x[] = {from, to, to, from}, y[] = {0.0, 0.0, 1.0, 1.0};
        plcol1((k + 0.5) / STEPS);
        plfill(4, x, y);
    }
    plcol0(BLACK);
    set_text_size(small_text);
    plbox("bcnt", 0.0, 0, "bc", 0.0, 0);
    use_page(p);
    put_text(left + 0.5 * BAR_WIDTH, top + BAR_HEIGHT + 36.0, 0.5, small_text, BLACK, label);
}

static void draw_colour_bar(const picture *p, const map_scale *m, PLFLT left, const char *label)
{
    set_colours(m);
    draw_bar(p, left, BAR_TOP, m->low, m->high, label);
}

/* A bar of a round length, at most a third of a map. */
static void draw_length_bar(const picture *p)
{
    bool is_us = p->options->units == SW_UNITS_US;
    static const double lengths[] = {10.0, 5.0, 2.0, 1.0};
    const double unit = is_us ? 0.0254 : 0.01;
    size_t i = 0;
    while (i + 1 < sizeof lengths / sizeof *lengths && lengths[i] * unit * dots_per_metre() > MAP_WIDTH / 3.0)
        i++;
    char text[32];
    PLFLT length = lengths[i] * unit * dots_per_metre(), y = WATER_TOP - 14.0;
    snprintf(text, sizeof text, is_us ? "%.0f in" : "%.0f cm", lengths[i]);
    const PLFLT xs[] = {MAP_LEFT, MAP_LEFT + length}, ys[] = {y, y};
    use_page(p);
    draw_line(2, xs, ys, (look){BLACK, &line_styles[0], 3.0});
    put_text(MAP_LEFT + length + 8.0, y, 0.0, small_text, BLACK, text);
}

/* Reads moments as typed [h]; returns their number, 0 if they cannot be read. */
static size_t read_moments(const char *typed, double moments[MOMENTS])
{
    size_t count = 0;
    for (;;) {
        char *end;
        double hours = strtod(typed, &end);
        if (end == typed || count == MOMENTS || !(hours >= 0.0 && hours < 1e4) || (*end && *end != ','))
            return 0;
        moments[count++] = hours;
        if (!*end)
            return count;
        typed = end + 1;
    }
}

bool plot_hours_are_good(const command_options *o, sw_shape shape)
{
    double moments[MOMENTS];
    if (!o->hours)
        return true;
    if (!o->plot_path || !sw_shape_is_section(shape)) {
        print_error("--hours picks the moments of the maps that --plot draws of a section; %s",
                    o->plot_path ? "meat.shape is none" : "--plot is not given");
        return false;
    }
    if (read_moments(o->hours, moments) > 0)
        return true;
    print_error("--hours is \"%s\"; write one to %d numbers of hours with commas between, such as 2,6,10", o->hours, MOMENTS);
    return false;
}

/* The moments to draw: as typed, or thirds of the time on the pit [h]. */
static size_t choose_moments(const cook_run *run, const char *typed, double moments[MOMENTS])
{
    if (typed)
        return read_moments(typed, moments);
    for (size_t i = 0; i < MOMENTS; i++)
        moments[i] = run->outcome.done_time / 3600.0 * (double)(i + 1) / MOMENTS;
    return MOMENTS;
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

static void draw_section_maps(const picture *p, const cook_run *run, const double *moments, size_t count)
{
    const sw_history *h = run->history;
    sw_unit_system units = p->options->units;
    double hottest = 0.0, wettest = 0.0;
    take_outline(run);
    for (size_t m = 0; m < count; m++) {
        size_t at = field_near(h, moments[m]) * h->cell_count;
        for (size_t i = 0; i < h->cell_count; i++) {
            hottest = fmax(hottest, h->field_temperature[at + i]);
            wettest = fmax(wettest, h->field_water_content[at + i]);
        }
    }
    const map_scale heat = {true, axis_temperature(273.15, units), axis_temperature(hottest, units)};
    const map_scale water = {false, 0.0, wettest};
    for (size_t m = 0; m < count; m++) {
        size_t field = field_near(h, moments[m]), at = field * h->cell_count;
        char caption[64];
        draw_map(p, run, h->field_temperature + at, &heat, m);
        draw_map(p, run, h->field_water_content + at, &water, m);
        snprintf(caption, sizeof caption, "after %.1f h", h->field_time[field] / 3600.0);
        use_page(p);
        put_text(MAP_LEFT + MAP_COLUMN * (PLFLT)m + 0.5 * MAP_WIDTH, HEAT_TOP - 12.0, 0.5, small_text, BLACK, caption);
    }
    char label[64];
    snprintf(label, sizeof label, "temperature, %s (upper row)", degree(units));
    draw_colour_bar(p, &heat, 80.0, label);
    draw_colour_bar(p, &water, 540.0, "water, kg per kg dry matter (lower row)");
    draw_length_bar(p);
}

int plot_cook(const command_options *o, const cook_run *run)
{
    picture p;
    bool section = sw_shape_is_section(run->scenario.meat.shape);
    int status = picture_begin(&p, o, section ? 1010 : 640);
    if (status != EXIT_DONE)
        return status;
    draw_cook_curves(&p, run, section ? 480.0 : 540.0);
    if (section) {
        double moments[MOMENTS];
        size_t count = choose_moments(run, o->hours, moments);
        draw_section_maps(&p, run, moments, count);
    }
    return picture_end(&p);
}

/* ---- several cooks ---- */

enum { DOT = 5, CHOICE_ROW = 38, CURVES_BOTTOM = 490, ROWS_TOP = CURVES_BOTTOM + 12 };

static void draw_choice_curve(const picture *p, const frame *f, const cook_run *run, look l)
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
static void draw_choice_row(const frame *f, const cook_run *run, look l, PLFLT top)
{
    const sw_outcome *o = &run->outcome;
    char text[200], done[QUANTITY_SIZE], stall[QUANTITY_SIZE], kept[QUANTITY_SIZE];
    PLFLT y = top + 29.0;
    if (!run->history) {
        snprintf(text, sizeof text, "%s: failed", run->label);
        put_text(LEFT + 8.0, top + 12.0, 0.0, small_text, GREY, text);
        return;
    }
    snprintf(text, sizeof text, "%s: done after %s, %s%s, yield %s", run->label, show_duration(o->done_time, done),
             SW_IS_ABSENT(o->stall_length) ? "no stall" : "stall ",
             SW_IS_ABSENT(o->stall_length) ? "" : show_duration(o->stall_length, stall),
             show_share(o->yield_fraction, kept));
    put_text(LEFT + 8.0, top + 12.0, 0.0, small_text, BLACK, text);
    if (!SW_IS_ABSENT(o->stall_start))
        fill_box(page_x(f, o->stall_start / 3600.0), page_x(f, o->stall_end / 3600.0), y - 6.0, y + 6.0, SAND);
    const PLFLT xs[] = {LEFT, page_x(f, o->done_time / 3600.0)}, ys[] = {y, y};
    draw_line(2, xs, ys, l);
    fill_disc(xs[1], y, DOT, l.colour);
    if (!SW_IS_ABSENT(o->wrap_time))
        fill_ring(page_x(f, o->wrap_time / 3600.0), y, DOT, BLACK);
}

static void draw_choice_rows(const picture *p, const frame *curves, const cook_run *runs, size_t count)
{
    frame rows = {.top = ROWS_TOP, .bottom = ROWS_TOP + CHOICE_ROW * (PLFLT)count + 4.0, .hours = curves->hours, .high = 1.0};
    use_frame(p, &rows);
    plcol0(PALE);
    plbox("g", hour_step(&rows), 0, "", 0.0, 0);
    use_page(p);
    for (size_t i = 0; i < count; i++)
        draw_choice_row(&rows, &runs[i], look_of(i, 2.6), rows.top + CHOICE_ROW * (PLFLT)i);
    use_frame(p, &rows);
    plcol0(BLACK);
    set_text_size(label_text);
    plbox("bcnt", hour_step(&rows), 0, "bc", 0.0, 0);
    use_page(p);
    put_text(0.5 * (LEFT + RIGHT), rows.bottom + 46.0, 0.5, label_text, BLACK, "hours since the meat went on");
}

int plot_compare(const command_options *o, const cook_run *runs, size_t count)
{
    picture p;
    int status = picture_begin(&p, o, ROWS_TOP + CHOICE_ROW * (PLINT)count + 72);
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
    snprintf(subtitle, sizeof subtitle, "%s, %s, pit at %s. Ring: wrapped; dot: pulled; bar: stall", s->meat.name,
             show_mass(s->meat.mass, o->units, mass), show_temperature(s->pit.steps[0].temperature, o->units, pit));
    put_title(&p, s->title, subtitle);
    return picture_end(&p);
}

/* ---- sweeps ---- */

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
    PLFLT *x = malloc((count + 1) * sizeof *x), *y = malloc((count + 1) * sizeof *y);
    for (size_t i = 0; x && y && i < count; i++) {
        x[i] = (double)i * SW_STUDY_CURVE_INTERVAL / 3600.0;
        y[i] = axis_temperature(r->curves[SW_CURVE_PROBE][i], units);
    }
    if (x && y) {
        x[count] = r->outcome.done_time / 3600.0;
        y[count] = axis_temperature(r->outcome.done_probe, units);
        set_look(l);
        if (shade >= 0.0)
            plcol1(shade);
        plline((PLINT)count + 1, x, y);
        pllsty(1);
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
    const PLFLT width = v->run_count > 40 ? 1.2 : 2.2;
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

static void draw_family_key(const picture *p, const sweep_view *v, const sweep_plane *plane, size_t coloured_by, PLFLT y)
{
    char text[QUANTITY_SIZE], last[QUANTITY_SIZE], caption[200];
    PLFLT x = LEFT;
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
    PLFLT width, height; /* of a cell */
    double longest;      /* stall [h] */
} cell_grid;

/* Fills a cell: from dark for no time to light for the longest; white without a stall, grey if the cook failed. */
static void draw_cell(const sweep_view *v, const cell_grid *g, size_t run, PLFLT x, PLFLT y)
{
    const double hours = v->figures[SWEEP_stall_length][run] / 3600.0, share = hours / g->longest;
    const bool stalled = !SW_IS_ABSENT(hours);
    char text[32] = "none";
    fill_box(x, x + g->width, y, y + g->height, v->has_failed[run] ? PALE : WHITE);
    if (stalled) {
        const PLFLT xs[] = {x, x + g->width, x + g->width, x}, ys[] = {y, y, y + g->height, y + g->height};
        plcol1(share);
        plfill(4, xs, ys);
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
    while (column_step < g->columns && (PLFLT)column_step * g->width < 110.0)
        column_step++;
    for (size_t r = 0; r < g->rows; r += row_step)
        put_text(CELLS_LEFT - 10.0, MAP_TOP + ((PLFLT)r + 0.5) * g->height, 1.0, small_text, BLACK,
                 show_listed_value(v->study, plane->down, r, p->options->units, text));
    for (size_t c = 0; c < g->columns; c += column_step)
        put_text(CELLS_LEFT + ((PLFLT)c + 0.5) * g->width, MAP_TOP + (PLFLT)g->rows * g->height + 16.0, 0.5, small_text,
                 BLACK, show_listed_value(v->study, plane->across, c, p->options->units, text));
}

static void draw_stall_map(const picture *p, const sweep_view *v, const sweep_plane *plane)
{
    char caption[200];
    const size_t rows = sw_study_factor(v->study, plane->down).value_count;
    const size_t columns = sw_study_factor(v->study, plane->across).value_count;
    const double longest = longest_done(v, SWEEP_stall_length);
    const cell_grid g = {rows, columns, (RIGHT - CELLS_LEFT) / (PLFLT)columns, CELLS_HEIGHT / (PLFLT)rows,
                         longest > 0.0 ? longest : 1.0};
    set_heat_colours();
    use_page(p);
    plpsty(0);
    for (size_t r = 0; r < rows; r++)
        for (size_t c = 0; c < columns; c++)
            draw_cell(v, &g, sweep_plane_run(v->study, plane, r, c, 0), CELLS_LEFT + (PLFLT)c * g.width,
                      MAP_TOP + (PLFLT)r * g.height);
    const PLFLT x[] = {CELLS_LEFT, RIGHT, RIGHT, CELLS_LEFT, CELLS_LEFT};
    const PLFLT bottom = MAP_TOP + CELLS_HEIGHT, y[] = {MAP_TOP, MAP_TOP, bottom, bottom, MAP_TOP};
    draw_line(5, x, y, (look){BLACK, &line_styles[0], 1.2});
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

static void draw_sweep_row(const frame *f, const sweep_view *v, size_t run, PLFLT top, const char *label)
{
    const double start = v->figures[SWEEP_stall_start][run], length = v->figures[SWEEP_stall_length][run];
    const double done = v->figures[SWEEP_done_time][run];
    char text[160], done_text[QUANTITY_SIZE], stall[QUANTITY_SIZE];
    const PLFLT y = top + 29.0;
    if (v->has_failed[run])
        snprintf(text, sizeof text, "%s: failed", label);
    else
        snprintf(text, sizeof text, "%s: done after %s, %s%s", label, show_duration(done, done_text),
                 SW_IS_ABSENT(length) ? "no stall" : "stall ", SW_IS_ABSENT(length) ? "" : show_duration(length, stall));
    put_text(LEFT + 8.0, top + 12.0, 0.0, small_text, v->has_failed[run] ? GREY : BLACK, text);
    if (v->has_failed[run])
        return;
    if (!SW_IS_ABSENT(start))
        fill_box(page_x(f, start / 3600.0), page_x(f, (start + length) / 3600.0), y - 6.0, y + 6.0, SAND);
    const PLFLT xs[] = {LEFT, page_x(f, done / 3600.0)}, ys[] = {y, y};
    draw_line(2, xs, ys, (look){BLUE, &line_styles[0], 2.0});
    fill_disc(xs[1], y, DOT, BLUE);
}

static void draw_sweep_rows(const picture *p, const frame *curves, const sweep_view *v, size_t factor)
{
    char label[QUANTITY_SIZE];
    const size_t values = sw_study_factor(v->study, factor).value_count, stride = stride_of(values, ROWS_MAX);
    for (size_t i = 0, row = 0; i < values; i += stride, row++)
        draw_sweep_row(curves, v, i, SWEEP_BOTTOM + 100.0 + CHOICE_ROW * (PLFLT)row,
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

static PLINT grid_sweep_height(const sweep_view *v)
{
    const sweep_plane plane = sweep_plane_of(v->study);
    if (plane.across < NO_FACTOR)
        return MAP_TOP + CELLS_HEIGHT + 112;
    const size_t values = sw_study_factor(v->study, plane.down).value_count, stride = stride_of(values, ROWS_MAX);
    return SWEEP_BOTTOM + 120 + CHOICE_ROW * (PLINT)((values + stride - 1) / stride);
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
static void draw_band(const fan *n, double low, double high, PLINT colour, sw_unit_system units)
{
    PLFLT *x = malloc(2 * n->points * sizeof *x), *y = malloc(2 * n->points * sizeof *y);
    for (size_t i = 0; x && y && i < n->points; i++) {
        double *readings = n->readings + i * FAN_RUNS_MAX;
        x[i] = x[2 * n->points - 1 - i] = (double)i * SW_STUDY_CURVE_INTERVAL / 3600.0;
        y[i] = axis_temperature(sw_quantile(readings, n->count, low), units);
        y[2 * n->points - 1 - i] = axis_temperature(sw_quantile(readings, n->count, high), units);
    }
    if (x && y && low < high) {
        plcol0(colour);
        plpsty(0);
        plfill(2 * (PLINT)n->points, x, y);
    } else if (x && y) {
        draw_line((PLINT)n->points, x, y, (look){colour, &line_styles[0], 2.6});
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
static void draw_box_row(const frame *f, const sweep_view *v, sweep_figure figure, double *values, PLFLT top)
{
    double at[SWEEP_SHARE_COUNT];
    PLFLT x[SWEEP_SHARE_COUNT];
    char text[200], low[QUANTITY_SIZE], middle[QUANTITY_SIZE], high[QUANTITY_SIZE];
    const PLFLT y = top + 31.0;
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
    const PLFLT whisker[] = {x[0], x[4]}, line[] = {y, y}, middle_x[] = {x[2], x[2]}, middle_y[] = {y - 8.0, y + 8.0};
    draw_line(2, whisker, line, (look){BLUE, &line_styles[0], 1.6});
    fill_box(x[1], x[3], y - 8.0, y + 8.0, LIGHT_BLUE);
    draw_line(2, middle_x, middle_y, (look){BLUE, &line_styles[0], 3.0});
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
        draw_box_row(f, v, rows[i], values, BOX_TOP + BOX_ROW * (PLFLT)i);
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
    if (sw_study_journal_failures(v->journal) == v->run_count) {
        print_note(o, "no picture is drawn: every cook failed");
        return EXIT_DONE;
    }
    int status = picture_begin(&p, o, is_grid ? grid_sweep_height(v) : BOX_TOP + 3 * BOX_ROW + 16);
    if (status != EXIT_DONE)
        return status;
    status = is_grid ? draw_grid_sweep(&p, v) : draw_random_sweep(&p, v);
    snprintf(subtitle, sizeof subtitle, "%s, %s; %s of %zu cooks, each up to its pull", s->meat.name,
             show_mass(s->meat.mass, o->units, mass), is_grid ? "a grid" : "a random design", v->run_count);
    put_title(&p, s->title, subtitle);
    int ended = picture_end(&p);
    return status == EXIT_DONE ? ended : status;
}

/* ---- heat, hour by hour ---- */

/* Patterns of stacked bars, told apart in grey too: none, or lines at an angle [tenths of a degree]. */
static const struct {
    heat_item item;
    PLINT colour, slope, spacing; /* spacing in micrometres, 0: filled */
    const char *word;
} stack[] = {{HEAT_evaporation, BLUE, 0, 0, "evaporating water"},
             {HEAT_warming, ORANGE, -450, 1100, "warming the meat, its vapour included"},
             {HEAT_fat, PURPLE, 900, 900, "fat"},
             {HEAT_drip, GREEN, 0, 900, "drip"}};
enum { STACKED = sizeof stack / sizeof *stack };

static void fill_stacked(PLFLT x0, PLFLT x1, PLFLT y0, PLFLT y1, size_t k)
{
    const PLFLT x[] = {x0, x1, x1, x0, x0}, y[] = {y0, y0, y1, y1, y0};
    if (fabs(y1 - y0) < 0.4)
        return;
    plcol0(stack[k].colour);
    if (stack[k].spacing == 0) {
        plpsty(0);
    } else {
        PLINT slope = stack[k].slope, spacing = stack[k].spacing;
        plpat(1, &slope, &spacing);
    }
    plfill(4, x, y);
    plline(5, x, y);
}

/* Power in an hour of the table [kW, or thousands of BTU an hour]. */
static PLFLT power_of(const explanation *e, size_t i, heat_item item, sw_unit_system units)
{
    const double *heat = e->hours[i].item;
    const double joules = heat[item] + (item == HEAT_warming ? heat[HEAT_vapour] : 0.0);
    const double watts = joules / (e->hour_end[i] - e->hour_start[i]);
    return units == SW_UNITS_US ? watts / 293.071070 : watts / 1e3;
}

/* What takes heat is stacked upwards from zero, what gives it back (condensing vapour, cooling meat) downwards. */
static void draw_stack(const frame *temperatures, const frame *powers, const explanation *e, sw_unit_system units)
{
    for (size_t i = 0; i < e->hour_count; i++) {
        PLFLT up = 0.0, down = 0.0;
        const PLFLT x0 = page_x(temperatures, e->hour_start[i] / 3600.0) + 1.0;
        const PLFLT x1 = page_x(temperatures, e->hour_end[i] / 3600.0) - 1.0;
        for (size_t k = 0; k < STACKED; k++) {
            const PLFLT power = power_of(e, i, stack[k].item, units);
            PLFLT *at = power >= 0.0 ? &up : &down;
            fill_stacked(x0, x1, page_y(powers, *at), page_y(powers, *at + power), k);
            *at += power;
        }
    }
}

static PLFLT highest_power(const explanation *e, sw_unit_system units, PLFLT *lowest)
{
    PLFLT highest = 0.0;
    *lowest = 0.0;
    for (size_t i = 0; i < e->hour_count; i++) {
        PLFLT up = 0.0, down = 0.0;
        for (size_t k = 0; k < STACKED; k++) {
            const PLFLT power = power_of(e, i, stack[k].item, units);
            up += fmax(power, 0.0);
            down += fmin(power, 0.0);
        }
        highest = fmax(highest, up);
        *lowest = fmin(*lowest, down);
    }
    return highest;
}

static void put_stack_samples(PLFLT y)
{
    PLFLT x = LEFT;
    x = put_sample(x, y, (look){BLACK, &line_styles[0], 3.0}, "probe (right)");
    for (size_t k = 0; k < STACKED; k++) {
        if (k == 1) {
            x = LEFT;
            y += 26.0;
        }
        fill_stacked(x, x + 40.0, y - 7.0, y + 7.0, k);
        put_text(x + 48.0, y, 0.0, small_text, BLACK, stack[k].word);
        x += 48.0 + width_of(stack[k].word, small_text) + 26.0;
    }
}

/* The temperatures at the right edge stand within the frame, right of the last bar. */
static void put_right_scale(const frame *f, sw_unit_system units)
{
    const PLFLT step = units == SW_UNITS_US ? 50.0 : 20.0;
    for (PLFLT value = step * ceil(f->low / step); value < f->high; value += step) {
        char text[32];
        const PLFLT y = page_y(f, value), xs[] = {RIGHT - 8.0, RIGHT}, ys[] = {y, y};
        draw_line(2, xs, ys, (look){BLACK, &line_styles[0], 1.0});
        snprintf(text, sizeof text, "%.0f", value);
        if (value > f->low)
            put_text(RIGHT - 12.0, y, 1.0, small_text, BLACK, text);
    }
}

int plot_explanation(const command_options *o, const explanation *e)
{
    enum { BOTTOM = 500, HEIGHT = 640, SHIFT = 45 };
    picture p;
    int status = picture_begin(&p, o, HEIGHT);
    if (status != EXIT_DONE)
        return status;
    const sw_unit_system units = o->units;
    const sw_history *h = e->cook.history;
    const double done = e->cook.outcome.done_time / 3600.0;
    PLFLT lowest;
    const PLFLT highest = highest_power(e, units, &lowest);
    frame t = {.top = TOP, .bottom = BOTTOM, .hours = 1.08 * done, .low = axis_temperature(273.15, units)};
    t.high = axis_temperature(fmax(highest_value(h, SW_SERIES_probe_temperature) + 8.0, 283.15), units);
    frame w = {.top = TOP, .bottom = BOTTOM, .hours = t.hours, .low = 1.1 * lowest, .high = fmax(1.1 * highest, 1e-3)};
    draw_stall_band(&p, &t, &e->cook.outcome);
    use_page(&p);
    draw_stack(&t, &w, e, units);
    use_frame(&p, &t);
    draw_series(h, h->series[SW_SERIES_probe_temperature], done, units, (look){WHITE, &line_styles[0], 6.0});
    draw_series(h, h->series[SW_SERIES_probe_temperature], done, units, (look){BLACK, &line_styles[0], 3.0});
    use_frame(&p, &w);
    plcol0(BLACK);
    set_text_size(label_text);
    plbox("bcnt", hour_step(&w), 0, "bntv", 0.0, 0);
    plbox("", 0.0, 0, "c", 0.0, 0);
    use_page(&p);
    put_right_scale(&t, units);
    plptex(24.0, 0.5 * (TOP + BOTTOM), 0.0, -1.0, 0.5, units == SW_UNITS_US ? "heat, thousands of BTU/h" : "heat, kW");
    put_text(0.5 * (LEFT + RIGHT), BOTTOM + SHIFT, 0.5, label_text, BLACK, "hours since the meat went on");
    put_stack_samples(BOTTOM + SHIFT + 34.0);
    char subtitle[300], mass[QUANTITY_SIZE], pit[QUANTITY_SIZE];
    snprintf(subtitle, sizeof subtitle, "Where the heat goes. %s, %s, pit at %s. Curve: probe, %s at the right", e->cook.scenario.meat.name,
             show_mass(e->cook.scenario.meat.mass, units, mass),
             show_temperature(e->cook.scenario.pit.steps[0].temperature, units, pit), degree(units));
    put_title(&p, e->cook.scenario.title, subtitle);
    return picture_end(&p);
}
