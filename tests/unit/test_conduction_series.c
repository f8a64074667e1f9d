/* SPDX-License-Identifier: BSD-3-Clause */
/* The exact solutions the solver is checked against are themselves checked against printed tables. */
#include "close.h"

#include "conduction_series.h"

#include <math.h>

static const sw_shape shapes[3] = {SW_SHAPE_SLAB, SW_SHAPE_CYLINDER, SW_SHAPE_SPHERE};

/* First eigenvalue and coefficient: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, table 5.1
 * (from memory; checked with the roots of zeta tan zeta = Bi, zeta J1 = Bi J0, 1 - zeta cot zeta = Bi). */
static void test_first_terms(void **state)
{
    (void)state;
    static const struct {
        double biot, zeta[3], coefficient[3];
    } rows[] = {
        {0.01, {0.0998, 0.1412, 0.1730}, {1.0017, 1.0025, 1.0030}},
        {0.1, {0.3111, 0.4417, 0.5423}, {1.0161, 1.0246, 1.0298}},
        {0.5, {0.6533, 0.9408, 1.1656}, {1.0701, 1.1143, 1.1441}},
        {1, {0.8603, 1.2558, 1.5708}, {1.1191, 1.2071, 1.2732}},
        {2, {1.0769, 1.5994, 2.0288}, {1.1785, 1.3384, 1.4793}},
        {5, {1.3138, 1.9898, 2.5704}, {1.2402, 1.5029, 1.7870}},
        {10, {1.4289, 2.1795, 2.8363}, {1.2620, 1.5677, 1.9249}},
        {20, {1.4961, 2.2880, 2.9857}, {1.2699, 1.5919, 1.9781}},
        {50, {1.5400, 2.3572, 3.0788}, {1.2727, 1.6002, 1.9962}},
        {100, {1.5552, 2.3809, 3.1102}, {1.2731, 1.6015, 1.9990}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int k = 0; k < 3; k++) {
            conduction_series series;
            conduction_series_init(&series, shapes[k], rows[i].biot);
            assert_close_abs(series.zeta[0], rows[i].zeta[k], 6e-5);
            assert_close_abs(series.coefficient[0], rows[i].coefficient[k], 6e-5);
        }
}

/* Computed: roots of the same equations at Bi = 1; the sphere's are odd multiples of pi / 2. */
static void test_higher_terms(void **state)
{
    (void)state;
    static const double zeta[2][6] = {
        {0.860334, 3.425618, 6.437298, 9.529334, 12.645287, 15.771285},
        {1.255784, 4.079478, 7.155799, 10.270985, 13.398397, 16.531159},
    };
    for (int k = 0; k < 3; k++) {
        conduction_series series;
        conduction_series_init(&series, shapes[k], 1.0);
        for (int n = 0; n < 6; n++)
            assert_close_abs(series.zeta[n], k < 2 ? zeta[k][n] : (n + 0.5) * 3.14159265358979, 1e-6);
    }
}

/* Computed: 60 terms of the series by an independent program. */
static void test_theta(void **state)
{
    (void)state;
    static const struct {
        double biot, fourier;
        double theta[3][3]; /* slab, cylinder, sphere: centre, surface, mean */
    } rows[] = {
        {0.1, 0.2, {{.993999, .951420, .980653}, {.983674, .938584, .961549}, {.970210, .924251, .942725}}},
        {0.1, 1, {{.922389, .878126, .907587}, {.842990, .802375, .822599}, {.767431, .730368, .745099}}},
        {1, 0.1, {{.993108, .723577, .919597}, {.976817, .684565, .843266}, {.949305, .643177, .771365}}},
        {1, 0.2, {{.950642, .643391, .851595}, {.870174, .570228, .718516}, {.772312, .495912, .601810}}},
        {1, 0.5, {{.772526, .504522, .681105}, {.548586, .352786, .447384}, {.370777, .236050, .287001}}},
        {1, 1, {{.533859, .348177, .470397}, {.249380, .160338, .203347}, {.107977, .068740, .083578}}},
        {10, 0.1, {{.968424, .170574, .726118}, {.900080, .131622, .509984}, {.795759, .097521, .346012}}},
        {10, 0.2, {{.829255, .122482, .583262}, {.600232, .074844, .311676}, {.382664, .041055, .152439}}},
        {10, 0.5, {{.454641, .064329, .315016}, {.145800, .017758, .074765}, {.034478, .003654, .013626}}},
        {10, 1, {{.163818, .023172, .113496}, {.013560, .001652, .006954}, {.000618, .000065, .000244}}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int k = 0; k < 3; k++) {
            conduction_series series;
            conduction_series_init(&series, shapes[k], rows[i].biot);
            assert_close_abs(conduction_series_at(&series, rows[i].fourier, 0.0), rows[i].theta[k][0], 1e-6);
            assert_close_abs(conduction_series_at(&series, rows[i].fourier, 1.0), rows[i].theta[k][1], 1e-6);
            assert_close_abs(conduction_series_mean(&series, rows[i].fourier), rows[i].theta[k][2], 1e-6);
        }
}

/* The share lost from a drying slab: the same series; J. Crank, The Mathematics of Diffusion, section 4.3.6 (the
 * method, from memory), values computed from it by an independent program. */
static void test_drying_share(void **state)
{
    (void)state;
    static const double fourier[5] = {.05, .1, .2, .5, 1};
    static const struct {
        double biot, lost[5];
    } rows[] = {
        {0.5, {.02304, .04462, .08538, .19567, .35024}},
        {1, {.04269, .08040, .14840, .31890, .52960}},
        {5, {.13179, .21858, .35098, .61483, .83752}},
        {10, {.17555, .27388, .41674, .68498, .88650}},
        {100, {.24257, .34700, .49427, .75578, .92713}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        conduction_series series;
        conduction_series_init(&series, SW_SHAPE_SLAB, rows[i].biot);
        for (int j = 0; j < 5; j++)
            assert_close_abs(1.0 - conduction_series_mean(&series, fourier[j]), rows[i].lost[j], 1e-5);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_first_terms),
        cmocka_unit_test(test_higher_terms),
        cmocka_unit_test(test_theta),
        cmocka_unit_test(test_drying_share),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
