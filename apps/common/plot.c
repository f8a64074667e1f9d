#include "plot.h"

#include "output_file.h"
#include "quantity.h"

#include <plplot.h>

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Colours told apart also by colour-blind eyes and, with the line styles, in grey. */
enum { WHITE, BLACK, GREY, PALE, BLUE, ORANGE, GREEN, PURPLE, SAND, COLOUR_COUNT };

static const PLINT red[COLOUR_COUNT] = {255, 20, 105, 228, 20, 205, 30, 150, 244};
static const PLINT green[COLOUR_COUNT] = {255, 20, 105, 228, 80, 95, 130, 60, 226};
static const PLINT blue[COLOUR_COUNT] = {255, 20, 105, 228, 160, 10, 90, 150, 190};

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

static void draw_marks(const picture *p, const frame *f, const sw_outcome *o)
{
    const struct {
        double time;
        const char *word;
    } marks[] = {{o->wrap_time, "wrapped"}, {o->done_time, "pulled"}, {o->rest_end, "rested"}};
    PLFLT next = RIGHT;
    use_page(p);
    if (!SW_IS_ABSENT(o->stall_start))
        put_text(page_x(f, 0.5 * (o->stall_start + o->stall_end) / 3600.0), f->bottom - 15.0, 0.5, small_text, BLACK,
                 "stall");
    for (size_t i = sizeof marks / sizeof *marks; i-- > 0;) {
        /* The end of the rest is the end of it all if there is no hold. */
        if (SW_IS_ABSENT(marks[i].time) || (i == 2 && !(o->rest_end < o->slice_time)))
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
    draw_marks(p, &f, &run->outcome);
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

static void draw_colour_bar(const picture *p, const map_scale *m, PLFLT left, const char *label)
{
    enum { BAR_WIDTH = 380, BAR_HEIGHT = 15, STEPS = 100 };
    set_colours(m);
    plvpor(left / PAGE_WIDTH, (left + BAR_WIDTH) / PAGE_WIDTH, 1.0 - (BAR_TOP + BAR_HEIGHT) / p->height,
           1.0 - BAR_TOP / p->height);
    plwind(m->low, m->high, 0.0, 1.0);
    for (int k = 0; k < STEPS; k++) {
        PLFLT from = m->low + (m->high - m->low) * k / STEPS, to = m->low + (m->high - m->low) * (k + 1) / STEPS;
        const PLFLT x[] = {from, to, to, from}, y[] = {0.0, 0.0, 1.0, 1.0};
        plcol1((k + 0.5) / STEPS);
        plfill(4, x, y);
    }
    plcol0(BLACK);
    set_text_size(small_text);
    plbox("bcnt", 0.0, 0, "bc", 0.0, 0);
    use_page(p);
    put_text(left + 0.5 * BAR_WIDTH, BAR_TOP + BAR_HEIGHT + 36.0, 0.5, small_text, BLACK, label);
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
