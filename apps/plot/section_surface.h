/* SPDX-License-Identifier: BSD-3-Clause */
/* Values of a section's cells as a surface over its triangles: a cell's centre and two of its corners each. A corner has the value
 * of a plane through the cells that meet there, so the surface has no steps, and its level lines are smooth to the outline itself. */
#ifndef SW_APPS_SECTION_SURFACE_H
#define SW_APPS_SECTION_SURFACE_H

#include <stallwright/everything.h>

typedef struct section_surface {
    size_t cell_count;   /* with those that mirror a computed half */
    size_t own_count;    /* without */
    size_t vertex_count; /* the cells' centres, then their corners */
    double *x, *y;       /* [m] */
    size_t triangle_count;
    size_t (*triangles)[3]; /* counter-clockwise; the first is the centre of its cell */
    size_t rim_count;
    size_t (*rim)[2];       /* pieces of the outline, with the meat to their left */
    size_t inner_count;
    size_t (*inner)[4];     /* a line between two cells: its ends, and the centres to its left and right */
    double *values;         /* of the vertices */
} section_surface;

/* A line through places; closed if it ends where it began. */
typedef struct level_line {
    size_t count;
    double *x, *y;
} level_line;

typedef struct level_lines {
    size_t count;
    level_line *line;
} level_lines;

/* Where only the right half was computed, its mirror image is there too. False without memory; free with section_surface_free in
 * any case. */
bool section_surface_init(const sw_history *history, section_surface *surface);
void section_surface_free(section_surface *surface);

/* One value a cell. False without memory. */
bool section_surface_set(section_surface *surface, const double *cell_values);

/* The lines on which the surface is at a level; with_rim: the borders of all of it that is at or above the level, each with that
 * to its left, which the rim of the section belongs to. False without memory; free with level_lines_free in any case. */
bool section_surface_lines(const section_surface *surface, double level, bool with_rim, level_lines *lines);
void level_lines_free(level_lines *lines);

#endif
