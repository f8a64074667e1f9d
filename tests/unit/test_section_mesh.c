/* SPDX-License-Identifier: BSD-3-Clause */
/* Sections as geometry: areas, surfaces and cells are those of the outline, faces are square to the lines between seeds,
 * surfaces close, sides follow the slope, and outlines that cannot be are refused. Expected values are those of plane
 * geometry. */
#include "close.h"

#include "outlines.h"
#include "transport.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { RANDOM_OUTLINES = 200 };

typedef struct expected {
    double area, perimeter;
} expected;

static expected measure_outline(const test_outline *o)
{
    expected e = {0};
    for (size_t i = 0; i < o->count; i++) {
        sw_point p = o->v[i], q = o->v[(i + 1) % o->count];
        e.area += 0.5 * (p.x + q.x) * (q.y - p.y);
        e.perimeter += hypot(q.x - p.x, q.y - p.y);
    }
    return e;
}

static double distance_to_outline(const test_outline *o, sw_point p)
{
    double nearest = HUGE_VAL;
    for (size_t i = 0; i < o->count; i++) {
        sw_point a = o->v[i], b = o->v[(i + 1) % o->count];
        double x = b.x - a.x, y = b.y - a.y, t = ((p.x - a.x) * x + (p.y - a.y) * y) / (x * x + y * y);
        t = fmin(fmax(t, 0.0), 1.0);
        nearest = fmin(nearest, hypot(p.x - a.x - t * x, p.y - a.y - t * y));
    }
    return nearest;
}

static void check_totals(const test_outline *o, const sw_mesh *mesh)
{
    expected want = measure_outline(o);
    double volume = 0.0, outside = 0.0, up = 0.0;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        assert_true(mesh->volume[i] > 0.0);
        assert_true(sw_outline_contains(o->count, o->v, (sw_point){mesh->across[i], mesh->position[i]}));
        volume += mesh->volume[i];
    }
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        outside += mesh->boundary_faces[i].area;
        up += mesh->boundary_faces[i].area * mesh->boundary_faces[i].facing;
    }
    if (fabs(volume / want.area - 1.0) > 1e-11 || fabs(outside / want.perimeter - 1.0) > 1e-11)
        print_message("  %s: area off by %.1e, perimeter by %.1e\n", o->name, volume / want.area - 1.0,
                      outside / want.perimeter - 1.0);
    assert_close_rel(volume, want.area, 1e-11);
    assert_close_rel(outside, want.perimeter, 1e-11);
    assert_close_abs(up, 0.0, 1e-11 * outside);
}

/* Of each cell the corners enclose its area, none lies outside, and each face's ends lie half-way between its seeds. */
static void check_cells(const test_outline *o, const sw_mesh *mesh)
{
    for (size_t i = 0; i < mesh->cell_count; i++) {
        size_t first = mesh->first_corner[i], count = mesh->first_corner[i + 1] - first;
        const sw_point *v = mesh->corners + first;
        assert_close_rel(sw_outline_area(count, v), mesh->volume[i], 1e-9);
        for (size_t k = 0; k < count; k++)
            if (!sw_outline_contains(o->count, o->v, v[k]))
                assert_true(distance_to_outline(o, v[k]) < 1e-10);
    }
    for (size_t i = 0; i < mesh->face_count; i++) {
        const sw_face *f = &mesh->faces[i];
        double x = mesh->across[f->b] - mesh->across[f->a], y = mesh->position[f->b] - mesh->position[f->a];
        assert_close_rel(f->distance_a + f->distance_b, hypot(x, y), 1e-12);
        assert_close_abs(f->distance_a, f->distance_b, 0.0);
    }
}

/* But for two outermost ones beside a sharp corner, no seeds are nearer to one another than these are to the surface. */
static void check_seeds_are_apart(const sw_fitted_section *f, const sw_mesh *mesh)
{
    bool *outer = test_calloc(mesh->cell_count, sizeof *outer);
    for (size_t i = 0; i < mesh->boundary_face_count; i++)
        outer[mesh->boundary_faces[i].cell] = true;
    for (size_t i = 0; i < mesh->face_count; i++) {
        const sw_face *face = &mesh->faces[i];
        if (!outer[face->a] || !outer[face->b])
            assert_true(face->distance_a + face->distance_b > 0.9 * f->bare.depth[0]);
    }
    test_free(outer);
}

/* The ends that two cells share span a line square to that between their seeds, as long as the face. */
static void check_faces_are_square(const test_outline *o, const sw_mesh *mesh)
{
    double scale = sqrt(measure_outline(o).area);
    for (size_t i = 0; i < mesh->face_count; i++) {
        const sw_face *f = &mesh->faces[i];
        sw_point a = {mesh->across[f->a], mesh->position[f->a]}, b = {mesh->across[f->b], mesh->position[f->b]}, end[2];
        int found = 0;
        for (size_t k = mesh->first_corner[f->a]; k < mesh->first_corner[f->a + 1]; k++) {
            sw_point p = mesh->corners[k];
            bool is_new = found == 0 || hypot(p.x - end[0].x, p.y - end[0].y) > 1e-9 * scale;
            for (size_t l = mesh->first_corner[f->b]; is_new && found < 2 && l < mesh->first_corner[f->b + 1]; l++)
                if (hypot(p.x - mesh->corners[l].x, p.y - mesh->corners[l].y) < 1e-11 * scale) {
                    end[found++] = p;
                    is_new = false;
                }
        }
        if (f->area < 1e-6 * scale)
            continue; /* too short to tell its slope from round-off */
        assert_int_equal(found, 2);
        double x = end[1].x - end[0].x, y = end[1].y - end[0].y, length = hypot(x, y), apart = hypot(b.x - a.x, b.y - a.y);
        assert_close_abs(length, f->area, 1e-10 * scale);
        assert_close_abs((x * (b.x - a.x) + y * (b.y - a.y)) / apart, 0.0, 1e-10 * scale);
    }
}

static void test_drawn_outlines(void **state)
{
    (void)state;
    static const size_t sizes[][2] = {{12, 20}, {32, 28}, {9, 60}};
    sw_fitted_section f;
    for (int kind = 0; kind < TEST_OUTLINE_COUNT; kind++)
        for (int k = 0; k < 3; k++) {
            test_outline o = drawn_outline(kind);
            fit_section(&o, sizes[k][0], sizes[k][1], 0.0003, &f);
            sw_mesh *mesh = fitted_mesh(&f);
            check_totals(&o, mesh);
            check_cells(&o, mesh);
            check_faces_are_square(&o, mesh);
            sw_mesh_destroy(mesh);
        }
}

static void test_random_outlines(void **state)
{
    (void)state;
    sw_fitted_section f;
    size_t least = SIZE_MAX, most = 0;
    char reason[SW_MISFIT_SIZE];
    sw_misfit misfit;
    for (unsigned number = 0; number < RANDOM_OUTLINES; number++) {
        test_outline o = random_outline(number);
        assert_int_equal(sw_outline_check(o.count, o.v, &misfit), SW_OK);
        fit_section(&o, 12, 16, 0.0003, &f);
        sw_mesh *mesh = NULL;
        if (sw_fitted_mesh_create(&f, &mesh, &misfit) != SW_OK)
            fail_msg("outline %u: %s", number, sw_say_misfit(NULL, &misfit, reason));
        check_totals(&o, mesh);
        check_cells(&o, mesh);
        check_seeds_are_apart(&f, mesh);
        least = mesh->cell_count < least ? mesh->cell_count : least;
        most = mesh->cell_count > most ? mesh->cell_count : most;
        sw_mesh_destroy(mesh);
    }
    print_message("  %d random outlines: %zu to %zu cells\n", RANDOM_OUTLINES, least, most);
}

/* The mirror image of an outline has the mirror images of its cells, bays and round ends included. */
static void test_mirrored_outlines(void **state)
{
    (void)state;
    for (unsigned number = 0; number < 60; number++) {
        test_outline one = random_outline(number), other = one;
        for (size_t i = 0; i < one.count; i++)
            other.v[one.count - 1 - i] = (sw_point){-one.v[i].x, one.v[i].y};
        sw_fitted_section of_one, of_other;
        fit_section(&one, 12, 16, 0.0003, &of_one);
        fit_section(&other, 12, 16, 0.0003, &of_other);
        sw_mesh *a = fitted_mesh(&of_one), *b = fitted_mesh(&of_other);
        assert_int_equal(a->cell_count, b->cell_count);
        for (size_t i = 0; i < a->cell_count; i++) {
            double nearest = HUGE_VAL;
            for (size_t k = 0; k < b->cell_count; k++)
                nearest = fmin(nearest, hypot(a->across[i] + b->across[k], a->position[i] - b->position[k]));
            assert_true(nearest < 1e-9);
        }
        sw_mesh_destroy(a);
        sw_mesh_destroy(b);
    }
}

/* In a rectangle along the fibres, what goes between seeds at one height goes along them: by the face in the strip at the surface,
 * by triangles below it. Between seeds one above the other nothing does at the surface. */
static void test_flow_along_the_surface(void **state)
{
    (void)state;
    test_outline o = drawn_outline(0);
    sw_fitted_section f;
    fit_section(&o, 16, 20, 0.0003, &f);
    f.fibres_along = f.has_slanted_flow = true;
    sw_mesh *mesh = fitted_mesh(&f);
    const double middle = 0.125, first = f.bare.depth[0];
    size_t found = 0;
    for (size_t i = 0; i < mesh->face_count; i++) {
        const sw_face *face = &mesh->faces[i];
        const double y = mesh->position[face->a];
        if (fabs(mesh->across[face->a] - middle) > 0.06 || y > 1.01 * first || face->area == 0.0)
            continue;
        const bool is_level = fabs(mesh->position[face->b] - y) < 1e-9;
        found += is_level;
        if (is_level) {
            assert_close_rel(face->along_fibres * face->area, first, 1e-6); /* as high as the strip */
            assert_close_abs(face->along_fibres + face->aslant, 1.0, 1e-9);
        } else {
            assert_close_abs(face->along_fibres, 0.0, 1e-9);
        }
    }
    assert_true(found >= 4);
    sw_mesh_destroy(mesh);
}

/* Constant and linear fields: nothing flows between cells in the one; in the other what flows into each cell flows out, along
 * the fibres too, since the gradient is the same everywhere. Cells at the surface, whose outer flows are not set, are left out;
 * with a ratio also their neighbours, whose gradients reach to the surface. */
static void check_linear(const sw_fitted_section *f, double ratio)
{
    sw_mesh *mesh = fitted_mesh(f);
    double *gain = test_calloc(mesh->cell_count, sizeof *gain), *scale = test_calloc(mesh->cell_count, sizeof *scale);
    bool *outer = test_calloc(mesh->cell_count, sizeof *outer);
    for (size_t i = 0; i < mesh->boundary_face_count; i++)
        outer[mesh->boundary_faces[i].cell] = true;
    for (size_t i = 0; i < mesh->face_count; i++) {
        const sw_face *face = &mesh->faces[i];
        double factor = 1.0 + (ratio - 1.0) * face->along_fibres + fmin(ratio - 1.0, 0.0) * face->aslant;
        double conductance = face->area * factor / (face->distance_a + face->distance_b);
        double drop = 2.0 * (mesh->across[face->a] - mesh->across[face->b]) - 5.0 * (mesh->position[face->a] - mesh->position[face->b]);
        gain[face->a] -= conductance * drop;
        gain[face->b] += conductance * drop;
        scale[face->a] += fabs(conductance * drop);
        scale[face->b] += fabs(conductance * drop);
    }
    for (size_t i = 0; i < mesh->fibre_triangle_count; i++)
        for (int k = 0; k < 3; k++) {
            const sw_fibre_triangle *t = &mesh->fibre_triangles[i];
            size_t from = t->cell[(k + 1) % 3], to = t->cell[(k + 2) % 3];
            double conductance = fmax(ratio - 1.0, 0.0) * t->along[k] + fmax(1.0 - ratio, 0.0) * t->across[k];
            double drop = 2.0 * (mesh->across[from] - mesh->across[to]) - 5.0 * (mesh->position[from] - mesh->position[to]);
            gain[from] -= conductance * drop;
            gain[to] += conductance * drop;
            scale[from] += fabs(conductance * drop);
            scale[to] += fabs(conductance * drop);
        }
    size_t inner = 0;
    for (size_t i = 0; i < mesh->cell_count; i++)
        if (!outer[i]) {
            inner++;
            assert_close_abs(gain[i], 0.0, 1e-9 * scale[i]);
        }
    assert_true(inner > mesh->cell_count / 3);
    test_free(gain);
    test_free(scale);
    test_free(outer);
    sw_mesh_destroy(mesh);
}

static void test_linear_fields(void **state)
{
    (void)state;
    sw_fitted_section f;
    for (int kind = 0; kind < TEST_OUTLINE_COUNT; kind++) {
        test_outline o = drawn_outline(kind);
        fit_section(&o, 16, 20, 0.0003, &f);
        f.fibres_along = f.has_slanted_flow = true;
        check_linear(&f, 1.0);
        check_linear(&f, 3.0);
        check_linear(&f, 100.0);
        check_linear(&f, 0.1);
    }
}

/* A piece of surface that faces up by more than 30 degrees is top, down bottom, else end. */
static void test_sides_by_slope(void **state)
{
    (void)state;
    test_outline o = round_outline(90, 0.05, false);
    sw_fitted_section f;
    fit_section(&o, 12, 24, 0.0003, &f);
    sw_mesh *mesh = fitted_mesh(&f);
    double length[SW_SIDE_COUNT] = {0}, lowest = 0.0;
    for (size_t i = 0; i < o.count; i++)
        lowest = fmin(lowest, o.v[i].y);
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const sw_boundary_face *face = &mesh->boundary_faces[i];
        length[face->side] += face->area;
        double x = face->across, y = face->height + lowest;
        assert_close_abs(face->facing, y / hypot(x, y), 0.04); /* half the angle of an edge */
        assert_close_abs(hypot(x, y), 0.05, 1e-4);
    }
    double around = length[0] + length[1] + length[2];
    assert_close_rel(length[SW_SIDE_TOP], around / 3.0, 1e-6);
    assert_close_rel(length[SW_SIDE_BOTTOM], around / 3.0, 1e-6);
    assert_close_rel(length[SW_SIDE_END], around / 3.0, 1e-6);
    sw_mesh_destroy(mesh);
}

/* A cap has the area between the outline's top and a line at its thickness below: of a rectangle with its ends cut at the
 * halved right angle, (width - thickness) times thickness. A seam's band has its length times its thickness. */
static void test_fat_has_its_area(void **state)
{
    (void)state;
    const double cap = 0.006, width = 0.25;
    test_outline o = drawn_outline(0);
    sw_fitted_section f;
    fit_section(&o, 24, 40, 0.0003, &f);
    f.fat_region = 1;
    f.under_cap = (sw_layer_depths){.count = 8, .fat_count = 4, .depth = {0, 0.0009, 0.0022, 0.0047, 0.0073, 0.011, 0.016, 0.022}};
    f.under_cap.depth[0] = f.bare.depth[0];
    sw_mesh *mesh = fitted_mesh(&f);
    double fat = 0.0;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        fat += mesh->region[i] == 1 ? mesh->volume[i] : 0.0;
        if (fabs(mesh->across[i] - 0.5 * width) < 0.4 * width)
            assert_int_equal(mesh->region[i], mesh->position[i] > 0.08 - cap);
        for (size_t k = mesh->first_corner[i]; mesh->region[i] == 1 && k < mesh->first_corner[i + 1]; k++)
            if (fabs(mesh->corners[k].x - 0.5 * width) < 0.4 * width)
                assert_true(mesh->corners[k].y > 0.08 - cap - 1e-12);
    }
    print_message("  cap: area off by %.1e of it\n", fat / ((width - cap) * cap) - 1.0);
    assert_close_rel(fat, (width - cap) * cap, 0.01);
    sw_mesh_destroy(mesh);

    fit_section(&o, 24, 40, 0.0003, &f);
    f.fat_region = 1;
    f.seam = (sw_seam){{0.0, 0.05}, {0.25, 0.03}, 0.004};
    f.in_seam = (sw_layer_depths){.count = 5, .fat_count = 1, .depth = {0.001, 0.003, 0.0055, 0.0085, 0.012}};
    mesh = fitted_mesh(&f);
    fat = 0.0;
    for (size_t i = 0; i < mesh->cell_count; i++)
        fat += mesh->region[i] == 1 ? mesh->volume[i] : 0.0;
    print_message("  seam: area off by %.1e of it\n", fat / (hypot(0.25, 0.02) * 0.004) - 1.0);
    assert_close_rel(fat, hypot(0.25, 0.02) * 0.004, 0.03);
    check_totals(&o, mesh);
    sw_mesh_destroy(mesh);
}

static void test_probe_reads_a_linear_temperature(void **state)
{
    (void)state;
    for (int kind = 0; kind < TEST_OUTLINE_COUNT; kind++) {
        test_outline o = drawn_outline(kind);
        sw_fitted_section f;
        fit_section(&o, 16, 20, 0.0003, &f);
        sw_mesh *mesh = fitted_mesh(&f);
        double *temperature = test_calloc(2 * mesh->cell_count, sizeof *temperature);
        for (size_t i = 0; i < mesh->cell_count; i++)
            temperature[2 * i] = 300.0 + 170.0 * mesh->across[i] - 420.0 * mesh->position[i];
        int places = 0;
        for (int i = 0; i < 20; i++)
            for (int j = 0; j < 20; j++) {
                sw_point at = {0.3 * (i + 0.5) / 20.0, 0.12 * (j + 0.5) / 20.0};
                if (!sw_outline_contains(o.count, o.v, at))
                    continue;
                sw_probe probe = sw_section_probe(mesh, at);
                places++;
                assert_close_abs(sw_probe_reading(&probe, temperature), 300.0 + 170.0 * at.x - 420.0 * at.y, 1e-8);
            }
        assert_true(places > 0);
        test_free(temperature);
        sw_mesh_destroy(mesh);
    }
}

static void assert_refused(size_t count, const sw_point *corners, const char *because)
{
    sw_misfit misfit;
    char reason[SW_MISFIT_SIZE];
    assert_int_equal(sw_outline_check(count, corners, &misfit), SW_ERR_RANGE);
    sw_say_misfit(NULL, &misfit, reason);
    if (!strstr(reason, because))
        fail_msg("\"%s\" does not say \"%s\"", reason, because);
}

static void assert_not_meshed(const test_outline *o, const char *because)
{
    sw_misfit misfit;
    char reason[SW_MISFIT_SIZE];
    sw_fitted_section f;
    sw_mesh *mesh = NULL;
    assert_int_equal(sw_outline_check(o->count, o->v, &misfit), SW_OK);
    fit_section(o, 12, 20, 0.0003, &f);
    if (sw_fitted_mesh_create(&f, &mesh, &misfit) != SW_ERR_RANGE)
        fail_msg("%s is not refused, or not for its shape", o->name);
    assert_null(mesh);
    sw_say_misfit(NULL, &misfit, reason);
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
    sw_misfit misfit;
    for (int kind = 0; kind < TEST_OUTLINE_COUNT; kind++) {
        test_outline o = drawn_outline(kind);
        assert_int_equal(sw_outline_check(o.count, o.v, &misfit), SW_OK);
        assert_true(sw_outline_area(o.count, o.v) > 0.0);
    }
}

/* A tip of a tenth of a degree, a spike and a slit are told with their place; a sliver and a neck of hundredths of a millimetre
 * are meshed. */
static void test_outlines_too_fine_for_cells(void **state)
{
    (void)state;
    test_outline tip = {"tip", 4, {{0.0, 0.0}, {0.2, 0.0}, {0.2, 0.08}, {0.1, 0.0002}}};
    assert_not_meshed(&tip, "corner 1, 0 cm along and 0 cm up, is too sharp: 0.11 degrees");
    test_outline sliver = {"sliver", 4, {{0.0, 0.0}, {0.2, 0.0}, {0.2, 0.0002}, {0.0, 0.0002}}};
    sw_fitted_section f;
    sw_mesh *mesh;
    fit_section(&sliver, 12, 20, 0.0003, &f);
    mesh = fitted_mesh(&f); /* its layers are as thin as it is */
    check_totals(&sliver, mesh);
    sw_mesh_destroy(mesh);
    test_outline spike = {"spike", 7, {{0.0, 0.0}, {0.2, 0.0}, {0.2, 0.05}, {0.1003, 0.05}, {0.1, 0.12}, {0.0997, 0.05}, {0.0, 0.05}}};
    assert_not_meshed(&spike, "corner 5");
    test_outline neck = {"neck", 8, {{0.0, 0.0}, {0.1, 0.02499}, {0.2, 0.0}, {0.2, 0.05}, {0.15, 0.05}, {0.1, 0.02501}, {0.05, 0.05}, {0.0, 0.05}}};
    fit_section(&neck, 12, 20, 0.0003, &f);
    mesh = fitted_mesh(&f); /* short facets serve a neck of 0.02 mm between blunt corners */
    check_totals(&neck, mesh);
    sw_mesh_destroy(mesh);
    test_outline slit = {"slit", 7, {{0.0, 0.0}, {0.2, 0.0}, {0.2, 0.05}, {0.1002, 0.05}, {0.1001, 0.01}, {0.1, 0.05}, {0.0, 0.05}}};
    assert_not_meshed(&slit, "corner 5");
    test_outline triangle = {"triangle", 3, {{0.0, 0.0}, {0.2, 0.0}, {0.05, 0.08}}};
    fit_section(&triangle, 12, 20, 0.0003, &f);
    mesh = fitted_mesh(&f);
    check_totals(&triangle, mesh);
    sw_mesh_destroy(mesh);
}

/* A rectangle on grid lines: its cells close and add up; turned, its volume is the cylinder's. */
static void test_rectangle(void **state)
{
    (void)state;
    static const double x[] = {0.0, 0.01, 0.03, 0.06}, y[] = {0.0, 0.02, 0.05};
    for (int turned = 0; turned < 2; turned++) {
        sw_rectangle r = {.line_count_x = 4, .line_count_y = 3, .lines_x = x, .lines_y = y, .depth = 2.0, .is_turned = turned == 1};
        sw_mesh *mesh;
        double volume = 0.0, outside = 0.0;
        assert_int_equal(sw_rectangle_mesh_create(&r, &mesh), SW_OK);
        for (size_t i = 0; i < mesh->cell_count; i++)
            volume += mesh->volume[i];
        for (size_t i = 0; i < mesh->boundary_face_count; i++)
            outside += mesh->boundary_faces[i].area;
        assert_close_rel(volume, turned ? 2.0 * SW_PI * 0.06 * 0.06 * 0.05 : 0.006, 1e-12);
        assert_close_rel(outside, turned ? 2.0 * 2.0 * SW_PI * 0.06 * (0.06 + 0.05) : 0.44, 1e-12);
        assert_int_equal(mesh->face_count, 7);
        sw_mesh_destroy(mesh);
        r.line_count_x = 1;
        assert_int_equal(sw_rectangle_mesh_create(&r, &mesh), SW_ERR_ARGUMENT);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_drawn_outlines),
        cmocka_unit_test(test_random_outlines),
        cmocka_unit_test(test_mirrored_outlines),
        cmocka_unit_test(test_flow_along_the_surface),
        cmocka_unit_test(test_linear_fields),
        cmocka_unit_test(test_sides_by_slope),
        cmocka_unit_test(test_fat_has_its_area),
        cmocka_unit_test(test_probe_reads_a_linear_temperature),
        cmocka_unit_test(test_outlines_that_cannot_be),
        cmocka_unit_test(test_outlines_too_fine_for_cells),
        cmocka_unit_test(test_rectangle),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
