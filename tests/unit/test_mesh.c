/* SPDX-License-Identifier: BSD-3-Clause */
/* Meshes in one dimension: volumes, areas, growth, probes. Geometry is its own outside check. */
#include "close.h"

#include "face_columns.h"
#include "mesh.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

static sw_mesh *create(sw_shape shape, double extent, bool insulated, size_t count, const sw_layer *layers)
{
    sw_mesh *mesh = NULL;
    assert_int_equal(sw_mesh_create(shape, extent, insulated, count, layers, &mesh), SW_OK);
    return mesh;
}

static double sum_of_volumes(const sw_mesh *mesh)
{
    double sum = 0.0;
    for (size_t i = 0; i < mesh->cell_count; i++)
        sum += mesh->volume[i];
    return sum;
}

static void test_volumes_and_areas(void **state)
{
    (void)state;
    const sw_layer layer = {.thickness = 0.05, .cells = 37, .high_cell = 0.0003};
    const double r = 0.05;
    sw_mesh *mesh = create(SW_SHAPE_SLAB, 0.3, false, 1, &layer);
    assert_close_rel(sum_of_volumes(mesh), 0.3 * r, 1e-14);
    assert_int_equal(mesh->boundary_face_count, 2);
    for (size_t i = 0; i < mesh->face_count; i++)
        assert_close_abs(mesh->faces[i].area, 0.3, 0.0);
    sw_mesh_destroy(mesh);

    mesh = create(SW_SHAPE_CYLINDER, 0.4, false, 1, &layer);
    assert_close_rel(sum_of_volumes(mesh), pi * r * r * 0.4, 1e-14);
    assert_int_equal(mesh->boundary_face_count, 1);
    assert_close_rel(mesh->boundary_faces[0].area, 2.0 * pi * r * 0.4, 1e-14);
    for (size_t i = 0; i < mesh->face_count; i++)
        assert_close_rel(mesh->faces[i].area, 2.0 * pi * mesh->bounds[i + 1] * 0.4, 1e-14);
    sw_mesh_destroy(mesh);

    mesh = create(SW_SHAPE_SPHERE, 2.0, false, 1, &layer);
    assert_close_rel(sum_of_volumes(mesh), 2.0 * 4.0 / 3.0 * pi * r * r * r, 1e-14);
    assert_int_equal(mesh->boundary_face_count, 1);
    assert_close_rel(mesh->boundary_faces[0].area, 2.0 * 4.0 * pi * r * r, 1e-14);
    sw_mesh_destroy(mesh);
}

/* Each cell's faces close: in a slab alike, in a cylinder the difference of areas is the area of its sides, width x
 * length x 2 pi. And centres and distances agree with the bounds. */
static void test_cells_fit_together(void **state)
{
    (void)state;
    const sw_layer layers[2] = {{.thickness = 0.03, .cells = 20, .low_cell = 0.0002},
                                {.thickness = 0.01, .cells = 8, .high_cell = 0.0002, .region = 1}};
    sw_mesh *mesh = create(SW_SHAPE_CYLINDER, 1.0, false, 2, layers);
    assert_int_equal(mesh->cell_count, 28);
    assert_int_equal(mesh->face_count, 27);
    assert_true(mesh->in_a_row);
    assert_close_abs(mesh->bounds[0], 0.0, 0.0);
    assert_close_abs(mesh->bounds[20], 0.03, 1e-16);
    assert_close_abs(mesh->bounds[28], 0.04, 1e-16);
    for (size_t i = 0; i < mesh->cell_count; i++) {
        assert_int_equal(mesh->region[i], i < 20 ? 0 : 1);
        assert_close_abs(mesh->position[i], 0.5 * (mesh->bounds[i] + mesh->bounds[i + 1]), 1e-16);
        assert_close_rel(mesh->volume[i], 2.0 * pi * mesh->position[i] * (mesh->bounds[i + 1] - mesh->bounds[i]),
                         1e-12);
    }
    for (size_t i = 0; i < mesh->face_count; i++) {
        const sw_face *f = &mesh->faces[i];
        assert_int_equal(f->a, i);
        assert_int_equal(f->b, i + 1);
        assert_close_abs(mesh->position[f->a] + f->distance_a, mesh->bounds[i + 1], 1e-16);
        assert_close_abs(mesh->position[f->b] - f->distance_b, mesh->bounds[i + 1], 1e-16);
    }
    assert_close_abs(mesh->position[27] + mesh->boundary_faces[0].distance, 0.04, 1e-16);
    sw_mesh_destroy(mesh);
}

static void test_sides(void **state)
{
    (void)state;
    const sw_layer layer = {.thickness = 0.05, .cells = 10};
    sw_mesh *mesh = create(SW_SHAPE_SLAB, 1.0, false, 1, &layer);
    assert_int_equal(mesh->boundary_faces[0].side, SW_SIDE_BOTTOM);
    assert_int_equal(mesh->boundary_faces[0].cell, 0);
    assert_int_equal(mesh->boundary_faces[1].side, SW_SIDE_TOP);
    assert_int_equal(mesh->boundary_faces[1].cell, 9);
    sw_mesh_destroy(mesh);
    mesh = create(SW_SHAPE_SLAB, 1.0, true, 1, &layer);
    assert_int_equal(mesh->boundary_face_count, 1);
    assert_int_equal(mesh->boundary_faces[0].side, SW_SIDE_TOP);
    sw_mesh_destroy(mesh);
}

/* The outermost cell has the thickness asked for, and widths grow by one ratio from there. */
static void test_growth(void **state)
{
    (void)state;
    const sw_layer both = {.thickness = 0.08, .cells = 60, .low_cell = 0.0003, .high_cell = 0.0003};
    sw_mesh *mesh = create(SW_SHAPE_SLAB, 1.0, false, 1, &both);
    double first = mesh->bounds[1] - mesh->bounds[0], ratio = (mesh->bounds[2] - mesh->bounds[1]) / first;
    assert_close_rel(first, 0.0003, 1e-9);
    assert_within(ratio, 1.01, 1.3);
    for (size_t i = 0; i < 30; i++) {
        double width = mesh->bounds[i + 1] - mesh->bounds[i];
        assert_close_rel(width, first * pow(ratio, (double)i), 1e-9);
        assert_close_rel(mesh->bounds[60 - i] - mesh->bounds[59 - i], width, 1e-9);
    }
    sw_mesh_destroy(mesh);
    /* More cells than a thickness of such cells holds: all alike. */
    const sw_layer crowded = {.thickness = 0.002, .cells = 20, .high_cell = 0.0003};
    mesh = create(SW_SHAPE_SLAB, 1.0, false, 1, &crowded);
    for (size_t i = 0; i < 20; i++)
        assert_close_rel(mesh->bounds[i + 1] - mesh->bounds[i], 0.0001, 1e-12);
    sw_mesh_destroy(mesh);
    const sw_layer one = {.thickness = 0.002, .cells = 1, .low_cell = 0.0003, .high_cell = 0.0003};
    mesh = create(SW_SHAPE_SLAB, 1.0, false, 1, &one);
    assert_close_abs(mesh->bounds[1], 0.002, 1e-18);
    sw_mesh_destroy(mesh);
}

/* A probe reads a linear profile exactly between the outermost centres, and the nearest cell outside of them. */
static void test_probe(void **state)
{
    (void)state;
    const sw_layer layer = {.thickness = 0.08, .cells = 21, .low_cell = 0.0003, .high_cell = 0.001};
    sw_mesh *mesh = create(SW_SHAPE_SLAB, 1.0, false, 1, &layer);
    double values[42];
    for (size_t i = 0; i < 21; i++) {
        values[2 * i] = 280.0 + 1000.0 * mesh->position[i];
        values[2 * i + 1] = NAN; /* water content is none of its business */
    }
    for (double x = 0.0; x <= 0.08; x += 0.00037) {
        sw_probe probe = sw_mesh_probe(mesh, x);
        double at = fmin(fmax(x, mesh->position[0]), mesh->position[20]);
        assert_close_abs(sw_probe_reading(&probe, values), 280.0 + 1000.0 * at, 1e-10);
    }
    for (size_t i = 0; i < 21; i++) {
        sw_probe probe = sw_mesh_probe(mesh, mesh->position[i]);
        assert_close_abs(sw_probe_reading(&probe, values), values[2 * i], 1e-10);
    }
    sw_mesh_destroy(mesh);
}

static void test_bad_arguments(void **state)
{
    (void)state;
    sw_mesh *mesh = (sw_mesh *)&mesh;
    const sw_layer good = {.thickness = 0.05, .cells = 10}, empty = {.thickness = 0.05},
                   flat = {.thickness = 0.0, .cells = 10}, negative = {.thickness = -0.01, .cells = 10},
                   nan_thick = {.thickness = NAN, .cells = 10};
    const sw_layer *bad[] = {&empty, &flat, &negative, &nan_thick};
    for (int i = 0; i < 4; i++)
        assert_int_equal(sw_mesh_create(SW_SHAPE_SLAB, 1.0, false, 1, bad[i], &mesh), SW_ERR_ARGUMENT);
    assert_int_equal(sw_mesh_create(SW_SHAPE_SLAB, 1.0, false, 0, &good, &mesh), SW_ERR_ARGUMENT);
    assert_int_equal(sw_mesh_create(SW_SHAPE_SLAB, 0.0, false, 1, &good, &mesh), SW_ERR_ARGUMENT);
    assert_int_equal(sw_mesh_create(SW_SHAPE_SLAB, NAN, false, 1, &good, &mesh), SW_ERR_ARGUMENT);
    assert_ptr_equal(mesh, &mesh);
    sw_mesh_destroy(NULL);
}

/* Faces four to a group: what is said of a group holds for each of its faces, and the last group is filled up without area. */
static void test_groups_of_faces(void **state)
{
    (void)state;
    int region[12] = {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1};
    sw_face faces[] = {
        {.a = 0, .b = 4}, {.a = 1, .b = 5}, {.a = 2, .b = 6}, {.a = 3, .b = 7},  /* both follow each other */
        {.a = 0, .b = 4}, {.a = 2, .b = 5}, {.a = 1, .b = 6}, {.a = 3, .b = 7},  /* only b */
        {.a = 0, .b = 4}, {.a = 1, .b = 5}, {.a = 2, .b = 7}, {.a = 3, .b = 6},  /* only a */
        {.a = 0, .b = 8}, {.a = 1, .b = 9}, {.a = 2, .b = 10}, {.a = 3, .b = 11}, /* one of two materials */
        {.a = 4, .b = 8}, {.a = 5, .b = 9}, /* filled up with the second */
    };
    enum { COUNT = sizeof faces / sizeof *faces };
    static const bool in_a_row[] = {true, false, false, true, false}, is_alike[] = {true, true, true, false, true};
    for (size_t i = 0; i < COUNT; i++)
        faces[i].area = faces[i].distance_a = 1.0 + (double)i;
    const sw_mesh mesh = {.cell_count = 12, .region = region, .face_count = COUNT, .faces = faces};
    sw_face_columns columns;
    assert_int_equal(sw_face_columns_init(&columns, &mesh), 0);
    assert_int_equal(columns.group_count, 5);
    for (size_t i = 0; i < 4 * columns.group_count; i++) {
        const sw_face *face = &faces[i < COUNT ? i : COUNT - 1];
        assert_true(columns.a[i] == face->a && columns.b[i] == face->b && columns.distance_a[i] == face->distance_a);
        assert_true(columns.area[i] == (i < COUNT ? face->area : 0.0));
        assert_true(columns.group[i / 4].in_a_row == in_a_row[i / 4] && columns.group[i / 4].is_alike == is_alike[i / 4]);
    }
    sw_face_columns_free(&columns);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_volumes_and_areas), cmocka_unit_test(test_cells_fit_together),
        cmocka_unit_test(test_sides),             cmocka_unit_test(test_growth),
        cmocka_unit_test(test_probe),             cmocka_unit_test(test_bad_arguments),
        cmocka_unit_test(test_groups_of_faces),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
