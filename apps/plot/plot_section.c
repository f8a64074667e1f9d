#include "plot_section.h"

#include "plot.h"
#include "quantity.h"

#include <math.h>
#include <stdlib.h>

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

/* Where maps stand on the page, in columns and two rows. */
enum { MAP_LEFT = 30, MAP_COLUMN = 320, MAP_WIDTH = 310, HEAT_TOP = 612, WATER_TOP = 778, MAP_HEIGHT = 138, BAR_TOP = 940 };

/* Dots on the page for a metre of meat: as many as fit, with a margin, across and up. */
static double dots_per_metre(void)
{
    const outline *o = &the_outline;
    return fmin(MAP_WIDTH / (1.08 * (o->right - o->left)), MAP_HEIGHT / (1.08 * (o->high - o->low)));
}

/* A window in metres whose middle is that of the section, on the whole place of a map. */
static void use_map(const picture *p, size_t column, double top)
{
    const outline *o = &the_outline;
    double left = MAP_LEFT + MAP_COLUMN * (double)column, scale = dots_per_metre();
    double x = 0.5 * (o->left + o->right), y = 0.5 * (o->low + o->high);
    double half_width = 0.5 * MAP_WIDTH / scale, half_height = 0.5 * MAP_HEIGHT / scale;
    use_place(p, &(place){left, top, MAP_WIDTH, MAP_HEIGHT}, x - half_width, x + half_width, y - half_height,
              y + half_height);
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
    for (int j = 0; j < MAP_Y; j++) {
        int start = 0, level = -1;
        for (int i = 0; i <= MAP_X; i++) {
            int next = i < MAP_X ? level_at(h, values, m, units, o->left + (i + 0.5) * dx, o->low + (j + 0.5) * dy) : -1;
            if (next == level)
                continue;
            if (level >= 0) {
                /* A little too large, to the right and up, so that no seam shows; the next strip covers it. */
                double left = o->left + start * dx, right = o->left + (i + 0.2) * dx;
                double low = o->low + j * dy, high = o->low + (j + 1.3) * dy;
                fill_shaded_box(left, right, low, high, (double)level / (MAP_LEVELS - 1));
            }
            level = next;
            start = i;
        }
    }
}

static void draw_outline(void)
{
    const outline *o = &the_outline;
    double x[SW_OUTLINE_MAX + 1], y[SW_OUTLINE_MAX + 1];
    for (size_t i = 0; i <= o->count; i++) {
        x[i] = o->point[i % o->count][0];
        y[i] = o->point[i % o->count][1];
    }
    draw_line((int)o->count + 1, x, y, (look){WHITE, SOLID, 4.0});
    draw_line((int)o->count + 1, x, y, (look){BLACK, SOLID, 1.2});
}

static void draw_map(const picture *p, const sw_run *run, const double *values, const map_scale *m, size_t column)
{
    const sw_history *h = run->history;
    use_map(p, column, m->is_heat ? HEAT_TOP : WATER_TOP);
    shade_values(h, values, m, p->options->units);
    draw_outline();
    for (size_t i = 0; i < h->probe_count; i++)
        fill_ring(h->probes[i].across, h->probes[i].height, 4.0 / dots_per_metre(), BLACK);
}

static void draw_colour_bar(const picture *p, const map_scale *m, double left, const char *label)
{
    set_colours(m);
    draw_bar(p, left, BAR_TOP, m->low, m->high, label);
}

/* A bar of a round length, at most a third of a map. */
static void draw_length_bar(const picture *p)
{
    bool is_us = p->options->units == SW_UNITS_US;
    static const double lengths[] = {10.0, 5.0, 2.0, 1.0};
    const double unit = is_us ? SW_INCH : 0.01;
    size_t i = 0;
    while (i + 1 < sizeof lengths / sizeof *lengths && lengths[i] * unit * dots_per_metre() > MAP_WIDTH / 3.0)
        i++;
    char text[32];
    double length = lengths[i] * unit * dots_per_metre(), y = WATER_TOP - 14.0;
    snprintf(text, sizeof text, is_us ? "%.0f in" : "%.0f cm", lengths[i]);
    const double xs[] = {MAP_LEFT, MAP_LEFT + length}, ys[] = {y, y};
    use_page(p);
    draw_line(2, xs, ys, (look){BLACK, SOLID, 3.0});
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
static size_t choose_moments(const sw_run *run, const char *typed, double moments[MOMENTS])
{
    if (typed)
        return read_moments(typed, moments);
    for (size_t i = 0; i < MOMENTS; i++)
        moments[i] = run->outcome.done_time / 3600.0 * (double)(i + 1) / MOMENTS;
    return MOMENTS;
}

static void take_outline(const sw_run *run)
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

void draw_section_maps(const picture *p, const sw_run *run)
{
    double moments[MOMENTS];
    const size_t count = choose_moments(run, p->options->hours, moments);
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
        put_text(MAP_LEFT + MAP_COLUMN * (double)m + 0.5 * MAP_WIDTH, HEAT_TOP - 12.0, 0.5, small_text, BLACK, caption);
    }
    char label[64];
    snprintf(label, sizeof label, "temperature, %s (upper row)", degree(units));
    draw_colour_bar(p, &heat, 80.0, label);
    draw_colour_bar(p, &water, 540.0, "water, times the dry matter by mass (lower row)");
    draw_length_bar(p);
}
