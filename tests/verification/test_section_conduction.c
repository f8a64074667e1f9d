/* SPDX-License-Identifier: BSD-3-Clause */
/* Conduction in two dimensions against products of exact solutions. */
#include "close.h"

#include "conduction_series.h"
#include "problem.h"
#include "section_mesh.h"

#include <math.h>
#include <stdlib.h>

static const double hour = 3600.0, diffusivity = 0.45 / (1050.0 * 3500.0);

/* A rectangle from the plane or axis of symmetry at the left: half_width by height, equal cells. */
static sw_mesh *rectangle(double half_width, double height, size_t columns, size_t rows, bool turned)
{
    double lines_x[SW_SECTION_LINES_MAX], lines_y[SW_SECTION_LINES_MAX];
    for (size_t i = 0; i <= columns; i++)
        lines_x[i] = half_width * (double)i / (double)columns;
    for (size_t i = 0; i <= rows; i++)
        lines_y[i] = height * (double)i / (double)rows;
    const sw_rectangle section = {.line_count_x = columns + 1,
                                .line_count_y = rows + 1, .lines_x = lines_x, .lines_y = lines_y, .depth = 1.0,
                                .is_turned = turned, .insulated_left = true};
    sw_mesh *mesh = NULL;
    assert_int_equal(sw_rectangle_mesh_create(&section, &mesh), SW_OK);
    return mesh;
}

static void heat_all_round(problem *p, sw_mesh *mesh)
{
    problem_setup setup = reference_slab(0.04, 1);
    setup.tolerance = 1e-6;
    problem_init_on(p, &setup, mesh);
    for (size_t i = 0; i < mesh->boundary_face_count; i++)
        p->transport->surfaces[i] = convective_surface(121.0, 20.0);
}

static double reading(problem *p, double x, double y)
{
    sw_probe probe = sw_section_probe(p->mesh, (sw_point){x, y});
    return sw_probe_reading(&probe, problem_state(p)) - 273.15;
}

/* Temperature of the surface whose middle is nearest to a place. */
static double surface_at(problem *p, double x, double y)
{
    double flows[SW_FLOW_COUNT], nearest = HUGE_VAL, found = NAN;
    assert_int_equal(sw_transport_flows(p->transport, p->time, problem_state(p), flows), 0);
    for (size_t i = 0; i < p->mesh->boundary_face_count; i++) {
        const sw_boundary_face *face = &p->mesh->boundary_faces[i];
        double distance = hypot(face->across - x, face->height - y);
        if (distance < nearest) {
            nearest = distance;
            found = p->transport->balances[i].temperature - 273.15;
        }
    }
    return found;
}

/* A long bar of meat, 80 mm by 250 mm, 5 C, in air of 121 C, 20 W/m2K; computed: product of two slabs' series by an
 * independent program. */
static void test_bar(void **state)
{
    (void)state;
    static const struct {
        double hours, centre, wide_face, narrow_face, mean;
    } rows[] = {{1, 21.175, 69.543, 76.421, 45.066}, {2, 46.580, 83.365, 94.618, 68.547},
                {4, 81.397, 100.988, 109.897, 95.401}, {6, 100.675, 110.730, 115.856, 108.363}};
    problem p;
    heat_all_round(&p, rectangle(0.125, 0.08, 50, 41, false));
    for (size_t i = 0; i < 4; i++) {
        problem_run_to(&p, rows[i].hours * hour);
        assert_close_abs(reading(&p, 0.0, 0.04), rows[i].centre, 0.1);
        assert_close_abs(surface_at(&p, 0.0, 0.08), rows[i].wide_face, 0.1);
        assert_close_abs(surface_at(&p, 0.0, 0.0), rows[i].wide_face, 0.1);
        assert_close_abs(surface_at(&p, 0.125, 0.04), rows[i].narrow_face, 0.1);
        assert_close_abs(problem_mean_temperature(&p), rows[i].mean, 0.1);
    }
    problem_free(&p);
}

/* A square bar, Bi = 1: theta at the centre 0.596797 and 0.285006 at Fo = 0.5 and 1 (computed: squares of the slab).
 * And a standing cylinder, as tall as wide: the cylinder's series times the slab's. */
static void test_square_and_short_cylinder(void **state)
{
    (void)state;
    const double half = 0.0225; /* Bi = 20 x 0.0225 / 0.45 = 1 */
    static const double fourier[] = {0.5, 1.0}, square[] = {0.596797, 0.285006};
    conduction_series slab, cylinder;
    conduction_series_init(&slab, SW_SHAPE_SLAB, 1.0);
    conduction_series_init(&cylinder, SW_SHAPE_CYLINDER, 1.0);
    for (int turned = 0; turned < 2; turned++) {
        problem p;
        heat_all_round(&p, rectangle(half, 2.0 * half, 30, 61, turned == 1));
        for (int i = 0; i < 2; i++) {
            problem_run_to(&p, fourier[i] * half * half / diffusivity);
            double centre = (reading(&p, 0.0, half) - 121.0) / (5.0 - 121.0);
            double mean = (problem_mean_temperature(&p) - 121.0) / (5.0 - 121.0);
            const conduction_series *other = turned ? &cylinder : &slab;
            if (!turned)
                assert_close_abs(centre, square[i], 1e-3);
            assert_close_abs(centre, conduction_series_at(&slab, fourier[i], 0.0) *
                                         conduction_series_at(other, fourier[i], 0.0), 1e-3);
            assert_close_abs(mean,
                             conduction_series_mean(&slab, fourier[i]) * conduction_series_mean(other, fourier[i]),
                             1e-3);
        }
        problem_free(&p);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_bar),
        cmocka_unit_test(test_square_and_short_cylinder),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
