/* SPDX-License-Identifier: BSD-3-Clause */
#include "cut_geometry.h"

#include "brisket_outlines.h"
#include "delaunay.h"
#include "say.h"
#include "transport.h"

#include <stallwright/cut_traits.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A built-in outline is thicker at its thickest than on the mean. */
static double fullness(sw_shape shape)
{
    size_t count;
    const sw_point *corners = sw_brisket_outline(shape, &count);
    return corners ? sw_outline_area(count, corners) : 1.0;
}

double sw_slab_edge_factor(sw_cut cut, double area, double thickness)
{
    const sw_cut_traits *usual = sw_cut_traits_of(cut);
    const double width = sqrt(area * usual->width / usual->length), length = area / width;
    return 1.0 + (length + width) * thickness / area;
}

void sw_cut_fill_dimensions(sw_meat *meat, double density)
{
    double volume = meat->mass / density;
    const sw_cut_traits *usual = sw_cut_traits_of(meat->cut);
    const double scale = cbrt(volume / (usual->length * usual->width * usual->thickness));
    const double length = scale * usual->length, mean = scale * usual->thickness;
    switch (meat->shape) {
    case SW_SHAPE_CYLINDER:
    case SW_SHAPE_SHORT_CYLINDER:
        /* As long as it is wide, lacking anything better to go by. */
        if (meat->thickness <= 0.0)
            meat->thickness = meat->width > 0.0 ? 2.0 * sqrt(volume / (SW_PI * meat->width))
                                                : cbrt(4.0 * volume / SW_PI);
        if (meat->width <= 0.0)
            meat->width = volume / (0.25 * SW_PI * meat->thickness * meat->thickness);
        return;
    case SW_SHAPE_SPHERE:
        if (meat->thickness <= 0.0)
            meat->thickness = cbrt(6.0 * volume / SW_PI);
        return;
    default:
        break;
    }
    if (meat->shape == SW_SHAPE_OUTLINE)
        return;
    if (meat->thickness <= 0.0)
        meat->thickness = meat->shape == SW_SHAPE_TAPER ? 4.0 / 3.0 * mean : mean / fullness(meat->shape);
    if (meat->end_thickness <= 0.0)
        meat->end_thickness = 0.5 * meat->thickness;
    if (meat->width <= 0.0)
        meat->width = sw_shape_is_crosswise(meat->shape) ? scale * usual->width : length;
}

static void turn_counter_clockwise(size_t count, sw_point *corners)
{
    if (sw_outline_area(count, corners) >= 0.0)
        return;
    for (size_t i = 0; i < count / 2; i++) {
        sw_point swap = corners[i];
        corners[i] = corners[count - 1 - i];
        corners[count - 1 - i] = swap;
    }
}

/* Places in a section count from its left end and lowest point, wherever its outline was drawn. */
static void move_to_the_corner(size_t count, sw_point *corners)
{
    double left = HUGE_VAL, lowest = HUGE_VAL;
    for (size_t i = 0; i < count; i++) {
        left = fmin(left, corners[i].x);
        lowest = fmin(lowest, corners[i].y);
    }
    for (size_t i = 0; i < count; i++) {
        corners[i].x -= left;
        corners[i].y -= lowest;
    }
}

size_t sw_cut_outline(const sw_meat *meat, sw_point *corners)
{
    double w = meat->width, t = meat->thickness;
    size_t count;
    const sw_point *unit = sw_brisket_outline(meat->shape, &count);
    if (unit) {
        for (size_t i = 0; i < count; i++)
            corners[i] = (sw_point){unit[i].x * w, unit[i].y * t};
        return count;
    }
    if (meat->shape == SW_SHAPE_OUTLINE) {
        for (size_t i = 0; i < meat->outline_count; i++)
            corners[i] = (sw_point){meat->outline[i][0], meat->outline[i][1]};
        turn_counter_clockwise(meat->outline_count, corners);
        move_to_the_corner(meat->outline_count, corners);
        return meat->outline_count;
    }
    double low = meat->shape == SW_SHAPE_TAPER ? meat->end_thickness : t, right = w;
    if (meat->shape == SW_SHAPE_SHORT_CYLINDER) {
        right = 0.5 * t; /* turned about its left edge */
        low = t = w;
    }
    corners[0] = (sw_point){0.0, 0.0};
    corners[1] = (sw_point){right, 0.0};
    corners[2] = (sw_point){right, t};
    corners[3] = (sw_point){0.0, low};
    return 4;
}

size_t sw_section_outline(const sw_meat *meat, double (*corners)[2])
{
    sw_point points[SW_OUTLINE_MAX];
    size_t count = sw_shape_is_section(meat->shape) ? sw_cut_outline(meat, points) : 0;
    for (size_t i = 0; i < count; i++) {
        corners[i][0] = points[i].x;
        corners[i][1] = points[i].y;
    }
    return count;
}

/* Lowest and highest point of an outline above a place; false beside it. */
static bool heights_at(size_t count, const sw_point *v, double x, double *low, double *high)
{
    bool found = false;
    for (size_t i = 0; i < count; i++) {
        sw_point p = v[i], q = v[(i + 1) % count];
        if ((x < p.x && x < q.x) || (x > p.x && x > q.x))
            continue;
        double y = p.x == q.x ? p.y : p.y + (x - p.x) / (q.x - p.x) * (q.y - p.y);
        double other = p.x == q.x ? q.y : y;
        *low = found ? fmin(*low, fmin(y, other)) : fmin(y, other);
        *high = found ? fmax(*high, fmax(y, other)) : fmax(y, other);
        found = true;
    }
    return found;
}

/* Whether a cut's cells lie on grid lines. */
static bool is_rectangle(const sw_meat *meat)
{
    return meat->shape == SW_SHAPE_SECTION || meat->shape == SW_SHAPE_SHORT_CYLINDER ||
           (meat->shape == SW_SHAPE_TAPER && meat->end_thickness == meat->thickness);
}

/* A rectangle's region by height. */
static int region_at(sw_point at, const void *data)
{
    const sw_meat *meat = data;
    double top = meat->shape == SW_SHAPE_SHORT_CYLINDER ? meat->width : meat->thickness;
    double depth = meat->fat_cap_side == SW_SIDE_TOP ? top - at.y : at.y;
    return depth < meat->fat_cap_thickness ? SW_REGION_FAT : SW_REGION_LEAN;
}

/* Grid lines from cell widths; the last lies where it should, free of the sum's round-off. */
static void lines_of(double low, double high, size_t cells, const double *widths, double *lines)
{
    lines[0] = low;
    for (size_t i = 0; i < cells; i++)
        lines[i + 1] = lines[i] + widths[i];
    lines[cells] = high;
}

/* An eighth of the rows, at least three, go to the fat cap. */
static size_t rows_in_cap(size_t rows)
{
    return rows / 8 > 3 ? rows / 8 : 3;
}

/* Grid lines of the height: a line of their own for the fat cap, fine cells towards both surfaces. */
static void height_lines(const sw_scenario *s, double low, double high, size_t cells, double *lines)
{
    double cap = s->meat.fat_cap_thickness, fine = s->solver.surface_cell;
    size_t in_cap = rows_in_cap(cells);
    double widths[SW_SECTION_LINES_MAX];
    bool below = s->meat.fat_cap_side == SW_SIDE_BOTTOM;
    if (cap > 0.0 && below) {
        sw_grade_cells(cap, in_cap, fine, 0.0, widths);
        sw_grade_cells(high - low - cap, cells - in_cap, 0.0, fine, widths + in_cap);
    } else if (cap > 0.0) {
        sw_grade_cells(high - low - cap, cells - in_cap, fine, 0.0, widths);
        sw_grade_cells(cap, in_cap, 0.0, fine, widths + cells - in_cap);
    } else {
        sw_grade_cells(high - low, cells, fine, fine, widths);
    }
    lines_of(low, high, cells, widths, lines);
}

static void length_lines(double left, double right, size_t cells, double left_cell, double right_cell, double *lines)
{
    double widths[SW_SECTION_LINES_MAX];
    sw_grade_cells(right - left, cells, left_cell, right_cell, widths);
    lines_of(left, right, cells, widths, lines);
}

/* Half the rows from a surface to the middle of the thickness. */
static void set_layers(sw_layer_depths *layers, double from, size_t count, double total, double first)
{
    double widths[SW_LAYERS_MAX], edge = from;
    sw_grade_cells(total, count, first, 0.0, widths);
    for (size_t i = 0; i < count; i++) {
        layers->depth[layers->count++] = edge + 0.5 * widths[i];
        edge += widths[i];
    }
}

/* Below a cap the lean's first seed mirrors the fat's last, so that the face between them lies where the fat ends. */
static void set_cap_layers(const sw_meat *meat, size_t in_cap, size_t in_lean, double half, sw_fitted_section *f)
{
    double cap = meat->fat_cap_thickness, first = f->bare.depth[0];
    f->under_cap.count = 0;
    f->cap_is_below = meat->fat_cap_side == SW_SIDE_BOTTOM;
    set_layers(&f->under_cap, 0.0, in_cap, cap, 2.0 * first);
    f->under_cap.depth[0] = first;
    f->under_cap.fat_count = in_cap;
    double last = cap - f->under_cap.depth[in_cap - 1];
    set_layers(&f->under_cap, cap, in_lean, half, 2.0 * last);
    f->under_cap.depth[in_cap] = cap + last;
}

/* The fat seam between flat and point runs down from the point's thin edge to the thick end: a line in the packer's unit
 * box, drawn for this project. Its thickness is measured upright. */
static void set_seam(const sw_meat *meat, sw_fitted_section *f)
{
    const sw_point from = {0.50 * meat->width, 0.72 * meat->thickness}, to = {meat->width, 0.28 * meat->thickness};
    if (meat->shape != SW_SHAPE_PACKER || meat->seam_thickness <= 0.0)
        return;
    double length = hypot(to.x - from.x, to.y - from.y), thickness = meat->seam_thickness * (to.x - from.x) / length;
    f->seam = (sw_seam){from, to, thickness};
    sw_layer_depths *layers = &f->in_seam;
    layers->fat_count = 1;
    layers->depth[0] = 0.25 * thickness;
    layers->depth[1] = 0.75 * thickness;
    layers->count = 2;
    for (double width = 0.65 * thickness; layers->count < SW_LAYERS_MAX; width *= 1.3) {
        layers->depth[layers->count] = layers->depth[layers->count - 1] + width;
        if (layers->depth[layers->count++] > f->facet)
            break;
    }
}

/* Whether the left half mirrors the right, so that half of it is enough. */
static bool is_symmetric(const sw_meat *meat)
{
    return meat->shape == SW_SHAPE_SECTION && meat->probe_count == 0;
}

static void name_probe(sw_meat *meat, const char *name, double across, double height)
{
    sw_probe_place *place = &meat->probes[meat->probe_count++];
    snprintf(place->name, sizeof place->name, "%s", name);
    place->across = across;
    place->height = height;
}

static void put_probe_mid_height(sw_meat *meat, const char *name, double across, size_t count, const sw_point *corners)
{
    double low = 0.0, high = 0.0;
    heights_at(count, corners, across, &low, &high);
    double cap = meat->fat_cap_thickness;
    bool below = meat->fat_cap_side == SW_SIDE_BOTTOM;
    name_probe(meat, name, across, 0.5 * (low + high + (below ? cap : -cap)));
}

/* Where cooks put probes: the middle of the thickest part; for a packer that of the flat and that of the point. */
static void put_usual_probes(sw_meat *meat, size_t count, const sw_point *corners, double left, double right)
{
    switch (meat->shape) {
    case SW_SHAPE_PACKER:
        put_probe_mid_height(meat, "flat", left + 0.40 * (right - left), count, corners);
        put_probe_mid_height(meat, "point", left + 0.76 * (right - left), count, corners);
        break;
    case SW_SHAPE_TAPER:
        put_probe_mid_height(meat, "thin", left + 0.25 * (right - left), count, corners);
        put_probe_mid_height(meat, "thick", left + 0.85 * (right - left), count, corners);
        break;
    case SW_SHAPE_SHORT_CYLINDER:
        name_probe(meat, "centre", 0.0, 0.5 * meat->width);
        break;
    default:
        put_probe_mid_height(meat, "centre", 0.5 * (left + right), count, corners);
        break;
    }
}

static sw_status fail_outside(sw_context *context, const sw_meat *meat, const sw_probe_place *p)
{
    bool standing = meat->shape == SW_SHAPE_SHORT_CYLINDER;
    char across[SW_SAY_SIZE], up[SW_SAY_SIZE], wide[SW_SAY_SIZE], tall[SW_SAY_SIZE];
    sw_say(context, SW_QUANTITY_LENGTH, p->across, across);
    sw_say(context, SW_QUANTITY_LENGTH, p->height, up);
    sw_say(context, SW_QUANTITY_LENGTH, standing ? meat->thickness : meat->width, wide);
    sw_say(context, SW_QUANTITY_LENGTH, standing ? meat->width : meat->thickness, tall);
    return sw_fail(context, SW_ERR_RANGE,
                   standing ? "probe \"%s\" lies outside the meat, %s from the axis and %s up; the cylinder is %s across and %s "
                              "tall"
                            : "probe \"%s\" lies outside the meat, %s along and %s up; the section is %s long and %s thick",
                   p->name, across, up, wide, tall);
}

static sw_status check_probes(sw_context *context, const sw_meat *meat, size_t count, const sw_point *corners)
{
    for (size_t i = 0; i < meat->probe_count; i++) {
        const sw_probe_place *p = &meat->probes[i];
        /* The axis of a turned section is inside. */
        sw_point at = {p->across == 0.0 ? 1e-9 : p->across, p->height};
        if (!sw_outline_contains(count, corners, at))
            return fail_outside(context, meat, p);
    }
    return SW_OK;
}

static void bounding_box(size_t count, const sw_point *v, sw_point *low, sw_point *high)
{
    *low = *high = v[0];
    for (size_t i = 1; i < count; i++) {
        low->x = fmin(low->x, v[i].x);
        low->y = fmin(low->y, v[i].y);
        high->x = fmax(high->x, v[i].x);
        high->y = fmax(high->y, v[i].y);
    }
}

/* A plane section's right half, seen from its middle. */
static size_t right_half(const sw_meat *meat, sw_point *corners)
{
    double half = 0.5 * meat->width, t = meat->thickness;
    corners[0] = (sw_point){half, 0.0};
    corners[1] = (sw_point){meat->width, 0.0};
    corners[2] = (sw_point){meat->width, t};
    corners[3] = (sw_point){half, t};
    return 4;
}

static sw_status mesh_rectangle(const sw_scenario *scenario, bool half, sw_point low, sw_point high, sw_mesh **mesh)
{
    const sw_meat *meat = &scenario->meat;
    size_t rows = (size_t)scenario->solver.rows, columns = (size_t)scenario->solver.columns;
    double x[SW_SECTION_LINES_MAX + 1], y[SW_SECTION_LINES_MAX + 1], fine = scenario->solver.surface_cell;
    bool turned = meat->shape == SW_SHAPE_SHORT_CYLINDER;
    height_lines(scenario, low.y, high.y, rows, y);
    length_lines(low.x, high.x, columns, turned || half ? 0.0 : fine, fine, x);
    return sw_rectangle_mesh_create(&(sw_rectangle){.line_count_x = columns + 1,
                                                    .line_count_y = rows + 1,
                                                    .lines_x = x,
                                                    .lines_y = y,
                                                    .depth = 1.0,
                                                    .is_turned = turned,
                                                    .insulated_left = half,
                                                    .fibres_along = !sw_shape_is_crosswise(meat->shape),
                                                    .region = meat->fat_cap_thickness > 0.0 ? region_at : NULL,
                                                    .region_data = meat},
                                    mesh);
}

/* Half the rows from the surface to half of the section's smaller size; more where they would begin with a thicker layer. */
static void set_outline_layers(const sw_scenario *s, double half, double thickest, sw_fitted_section *f)
{
    const size_t rows = (size_t)s->solver.rows, most = SW_LAYERS_MAX - rows_in_cap(rows);
    size_t count = (rows + 1) / 2;
    for (;; count++) {
        f->bare.count = 0;
        set_layers(&f->bare, 0.0, count, half, fmin(thickest, s->solver.surface_cell));
        if (2.0 * f->bare.depth[0] <= thickest || count == most)
            break;
    }
    if (s->meat.fat_cap_thickness > 0.0)
        set_cap_layers(&s->meat, rows_in_cap(rows), count, half, f);
}

/* A corner may be too sharp, or a place too narrow, for the outermost layer: then thinner ones are tried. */
static sw_status fit_cells(const sw_scenario *scenario, double half, sw_fitted_section *f, sw_mesh **mesh, sw_misfit *misfit)
{
    const double thinnest = 5e-5;
    sw_status status = SW_ERR_RANGE;
    for (double thickest = HUGE_VAL; status == SW_ERR_RANGE && thickest > thinnest; thickest = f->bare.depth[0]) {
        set_outline_layers(scenario, half, thickest, f);
        status = sw_fitted_mesh_create(f, mesh, misfit);
    }
    return status;
}

/* Corners and edges as the scenario has them, which may have listed them clockwise. */
static sw_status fail_misfit(sw_context *context, const sw_meat *meat, size_t count, sw_misfit *misfit)
{
    sw_point given[SW_OUTLINE_MAX];
    char clause[SW_MISFIT_SIZE];
    for (size_t i = 0; i < meat->outline_count; i++)
        given[i] = (sw_point){meat->outline[i][0], meat->outline[i][1]};
    const bool is_outline = meat->shape == SW_SHAPE_OUTLINE;
    if (is_outline && misfit->kind != SW_MISFIT_FEW_CORNERS && misfit->kind != SW_MISFIT_MISSED &&
        sw_outline_area(count, given) < 0.0) {
        const size_t last = misfit->kind == SW_MISFIT_CROSSING || misfit->kind == SW_MISFIT_NARROW ? 2 * count - 2 : count - 1;
        misfit->number = (last - misfit->number) % count;
        misfit->other = (last - misfit->other) % count;
    }
    return sw_fail(context, SW_ERR_RANGE, is_outline ? "meat.outline cannot be a section's: %s" : "the section has no mesh: %s",
                   sw_say_misfit(context, misfit, clause));
}

static sw_status mesh_outline(sw_context *context, const sw_scenario *scenario, size_t count, const sw_point *corners, sw_point size,
                              sw_mesh **mesh)
{
    const sw_meat *meat = &scenario->meat;
    const double half = 0.5 * fmin(size.x, size.y);
    sw_misfit misfit;
    if (!sw_has_delaunay())
        return sw_fail(context, SW_ERR_RANGE,
                       "meat.shape is %s, whose cells follow its outline: this stallwright was built without Qhull (SW_QHULL=OFF), "
                       "which they need; a section or short-cylinder goes without",
                       sw_shape_name(meat->shape));
    sw_fitted_section *f = calloc(1, sizeof *f);
    if (!f)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the layers of the section could not be allocated");
    f->vertex_count = count;
    f->vertices = corners;
    f->facet = fmax(size.x, size.y) / (double)scenario->solver.columns;
    f->depth = 1.0;
    f->fibres_along = !sw_shape_is_crosswise(meat->shape);
    f->has_slanted_flow = meat->fibre_conductivity != 1.0 || meat->fibre_permeability != 1.0;
    f->fat_region = SW_REGION_FAT;
    set_seam(meat, f);
    sw_status status = fit_cells(scenario, half, f, mesh, &misfit);
    free(f);
    if (status == SW_ERR_MEMORY)
        return sw_fail(context, status, "memory for the cells of the section could not be allocated");
    return status == SW_OK ? SW_OK : fail_misfit(context, meat, count, &misfit);
}

sw_status sw_cut_section_mesh(sw_context *context, sw_scenario *scenario, sw_mesh **mesh)
{
    sw_meat *meat = &scenario->meat;
    sw_point corners[SW_OUTLINE_MAX], whole_low, whole_high, low, high;
    size_t count = sw_cut_outline(meat, corners);
    char cap[SW_SAY_SIZE], half_thickness[SW_SAY_SIZE];
    sw_misfit misfit;
    if (sw_outline_check(count, corners, &misfit) != SW_OK)
        return fail_misfit(context, meat, count, &misfit);
    bounding_box(count, corners, &whole_low, &whole_high);
    if (meat->shape == SW_SHAPE_OUTLINE) {
        meat->width = whole_high.x - whole_low.x;
        meat->thickness = whole_high.y - whole_low.y;
    }
    if (meat->fat_cap_thickness >= 0.5 * meat->thickness)
        return sw_fail(context, SW_ERR_RANGE, "meat.fat_cap.thickness is %s; allowed 0 to less than half the thickness, %s",
                       sw_say(context, SW_QUANTITY_LENGTH, meat->fat_cap_thickness, cap),
                       sw_say(context, SW_QUANTITY_LENGTH, 0.5 * meat->thickness, half_thickness));
    bool half = is_symmetric(meat);
    if (meat->probe_count == 0)
        put_usual_probes(meat, count, corners, whole_low.x, whole_high.x);
    sw_status status = check_probes(context, meat, count, corners);
    if (status != SW_OK)
        return status;
    if (half)
        count = right_half(meat, corners);
    bounding_box(count, corners, &low, &high);
    if (!is_rectangle(meat))
        return mesh_outline(context, scenario, count, corners, (sw_point){high.x - low.x, high.y - low.y}, mesh);
    status = mesh_rectangle(scenario, half, low, high, mesh);
    return status == SW_OK ? SW_OK
                           : sw_fail(context, status, "the section could not be meshed: %s", sw_status_text(status));
}
