/* SPDX-License-Identifier: BSD-3-Clause */
/* Whole cuts as sections: dimensions from the mass, shapes that must agree, the tray's rim, several probes, and sections
 * that cannot be. */
#include "close.h"

#include "body.h"
#include "cut_geometry.h"
#include "cuts.h"
#include "run_cook.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double hour = 3600.0, zero_celsius = 273.15;

/* A coarse section up to a time, for comparisons. */
static sw_scenario short_cook(sw_shape shape, double hours)
{
    sw_scenario s = pit_only_scenario();
    s.meat.shape = shape;
    s.solver.rows = 12;
    s.solver.columns = 16;
    s.pull = (sw_ending){SW_ENDING_DURATION, hours * hour};
    return s;
}

static void put_probe(sw_scenario *s, const char *name, double across, double height)
{
    sw_probe_place *place = &s->meat.probes[s->meat.probe_count++];
    snprintf(place->name, sizeof place->name, "%s", name);
    place->across = across;
    place->height = height;
}

static void set_outline(sw_scenario *s, size_t count, const double (*corners)[2], double sign, double right, double up)
{
    s->meat.outline_count = count;
    for (size_t i = 0; i < count; i++) {
        s->meat.outline[i][0] = sign * corners[i][0] + right;
        s->meat.outline[i][1] = corners[i][1] + up;
    }
}

/* Largest difference of the readings of one probe each. */
static double difference(const sw_history *one, size_t probe, const sw_history *other, size_t other_probe)
{
    double worst = 0.0;
    assert_int_equal(one->row_count, other->row_count);
    for (size_t i = 0; i < one->row_count; i++)
        worst = fmax(worst, fabs(one->probe_series[probe][i] - other->probe_series[other_probe][i]));
    return worst;
}

static sw_scenario box_cook(sw_shape shape)
{
    sw_scenario s = short_cook(shape, 4.0);
    s.meat.thickness = s.meat.end_thickness = 0.075;
    s.meat.width = 0.20;
    put_probe(&s, "one", 0.05, 0.0375);
    put_probe(&s, "other", 0.15, 0.0375);
    return s;
}

/* A taper that does not taper is a rectangle, on the same grid lines. */
static void test_taper_without_taper(void **state)
{
    (void)state;
    sw_scenario taper = box_cook(SW_SHAPE_TAPER), section = box_cook(SW_SHAPE_SECTION);
    sw_history *of_taper, *of_section;
    run_cook(&taper, &of_taper);
    run_cook(&section, &of_section);
    assert_int_equal(of_taper->cell_count, 12 * 16);
    assert_close_abs(difference(of_taper, 0, of_section, 0), 0.0, 1e-9);
    assert_close_rel(of_taper->budget.evaporated_mass, of_section->budget.evaporated_mass, 1e-12);
    sw_history_destroy(of_taper);
    sw_history_destroy(of_section);
}

/* Cells fitted to the four corners of a rectangle, and grid lines across it, tell the same. */
static void test_fitted_box(void **state)
{
    (void)state;
    static const double corners[][2] = {{0.0, 0.0}, {0.20, 0.0}, {0.20, 0.075}, {0.0, 0.075}};
    sw_scenario fitted = box_cook(SW_SHAPE_OUTLINE), section = box_cook(SW_SHAPE_SECTION);
    set_outline(&fitted, 4, corners, 1.0, 0.0, 0.0);
    fitted.solver.rows = section.solver.rows = 64;
    fitted.solver.columns = 28;
    section.solver.columns = 84; /* fine at both ends, so more of them */
    sw_history *of_fitted, *of_section;
    run_cook(&fitted, &of_fitted);
    run_cook(&section, &of_section);
    double off = difference(of_fitted, 0, of_section, 0), other = difference(of_fitted, 0, of_fitted, 1);
    double evaporated = of_fitted->budget.evaporated_mass / of_section->budget.evaporated_mass - 1.0;
    print_message("  probe off by %.3f K, evaporated mass by %.1e; the other probe by %.1e K\n", off, evaporated, other);
    assert_true(off < 0.1);
    assert_close_abs(other, 0.0, 0.01); /* symmetric, too */
    assert_close_abs(evaporated, 0.0, 0.002);
    assert_close_rel(of_fitted->budget.initial_mass, of_section->budget.initial_mass, 1e-9);
    sw_history_destroy(of_fitted);
    sw_history_destroy(of_section);
}

/* A section without probes of its own is computed as its half; with one it is computed whole. */
static void test_half_is_the_whole(void **state)
{
    (void)state;
    sw_scenario half = short_cook(SW_SHAPE_SECTION, 4.0), whole;
    half.meat.width = 0.20;
    half.solver.rows = 24;
    half.solver.columns = 40;
    /* Two meshes step each in their own way, so their steps must err less than what is asked below. */
    half.solver.relative_tolerance = 1e-6;
    whole = half;
    whole.solver.columns *= 2;
    put_probe(&whole, "centre", 0.10, 0.5 * whole.meat.thickness);
    sw_history *of_half, *of_whole;
    run_cook(&half, &of_half);
    run_cook(&whole, &of_whole);
    assert_int_equal(2 * of_half->cell_count, of_whole->cell_count);
    double off = difference(of_half, 0, of_whole, 0);
    print_message("  centre differs by %.1e K, evaporated mass by %.1e\n", off,
                  of_whole->budget.evaporated_mass / of_half->budget.evaporated_mass - 1.0);
    /* On the plane of symmetry a probe's gradient comes from one side only: second order in the cells there. */
    assert_true(off < 0.1);
    /* The whole's right half is the half. */
    size_t first = of_whole->cell_count - of_half->cell_count, last = of_half->field_count - 1;
    assert_int_equal(of_half->field_count, of_whole->field_count);
    for (size_t i = 0; i < of_half->cell_count; i++)
        assert_close_abs(of_half->field_temperature[last * of_half->cell_count + i],
                         of_whole->field_temperature[last * of_whole->cell_count + first + i], 1e-3);
    assert_close_rel(of_whole->budget.evaporated_mass, of_half->budget.evaporated_mass, 1e-3);
    assert_close_rel(of_whole->budget.initial_mass, of_half->budget.initial_mass, 1e-12);
    sw_history_destroy(of_half);
    sw_history_destroy(of_whole);
}

static const double lopsided[][2] = {{0.0, 0.02}, {0.06, 0.0}, {0.24, 0.0}, {0.27, 0.03}, {0.23, 0.08}, {0.12, 0.05}};

/* A mirror image cooks as a mirror image, however its corners are listed. */
static void test_mirror_image(void **state)
{
    (void)state;
    sw_scenario one = short_cook(SW_SHAPE_OUTLINE, 5.0), other = one;
    set_outline(&one, 6, lopsided, 1.0, 0.0, 0.0);
    set_outline(&other, 6, lopsided, -1.0, 0.27, 0.0);
    put_probe(&one, "thin", 0.09, 0.02);
    put_probe(&one, "thick", 0.21, 0.035);
    put_probe(&other, "thin", 0.18, 0.02);
    put_probe(&other, "thick", 0.06, 0.035);
    sw_history *of_one, *of_other;
    run_cook(&one, &of_one);
    run_cook(&other, &of_other);
    double off = fmax(difference(of_one, 0, of_other, 0), difference(of_one, 1, of_other, 1));
    print_message("  probes differ by %.1e K\n", off);
    assert_true(off < 0.02);
    assert_close_rel(of_one->budget.evaporated_mass, of_other->budget.evaporated_mass, 1e-4);
    assert_true(difference(of_one, 0, of_one, 1) > 5.0);
    sw_history_destroy(of_one);
    sw_history_destroy(of_other);
}

/* Where an outline lies on its drawing does not matter: places count from its left end and lowest point. */
static void test_outline_anywhere(void **state)
{
    (void)state;
    sw_scenario here = short_cook(SW_SHAPE_OUTLINE, 3.0), there = here;
    set_outline(&here, 6, lopsided, 1.0, 0.0, 0.0);
    set_outline(&there, 6, lopsided, 1.0, 0.3, -0.05);
    put_probe(&here, "thick", 0.21, 0.035);
    put_probe(&there, "thick", 0.21, 0.035);
    sw_history *of_here, *of_there;
    run_cook(&here, &of_here);
    run_cook(&there, &of_there);
    assert_true(difference(of_here, 0, of_there, 0) < 1e-3);
    for (size_t i = 0; i < of_here->cell_count; i++)
        assert_close_abs(of_here->cell_position[i], of_there->cell_position[i], 1e-9);
    sw_history_destroy(of_here);
    sw_history_destroy(of_there);
}

/* Usual sizes of a whole brisket of 6.5 kg (common practice, no source): 7..10 cm at the point, 3..5.5 cm at the flat,
 * 35..50 cm long. */
static void test_dimensions_from_mass(void **state)
{
    (void)state;
    sw_scenario s;
    sw_scenario_init(&s);
    s.meat.shape = SW_SHAPE_PACKER;
    s.meat.thickness = s.meat.width = 0.0;
    s.meat.mass = 6.5;
    sw_body body;
    assert_int_equal(sw_body_init(NULL, &s, &body), SW_OK);
    double v[SW_OUTLINE_MAX][2], lowest = HUGE_VAL, highest = 0.0, mass = 0.0;
    sw_point corners[SW_OUTLINE_MAX];
    size_t count = sw_section_outline(&s.meat, v);
    for (size_t i = 0; i < count; i++)
        corners[i] = (sw_point){v[i][0], v[i][1]};
    print_message("  %.1f cm long, %.1f cm at the point; the flat", 100.0 * s.meat.width, 100.0 * s.meat.thickness);
    assert_within(s.meat.width, 0.35, 0.50);
    assert_within(s.meat.thickness, 0.07, 0.10);
    /* The flat, between its thin end and where the point begins: height by counting. */
    static const double along[] = {0.15, 0.25, 0.35, 0.40}; /* the last is where its probe is */
    for (int k = 0; k < 4; k++) {
        double x = along[k];
        int inside = 0;
        for (int i = 0; i < 2000; i++)
            inside += sw_outline_contains(count, corners, (sw_point){x * s.meat.width, 5e-5 * (i + 0.5)});
        print_message(" %.1f", 5e-3 * inside);
        lowest = fmin(lowest, 5e-5 * inside);
        highest = fmax(highest, 5e-5 * inside);
    }
    print_message(" cm\n");
    assert_true(lowest >= 0.03);
    assert_true(highest <= 0.055);
    for (size_t i = 0; i < body.mesh->cell_count; i++)
        mass += body.mesh->volume[i] * sw_material_raw_density(body.materials[body.mesh->region[i]]);
    assert_close_rel(mass, 6.5, 1e-12);
    sw_body_free(&body);
}

/* The tray holds the bottom and the ends below its rim: no vapour, the tray's resistance. Above and on top the meat is
 * bare. */
static void test_tray_up_to_its_rim(void **state)
{
    (void)state;
    for (int cut = 5; cut < CUT_COUNT; cut++) {
        sw_scenario s;
        cut_scenario(cut, &s);
        s.wrap.tray_rim = 0.03;
        s.wrap.tray_convection = 0.5;
        sw_body body;
        assert_int_equal(sw_body_init(NULL, &s, &body), SW_OK);
        sw_surroundings around = pit_air(&s, &body);
        surround_body(&body, &s, &around, SW_WRAP_OPEN_TRAY);
        int ends_in = 0, ends_out = 0;
        for (size_t i = 0; i < body.mesh->boundary_face_count; i++) {
            const sw_boundary_face *face = &body.mesh->boundary_faces[i];
            const sw_surface *surface = &body.transport->surfaces[i];
            bool covered = face->side == SW_SIDE_BOTTOM || (face->side == SW_SIDE_END && face->height < 0.03);
            ends_in += face->side == SW_SIDE_END && covered;
            ends_out += face->side == SW_SIDE_END && !covered;
            assert_int_equal(surface->vapour_coefficient == 0.0, covered);
            assert_close_abs(surface->resistance, covered ? s.wrap.tray_resistance : 0.0, 0.0);
            assert_close_abs(surface->convection, (covered ? 0.5 : 1.0) * s.pit.convection, 0.0);
            assert_close_abs(surface->emissivity, covered ? s.wrap.foil_emissivity : 0.95, 0.0);
        }
        assert_true(ends_in > 0 && ends_out > 0);
        sw_body_free(&body);
    }
}

/* With two probes a phase ends when the first or the last reads the temperature, as asked for. */
static void test_deciding_probe(void **state)
{
    (void)state;
    sw_scenario s = short_cook(SW_SHAPE_TAPER, 0.0);
    s.meat.thickness = 0.08;
    s.meat.end_thickness = 0.03;
    s.meat.width = 0.30;
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;
    s.wrap.when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, zero_celsius + 45.0};
    s.pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, zero_celsius + 60.0};
    double end[2];
    for (int by_last = 0; by_last < 2; by_last++) {
        s.meat.last_probe_decides = by_last;
        sw_history *h;
        run_cook(&s, &h);
        assert_int_equal(h->probe_count, 2);
        assert_string_equal(h->probes[0].name, "thin");
        assert_string_equal(h->probes[1].name, "thick");
        assert_int_equal(h->phase_count, 2);
        size_t last = h->row_count - 1;
        end[by_last] = h->phases[1].end;
        assert_close_abs(h->probe_series[by_last][last], zero_celsius + 60.0, 0.01);
        assert_close_abs(h->phases[0].probe_at_end, zero_celsius + 45.0, 0.01);
        assert_close_abs(h->phases[1].probe_at_end, zero_celsius + 60.0, 0.01);
        if (by_last)
            assert_true(h->probe_series[0][last] > zero_celsius + 62.0);
        else
            assert_true(h->probe_series[1][last] < zero_celsius + 58.0);
        for (size_t i = 0; i < h->row_count; i++)
            assert_close_abs(h->series[SW_SERIES_probe_temperature][i], h->probe_series[by_last][i], 0.5);
        sw_history_destroy(h);
    }
    print_message("  first at %.2f h, last at %.2f h\n", end[0] / hour, end[1] / hour);
    assert_true(end[0] < end[1]);
}

static void assert_refused_in(sw_unit_system units, const sw_scenario *s, const char *sentence)
{
    sw_context *context;
    sw_history *history = NULL;
    assert_int_equal(sw_context_create(&context), SW_OK);
    sw_context_set_units(context, units);
    sw_status status = sw_cook_run(context, s, NULL, NULL, &history);
    if (status != SW_ERR_RANGE || !strstr(sw_context_message(context), sentence))
        fail_msg("status %d: \"%s\" does not say \"%s\"", (int)status, sw_context_message(context), sentence);
    assert_null(history);
    sw_context_destroy(context);
}

static void assert_refused(const sw_scenario *s, const char *sentence)
{
    assert_refused_in(SW_UNITS_SI, s, sentence);
}

/* Corners keep their numbers if they are listed clockwise; places are told in the reader's units. A tip of 12 degrees beside a short
 * edge gets thinner cells. */
static void test_corners_too_sharp(void **state)
{
    (void)state;
    static const double spike[][2] = {{0.0, 0.0}, {0.2, 0.0}, {0.2, 0.05}, {0.10002, 0.05}, {0.1, 0.12}, {0.09998, 0.05}, {0.0, 0.05}};
    static const double tip[][2] = {{0.0, 0.0}, {0.012, 0.0}, {0.2, 0.01}, {0.2, 0.05}, {0.012, 0.0026}};
    double clockwise[7][2];
    for (size_t i = 0; i < 7; i++)
        for (size_t k = 0; k < 2; k++)
            clockwise[i][k] = spike[6 - i][k];
    sw_scenario s = short_cook(SW_SHAPE_OUTLINE, 1.0);
    set_outline(&s, 7, spike, 1.0, 0.0, 0.0);
    assert_refused(&s, "meat.outline cannot be a section's: its corner 5, 10 cm along and 12 cm up, is too sharp: 0.033 degrees");
    set_outline(&s, 7, (const double(*)[2])clockwise, 1.0, 0.0, 0.0);
    assert_refused_in(SW_UNITS_US, &s, "its corner 3, 3.937 in along and 4.724 in up, is too sharp");
    set_outline(&s, 5, tip, 1.0, 0.0, 0.0);
    put_probe(&s, "thick", 0.17, 0.02);
    s.solver.rows = 8;
    sw_history *h;
    run_cook(&s, &h);
    sw_history_destroy(h);
}

static void test_sections_that_cannot_be(void **state)
{
    (void)state;
    sw_scenario s = short_cook(SW_SHAPE_SECTION, 1.0);
    s.meat.width = 0.25;
    put_probe(&s, "centre", 0.1, 0.03);
    put_probe(&s, "beside", 0.26, 0.03);
    assert_refused(&s, "probe \"beside\" lies outside the meat, 26 cm along and 3 cm up; the section is 25 cm long and 7.5 cm");

    s = short_cook(SW_SHAPE_SECTION, 1.0);
    s.meat.width = 0.25;
    put_probe(&s, "left of it", -0.05, 0.03);
    assert_refused(&s, "probe \"left of it\" lies outside the meat, -5 cm along");

    s = short_cook(SW_SHAPE_PACKER, 1.0);
    put_probe(&s, "above", 0.05, 0.07); /* inside the box, above the flat */
    assert_refused(&s, "probe \"above\" lies outside the meat");

    s = short_cook(SW_SHAPE_SHORT_CYLINDER, 1.0);
    s.meat.thickness = 0.12;
    s.meat.width = 0.20;
    put_probe(&s, "beside", 0.07, 0.10);
    assert_refused(&s, "probe \"beside\" lies outside the meat, 7 cm from the axis and 10 cm up; the cylinder is 12 cm across and "
                       "20 cm tall");

    static const double crossing[][2] = {{0.0, 0.0}, {0.2, 0.08}, {0.2, 0.0}, {0.0, 0.08}};
    s = short_cook(SW_SHAPE_OUTLINE, 1.0);
    set_outline(&s, 4, crossing, 1.0, 0.0, 0.0);
    assert_refused(&s, "meat.outline cannot be a section's: its edges 1 and 3 cross or touch, 10 cm along and 4 cm up");

    static const double line[][2] = {{0.0, 0.0}, {0.1, 0.04}, {0.2, 0.08}};
    set_outline(&s, 3, line, 1.0, 0.0, 0.0);
    assert_refused(&s, "it encloses no area");

    static const double box[][2] = {{0.0, 0.0}, {0.2, 0.0}, {0.2, 0.06}, {0.0, 0.06}};
    set_outline(&s, 4, box, 1.0, 0.0, 0.0);
    s.meat.thickness = 0.0;
    s.meat.fat_cap_thickness = 0.03;
    assert_refused(&s, "meat.fat_cap.thickness is 3 cm; allowed 0 to less than half the thickness, 3 cm");

    s.meat.outline_count = 0;
    assert_refused(&s, "meat.outline has 0 corners");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_dimensions_from_mass),
        cmocka_unit_test(test_taper_without_taper),
        cmocka_unit_test(test_fitted_box),
        cmocka_unit_test(test_half_is_the_whole),
        cmocka_unit_test(test_mirror_image),
        cmocka_unit_test(test_outline_anywhere),
        cmocka_unit_test(test_tray_up_to_its_rim),
        cmocka_unit_test(test_deciding_probe),
        cmocka_unit_test(test_sections_that_cannot_be),
        cmocka_unit_test(test_corners_too_sharp),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
