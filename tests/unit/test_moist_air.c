/* SPDX-License-Identifier: BSD-3-Clause */
/* Moist air and water against the formulations and tables of others. */
#include "close.h"

#include "saturation.h"
#include "water_table.h"

#include <stallwright/moist_air.h>

#include <math.h>

static const double untouched = -12345.0;

static double kelvin(double celsius)
{
    return celsius + 273.15;
}

static double saturation(double celsius)
{
    double pressure = NAN;
    assert_int_equal(sw_saturation_pressure(kelvin(celsius), &pressure), SW_OK);
    return pressure;
}

/* Saturation pressure and latent heat. Pressures: IAPWS SR1-86 and the equation of Hyland and Wexler in ASHRAE
 * Fundamentals 2017, chapter 1; both computed by an independent program. Latent heats: Clapeyron's equation on IAPWS
 * SR1-86 densities, computed likewise; IAPWS-95 gives 2500.9 kJ/kg at 0.01 C (from memory). */
static void test_saturation(void **state)
{
    (void)state;
    static const struct {
        double celsius, iapws, ashrae, latent_heat; /* [C], [Pa], [Pa], [kJ kg-1] */
    } rows[] = {
        {0.01, 611.66, 611.66, 2500.5},    {10, 1228.1, 1228.0, 2477.3},     {20, 2339.2, 2338.8, 2453.8},
        {25, 3169.8, 3169.2, 2441.9},      {40, 7385.1, 7383.5, 2406.1},     {50, 12352.5, 12349.9, 2382.0},
        {60, 19947.4, 19943.8, 2357.7},    {65, 25042.7, 25038.7, 2345.4},   {70, 31202.2, 31197.9, 2333.1},
        {75, 38596.7, 38592.4, 2320.7},    {80, 47415.8, 47411.6, 2308.1},   {85, 57868.2, 57864.5, 2295.4},
        {90, 70182.7, 70180.0, 2282.7},    {95, 84609.0, 84607.8, 2269.7},   {100, 101418.0, 101418.7, 2256.6},
        {110, 143377, 143384, 2229.9},     {120, 198671, 198685, 2202.3},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double latent_heat;
        assert_int_equal(sw_latent_heat(kelvin(rows[i].celsius), &latent_heat), SW_OK);
        assert_close_rel(saturation(rows[i].celsius), rows[i].iapws, 1e-4);
        assert_close_rel(saturation(rows[i].celsius), rows[i].ashrae, 3e-4);
        assert_close_rel(latent_heat, 1e3 * rows[i].latent_heat, 1e-4);
    }
}

/* ASHRAE Fundamentals 2017, chapter 1, table 3, as quoted in the tests of an open psychrometric library. */
static void test_saturation_table(void **state)
{
    (void)state;
    assert_close_rel(saturation(5), 872.6, 3e-4);
    assert_close_rel(saturation(25), 3169.7, 3e-4);
    assert_close_rel(saturation(50), 12351.3, 3e-4);
    assert_close_rel(saturation(100), 101418.0, 3e-4);
    assert_close_rel(saturation(150), 476101.4, 3e-4);
}

/* Clapeyron's equation itself: the slope the library uses is that of its own pressure. */
static void test_saturation_slope(void **state)
{
    (void)state;
    for (double t = 274.15; t < 572.0; t += 7.0) {
        double low, high, pressure, slope, ignored;
        sw_saturation(t - 0.01, &low, &ignored);
        sw_saturation(t + 0.01, &high, &ignored);
        sw_saturation(t, &pressure, &slope);
        assert_close_rel(slope, (high - low) / 0.02, 1e-7);
    }
}

/* Boiling and dew points. 100 C at 101418 Pa: IAPWS; at one standard atmosphere 99.97 C (from memory, IAPWS-95 gives
 * 99.974). Dew points: computed by an independent program for the humidity ratios of pits. */
static void test_saturation_temperature(void **state)
{
    (void)state;
    double t;
    assert_int_equal(sw_saturation_temperature(101325.0, &t), SW_OK);
    assert_close_abs(t, kelvin(99.974), 0.005);
    assert_int_equal(sw_saturation_temperature(101418.0, &t), SW_OK);
    assert_close_abs(t, kelvin(100.0), 0.005);
    static const double ratio[] = {.005, .01, .02, .03, .05, .075, .10};
    static const double dew_point[] = {3.91, 14.05, 24.93, 31.64, 40.39, 47.51, 52.60};
    for (int i = 0; i < 7; i++) {
        double pressure;
        assert_int_equal(sw_vapour_pressure(ratio[i], SW_STANDARD_PRESSURE, &pressure), SW_OK);
        assert_int_equal(sw_saturation_temperature(pressure, &t), SW_OK);
        assert_close_abs(t, kelvin(dew_point[i]), 0.02);
    }
    for (double celsius = 0.5; celsius < 299.0; celsius += 3.0) {
        assert_int_equal(sw_saturation_temperature(saturation(celsius), &t), SW_OK);
        assert_close_abs(t, kelvin(celsius), 1e-8);
    }
}

/* Saturated humidity ratios at 101325 Pa: ASHRAE Fundamentals 2017, chapter 1, table 2, as quoted in the tests of an
 * open psychrometric library; they hold an enhancement factor this project leaves out, hence 1 and 2 %. */
static void test_humidity_ratio(void **state)
{
    (void)state;
    static const struct {
        double celsius, ratio, tolerance;
    } rows[] = {{5, .005425, .01}, {25, .020173, .01}, {50, .086863, .01}, {85, .838105, .02}};
    for (size_t i = 0; i < 4; i++) {
        double ratio;
        assert_int_equal(sw_humidity_ratio(saturation(rows[i].celsius), SW_STANDARD_PRESSURE, &ratio), SW_OK);
        assert_close_rel(ratio, rows[i].ratio, rows[i].tolerance);
    }
    for (double ratio = 0.0; ratio < 2.0; ratio += 0.013) {
        double pressure, back;
        assert_int_equal(sw_vapour_pressure(ratio, 83500.0, &pressure), SW_OK);
        assert_int_equal(sw_humidity_ratio(pressure, 83500.0, &back), SW_OK);
        assert_close_abs(back, ratio, 1e-14 * (1.0 + ratio * ratio));
    }
}

/* ASHRAE Fundamentals 2017, chapter 1, example 1: 40 C dry-bulb and 20 C wet-bulb at 101325 Pa are 0.0065 kg/kg
 * (0.006401 by the formulas), dew point 7 C. And 30 C dry-bulb, 25 C wet-bulb at 95461 Pa are 0.0192281 kg/kg. */
static void test_ashrae_examples(void **state)
{
    (void)state;
    double wet_bulb, pressure, dew_point;
    assert_int_equal(sw_wet_bulb(kelvin(40), 0.006401, SW_STANDARD_PRESSURE, &wet_bulb), SW_OK);
    assert_close_abs(wet_bulb, kelvin(20), 0.02);
    assert_int_equal(sw_wet_bulb(kelvin(40), 0.0065, SW_STANDARD_PRESSURE, &wet_bulb), SW_OK);
    assert_close_abs(wet_bulb, kelvin(20), 0.2);
    assert_int_equal(sw_vapour_pressure(0.0065, SW_STANDARD_PRESSURE, &pressure), SW_OK);
    assert_int_equal(sw_saturation_temperature(pressure, &dew_point), SW_OK);
    assert_close_abs(dew_point, kelvin(7), 0.7);
    assert_close_abs(pressure / saturation(40), 0.14, 0.01);
    assert_int_equal(sw_wet_bulb(kelvin(30), 0.0192281, 95461.0, &wet_bulb), SW_OK);
    assert_close_abs(wet_bulb, kelvin(25), 0.02);
}

/* Wet-bulb temperatures in pits; computed from ASHRAE Fundamentals 2017, chapter 1, eq. 33, the root kept below
 * boiling. */
static void test_wet_bulb(void **state)
{
    (void)state;
    static const double ratio[] = {.005, .01, .02, .03, .05, .075, .10};
    static const struct {
        double dry, wet[7];
    } rows[] = {{93, {31.94, 34.19, 38.08, 41.35, 46.62, 51.67, 55.64}},
                {121, {36.71, 38.57, 41.85, 44.66, 49.31, 53.86, 57.49}},
                {149, {40.64, 42.22, 45.06, 47.53, 51.68, 55.82, 59.17}}};
    double wet_bulb;
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 7; j++) {
            assert_int_equal(sw_wet_bulb(kelvin(rows[i].dry), ratio[j], SW_STANDARD_PRESSURE, &wet_bulb), SW_OK);
            assert_close_abs(wet_bulb, kelvin(rows[i].wet[j]), 0.02);
        }
    /* At 1600 m, 83.5 kPa. */
    assert_int_equal(sw_wet_bulb(kelvin(121), .01, 83500.0, &wet_bulb), SW_OK);
    assert_close_abs(wet_bulb, kelvin(35.48), 0.1);
    assert_int_equal(sw_wet_bulb(kelvin(121), .03, 83500.0, &wet_bulb), SW_OK);
    assert_close_abs(wet_bulb, kelvin(41.33), 0.1);
    /* Saturated air is its own wet-bulb. */
    double saturated;
    assert_int_equal(sw_humidity_ratio(saturation(60), SW_STANDARD_PRESSURE, &saturated), SW_OK);
    assert_int_equal(sw_wet_bulb(kelvin(60), saturated * (1.0 - 1e-9), SW_STANDARD_PRESSURE, &wet_bulb), SW_OK);
    assert_close_abs(wet_bulb, kelvin(60), 1e-4);
}

/* Standard atmosphere: ASHRAE Fundamentals 2017, chapter 1, table 1, as quoted in the tests of an open library; sea
 * level by definition, ISO 2533. */
static void test_altitude(void **state)
{
    (void)state;
    static const double altitude[] = {0, 500, 1000, 4000}, pressure[] = {101325, 95461, 89875, 61640};
    for (int i = 0; i < 4; i++) {
        double p;
        assert_int_equal(sw_pressure_at_altitude(altitude[i], &p), SW_OK);
        assert_close_abs(p, pressure[i], 5.0);
    }
}

/* W. J. Massman, Atmos. Environ. 32 (1998) 1111: 0.2178 cm2/s at 0 C and one atmosphere, exponent 1.81 (from
 * memory); by hand at 25 and 100 C. A handbook value at 25 C is 0.26 cm2/s within 5 % (from memory). */
static void test_diffusivity(void **state)
{
    (void)state;
    double d;
    assert_int_equal(sw_vapour_diffusivity(273.15, 101325.0, &d), SW_OK);
    assert_close_rel(d, 2.178e-5, 1e-12);
    assert_int_equal(sw_vapour_diffusivity(298.15, 101325.0, &d), SW_OK);
    assert_close_rel(d, 2.552e-5, 1e-3);
    assert_close_rel(d, 2.6e-5, 0.05);
    assert_int_equal(sw_vapour_diffusivity(373.15, 101325.0, &d), SW_OK);
    assert_close_rel(d, 3.830e-5, 1e-3);
    double thin;
    assert_int_equal(sw_vapour_diffusivity(373.15, 50662.5, &thin), SW_OK);
    assert_close_rel(thin, 2.0 * d, 1e-12);
}

/* Dry air near 90 C (F. P. Incropera and D. P. DeWitt, table A.4, interpolated, from memory): 0.97 kg/m3, 2.13e-5 Pa s,
 * 0.0308 W/mK, Prandtl number 0.70. */
static void test_dry_air(void **state)
{
    (void)state;
    sw_air_properties air;
    assert_int_equal(sw_dry_air_properties(kelvin(90), SW_STANDARD_PRESSURE, &air), SW_OK);
    assert_close_rel(air.density, 0.97, 0.01);
    assert_close_rel(air.viscosity, 2.13e-5, 0.01);
    assert_close_rel(air.thermal_conductivity, 0.0308, 0.02);
    assert_close_abs(air.prandtl_number, 0.70, 0.01);
    assert_close_rel(air.heat_capacity, 1009.0, 0.005);
    /* At 300 K: 1.1614 kg/m3, 1.846e-5 Pa s, 0.0263 W/mK. */
    assert_int_equal(sw_dry_air_properties(300.0, SW_STANDARD_PRESSURE, &air), SW_OK);
    assert_close_rel(air.density, 1.1614, 0.015);
    assert_close_rel(air.viscosity, 1.846e-5, 0.01);
    assert_close_rel(air.thermal_conductivity, 0.0263, 0.015);
}

#define assert_refused(call, out)                                                                                      \
    do {                                                                                                               \
        (out) = untouched;                                                                                             \
        assert_int_equal((call), SW_ERR_RANGE);                                                                        \
        assert_true((out) == untouched);                                                                               \
    } while (0)

static void test_range_errors(void **state)
{
    (void)state;
    double x;
    static const double bad_temperature[] = {273.14, 573.16, -1.0, NAN, INFINITY, -INFINITY};
    for (int i = 0; i < 6; i++) {
        const double t = bad_temperature[i];
        assert_refused(sw_saturation_pressure(t, &x), x);
        assert_refused(sw_latent_heat(t, &x), x);
        assert_refused(sw_wet_bulb(t, 0.02, 101325.0, &x), x);
        assert_refused(sw_vapour_diffusivity(t, 101325.0, &x), x);
    }
    static const double bad_pressure[] = {0.0, -1.0, NAN};
    for (int i = 0; i < 3; i++) {
        const double p = bad_pressure[i];
        assert_refused(sw_saturation_temperature(p, &x), x);
        assert_refused(sw_humidity_ratio(0.0, p, &x), x);
        assert_refused(sw_vapour_pressure(0.02, p, &x), x);
        assert_refused(sw_wet_bulb(350.0, 0.02, p, &x), x);
        assert_refused(sw_vapour_diffusivity(350.0, p, &x), x);
    }
    assert_refused(sw_saturation_temperature(600.0, &x), x);
    assert_refused(sw_saturation_temperature(9e6, &x), x);
    assert_refused(sw_humidity_ratio(-1.0, 101325.0, &x), x);
    assert_refused(sw_humidity_ratio(101325.0, 101325.0, &x), x);
    assert_refused(sw_humidity_ratio(NAN, 101325.0, &x), x);
    assert_refused(sw_vapour_pressure(-1e-9, 101325.0, &x), x);
    assert_refused(sw_vapour_pressure(INFINITY, 101325.0, &x), x);
    assert_refused(sw_vapour_pressure(NAN, 101325.0, &x), x);
    assert_refused(sw_wet_bulb(kelvin(20), 0.02, 101325.0, &x), x); /* supersaturated */
    assert_refused(sw_wet_bulb(kelvin(5), 0.0, 101325.0, &x), x);   /* wet-bulb below freezing */
    assert_refused(sw_wet_bulb(350.0, -0.01, 101325.0, &x), x);
    assert_refused(sw_wet_bulb(350.0, NAN, 101325.0, &x), x);
    assert_refused(sw_pressure_at_altitude(-500.1, &x), x);
    assert_refused(sw_pressure_at_altitude(9000.1, &x), x);
    assert_refused(sw_pressure_at_altitude(NAN, &x), x);
    sw_air_properties air = {.density = untouched};
    assert_int_equal(sw_dry_air_properties(199.9, 101325.0, &air), SW_ERR_RANGE);
    assert_int_equal(sw_dry_air_properties(600.1, 101325.0, &air), SW_ERR_RANGE);
    assert_int_equal(sw_dry_air_properties(300.0, 0.0, &air), SW_ERR_RANGE);
    assert_int_equal(sw_dry_air_properties(NAN, 101325.0, &air), SW_ERR_RANGE);
    assert_true(air.density == untouched);
}

/* The whole declared range, its ends included: finite and rising or falling as it must. */
static void test_whole_range(void **state)
{
    (void)state;
    double last_pressure = 0.0, last_latent = INFINITY, last_diffusivity = 0.0;
    for (int i = 0; i <= 3000; i++) {
        double t = SW_MOIST_AIR_TEMPERATURE_MIN + 300.0 * i / 3000.0, p, latent, d, boiling;
        assert_int_equal(sw_saturation_pressure(t, &p), SW_OK);
        assert_int_equal(sw_latent_heat(t, &latent), SW_OK);
        assert_int_equal(sw_vapour_diffusivity(t, 101325.0, &d), SW_OK);
        assert_int_equal(sw_saturation_temperature(p, &boiling), SW_OK);
        assert_close_abs(boiling, t, 1e-7);
        assert_true(p > last_pressure && latent < last_latent && d > last_diffusivity && latent > 1.3e6);
        last_pressure = p;
        last_latent = latent;
        last_diffusivity = d;
    }
    double last = INFINITY;
    for (int i = 0; i <= 950; i++) {
        double p;
        assert_int_equal(sw_pressure_at_altitude(-500.0 + 10.0 * i, &p), SW_OK);
        assert_true(p < last && p > 30000.0);
        last = p;
    }
    /* Wet-bulb: rises with humidity and with the dry-bulb, stays below both dry-bulb and boiling. */
    for (int i = 0; i <= 30; i++) {
        double t = kelvin(30.0 + 9.0 * i), before = 0.0;
        for (int j = 0; j <= 60; j++) {
            double wet;
            if (sw_wet_bulb(t, 0.02 * j, 101325.0, &wet) != SW_OK)
                continue;
            assert_true(wet > before && wet <= t && wet < kelvin(99.98));
            before = wet;
        }
        assert_true(before > 0.0);
    }
    sw_air_properties before = {0};
    for (int i = 0; i <= 400; i++) {
        sw_air_properties air;
        assert_int_equal(sw_dry_air_properties(200.0 + i, 101325.0, &air), SW_OK);
        assert_true(air.viscosity > before.viscosity && air.thermal_conductivity > before.thermal_conductivity);
        assert_within(air.prandtl_number, 0.6, 0.8);
        before = air;
    }
}

/* The table of the inner loops against the functions it stands for, between its rows. */
static void test_water_table(void **state)
{
    (void)state;
    sw_water_table water;
    assert_int_equal(sw_water_table_init(NULL, &water, 278.15), 0);
    for (double t = 273.2; t < SW_TEMPERATURE_MAX; t += 0.37) {
        sw_table_place place = sw_table_find(&water.table, t, 1);
        double pressure, slope;
        sw_saturation(t, &pressure, &slope);
        assert_close_rel(sw_table_value(&place, SW_WATER_TABLE_WIDTH, SW_WATER_SATURATION_PRESSURE), pressure, 1e-8);
        assert_close_rel(sw_table_slope(&place, SW_WATER_TABLE_WIDTH, SW_WATER_SATURATION_PRESSURE), slope, 1e-5);
        assert_close_rel(sw_table_value(&place, SW_WATER_TABLE_WIDTH, SW_WATER_LATENT_HEAT),
                         sw_latent_heat_unchecked(t), 1e-9);
        assert_close_abs(sw_table_value(&place, SW_WATER_TABLE_WIDTH, SW_WATER_LIQUID_ENTHALPY),
                         sw_liquid_enthalpy(t, 278.15), 1e-4);
    }
    /* Liquid enthalpy by steam tables: 419.1 kJ/kg from 0 to 100 C, 83.9 at 20 C (from memory). */
    assert_close_rel(sw_liquid_enthalpy(373.15, 273.15), 419.1e3, 0.004);
    assert_close_rel(sw_liquid_enthalpy(293.15, 273.15), 83.9e3, 0.01);
    sw_water_table_free(&water);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_saturation),      cmocka_unit_test(test_saturation_table),
        cmocka_unit_test(test_saturation_slope), cmocka_unit_test(test_saturation_temperature),
        cmocka_unit_test(test_humidity_ratio),  cmocka_unit_test(test_ashrae_examples),
        cmocka_unit_test(test_wet_bulb),        cmocka_unit_test(test_altitude),
        cmocka_unit_test(test_diffusivity),     cmocka_unit_test(test_dry_air),
        cmocka_unit_test(test_range_errors),    cmocka_unit_test(test_whole_range),
        cmocka_unit_test(test_water_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
