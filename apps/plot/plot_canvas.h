/* SPDX-License-Identifier: BSD-3-Clause */
/* What pictures are drawn with: a page, colours, lines, texts, and a frame with hours across. Of the apps, only
 * plot_canvas.c sees PLplot. Lengths on the page are in dots from its upper left corner. */
#ifndef SW_APPS_PLOT_CANVAS_H
#define SW_APPS_PLOT_CANVAS_H

#include "options.h"
#include "picture_file.h"

/* Colours told apart also by colour-blind eyes and, with the line styles, in grey. */
enum { WHITE, BLACK, GREY, PALE, BLUE, ORANGE, GREEN, PURPLE, SAND, FAINT_BLUE, LIGHT_BLUE, COLOUR_COUNT };

typedef enum line_style { SOLID, LONG_DASHES, DOTS, DASH_DOT, SHORT_DASHES, DASH_DOT_DOT, STYLE_COUNT } line_style;

/* How a curve looks. */
typedef struct look {
    int colour;
    line_style style;
    double width;
} look;

/* The look of the n-th of many: all of the first thirty-six differ. */
look look_of(size_t n, double width);

/* Heights of letters [mm]. */
extern const double title_text, label_text, small_text;

/* ---- the page ---- */

/* A page is laid out in dots. The devices size letters for 72 dots to the inch. */
enum { PAGE_WIDTH = 1000, DOTS_PER_INCH = 72, LEFT = 85, RIGHT = 975, TOP = 78 };

typedef struct picture {
    output_file file;
    const command_options *options;
    double height;
    char title[SW_TEXT_MAX], description[400]; /* as put_title had them; the file tells them too */
} picture;

/* Both print the reason if they fail and return an exit status; after a picture has begun it must be ended. */
int picture_begin(picture *p, const command_options *o, int height);
int picture_end(picture *p);

/* For want of memory: ends it without a file, prints the reason and returns an exit status. */
int picture_give_up(picture *p);

/* What is drawn next is placed in dots on the page, downwards from the top. */
void use_page(const picture *p);

/* A part of the page [dots]. */
typedef struct place {
    double left, top, width, height;
} place;

/* What is drawn next is placed in a part of the page that goes from x0 to x1 across and from y0 to y1 up. */
void use_place(const picture *p, const place *at, double x0, double x1, double y0, double y1);

void put_title(picture *p, const char *title, const char *subtitle);

/* A text on the page; justify 0: x is its left end, 0.5: its middle, 1: its right end. */
void put_text(double x, double y, double justify, double size, int colour, const char *text);

/* A text that reads upwards at the left edge of the page, its middle at y. */
void put_upright_text(double y, double size, int colour, const char *text);

/* About how wide a text is [dots]. */
double width_of(const char *text, double size);

/* ---- lines and fillings, in whatever is in use ---- */

void draw_line(int count, const double *x, const double *y, look l);

/* A shade of 0..1 of the colours in use takes the place of the look's colour; a negative one does not. Unlike after
 * draw_line, what is drawn next has this width too. */
void draw_shaded_line(int count, const double *x, const double *y, look l, double shade);

void fill_polygon(int count, const double *x, const double *y, int colour);
void fill_box(double x0, double x1, double y0, double y1, int colour);

/* With a shade of the colours in use, 0..1. A polygon may retrace a line to rings inside or beside it. */
void fill_shaded_polygon(int count, const double *x, const double *y, double shade);
void fill_shaded_box(double x0, double x1, double y0, double y1, double shade);

/* With lines at a slope [tenths of a degree] and a spacing [micrometres], 0: filled. */
void fill_hatched_box(double x0, double x1, double y0, double y1, int colour, int slope, int spacing);

/* A disc about a point; in a window whose units are as long across as up. */
void fill_disc(double x, double y, double radius, int colour);

/* A white disc with a rim. */
void fill_ring(double x, double y, double radius, int colour);

/* ---- shades: the colours that a figure of 0..1 picks ---- */

void set_heat_colours(void);
void set_water_colours(void);

/* A bar of the colours in use, with its scale, from a place on the page. */
void draw_bar(const picture *p, double left, double top, double low, double high, const char *label);

/* ---- a frame: hours across, temperature up ---- */

typedef struct frame {
    double top, bottom; /* on the page */
    double hours;       /* from 0 */
    double low, high;   /* temperatures, in the units shown */
} frame;

void use_frame(const picture *p, const frame *f);
double page_x(const frame *f, double hours);
double page_y(const frame *f, double temperature);

const char *degree(sw_unit_system units);

void draw_grid(const picture *p, const frame *f);

/* The upright lines of the grid alone. */
void draw_hour_lines(const picture *p, const frame *f);

/* Frame and numbers, over what was drawn in it. */
void draw_axes(const picture *p, const frame *f, const char *quantity, bool has_hours);

/* Frame and hours, with nothing up. */
void draw_hour_axis(const picture *p, const frame *f);

/* Frame and numbers, neither words nor marks at the right edge. */
void draw_axes_open_right(const picture *p, const frame *f);

void put_hours_caption(double y);

/* One entry of the row of line samples under a frame; returns where the next begins. */
double put_sample(double x, double y, look l, const char *text);

/* Of a row that stands for one cook: the radius of its dots, and how far below the next one is. */
enum { DOT = 5, CHOICE_ROW = 38 };

#endif
