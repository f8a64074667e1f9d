/* SPDX-License-Identifier: BSD-3-Clause */
#include "section_map.h"

#include "quantity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SHADES = 32, LEVELS_MAX = 8, BOXES_MAX = SW_PROBES_MAX * 2 + LEVELS_MAX };

bool section_view_init(const sw_history *h, section_view *v)
{
    *v = (section_view){.history = h};
    v->corner_count = sw_section_outline(&h->scenario.meat, v->corner);
    v->left = v->low = HUGE_VAL;
    v->right = v->high = -HUGE_VAL;
    for (size_t i = 0; i < v->corner_count; i++) {
        v->left = fmin(v->left, v->corner[i][0]);
        v->right = fmax(v->right, v->corner[i][0]);
        v->low = fmin(v->low, v->corner[i][1]);
        v->high = fmax(v->high, v->corner[i][1]);
    }
    v->values = malloc(h->cell_count * sizeof *v->values);
    return section_surface_init(h, &v->surface) && v->values;
}

void section_view_free(section_view *v)
{
    section_surface_free(&v->surface);
    free(v->values);
}

/* In fat, only lean meat's reactions do not belong. */
static bool is_fat(const sw_history *h, size_t cell)
{
    return SW_IS_ABSENT(h->cell_extent[SW_REACTION_COLLAGEN][cell]);
}

bool section_has_fat(const section_view *v)
{
    for (size_t i = 0; i < v->history->cell_count; i++)
        if (is_fat(v->history, i))
            return true;
    return false;
}

void set_map_colours(const map_scale *m)
{
    if (m->is_heat)
        set_heat_colours();
    else
        set_water_colours();
}

double dots_per_metre(const section_view *v, const place *at)
{
    return fmin(at->width / (1.08 * (v->right - v->left)), at->height / (1.08 * (v->high - v->low)));
}

/* ---- from metres to dots on the page ---- */

typedef struct map {
    const picture *p;
    const section_view *view;
    const map_scale *scale;
    double left, top, dots; /* of the section's upper left corner on the page; of a metre */
    /* Boxes of texts and probes, which later texts keep clear of: left, top, right, bottom. */
    size_t box_count;
    double box[BOXES_MAX][4];
} map;

static double dot_x(const map *m, double x)
{
    return m->left + m->dots * (x - m->view->left);
}

static double dot_y(const map *m, double y)
{
    return m->top + m->dots * (m->view->high - y);
}

static double share_of(const map *m, double value)
{
    return fmin(fmax((value - m->scale->low) / (m->scale->high - m->scale->low), 0.0), 1.0);
}

/* What stands out from a shade of the colours in use: heat begins dark, water ends so. */
static int ink_on(const map *m, double share)
{
    return (m->scale->is_heat ? share < 0.6 : share > 0.6) ? WHITE : BLACK;
}

/* ---- colours ---- */

/* A ring of places on the page [dots], its first one not repeated. */
typedef struct ring {
    size_t count;
    double *x, *y;
    double area; /* more than 0 if what it encloses is at or above the level, less if that is a hole */
    bool is_done;
} ring;

static double area_of(size_t count, const double *x, const double *y)
{
    double sum = 0.0;
    for (size_t i = 0, k = count - 1; i < count; k = i++)
        sum += x[k] * y[i] - x[i] * y[k];
    return 0.5 * sum;
}

static bool encloses(const ring *r, double x, double y)
{
    bool inside = false;
    for (size_t i = 0, k = r->count - 1; i < r->count; k = i++)
        if ((r->y[i] > y) != (r->y[k] > y) && x < (r->x[k] - r->x[i]) * (y - r->y[i]) / (r->y[k] - r->y[i]) + r->x[i])
            inside = !inside;
    return inside;
}

/* The nearest places of two rings; returns their distance. */
static double nearest_places(const ring *a, const ring *b, size_t *of_a, size_t *of_b)
{
    double best = HUGE_VAL;
    for (size_t i = 0; i < a->count; i++)
        for (size_t k = 0; k < b->count; k++) {
            const double x = a->x[i] - b->x[k], y = a->y[i] - b->y[k];
            if (x * x + y * y >= best)
                continue;
            best = x * x + y * y;
            *of_a = i;
            *of_b = k;
        }
    return best;
}

/* Goes from a place of a ring round a hole and back, so that one polygon has the hole. The way between the nearest places crosses
 * nothing, so nobody sees it. The ring has room. */
static void cut_hole(ring *r, const ring *hole, size_t at, size_t from)
{
    const size_t more = hole->count + 2;
    memmove(r->x + at + more, r->x + at, (r->count - at) * sizeof *r->x);
    memmove(r->y + at + more, r->y + at, (r->count - at) * sizeof *r->y);
    for (size_t i = 0; i <= hole->count; i++) {
        r->x[at + 1 + i] = hole->x[(from + i) % hole->count];
        r->y[at + 1 + i] = hole->y[(from + i) % hole->count];
    }
    r->count += more;
}

/* Cuts all holes that lie in a ring, the nearest first, and fills it. */
static void fill_ring_with_holes(ring *r, size_t count, ring *all, double shade)
{
    for (;;) {
        ring *next = NULL;
        double best = HUGE_VAL;
        size_t at = 0, from = 0;
        for (size_t i = 0; i < count; i++) {
            ring *hole = &all[i];
            size_t of_r = 0, of_hole = 0;
            if (hole->area > 0.0 || hole->is_done || !encloses(r, hole->x[0], hole->y[0]))
                continue;
            const double distance = nearest_places(r, hole, &of_r, &of_hole);
            if (distance < best) {
                best = distance;
                next = hole;
                at = of_r;
                from = of_hole;
            }
        }
        if (!next)
            break;
        cut_hole(r, next, at, from);
        next->is_done = true;
    }
    fill_shaded_polygon((int)r->count, r->x, r->y, shade);
}

/* Rings of a level's borders; each has room for all holes. */
static void take_rings(const map *m, const level_lines *lines, ring *rings, double *room, size_t each)
{
    for (size_t i = 0; i < lines->count; i++) {
        const level_line *l = &lines->line[i];
        ring *r = &rings[i];
        *r = (ring){.count = l->count > 1 ? l->count - 1 : l->count, .x = room + 2 * i * each, .y = room + (2 * i + 1) * each};
        for (size_t k = 0; k < r->count; k++) {
            r->x[k] = dot_x(m, l->x[k]);
            r->y[k] = dot_y(m, l->y[k]);
        }
        r->area = -area_of(r->count, r->x, r->y); /* the page counts downwards */
    }
}

/* Small rings first, so that a hole goes to the ring that is next around it. */
static int by_area(const void *a, const void *b)
{
    const ring *p = a, *q = b;
    return p->area < q->area ? -1 : p->area > q->area;
}

/* Fills all that a level's borders enclose. */
static bool fill_level(const map *m, const level_lines *lines, double shade)
{
    size_t each = 0;
    for (size_t i = 0; i < lines->count; i++)
        each += lines->line[i].count + 2;
    ring *rings = calloc(lines->count + 1, sizeof *rings);
    double *room = malloc((2 * lines->count * each + 1) * sizeof *room);
    const bool good = rings && room;
    if (good) {
        take_rings(m, lines, rings, room, each);
        qsort(rings, lines->count, sizeof *rings, by_area);
        for (size_t i = 0; i < lines->count; i++)
            if (rings[i].area > 0.0)
                fill_ring_with_holes(&rings[i], lines->count, rings, shade);
    }
    free(rings);
    free(room);
    return good;
}

/* Level upon level, each over the one below, so that no seams show. */
static bool shade_values(const map *m)
{
    bool good = true;
    set_map_colours(m->scale);
    for (int k = 0; good && k < SHADES; k++) {
        level_lines lines;
        double level = k == 0 ? -HUGE_VAL : m->scale->low + (m->scale->high - m->scale->low) * k / SHADES;
        good = section_surface_lines(&m->view->surface, level, true, &lines) && fill_level(m, &lines, (k + 0.5) / SHADES);
        level_lines_free(&lines);
    }
    return good;
}

static void draw_places(const map *m, size_t count, const double *x, const double *y, look l)
{
    double *xs = malloc(2 * count * sizeof *xs), *ys = xs + count;
    if (!xs)
        return;
    for (size_t i = 0; i < count; i++) {
        xs[i] = dot_x(m, x[i]);
        ys[i] = dot_y(m, y[i]);
    }
    draw_line((int)count, xs, ys, l);
    free(xs);
}

static void draw_outline(const map *m)
{
    const section_view *v = m->view;
    double x[SW_OUTLINE_MAX + 1], y[SW_OUTLINE_MAX + 1];
    for (size_t i = 0; i <= v->corner_count; i++) {
        x[i] = v->corner[i % v->corner_count][0];
        y[i] = v->corner[i % v->corner_count][1];
    }
    draw_places(m, v->corner_count + 1, x, y, (look){BLACK, SOLID, 1.2});
}

/* Where fat and lean meet. */
static void draw_fat_border(const map *m)
{
    const section_surface *s = &m->view->surface;
    for (int upper = 0; upper < 2; upper++)
        for (size_t i = 0; i < s->inner_count; i++) {
            const size_t *e = s->inner[i];
            if (is_fat(m->view->history, e[2] % s->own_count) == is_fat(m->view->history, e[3] % s->own_count))
                continue;
            const double x[] = {s->x[e[0]], s->x[e[1]]}, y[] = {s->y[e[0]], s->y[e[1]]};
            draw_places(m, 2, x, y, upper ? (look){BLACK, SOLID, 1.0} : (look){WHITE, SOLID, 3.0});
        }
}

/* ---- texts ---- */

static const double letter = 2.3; /* height [mm] */

static bool is_clear(const map *m, const double box[4])
{
    for (size_t i = 0; i < m->box_count; i++)
        if (box[0] < m->box[i][2] && box[2] > m->box[i][0] && box[1] < m->box[i][3] && box[3] > m->box[i][1])
            return false;
    return true;
}

static void keep_clear(map *m, double left, double top, double right, double bottom)
{
    if (m->box_count == BOXES_MAX)
        return;
    const double box[4] = {left, top, right, bottom};
    memcpy(m->box[m->box_count++], box, sizeof box);
}

/* A ring with its name beside it, to its left where the section ends at its right. The first time only room is kept. */
static void draw_probes(map *m, bool only_room)
{
    const sw_history *h = m->view->history;
    for (size_t i = 0; i < h->probe_count; i++) {
        const double x = dot_x(m, h->probes[i].across), y = dot_y(m, h->probes[i].height), width = width_of(h->probes[i].name, letter);
        const double from = x + 8.0 + width > dot_x(m, m->view->right) ? x - 10.0 - width : x + 7.0;
        if (only_room) {
            keep_clear(m, fmin(from, x - 6.0) - 2.0, y - 8.0, fmax(from + width + 4.0, x + 6.0) + 2.0, y + 8.0);
            continue;
        }
        fill_box(from, from + width + 3.0, y - 6.0, y + 6.0, WHITE);
        put_text(from + 0.5 * width + 1.5, y, 0.5, letter, BLACK, h->probes[i].name);
        fill_ring(x, y, 4.0, BLACK);
    }
}

/* Lines of round values that the section has, not too many. */
static size_t choose_levels(const map *m, double levels[LEVELS_MAX])
{
    static const double steps[] = {5.0, 10.0, 20.0, 50.0};
    double low = HUGE_VAL, high = -HUGE_VAL, step = 100.0;
    for (size_t i = 0; i < m->view->history->cell_count; i++) {
        low = fmin(low, m->view->values[i]);
        high = fmax(high, m->view->values[i]);
    }
    for (size_t i = sizeof steps / sizeof *steps; i-- > 0;)
        if ((high - low) / steps[i] <= 6.0)
            step = steps[i];
    size_t count = 0;
    for (double level = step * (floor(low / step) + 1.0); level < high && count < LEVELS_MAX; level += step)
        levels[count++] = level;
    return count;
}

/* How far a place on the page is from all lines but one, and from the rim [dots]. */
static double clearance(const map *m, double x, double y, size_t count, const level_lines *all, size_t own)
{
    double nearest = HUGE_VAL;
    for (size_t k = 0; k < count; k++)
        for (size_t i = 0; k != own && i < all[k].count; i++)
            for (size_t n = 0; n < all[k].line[i].count; n++)
                nearest = fmin(nearest, hypot(dot_x(m, all[k].line[i].x[n]) - x, dot_y(m, all[k].line[i].y[n]) - y));
    const section_surface *s = &m->view->surface;
    for (size_t i = 0; i < s->rim_count; i++)
        nearest = fmin(nearest, hypot(dot_x(m, s->x[s->rim[i][0]]) - x, dot_y(m, s->y[s->rim[i][0]]) - y));
    return nearest;
}

/* The place for a level's number: that farthest from other lines. Returns false if there is none with enough room. */
static bool find_room(const map *m, double width, size_t count, const level_lines *all, size_t own, double *x, double *y)
{
    double best = 0.5 * letter / 25.4 * DOTS_PER_INCH + 3.0;
    bool found = false;
    for (size_t i = 0; i < all[own].count; i++)
        for (size_t n = 0; n < all[own].line[i].count; n++) {
            const double px = dot_x(m, all[own].line[i].x[n]), py = dot_y(m, all[own].line[i].y[n]);
            const double box[4] = {px - 0.5 * width - 2.0, py - 6.0, px + 0.5 * width + 2.0, py + 6.0};
            if (!is_clear(m, box))
                continue;
            const double room = clearance(m, px, py, count, all, own);
            if (room <= best)
                continue;
            best = room;
            *x = px;
            *y = py;
            found = true;
        }
    return found;
}

static void draw_level(map *m, double level, const level_lines *lines, const char *text, double x, double y)
{
    const double share = share_of(m, level), half = 0.5 * width_of(text, letter);
    const int ink = ink_on(m, share);
    for (size_t i = 0; i < lines->count; i++)
        draw_places(m, lines->line[i].count, lines->line[i].x, lines->line[i].y, (look){ink, SOLID, 0.7});
    set_map_colours(m->scale);
    fill_shaded_box(x - half, x + half, y - 5.0, y + 5.0, share);
    put_text(x, y, 0.5, letter, ink, text);
    keep_clear(m, x - half - 3.0, y - 6.0, x + half + 3.0, y + 6.0);
}

/* A line without room for its number is left out: nobody could tell which it is. */
static bool draw_levels(map *m)
{
    double levels[LEVELS_MAX];
    level_lines all[LEVELS_MAX] = {{0}};
    const size_t count = choose_levels(m, levels);
    bool good = true;
    for (size_t k = 0; good && k < count; k++)
        good = section_surface_lines(&m->view->surface, levels[k], false, &all[k]);
    for (size_t k = 0; good && k < count; k++) {
        char text[16];
        double x, y;
        snprintf(text, sizeof text, "%.0f", levels[k]);
        if (find_room(m, width_of(text, letter), count, all, k, &x, &y))
            draw_level(m, levels[k], &all[k], text, x, y);
    }
    for (size_t k = 0; k < count; k++)
        level_lines_free(&all[k]);
    return good;
}

bool draw_section_map(const picture *p, section_view *v, const place *at, const double *cell_values, const map_scale *scale)
{
    map m = {.p = p, .view = v, .scale = scale, .dots = dots_per_metre(v, at)};
    m.left = at->left + 0.5 * (at->width - m.dots * (v->right - v->left));
    m.top = at->top + 0.5 * (at->height - m.dots * (v->high - v->low));
    for (size_t i = 0; i < v->history->cell_count; i++)
        v->values[i] = scale->is_heat ? axis_temperature(cell_values[i], p->options->units) : cell_values[i];
    use_page(p);
    if (!section_surface_set(&v->surface, v->values) || !shade_values(&m))
        return false;
    draw_fat_border(&m);
    draw_outline(&m);
    draw_probes(&m, true);
    const bool good = !scale->is_heat || draw_levels(&m);
    draw_probes(&m, false);
    return good;
}
