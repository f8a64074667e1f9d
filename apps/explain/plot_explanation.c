/* SPDX-License-Identifier: BSD-3-Clause */
/* The picture of an explanation: heat, hour by hour. */
#include "plot_explanation.h"

#include "plot_canvas.h"
#include "plot_curves.h"
#include "quantity.h"

#include <math.h>

/* Patterns of stacked bars, told apart in grey too: none, or lines at an angle [tenths of a degree]. */
static const struct {
    sw_heat_item item;
    int colour, slope, spacing; /* spacing in micrometres, 0: filled */
    const char *word;
} stack[] = {{SW_HEAT_evaporation, BLUE, 0, 0, "evaporating water"},
             {SW_HEAT_warming, ORANGE, -450, 1100, "warming the meat, its vapour included"},
             {SW_HEAT_fat, PURPLE, 900, 900, "fat"},
             {SW_HEAT_drip, GREEN, 0, 900, "drip"}};
enum { STACKED = sizeof stack / sizeof *stack };

static void fill_stacked(double x0, double x1, double y0, double y1, size_t k)
{
    if (fabs(y1 - y0) >= 0.4)
        fill_hatched_box(x0, x1, y0, y1, stack[k].colour, stack[k].slope, stack[k].spacing);
}

/* Power in an hour of the table [kW, or thousands of BTU an hour]. */
static double power_of(const sw_explanation *e, size_t i, sw_heat_item item, sw_unit_system units)
{
    const double *heat = e->heat.heat[i].item;
    const double joules = heat[item] + (item == SW_HEAT_warming ? heat[SW_HEAT_vapour] : 0.0);
    const double watts = joules / (e->heat.end[i] - e->heat.start[i]);
    return units == SW_UNITS_US ? watts / 293.071070 : watts / 1e3;
}

/* What takes heat is stacked upwards from zero, what gives it back (condensing vapour, cooling meat) downwards. */
static void draw_stack(const frame *temperatures, const frame *powers, const sw_explanation *e, sw_unit_system units)
{
    for (size_t i = 0; i < e->heat.count; i++) {
        double up = 0.0, down = 0.0;
        const double x0 = page_x(temperatures, e->heat.start[i] / 3600.0) + 1.0;
        const double x1 = page_x(temperatures, e->heat.end[i] / 3600.0) - 1.0;
        for (size_t k = 0; k < STACKED; k++) {
            const double power = power_of(e, i, stack[k].item, units);
            double *at = power >= 0.0 ? &up : &down;
            fill_stacked(x0, x1, page_y(powers, *at), page_y(powers, *at + power), k);
            *at += power;
        }
    }
}

/* Where both meet. */
static void draw_zero(const frame *temperatures, const frame *powers)
{
    const double x[] = {page_x(temperatures, 0.0), page_x(temperatures, temperatures->hours)}, y = page_y(powers, 0.0), ys[] = {y, y};
    draw_line(2, x, ys, (look){BLACK, SOLID, 1.0});
}

static double highest_power(const sw_explanation *e, sw_unit_system units, double *lowest)
{
    double highest = 0.0;
    *lowest = 0.0;
    for (size_t i = 0; i < e->heat.count; i++) {
        double up = 0.0, down = 0.0;
        for (size_t k = 0; k < STACKED; k++) {
            const double power = power_of(e, i, stack[k].item, units);
            up += fmax(power, 0.0);
            down += fmin(power, 0.0);
        }
        highest = fmax(highest, up);
        *lowest = fmin(*lowest, down);
    }
    return highest;
}

static void put_stack_samples(double y)
{
    double x = LEFT;
    x = put_sample(x, y, (look){BLACK, SOLID, 3.0}, "probe (right)");
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
    const double step = units == SW_UNITS_US ? 50.0 : 20.0;
    for (double value = step * ceil(f->low / step); value < f->high; value += step) {
        char text[32];
        const double y = page_y(f, value), xs[] = {RIGHT - 8.0, RIGHT}, ys[] = {y, y};
        draw_line(2, xs, ys, (look){BLACK, SOLID, 1.0});
        snprintf(text, sizeof text, "%.0f", value);
        if (value > f->low)
            put_text(RIGHT - 12.0, y, 1.0, small_text, BLACK, text);
    }
}

int plot_explanation(const command_options *o, const sw_explanation *e)
{
    enum { BOTTOM = 500, HEIGHT = 640, SHIFT = 45 };
    picture p;
    int status = picture_begin(&p, o, HEIGHT);
    if (status != EXIT_DONE)
        return status;
    const sw_unit_system units = o->units;
    const sw_history *h = e->cook.history;
    const double done = e->cook.outcome.done_time / 3600.0;
    double lowest;
    const double highest = highest_power(e, units, &lowest);
    frame t = {.top = TOP, .bottom = BOTTOM, .hours = 1.08 * done, .low = axis_temperature(273.15, units)};
    t.high = axis_temperature(fmax(highest_value(h, SW_SERIES_probe_temperature) + 8.0, 283.15), units);
    frame w = {.top = TOP, .bottom = BOTTOM, .hours = t.hours, .low = 1.1 * lowest, .high = fmax(1.1 * highest, 1e-3)};
    draw_stall_band(&p, &t, &e->cook.outcome);
    use_page(&p);
    draw_stack(&t, &w, e, units);
    if (lowest < 0.0)
        draw_zero(&t, &w);
    use_frame(&p, &t);
    draw_series(h, h->series[SW_SERIES_probe_temperature], done, units, (look){WHITE, SOLID, 6.0});
    draw_series(h, h->series[SW_SERIES_probe_temperature], done, units, (look){BLACK, SOLID, 3.0});
    draw_axes_open_right(&p, &w);
    use_page(&p);
    put_right_scale(&t, units);
    put_upright_text(0.5 * (TOP + BOTTOM), small_text, BLACK,
                     units == SW_UNITS_US ? "heat, thousands of BTU/h" : "heat, kW");
    put_hours_caption(BOTTOM + SHIFT);
    put_stack_samples(BOTTOM + SHIFT + 34.0);
    char subtitle[300], mass[QUANTITY_SIZE], pit[QUANTITY_SIZE];
    snprintf(subtitle, sizeof subtitle, "Where the heat goes. %s, %s, pit at %s. Curve: probe, %s at the right", sw_meat_name(&e->cook.scenario.meat),
             show_mass(h->scenario.meat.mass, units, mass),
             show_temperature(e->cook.scenario.pit.steps[0].temperature, units, pit), degree(units));
    put_title(&p, e->cook.scenario.title, subtitle);
    return picture_end(&p);
}
