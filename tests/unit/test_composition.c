/* SPDX-License-Identifier: BSD-3-Clause */
/* Properties of food from its composition against printed and computed values. */
#include "close.h"

#include <stallwright/composition.h>

#include <math.h>

static const double untouched = -12345.0;

static double kelvin(double celsius)
{
    return celsius + 273.15;
}

/* Y. Choi and M. R. Okos (1986) as printed in ASHRAE Refrigeration, chapter 19, tables 1 and 2 (coefficients from
 * memory), evaluated by an independent program; the table's own digits limit the comparison. */
static void test_components(void **state)
{
    (void)state;
    static const double celsius[5] = {0, 20, 50, 70, 90};
    static const struct {
        sw_component component;
        double conductivity[5], density[5], heat_capacity[5]; /* [W m-1 K-1], [kg m-3], [kJ kg-1 K-1] */
    } rows[] = {
        {SW_COMPONENT_WATER, {.5711, .6037, .6425, .6616, .6754}, {997.18, 995.74, 987.94, 978.99, 967.03},
         {4.1762, 4.1766, 4.1853, 4.1967, 4.2124}},
        {SW_COMPONENT_PROTEIN, {.1788, .2016, .2318, .2492, .2644}, {1329.9, 1319.5, 1304.0, 1293.6, 1283.2},
         {2.0082, 2.0319, 2.0654, 2.0864, 2.1064}},
        {SW_COMPONENT_FAT, {.1807, .1751, .1665, .1605, .1544}, {925.6, 917.2, 904.7, 896.4, 888.0},
         {1.9842, 2.0117, 2.0459, 2.0638, 2.0779}},
        {SW_COMPONENT_ASH, {.3296, .3565, .3924, .4135, .4322}, {2423.8, 2418.2, 2409.8, 2404.2, 2398.5},
         {1.0926, 1.1289, 1.1779, 1.2068, 1.2328}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int j = 0; j < 5; j++) {
            sw_food_properties p;
            assert_int_equal(sw_component_properties(rows[i].component, kelvin(celsius[j]), &p), SW_OK);
            assert_close_abs(p.conductivity_parallel, rows[i].conductivity[j], 0.51e-4);
            assert_close_abs(p.conductivity_series, p.conductivity_parallel, 0.0);
            assert_close_abs(p.density, rows[i].density[j], 0.051);
            assert_close_abs(p.heat_capacity, 1e3 * rows[i].heat_capacity[j], 0.051);
        }
    /* Carbohydrate at 0 C: the printed constants (from memory). */
    sw_food_properties p;
    assert_int_equal(sw_component_properties(SW_COMPONENT_CARBOHYDRATE, kelvin(0), &p), SW_OK);
    assert_close_abs(p.conductivity_parallel, 0.20141, 1e-9);
    assert_close_abs(p.density, 1599.1, 1e-9);
    assert_close_abs(p.heat_capacity, 1548.8, 1e-9);
}

/* Steam tables (from memory): heat capacity of water within 1 %, density within 0.5 %, conductivity within 2 %. */
static void test_water_by_steam_tables(void **state)
{
    (void)state;
    static const struct {
        double celsius, density, heat_capacity, conductivity;
    } rows[] = {{20, 998.2, 4182, 0.598}, {60, 983.2, 4185, 0.654}, {90, 965.3, 4205, 0.675}};
    for (size_t i = 0; i < 3; i++) {
        sw_food_properties p;
        assert_int_equal(sw_component_properties(SW_COMPONENT_WATER, kelvin(rows[i].celsius), &p), SW_OK);
        assert_close_rel(p.density, rows[i].density, 0.005);
        assert_close_rel(p.heat_capacity, rows[i].heat_capacity, 0.01);
        assert_close_rel(p.conductivity_parallel, rows[i].conductivity, 0.02);
    }
}

/* Mixtures, evaluated from the same coefficients by an independent program. Compositions of cuts: USDA National
 * Nutrient Database, Standard Reference, items 13803, 13807 and 13804; fractions are divided by their sum. */
static void test_mixtures(void **state)
{
    (void)state;
    static const struct {
        sw_composition composition;
        double celsius, density, heat_capacity, parallel, series;
    } rows[] = {
        {{.water = .70, .protein = .20, .fat = .09, .ash = .01}, 20, 1045.13, 3.5223, .4950, .3846},
        {{.water = .70, .protein = .20, .fat = .09, .ash = .01}, 60, 1031.37, 3.5454, .5358, .4124},
        {{.water = .6108, .protein = .1842, .fat = .1906, .ash = .0088}, 20, 1031.06, 3.3374, .4522, .3320},
        {{.water = .6108, .protein = .1842, .fat = .1906, .ash = .0088}, 60, 1016.81, 3.3630, .4862, .3439},
        {{.water = .5996, .protein = .1765, .fat = .2098, .ash = .0082}, 20, 1026.91, 3.3138, .4460, .3252},
        {{.water = .4958, .protein = .2585, .fat = .2450, .ash = .0092}, 60, 1030.28, 3.1024, .4320, .2992},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_food_properties p, doubled;
        assert_int_equal(sw_mixture_properties(&rows[i].composition, kelvin(rows[i].celsius), &p), SW_OK);
        assert_close_abs(p.density, rows[i].density, 0.011);
        assert_close_abs(p.heat_capacity, 1e3 * rows[i].heat_capacity, 0.11);
        assert_close_abs(p.conductivity_parallel, rows[i].parallel, 0.51e-4);
        assert_close_abs(p.conductivity_series, rows[i].series, 0.51e-4);
        /* Only proportions count. */
        sw_composition twice = rows[i].composition;
        twice.water *= 2.0;
        twice.protein *= 2.0;
        twice.fat *= 2.0;
        twice.ash *= 2.0;
        assert_int_equal(sw_mixture_properties(&twice, kelvin(rows[i].celsius), &doubled), SW_OK);
        assert_close_rel(doubled.density, p.density, 1e-12);
        assert_close_rel(doubled.conductivity_series, p.conductivity_series, 1e-12);
    }
}

/* Measured: M. J. Morley's tables 13.2 and 13.3, as reproduced in a textbook on meat refrigeration, chapter 13:
 * beef, lean, 74.5 % water, 0 to 10 C: 3.6; 72 % water, 0 to 100 C: 3.43; fatty, 51 % water, 0 to 100 C: 2.89
 * kJ/kgK. Only the water is given; the rest is taken as usual, and for the fatty one is too much of a guess to judge
 * by. */
static void test_measured_heat_capacity(void **state)
{
    (void)state;
    static const struct {
        sw_composition composition;
        double celsius, heat_capacity;
    } rows[] = {{{.water = .745, .protein = .215, .fat = .03, .ash = .01}, 5, 3600},
                {{.water = .72, .protein = .213, .fat = .058, .ash = .01}, 50, 3430},
                {{.water = .51, .protein = .15, .fat = .333, .ash = .007}, 50, 2890}};
    for (size_t i = 0; i < 3; i++) {
        sw_food_properties p;
        assert_int_equal(sw_mixture_properties(&rows[i].composition, kelvin(rows[i].celsius), &p), SW_OK);
        print_message("  beef of %.1f %% water: %.0f J/kgK, measured %.0f, %+.1f %%\n",
                      100.0 * rows[i].composition.water, p.heat_capacity, rows[i].heat_capacity,
                      100.0 * (p.heat_capacity / rows[i].heat_capacity - 1.0));
        if (i < 2)
            assert_close_rel(p.heat_capacity, rows[i].heat_capacity, 0.08);
    }
    /* Handbook band of raw lean beef at 20 C (ASHRAE Refrigeration, chapter 19, table 7, from memory): 0.41 to 0.53
     * W/mK, between layers across and along the flow; 1050 to 1070 kg/m3 within 1 %. */
    sw_food_properties p;
    assert_int_equal(sw_mixture_properties(&rows[1].composition, kelvin(20), &p), SW_OK);
    assert_true(p.conductivity_series < 0.53 && p.conductivity_parallel > 0.41);
    assert_within(p.density, 1040.0, 1080.0);
}

static void test_whole_range(void **state)
{
    (void)state;
    for (int i = 0; i <= 190; i++)
        for (int c = 0; c < SW_COMPONENT_COUNT; c++) {
            sw_food_properties p;
            assert_int_equal(sw_component_properties((sw_component)c, 233.15 + i, &p), SW_OK);
            assert_within(p.density, 800.0, 2500.0);
            assert_within(p.heat_capacity, 900.0, 4400.0);
            assert_within(p.conductivity_parallel, 0.1, 0.8);
        }
}

static void test_errors(void **state)
{
    (void)state;
    sw_food_properties p = {.density = untouched};
    sw_composition good = {.water = 0.7, .protein = 0.3}, none = {0}, negative = {.water = 1.1, .protein = -0.1},
                   nan_part = {.water = NAN, .protein = 0.3};
    assert_int_equal(sw_component_properties(SW_COMPONENT_COUNT, 300.0, &p), SW_ERR_ARGUMENT);
    assert_int_equal(sw_component_properties((sw_component)-1, 300.0, &p), SW_ERR_ARGUMENT);
    static const double bad[] = {233.14, 423.16, NAN};
    for (int i = 0; i < 3; i++) {
        assert_int_equal(sw_component_properties(SW_COMPONENT_FAT, bad[i], &p), SW_ERR_RANGE);
        assert_int_equal(sw_mixture_properties(&good, bad[i], &p), SW_ERR_RANGE);
    }
    assert_int_equal(sw_mixture_properties(&none, 300.0, &p), SW_ERR_RANGE);
    assert_int_equal(sw_mixture_properties(&negative, 300.0, &p), SW_ERR_RANGE);
    assert_int_equal(sw_mixture_properties(&nan_part, 300.0, &p), SW_ERR_RANGE);
    assert_true(p.density == untouched);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_components),
        cmocka_unit_test(test_water_by_steam_tables),
        cmocka_unit_test(test_mixtures),
        cmocka_unit_test(test_measured_heat_capacity),
        cmocka_unit_test(test_whole_range),
        cmocka_unit_test(test_errors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
