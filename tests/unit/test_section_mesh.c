/* Sections as geometry: areas, surfaces and volumes of the cut cells are those of the outline, surfaces close, sides follow
 * the slope, and outlines that cannot be are refused. Expected values are those of plane geometry. */
#include "close.h"

#include "brisket_outlines.h"
#include "cut_geometry.h"
#include "section_mesh.h"
#include "transport.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

enum { OUTLINE_KINDS = 9, VERTICES_MAX = 256, LINES = 24 };

typedef struct outline {
    const char *name;
    size_t count;
    sw_point v[VERTICES_MAX];
} outline;

static void set_corners(outline *o, const char *name, size_t count, const sw_point *corners, double width, double height)
{
    o->name = name;
    o->count = count;
    for (size_t i = 0; i < count; i++)
        o->v[i] = (sw_point){corners[i].x * width, corners[i].y * height};
}

static void set_circle(outline *o, size_t count, double radius)
{
    o->name = "circle";
    o->count = count;
    for (size_t i = 0; i < count; i++) {
        double angle = 2.0 * pi * ((double)i + 0.5) / (double)count;
        o->v[i] = (sw_point){radius * (1.0 + cos(angle)), radius * (1.0 + sin(angle))};
    }
}

static outline make_outline(int kind)
{
    static const sw_point rectangle[] = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
    static const sw_point slanted[] = {{0.1, 0.0}, {1.0, 0.31}, {0.83, 1.0}, {0.0, 0.57}};
    static const sw_point notched[] = {{0.0, 0.0}, {1.0, 0.05}, {0.95, 0.9}, {0.63, 0.97}, {0.5, 0.24}, {0.36, 1.0}, {0.03, 0.8}};
    static const sw_point comb[] = {{0.0, 0.0}, {1.0, 0.0}, {1.0, 1.0}, {0.8, 1.0}, {0.8, 0.25}, {0.3, 0.25}, {0.3, 0.75}, {0.0, 0.75}};
    static const sw_point needle[] = {{0.0, 0.0}, {1.0, 0.02}, {1.0, 0.03}, {0.0, 0.07}};
    static const sw_shape built_in[] = {SW_SHAPE_FLAT, SW_SHAPE_POINT, SW_SHAPE_PACKER};
    outline o = {.count = 0};
    switch (kind) {
    case 0:
        set_corners(&o, "rectangle", 4, rectangle, 0.25, 0.08);
        break;
    case 1:
        set_corners(&o, "slanted", 4, slanted, 0.25, 0.08);
        break;
    case 2:
        set_corners(&o, "notched", 7, notched, 0.3, 0.1);
        break;
    case 3:
        set_corners(&o, "comb on grid lines", 8, comb, 0.24, 0.12);
        break;
    case 4:
        set_corners(&o, "needle", 4, needle, 0.25, 0.25);
        break;
    case 5:
        set_circle(&o, 200, 0.06);
        break;
    default: {
        size_t count;
        const sw_point *corners = sw_brisket_outline(built_in[kind - 6], &count);
        set_corners(&o, sw_shape_name(built_in[kind - 6]), count, corners, 0.42, 0.083);
    }
    }
    return o;
}

typedef struct expected {
    double area, perimeter, volume, outside; /* in the plane; turned about x = 0, without the axis itself */
} expected;

/* The trapezoids and the truncated cones under each edge, summed. */
static expected measure_outline(const outline *o)
{
    expected e = {0};
    for (size_t i = 0; i < o->count; i++) {
        sw_point p = o->v[i], q = o->v[(i + 1) % o->count];
        double length = hypot(q.x - p.x, q.y - p.y);
        e.area += 0.5 * (p.x + q.x) * (q.y - p.y);
        e.perimeter += length;
        e.volume += pi / 3.0 * (p.x * p.x + p.x * q.x + q.x * q.x) * (q.y - p.y);
        e.outside += pi * (p.x + q.x) * length;
    }
    return e;
}

typedef struct grid {
    double x[LINES + 1], y[LINES + 1];
} grid;

/* Graded or even lines over an outline's box. */
static void set_grid(grid *g, const outline *o, bool graded)
{
    sw_point high = {0, 0}, low = o->v[0];
    double widths[LINES];
    for (size_t i = 0; i < o->count; i++) {
        high.x = fmax(high.x, o->v[i].x);
        high.y = fmax(high.y, o->v[i].y);
        low.x = fmin(low.x, o->v[i].x);
        low.y = fmin(low.y, o->v[i].y);
    }
    for (int axis = 0; axis < 2; axis++) {
        double from = axis == 0 ? low.x : low.y, to = axis == 0 ? high.x : high.y, *lines = axis == 0 ? g->x : g->y;
        sw_grade_cells(to - from, LINES, graded ? 0.0007 : 0.0, graded ? 0.0004 : 0.0, widths);
        lines[0] = from;
        for (int i = 0; i < LINES; i++)
            lines[i + 1] = lines[i] + widths[i];
        lines[LINES] = to;
    }
}

static sw_mesh *mesh_outline(const outline *o, const grid *g, bool turned)
{
    sw_section section = {.vertex_count = o->count,
                          .vertices = o->v,
                          .line_count_x = LINES + 1,
                          .line_count_y = LINES + 1,
                          .lines_x = g->x,
                          .lines_y = g->y,
                          .depth = 1.0,
                          .is_turned = turned,
                          .fibres_along = true};
    sw_mesh *mesh;
    assert_int_equal(sw_section_mesh_create(&section, &mesh), SW_OK);
    return mesh;
}

/* The outward normal's part along the section: its size follows from the facing, its sign from where the cell lies. */
static double normal_across(const sw_mesh *mesh, const sw_boundary_face *face, double lowest)
{
    double size = sqrt(fmax(0.0, 1.0 - face->facing * face->facing));
    double up = face->facing * (face->height + lowest - mesh->position[face->cell]);
    double along = face->across - mesh->across[face->cell];
    return fabs(up + size * along - face->distance) <= fabs(up - size * along - face->distance) ? size : -size;
}

static void test_totals(void **state)
{
    (void)state;
    for (int kind = 0; kind < OUTLINE_KINDS; kind++)
        for (int graded = 0; graded < 2; graded++)
            for (int turned = 0; turned < 2; turned++) {
                outline o = make_outline(kind);
                expected want = measure_outline(&o);
                grid g;
                set_grid(&g, &o, graded);
                sw_mesh *mesh = mesh_outline(&o, &g, turned);
                double volume = 0.0, outside = 0.0, up = 0.0;
                for (size_t i = 0; i < mesh->cell_count; i++) {
                    assert_true(mesh->volume[i] > 0.0);
                    volume += mesh->volume[i];
                }
                for (size_t i = 0; i < mesh->boundary_face_count; i++) {
                    outside += mesh->boundary_faces[i].area;
                    up += mesh->boundary_faces[i].area * mesh->boundary_faces[i].facing;
                }
                double volume_error = volume / (turned ? want.volume : want.area) - 1.0;
                double outside_error = outside / (turned ? want.outside : want.perimeter) - 1.0;
                /* Pieces shorter than 1e-9 of a cell are left out. A piece along a grid line is placed level with its cell's
                 * centroid: when turned, its path is off by up to half a cell's width for a length of a cell. */
                double tolerance = turned && kind != 0 ? 1e-3 : 1e-8;
                if (fabs(volume_error) > 1e-12 || fabs(outside_error) > tolerance || fabs(up) > tolerance * outside)
                    print_message("  %s, %s, %s: volume %.1e, surface %.1e, sum of normals %.1e\n", o.name,
                                  turned ? "turned" : "plane", graded ? "graded" : "even", volume_error, outside_error,
                                  up / outside);
                assert_close_abs(volume_error, 0.0, 1e-12);
                assert_close_abs(outside_error, 0.0, tolerance);
                assert_close_abs(up, 0.0, tolerance * outside);
                sw_mesh_destroy(mesh);
            }
}

/* The areas of each cell's faces with their outward normals add up to nothing, so that an even pressure would not push it
 * anywhere: no hole, no face twice. Plane sections. */
static void test_every_cell_closes(void **state)
{
    (void)state;
    for (int kind = 0; kind < OUTLINE_KINDS; kind++)
        for (int graded = 0; graded < 2; graded++) {
            outline o = make_outline(kind);
            grid g;
            set_grid(&g, &o, graded);
            sw_mesh *mesh = mesh_outline(&o, &g, false);
            sw_point sum[LINES * LINES] = {{0, 0}};
            double around[LINES * LINES] = {0};
            assert_true(mesh->cell_count <= LINES * LINES);
            for (size_t i = 0; i < mesh->face_count; i++) {
                const sw_face *f = &mesh->faces[i];
                /* a lies left of or below b; fibres run along the section here, so upright faces are known by them. */
                double *a = f->along_fibres ? &sum[f->a].x : &sum[f->a].y, *b = f->along_fibres ? &sum[f->b].x : &sum[f->b].y;
                *a += f->area;
                *b -= f->area;
                around[f->a] += f->area;
                around[f->b] += f->area;
                assert_true(f->distance_a > 0.0 && f->distance_b > 0.0);
            }
            for (size_t i = 0; i < mesh->boundary_face_count; i++) {
                const sw_boundary_face *f = &mesh->boundary_faces[i];
                sum[f->cell].x += f->area * normal_across(mesh, f, g.y[0]);
                sum[f->cell].y += f->area * f->facing;
                around[f->cell] += f->area;
            }
            for (size_t i = 0; i < mesh->cell_count; i++) {
                if (hypot(sum[i].x, sum[i].y) > 1e-7 * around[i])
                    print_message("  %s, %s: cell %zu at %.4f, %.4f is open by %.1e\n", o.name, graded ? "graded" : "even", i,
                                  mesh->across[i], mesh->position[i], hypot(sum[i].x, sum[i].y) / around[i]);
                assert_close_abs(sum[i].x, 0.0, 1e-7 * around[i]);
                assert_close_abs(sum[i].y, 0.0, 1e-7 * around[i]);
            }
            sw_mesh_destroy(mesh);
        }
}

/* A piece of surface that faces up by more than 30 degrees is top, down bottom, else end. */
static void test_sides_by_slope(void **state)
{
    (void)state;
    outline o;
    set_circle(&o, 90, 0.05);
    grid g;
    set_grid(&g, &o, false);
    sw_mesh *mesh = mesh_outline(&o, &g, false);
    double length[SW_SIDE_COUNT] = {0};
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const sw_boundary_face *f = &mesh->boundary_faces[i];
        length[f->side] += f->area;
        double x = f->across - 0.05, y = f->height + g.y[0] - 0.05;
        assert_close_abs(f->facing, y / hypot(x, y), 0.05); /* half the angle of an edge */
        assert_close_abs(hypot(x, y), 0.05, 1e-4);
    }
    double around = length[0] + length[1] + length[2];
    assert_close_rel(length[SW_SIDE_TOP], around / 3.0, 1e-6);
    assert_close_rel(length[SW_SIDE_BOTTOM], around / 3.0, 1e-6);
    assert_close_rel(length[SW_SIDE_END], around / 3.0, 1e-6);
    sw_mesh_destroy(mesh);
}

static void test_probe_reads_a_linear_temperature(void **state)
{
    (void)state;
    for (int kind = 0; kind < OUTLINE_KINDS; kind++) {
        outline o = make_outline(kind);
        grid g;
        set_grid(&g, &o, true);
        sw_mesh *mesh = mesh_outline(&o, &g, false);
        double *temperature = test_calloc(2 * mesh->cell_count, sizeof *temperature);
        for (size_t i = 0; i < mesh->cell_count; i++)
            temperature[2 * i] = 300.0 + 170.0 * mesh->across[i] - 420.0 * mesh->position[i];
        int places = 0, tips = 0;
        for (int i = 0; i < 20; i++)
            for (int j = 0; j < 20; j++) {
                sw_point at = {g.x[LINES] * (i + 0.5) / 20.0, g.y[LINES] * (j + 0.5) / 20.0};
                if (!sw_outline_contains(o.count, o.v, at))
                    continue;
                sw_probe probe = sw_section_probe(mesh, at);
                /* Where a section is one cell thick no gradient across it is known. */
                places++;
                tips += probe.count == 1;
                if (probe.count > 1)
                    assert_close_abs(sw_probe_reading(&probe, temperature), 300.0 + 170.0 * at.x - 420.0 * at.y, 1e-9);
            }
        /* In a sharp tip and where a section is one cell thick, a cell's neighbours lie on one line. */
        assert_true(places > 0 && (kind == 4 || tips <= places / 50));
        test_free(temperature);
        sw_mesh_destroy(mesh);
    }
}

static void assert_refused(size_t count, const sw_point *corners, const char *because)
{
    char reason[128] = "";
    assert_int_equal(sw_outline_check(count, corners, reason, sizeof reason), SW_ERR_RANGE);
    if (!strstr(reason, because))
        fail_msg("\"%s\" does not say \"%s\"", reason, because);
}

static void test_outlines_that_cannot_be(void **state)
{
    (void)state;
    assert_refused(2, (sw_point[]){{0, 0}, {1, 1}}, "at least 3");
    assert_refused(4, (sw_point[]){{0, 0}, {1, 1}, {1, 0}, {0, 1}}, "edges 1 and 3 cross or touch");
    assert_refused(3, (sw_point[]){{0, 0}, {1, 1}, {2, 2}}, "no area");
    assert_refused(3, (sw_point[]){{0, 0}, {1, NAN}, {1, 1}}, "corner 2 is not a number");
    assert_refused(4, (sw_point[]){{0, 0}, {1, 0}, {1, 0}, {0, 1}}, "corners 2 and 3 are the same point");
    assert_refused(4, (sw_point[]){{0, 0}, {1, 0}, {1, 1}, {0, 0}}, "corners 4 and 1 are the same point");
    /* An edge that runs back over the one before it encloses nothing there. */
    assert_refused(4, (sw_point[]){{0, 0}, {2, 0}, {1, 0}, {1, 1}}, "edges");
    char reason[128];
    for (int kind = 0; kind < OUTLINE_KINDS; kind++) {
        outline o = make_outline(kind);
        assert_int_equal(sw_outline_check(o.count, o.v, reason, sizeof reason), SW_OK);
        assert_true(sw_outline_area(o.count, o.v) > 0.0);
    }
}

static void test_grid_must_cover_the_outline(void **state)
{
    (void)state;
    outline o = make_outline(0);
    grid g;
    set_grid(&g, &o, false);
    sw_section section = {.vertex_count = o.count, .vertices = o.v, .line_count_x = LINES, .line_count_y = LINES + 1,
                          .lines_x = g.x, .lines_y = g.y, .depth = 1.0};
    sw_mesh *mesh = NULL;
    assert_int_equal(sw_section_mesh_create(&section, &mesh), SW_ERR_ARGUMENT);
    assert_null(mesh);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_totals),
        cmocka_unit_test(test_every_cell_closes),
        cmocka_unit_test(test_sides_by_slope),
        cmocka_unit_test(test_probe_reads_a_linear_temperature),
        cmocka_unit_test(test_outlines_that_cannot_be),
        cmocka_unit_test(test_grid_must_cover_the_outline),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
