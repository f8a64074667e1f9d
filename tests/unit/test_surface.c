/* SPDX-License-Identifier: BSD-3-Clause */
/* The heat balance of a surface, and what a wrap makes of it. */
#include "close.h"

#include "wrap.h"

#include <stallwright/moist_air.h>

#include <math.h>

static const double zero_celsius = 273.15, pressure = 101325.0;
static sw_water_table water;

static int create_table(void **state)
{
    (void)state;
    return sw_water_table_init(NULL, &water, 273.15);
}

static int free_table(void **state)
{
    (void)state;
    sw_water_table_free(&water);
    return 0;
}

static double vapour_pressure_of(double humidity_ratio)
{
    double p;
    assert_int_equal(sw_vapour_pressure(humidity_ratio, pressure, &p), SW_OK);
    return p;
}

static double saturation(double temperature)
{
    double p;
    assert_int_equal(sw_saturation_pressure(temperature, &p), SW_OK);
    return p;
}

static sw_surface open_surface(double celsius, double humidity_ratio, double convection, double emissivity)
{
    return (sw_surface){.air_temperature = celsius + zero_celsius,
                        .wall_temperature = celsius + zero_celsius,
                        .pressure = pressure,
                        .vapour_pressure = vapour_pressure_of(humidity_ratio),
                        .convection = convection,
                        .emissivity = emissivity,
                        .vapour_coefficient = sw_open_vapour_coefficient(convection, 0.0, pressure)};
}

static sw_surface_balance solve(const sw_surface *surface, double cell, double conductance, double activity)
{
    const sw_behind behind = {cell + zero_celsius, conductance, activity};
    sw_surface_balance b;
    assert_int_equal(sw_surface_solve(surface, &water, &behind, cell + zero_celsius, &b), 0);
    return b;
}

/* The balance closes whatever the surface: heat in, less evaporation, goes on into the cell. */
static void check_closes(const sw_surface *s, const sw_surface_balance *b, double cell, double conductance)
{
    double scale = fabs(b->convection_heat) + fabs(b->radiation_heat) + fabs(b->evaporation_heat) +
                   fabs(s->heat_flux) + 1.0;
    assert_close_abs(b->convection_heat + b->radiation_heat + s->heat_flux - b->evaporation_heat,
                     conductance * (b->temperature - cell - zero_celsius), 1e-9 * scale);
}

/* Grey radiation, emissivity 0.95, walls of 121 C, surface of 50 C: 712.69 W/m2, computed from Stefan and
 * Boltzmann's law. */
static void test_radiation(void **state)
{
    (void)state;
    sw_surface s = {.wall_temperature = 121.0 + zero_celsius, .emissivity = 0.95, .pressure = pressure};
    sw_surface_balance b = solve(&s, 50.0, 1e12, 0.0);
    assert_close_abs(b.temperature, 50.0 + zero_celsius, 1e-8);
    assert_close_abs(b.radiation_heat, 712.69, 0.005);
    /* 10.038 W/m2K over the 71 K. */
    assert_close_abs(b.radiation_heat / 71.0, 10.038, 0.001);
}

/* Temperature and flux of a freely wet surface, insulated behind; computed by an independent program from convection
 * with Ackermann's correction, radiation (emissivity 0.95, walls as hot as the air) and Stefan flow, Lewis number
 * 0.85. The first column is the limit without radiation. */
static void test_wet_surface(void **state)
{
    (void)state;
    static const double convection[5] = {30, 20, 15, 10, 6};
    static const struct {
        double dry, ratio, without_radiation, temperature[5], flux[5]; /* [C], [kg kg-1], [C], [C], [kg m-2 h-1] */
    } rows[] = {
        {107, .01, 35.3, {38.3, 39.6, 40.8, 43.0, 46.6}, {3.90, 2.85, 2.33, 1.80, 1.36}},
        {107, .05, 47.4, {49.0, 49.7, 50.5, 51.8, 54.1}, {3.37, 2.49, 2.05, 1.60, 1.23}},
        {121, .01, 37.3, {40.7, 42.2, 43.5, 46.0, 50.0}, {4.63, 3.41, 2.80, 2.18, 1.68}},
        {121, .02, 40.8, {43.7, 44.9, 46.1, 48.3, 51.9}, {4.49, 3.32, 2.73, 2.13, 1.64}},
        {121, .10, 57.1, {58.3, 58.9, 59.5, 60.5, 62.5}, {3.76, 2.81, 2.33, 1.85, 1.45}},
    };
    double worst_temperature = 0.0, worst_flux = 0.0;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_surface dark = open_surface(rows[i].dry, rows[i].ratio, 1000.0, 0.0);
        assert_close_abs(solve(&dark, 40.0, 0.0, 1.0).temperature - zero_celsius, rows[i].without_radiation, 1.0);
        for (int j = 0; j < 5; j++) {
            sw_surface s = open_surface(rows[i].dry, rows[i].ratio, convection[j], 0.95);
            sw_surface_balance b = solve(&s, 40.0, 0.0, 1.0);
            check_closes(&s, &b, 40.0, 0.0);
            assert_close_abs(b.temperature - zero_celsius, rows[i].temperature[j], 1.0);
            assert_close_rel(3600.0 * b.evaporation, rows[i].flux[j], 0.05);
            worst_temperature = fmax(worst_temperature, fabs(b.temperature - zero_celsius - rows[i].temperature[j]));
            worst_flux = fmax(worst_flux, fabs(3600.0 * b.evaporation / rows[i].flux[j] - 1.0));
        }
    }
    print_message("  wet surfaces: largest differences %.2f K and %.1f %%\n", worst_temperature, 100.0 * worst_flux);
}

/* Steam vents through tight foil (emissivity 0.2): the surface stays within half a kelvin of boiling. */
static void test_boiling_is_capped(void **state)
{
    (void)state;
    static const double pit[] = {110, 121, 149, 163}, convection[] = {5, 10, 20, 25}, altitude[] = {0, 1600, 4000};
    double worst = 0.0;
    for (int i = 0; i < 4; i++)
        for (int j = 0; j < 4; j++)
            for (int k = 0; k < 3; k++) {
                sw_surface s = open_surface(pit[i], 0.02, convection[j], 0.2);
                double boiling;
                assert_int_equal(sw_pressure_at_altitude(altitude[k], &s.pressure), SW_OK);
                assert_int_equal(sw_saturation_temperature(s.pressure, &boiling), SW_OK);
                s.vapour_coefficient = 0.0;
                s.vents = true;
                sw_surface_balance b = solve(&s, 90.0, 0.0, 1.0);
                check_closes(&s, &b, 90.0, 0.0);
                worst = fmax(worst, b.temperature - boiling);
                assert_within(b.temperature - boiling, 0.0, 0.5);
                assert_true(b.evaporation > 0.0);
            }
    print_message("  hottest surface under a tight wrap: %.2f K above boiling\n", worst);
    /* Below boiling a tight wrap lets nothing out. */
    sw_surface s = open_surface(121, 0.02, 10, 0.95);
    s.vapour_coefficient = 0.0;
    s.vents = true;
    assert_close_abs(solve(&s, 80.0, 1e6, 1.0).evaporation, 0.0, 0.0);
}

/* Stefan flow: the coefficient times ln((P - p_air) / (P - p_surface)); for small pressures the difference over P,
 * for large ones far more; past 0.97 of the air pressure it goes on as a straight line. */
static void test_stefan_flow(void **state)
{
    (void)state;
    sw_surface s = {.pressure = pressure, .vapour_coefficient = 0.01, .vapour_pressure = 500.0};
    for (double celsius = 10.0; celsius < 99.0; celsius += 4.0) {
        double p = saturation(celsius + zero_celsius);
        if (p > 0.96 * pressure)
            break;
        double evaporation = solve(&s, celsius, 1e15, 1.0).evaporation;
        assert_close_rel(evaporation, 0.01 * log((pressure - 500.0) / (pressure - p)), 1e-6);
    }
    /* Low rate: 1 Pa more than the air. */
    double p20 = saturation(293.15);
    s.vapour_pressure = p20 - 1.0;
    assert_close_rel(solve(&s, 20.0, 1e15, 1.0).evaporation, 0.01 * 1.0 / (pressure - p20), 1e-3);
    /* High rate: at 0.97 P the logarithm is 3.5, the straight law would give 0.97. Beyond, slope and value go on. */
    s.vapour_pressure = 0.0;
    double celsius = 99.0, last = 0.0, last_slope = 0.0;
    for (; celsius < 101.5; celsius += 0.01) {
        sw_surface_balance b = solve(&s, celsius, 1e15, 1.0);
        assert_true(isfinite(b.evaporation) && b.evaporation > last);
        if (last > 0.0)
            assert_close_abs(b.evaporation - last, 0.01 * 0.5 * (b.evaporation_by_temperature + last_slope),
                             0.02 * (b.evaporation - last));
        last = b.evaporation;
        last_slope = b.evaporation_by_temperature;
    }
}

/* Ackermann's correction: convection weakened by x / (exp(x) - 1), x = evaporation x 1900 / h. */
static void test_blowing(void **state)
{
    (void)state;
    sw_surface s = open_surface(121, 0.02, 10, 0.0);
    sw_surface_balance b = solve(&s, 70.0, 1e12, 1.0);
    double x = b.evaporation * 1900.0 / 10.0;
    assert_true(x > 0.1);
    assert_close_rel(b.convection_heat, 10.0 * x / expm1(x) * 51.0, 1e-7);
    /* Vapour that stays under foil, or bubbles through a pool, does not cross the film. */
    for (int contact = SW_CONTACT_POOL; contact <= SW_CONTACT_INSIDE; contact++) {
        sw_surface under = s;
        under.contact = (sw_contact)contact;
        b = solve(&under, 70.0, 1e12, 1.0);
        assert_true(b.evaporation > 1e-4);
        assert_close_rel(b.convection_heat, 10.0 * 51.0, 1e-9);
    }
    b = solve(&s, 70.0, 1e12, 0.0);
    /* Vapour goes the other way now: dry meat in moist air takes it up, and the convection gains. */
    assert_true(b.evaporation < 0.0);
    assert_true(b.convection_heat > 510.0);
}

/* Cold meat in a moist pit: dew falls on it and warms it. */
static void test_condensation(void **state)
{
    (void)state;
    sw_surface s = open_surface(121, 0.02, 10, 0.95);
    sw_surface sealed = s;
    sealed.vapour_coefficient = 0.0;
    sw_surface_balance wet = solve(&s, 5.0, 500.0, 1.0), dry = solve(&sealed, 5.0, 500.0, 1.0);
    check_closes(&s, &wet, 5.0, 500.0);
    assert_true(wet.evaporation < 0.0 && wet.evaporation_heat < 0.0);
    assert_true(wet.temperature > dry.temperature);
    assert_close_abs(dry.evaporation, 0.0, 0.0);
    /* At the dew point of the pit, 24.93 C, nothing moves. */
    assert_close_abs(solve(&s, 24.93, 1e12, 1.0).evaporation, 0.0, 1e-7);
}

/* The derivatives of the balanced surface by what is behind it, against difference quotients. */
static void test_derivatives(void **state)
{
    (void)state;
    sw_surface kinds[4] = {open_surface(121, 0.02, 10, 0.95), open_surface(121, 0.02, 10, 0.9),
                           open_surface(160, 0.01, 25, 0.2), open_surface(121, 0.02, 15, 0.95)};
    kinds[1].resistance = 0.006;
    kinds[1].vapour_coefficient = sw_open_vapour_coefficient(10.0, 1e-9, pressure);
    kinds[2].vapour_coefficient = 0.0;
    kinds[2].vents = true;
    kinds[2].resistance = 0.003;
    static const double cells[] = {5, 40, 70, 99.5}, conductances[] = {5, 300, 3000}, activities[] = {0.1, 0.6, 0.99};
    for (int k = 0; k < 4; k++)
        for (int i = 0; i < 4; i++)
            for (int j = 0; j < 3; j++)
                for (int l = 0; l < 3; l++) {
                    const double t = cells[i], c = conductances[j], a = activities[l], dt = 1e-3, da = 1e-6;
                    sw_surface_balance b = solve(&kinds[k], t, c, a);
                    sw_surface_balance t1 = solve(&kinds[k], t - dt, c, a), t2 = solve(&kinds[k], t + dt, c, a);
                    sw_surface_balance c1 = solve(&kinds[k], t, c * 0.9999, a), c2 = solve(&kinds[k], t, c * 1.0001, a);
                    sw_surface_balance a1 = solve(&kinds[k], t, c, a - da), a2 = solve(&kinds[k], t, c, a + da);
                    check_closes(&kinds[k], &b, t, c);
                    assert_close_abs(b.temperature_by_cell, (t2.temperature - t1.temperature) / (2.0 * dt), 1e-6);
                    assert_close_abs(b.temperature_by_conductance * c, (c2.temperature - c1.temperature) / 0.0002,
                                     1e-4);
                    assert_close_abs(b.temperature_by_activity, (a2.temperature - a1.temperature) / (2.0 * da), 1e-3);
                    double scale = fabs(b.evaporation_by_temperature) + 1e-9;
                    assert_close_abs(b.evaporation_by_temperature * b.temperature_by_cell,
                                     (t2.evaporation - t1.evaporation) / (2.0 * dt), 1e-5 * scale);
                    double by_activity = b.evaporation_by_activity +
                                         b.evaporation_by_temperature * b.temperature_by_activity;
                    assert_close_abs(by_activity, (a2.evaporation - a1.evaporation) / (2.0 * da),
                                     1e-4 * (fabs(b.evaporation_by_activity) + 1e-9));
                    assert_close_abs(b.water_enthalpy_slope, (t2.water_enthalpy - t1.water_enthalpy) /
                                                                 (t2.temperature - t1.temperature + 1e-300),
                                     fabs(t2.temperature - t1.temperature) > 1e-6 ? 5.0 : HUGE_VAL);
                }
}

/* A wrap's resistance lies in series with the film; none at all is the limit of a small one. */
static void test_resistance(void **state)
{
    (void)state;
    sw_surface s = open_surface(121, 0.0, 20, 0.0);
    s.vapour_coefficient = 0.0;
    s.resistance = 0.01;
    /* 1 / (1/20 + 0.01 + 1/100) = 100/7 W/m2K over 121 - 60 K. */
    assert_close_rel(solve(&s, 60.0, 100.0, 0.0).convection_heat, 61.0 * 100.0 / 7.0, 1e-12);
    sw_surface bare = open_surface(121, 0.02, 10, 0.95), thin = bare;
    thin.resistance = 1e-12;
    sw_surface_balance without = solve(&bare, 60.0, 300.0, 0.9), with = solve(&thin, 60.0, 300.0, 0.9);
    assert_close_abs(with.temperature, without.temperature, 1e-8);
    assert_close_rel(with.evaporation, without.evaporation, 1e-8);
    assert_close_rel(with.radiation_heat, without.radiation_heat, 1e-8);
}

static void test_fixed_surface_and_given_flux(void **state)
{
    (void)state;
    sw_surface fixed = {.is_fixed = true, .fixed_temperature = 350.0, .pressure = pressure};
    sw_surface_balance b = solve(&fixed, 27.0, 40.0, 1.0);
    assert_close_abs(b.temperature, 350.0, 0.0);
    assert_close_rel(b.convection_heat, 40.0 * (350.0 - 300.15), 1e-14);
    assert_close_abs(b.evaporation, 0.0, 0.0);
    sw_surface given = {.heat_flux = 2000.0, .pressure = pressure};
    assert_close_abs(solve(&given, 27.0, 100.0, 0.0).temperature, 300.15 + 20.0, 1e-9);
}

static void test_no_balance_is_reported(void **state)
{
    (void)state;
    /* Heat that can go nowhere. */
    sw_surface s = {.heat_flux = 2000.0, .pressure = pressure};
    sw_behind behind = {300.0, 0.0, 0.0};
    sw_surface_balance b = {.temperature = -1.0};
    assert_int_equal(sw_surface_solve(&s, &water, &behind, 300.0, &b), -1);
    s = open_surface(121, 0.02, 10, 0.95);
    behind.temperature = NAN;
    behind.conductance = 10.0;
    assert_int_equal(sw_surface_solve(&s, &water, &behind, 300.0, &b), -1);
    assert_close_abs(b.temperature, -1.0, 0.0);
}

/* The film by Lewis's relation, from the heat transfer coefficient: h M / (cp Le^(2/3)) by hand; paper lies in
 * series. */
static void test_vapour_coefficient(void **state)
{
    (void)state;
    double film = sw_open_vapour_coefficient(10.0, 0.0, pressure);
    assert_close_rel(film, 0.621945 * 10.0 / (1008.0 * pow(0.86, 2.0 / 3.0)), 1e-12);
    assert_close_rel(sw_open_vapour_coefficient(10.0, 1.0, pressure), film, 1e-4);
    /* Tight paper decides alone: its permeance times the pressure difference. */
    double tight = sw_open_vapour_coefficient(10.0, 1e-12, pressure);
    assert_close_rel(tight * 1000.0 / pressure, 1e-12 * 1000.0, 1e-4);
    assert_close_rel(1.0 / sw_open_vapour_coefficient(10.0, 1e-8, pressure), 1.0 / film + 1.0 / (1e-8 * pressure),
                     1e-12);
}

static void test_wraps(void **state)
{
    (void)state;
    sw_scenario scenario;
    sw_scenario_init(&scenario);
    const sw_wrap *wrap = &scenario.wrap;
    const sw_wrap_contents empty = sw_empty_wrap(wrap);
    const sw_surroundings around = {394.15, 399.15, pressure, 3000.0, 10.0, NULL};
    const double film = sw_open_vapour_coefficient(10.0, 0.0, pressure);

    sw_surface top = sw_wrapped_surface(&around, wrap, SW_WRAP_NONE, SW_SIDE_TOP, &empty, true);
    sw_surface bottom = sw_wrapped_surface(&around, wrap, SW_WRAP_NONE, SW_SIDE_BOTTOM, &empty, true);
    assert_close_rel(top.vapour_coefficient, film, 1e-14);
    assert_close_abs(top.resistance, 0.0, 0.0);
    assert_close_abs(top.wall_temperature, 399.15, 0.0);
    assert_within(top.emissivity, 0.9, 0.97);
    assert_true(top.vents && bottom.vents && top.drips && bottom.drips);

    sw_surface paper = sw_wrapped_surface(&around, wrap, SW_WRAP_PAPER, SW_SIDE_TOP, &empty, true);
    assert_true(paper.vapour_coefficient < film && paper.vapour_coefficient > 0.0);
    assert_close_abs(paper.resistance, wrap->paper_resistance, 0.0);
    assert_close_abs(paper.emissivity, wrap->paper_emissivity, 0.0);

    sw_surface tray = sw_wrapped_surface(&around, wrap, SW_WRAP_OPEN_TRAY, SW_SIDE_TOP, &empty, true);
    assert_memory_equal(&tray, &top, sizeof tray);
    tray = sw_wrapped_surface(&around, wrap, SW_WRAP_OPEN_TRAY, SW_SIDE_BOTTOM, &empty, true);
    assert_close_abs(tray.vapour_coefficient, 0.0, 0.0);
    assert_close_abs(tray.resistance, wrap->tray_resistance, 0.0);
    assert_close_abs(tray.convection, 10.0 * wrap->tray_convection, 0.0);
    assert_close_abs(tray.emissivity, wrap->foil_emissivity, 0.0);

    for (int side = 0; side < 2; side++) {
        sw_surface foil = sw_wrapped_surface(&around, wrap, SW_WRAP_CLOSED_FOIL, (sw_side)side, &empty, true);
        assert_close_rel(foil.vapour_coefficient, film * wrap->foil_leak, 1e-12);
        assert_close_abs(foil.resistance, wrap->foil_resistance, 0.0);
        assert_true(foil.vents && foil.drips);
    }
    for (int kind = 0; kind < SW_WRAP_COUNT; kind++) {
        sw_surface sealed = sw_wrapped_surface(&around, wrap, (sw_wrap_kind)kind, SW_SIDE_TOP, &empty, false);
        assert_close_abs(sealed.vapour_coefficient, 0.0, 0.0);
        assert_false(sealed.vents);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_radiation),       cmocka_unit_test(test_wet_surface),
        cmocka_unit_test(test_boiling_is_capped), cmocka_unit_test(test_stefan_flow),
        cmocka_unit_test(test_blowing),         cmocka_unit_test(test_condensation),
        cmocka_unit_test(test_derivatives),     cmocka_unit_test(test_resistance),
        cmocka_unit_test(test_fixed_surface_and_given_flux), cmocka_unit_test(test_no_balance_is_reported),
        cmocka_unit_test(test_vapour_coefficient), cmocka_unit_test(test_wraps),
    };
    return cmocka_run_group_tests(tests, create_table, free_table);
}
