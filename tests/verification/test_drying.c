/* SPDX-License-Identifier: BSD-3-Clause */
/* Drying with an exact solution, and the evaporation law's own limits. */
#include "close.h"

#include "conduction_series.h"
#include "problem.h"

#include <stallwright/moist_air.h>

#include <math.h>

static const double hour = 3600.0;

/* Isothermal drying of a slab through an air film, share of the water lost; J. Crank, The Mathematics of Diffusion,
 * section 4.3.6 (from memory), values computed by an independent program. */
static void check_drying(double biot, const double lost[5])
{
    static const double fourier[5] = {.05, .1, .2, .5, 1};
    problem p;
    problem_init_drying(&p, 60, 1e-5, 0.0, biot);
    for (int i = 0; i < 5; i++) {
        double share = problem_dry_to(&p, fourier[i]);
        assert_close_abs(share, lost[i], 1e-3);
        assert_close_rel(sw_integrator_sums(p.integrator)[SW_FLOW_EVAPORATION], share * problem_drying_water(), 1e-6);
    }
    problem_free(&p);
}

static void test_slab_drying(void **state)
{
    (void)state;
    static const struct {
        double biot, lost[5];
    } rows[] = {
        {0.5, {.02304, .04462, .08538, .19567, .35024}},  {1, {.04269, .08040, .14840, .31890, .52960}},
        {5, {.13179, .21858, .35098, .61483, .83752}},    {10, {.17555, .27388, .41674, .68498, .88650}},
        {100, {.24257, .34700, .49427, .75578, .92713}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_drying(rows[i].biot, rows[i].lost);
}

/* A Stefan tube of 100 mm, water below, dry air above: R. B. Bird, W. E. Stewart and E. N. Lightfoot, Transport
 * Phenomena, section on diffusion through a stagnant gas film (from memory): flux c D / L ln(1 / (1 - x)). The
 * evaporation law of a surface is the same with a coefficient c D M / L. */
static void check_stefan_tube(double celsius, double diffusivity, double flux)
{
    sw_water_table water;
    assert_int_equal(sw_water_table_init(NULL, &water, 273.15), 0);
    const double pressure = 101325.0, kelvin = celsius + 273.15, molar = pressure / (8.314462618 * kelvin);
    sw_surface surface = {.pressure = pressure,
                          .vapour_coefficient = molar * diffusivity * 0.018015268 / 0.1,
                          .air_temperature = kelvin};
    sw_behind behind = {.temperature = kelvin, .conductance = 1e9, .water_activity = 1.0};
    sw_surface_balance balance;
    assert_int_equal(sw_surface_solve(&surface, &water, &behind, kelvin, &balance), 0);
    assert_close_rel(balance.evaporation, flux, 1e-3);
    sw_water_table_free(&water);
}

static void test_stefan_tube(void **state)
{
    (void)state;
    check_stefan_tube(25.0, 2.60e-5, 6.0838e-6);
    check_stefan_tube(60.0, 3.157e-5, 4.5607e-5);
}

/* While a surface stays wet, it stays at one temperature and evaporates at one rate. A wet slab in pit air, no
 * radiation, a tight mesh; plateau values computed from the heat balance of a wet surface with Lewis number 0.85 and
 * Stefan flow. */
static void test_constant_rate(void **state)
{
    (void)state;
    static const struct {
        double pit, humidity_ratio, temperature, rate; /* [C], [kg kg-1], [C], [kg m-2 h-1] */
    } rows[] = {{121, .01, 37.29, 2.421}, {121, .02, 40.78, 2.330}, {121, .05, 48.62, 2.125},
                {107, .02, 39.07, 1.979}, {135, .02, 42.37, 2.683}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        problem_setup setup = reference_slab(0.002, 20);
        setup.solids[0].conductivity = 1e3;
        /* All the water it can lose in this time leaves its activity at 1 within 1e-6. */
        setup.solids[0].diffusivity = 1.0;
        setup.solids[0].dry_density = 1e9;
        setup.solids[0].sorption_slope = 1.0;
        setup.initial_temperature = 30.0;
        setup.water_reference = rows[i].temperature;
        setup.initial_water = 1.0;
        problem p;
        problem_init(&p, &setup);
        sw_surface *surface = problem_surface(&p, SW_SIDE_TOP);
        *surface = convective_surface(rows[i].pit, 20.0);
        surface->vapour_coefficient = sw_open_vapour_coefficient(20.0, 0.0, surface->pressure);
        assert_int_equal(sw_vapour_pressure(rows[i].humidity_ratio, surface->pressure, &surface->vapour_pressure),
                         SW_OK);
        problem_run_to(&p, 2.0 * hour);
        double early = problem_surface_temperature(&p, SW_SIDE_TOP);
        double lost = sw_integrator_sums(p.integrator)[SW_FLOW_EVAPORATION];
        problem_run_to(&p, 3.0 * hour);
        double late = problem_surface_temperature(&p, SW_SIDE_TOP);
        double rate = sw_integrator_sums(p.integrator)[SW_FLOW_EVAPORATION] - lost;
        assert_close_abs(late, early, 0.01);
        assert_close_rel(rate, p.transport->balances[0].evaporation * hour, 1e-3);
        assert_close_abs(late, rows[i].temperature, 1.0);
        assert_close_rel(rate, rows[i].rate, 0.02);
        problem_free(&p);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_slab_drying),
        cmocka_unit_test(test_stefan_tube),
        cmocka_unit_test(test_constant_rate),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
