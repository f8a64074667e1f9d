/* SPDX-License-Identifier: BSD-3-Clause */
#include "plot_section.h"

#include "plot.h"
#include "quantity.h"
#include "section_map.h"

#include <math.h>
#include <stdlib.h>

enum { MOMENTS = 3 };

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

static place map_place(size_t column, bool is_heat)
{
    return (place){MAP_LEFT + MAP_COLUMN * (double)column, is_heat ? HEAT_TOP : WATER_TOP, MAP_WIDTH, MAP_HEIGHT};
}

static void draw_colour_bar(const picture *p, const map_scale *m, double left, const char *label)
{
    set_map_colours(m);
    draw_bar(p, left, BAR_TOP, m->low, m->high, label);
}

/* A bar of a round length, at most a third of a map. */
static void draw_length_bar(const picture *p, const section_view *view)
{
    bool is_us = p->options->units == SW_UNITS_US;
    static const double lengths[] = {10.0, 5.0, 2.0, 1.0};
    const double unit = is_us ? SW_INCH : 0.01;
    const place at = map_place(0, true);
    const double metre = dots_per_metre(view, &at);
    size_t i = 0;
    while (i + 1 < sizeof lengths / sizeof *lengths && lengths[i] * unit * metre > MAP_WIDTH / 3.0)
        i++;
    char text[32];
    double length = lengths[i] * unit * metre, y = WATER_TOP - 14.0;
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

/* A moment to draw [h], and what it is. */
typedef struct moment {
    double hours;
    const char *what;
} moment;

/* As typed; or where the stall begins and ends, so that it is seen, and the pull; thirds of the time on the pit without a stall. */
static size_t choose_moments(const sw_run *run, const char *typed, moment moments[MOMENTS])
{
    const sw_outcome *o = &run->outcome;
    double hours[MOMENTS];
    if (typed) {
        const size_t count = read_moments(typed, hours);
        for (size_t i = 0; i < count; i++)
            moments[i] = (moment){hours[i], NULL};
        return count;
    }
    const double done = o->done_time / 3600.0;
    const bool has_stall = !SW_IS_ABSENT(o->stall_start) && !SW_IS_ABSENT(o->stall_end) && o->stall_end < o->done_time;
    moments[0] = has_stall ? (moment){o->stall_start / 3600.0, "the stall begins"} : (moment){done / 3.0, NULL};
    moments[1] = has_stall ? (moment){o->stall_end / 3600.0, "the stall ends"} : (moment){2.0 * done / 3.0, NULL};
    moments[2] = (moment){done, "the pull"};
    return MOMENTS;
}

static void put_caption(const picture *p, const moment *m, double hours, size_t column)
{
    char caption[64];
    if (m->what)
        snprintf(caption, sizeof caption, "%s, after %.1f h", m->what, hours);
    else
        snprintf(caption, sizeof caption, "after %.1f h", hours);
    use_page(p);
    put_text(MAP_LEFT + MAP_COLUMN * (double)column + 0.5 * MAP_WIDTH, HEAT_TOP - 12.0, 0.5, small_text, BLACK, caption);
}

static bool draw_maps(const picture *p, section_view *view, const sw_run *run)
{
    moment moments[MOMENTS];
    const size_t count = choose_moments(run, p->options->hours, moments);
    const sw_history *h = run->history;
    sw_unit_system units = p->options->units;
    double hottest = 0.0, wettest = 0.0;
    for (size_t m = 0; m < count; m++) {
        size_t at = field_near(h, moments[m].hours) * h->cell_count;
        for (size_t i = 0; i < h->cell_count; i++) {
            hottest = fmax(hottest, h->field_temperature[at + i]);
            wettest = fmax(wettest, h->field_water_content[at + i]);
        }
    }
    const map_scale heat = {true, axis_temperature(273.15, units), axis_temperature(hottest, units)};
    const map_scale water = {false, 0.0, wettest};
    for (size_t m = 0; m < count; m++) {
        const size_t field = field_near(h, moments[m].hours), at = field * h->cell_count;
        const place upper = map_place(m, true), lower = map_place(m, false);
        if (!draw_section_map(p, view, &upper, h->field_temperature + at, &heat) ||
            !draw_section_map(p, view, &lower, h->field_water_content + at, &water))
            return false;
        put_caption(p, &moments[m], h->field_time[field] / 3600.0, m);
    }
    char label[64];
    snprintf(label, sizeof label, "temperature, %s (upper row)", degree(units));
    draw_colour_bar(p, &heat, 80.0, label);
    draw_colour_bar(p, &water, 540.0, "water, times the dry matter by mass (lower row)");
    draw_length_bar(p, view);
    if (section_has_fat(view))
        put_text(RIGHT, WATER_TOP - 14.0, 1.0, small_text, BLACK, "white and black line: where the fat ends");
    return true;
}

bool draw_section_maps(const picture *p, const sw_run *run)
{
    section_view view;
    const bool good = section_view_init(run->history, &view) && draw_maps(p, &view, run);
    section_view_free(&view);
    return good;
}
