/* SPDX-License-Identifier: BSD-3-Clause */
/* Meat tissue as a material: derivatives, enthalpy, water holding, water activity. */
#include "close.h"

#include "saturation.h"
#include "tissue.h"
#include "water_table.h"

#include "cuts.h"

#include <math.h>

static const double zero_celsius = 273.15;

static sw_tissue_parameters lean(void)
{
    sw_tissue_parameters p;
    sw_lean_parameters(&p);
    p.composition = (sw_composition){.water = 0.703, .protein = 0.207, .fat = 0.08, .ash = 0.01};
    p.initial_temperature = 278.15;
    p.pressure = 101325.0;
    return p;
}

static sw_tissue_parameters fat_cap(void)
{
    sw_tissue_parameters p;
    sw_fat_cap_parameters(&p);
    p.composition = (sw_composition){.water = 0.20, .protein = 0.06, .fat = 0.735, .ash = 0.005};
    p.initial_temperature = 278.15;
    p.pressure = 101325.0;
    return p;
}

static sw_material *create(sw_tissue_parameters p)
{
    sw_material *material;
    assert_int_equal(sw_tissue_create(NULL, &p, &material), SW_OK);
    return material;
}

static sw_properties evaluate(const sw_material *m, double temperature, double water)
{
    const double state[2] = {temperature, water};
    sw_properties value;
    sw_material_at(m, state, &value, NULL, NULL);
    return value;
}

enum { FIELD_COUNT = sizeof(sw_properties) / sizeof(double) };

static double field(const sw_properties *p, int number)
{
    return ((const double *)p)[number];
}

/* Central differences in T and X, over random states; an entry may be off by a small share of itself, or of the
 * value over 1000 K or 100 kg/kg, where the slope is next to nothing. */
static void check_derivatives(sw_tissue_parameters parameters, unsigned long long seed)
{
    sw_material *m = create(parameters);
    for (int i = 0; i < 4000; i++) {
        const double t = 268.0 + 200.0 * random_share(&seed), x = 0.01 + 3.5 * random_share(&seed);
        const double state[2] = {t, x}, dt = 1e-4, dx = 1e-6;
        sw_properties value, by_t, by_x;
        sw_material_at(m, state, &value, &by_t, &by_x);
        sw_properties plain = evaluate(m, t, x), runoff;
        const sw_property_columns of_runoff = sw_columns_in(&runoff.heat_capacity, 1);
        m->functions->evaluate_runoff(m, 0, 1, state, &of_runoff);
        assert_close_abs(runoff.runoff, value.runoff, 1e-13 * value.runoff);
        assert_close_rel(runoff.water_enthalpy, value.water_enthalpy, 1e-13);
        sw_properties t_low = evaluate(m, t - dt, x), t_high = evaluate(m, t + dt, x);
        sw_properties x_low = evaluate(m, t, x - dx), x_high = evaluate(m, t, x + dx);
        for (int k = 0; k < FIELD_COUNT; k++) {
            double size = fabs(field(&value, k));
            assert_close_abs(field(&plain, k), field(&value, k), 1e-13 * size);
            assert_close_abs(field(&by_t, k), (field(&t_high, k) - field(&t_low, k)) / (2.0 * dt),
                             1e-4 * fabs(field(&by_t, k)) + 1e-7 * size + 1e-30);
            assert_close_abs(field(&by_x, k), (field(&x_high, k) - field(&x_low, k)) / (2.0 * dx),
                             1e-4 * fabs(field(&by_x, k)) + 1e-7 * size + 1e-30);
        }
    }
    sw_material_destroy(m);
}

static void test_derivatives(void **state)
{
    (void)state;
    check_derivatives(lean(), 11);
    check_derivatives(fat_cap(), 12);
}

/* Cells are evaluated four at a time: however many there are, from whichever on, and wherever in a group each is, it is as on its
 * own, and others are not touched. */
static void check_cells(const sw_material *m, size_t first, size_t n, unsigned long long *seed)
{
    enum { MOST = 16, ROOM = SW_PROPERTY_COUNT * MOST };
    double cells[2 * MOST], value[ROOM], by_t[ROOM], by_x[ROOM], runoff[ROOM];
    for (size_t i = 0; i < ROOM; i++)
        value[i] = by_t[i] = by_x[i] = runoff[i] = -1.0;
    for (size_t i = 0; i < MOST; i++) {
        cells[2 * i] = 268.0 + 200.0 * random_share(seed);
        cells[2 * i + 1] = 0.01 + 3.5 * random_share(seed);
    }
    const sw_property_columns c[] = {sw_columns_in(value, MOST), sw_columns_in(by_t, MOST), sw_columns_in(by_x, MOST),
                                     sw_columns_in(runoff, MOST)};
    m->functions->evaluate(m, first, n, cells, &c[0], &c[1], &c[2]);
    m->functions->evaluate_runoff(m, first, n, cells, &c[3]);
    for (size_t i = 0; i < MOST; i++) {
        sw_properties one[3];
        sw_material_at(m, cells + 2 * i, &one[0], &one[1], &one[2]);
        for (size_t k = 0; k < 3; k++) {
            const sw_properties found = sw_cell_of(&c[k], i);
            for (int j = 0; j < FIELD_COUNT; j++)
                assert_true(field(&found, j) == (i >= first && i < first + n ? field(&one[k], j) : -1.0));
        }
        assert_close_abs(c[3].runoff[i], i >= first && i < first + n ? one[0].runoff : -1.0, 1e-13 * one[0].runoff);
    }
}

static void test_cells_side_by_side(void **state)
{
    (void)state;
    unsigned long long seed = 21;
    sw_material *m = create(lean());
    for (size_t first = 0; first < 4; first++)
        for (size_t n = 1; n <= 11; n++)
            check_cells(m, first, n, &seed);
    sw_material_destroy(m);
}

/* The slope of the enthalpy is the heat capacity; by water, the dry density times the water's enthalpy. */
static void check_enthalpy(sw_tissue_parameters parameters, unsigned long long seed)
{
    sw_material *m = create(parameters);
    assert_close_abs(m->functions->enthalpy(m, parameters.initial_temperature, m->initial_water), 0.0, 1e-3);
    for (int i = 0; i < 4000; i++) {
        const double t = 268.0 + 200.0 * random_share(&seed), x = 0.01 + 3.5 * random_share(&seed);
        const double dt = 1e-3, dx = 1e-3;
        sw_properties value = evaluate(m, t, x);
        double by_t = (m->functions->enthalpy(m, t + dt, x) - m->functions->enthalpy(m, t - dt, x)) / (2.0 * dt);
        double by_x = (m->functions->enthalpy(m, t, x + dx) - m->functions->enthalpy(m, t, x - dx)) / (2.0 * dx);
        assert_close_rel(by_t, value.heat_capacity, 1e-6);
        assert_close_abs(by_x, m->dry_density * value.water_enthalpy, 1e-7 * m->dry_density * 4e5);
    }
    sw_material_destroy(m);
}

static void test_enthalpy(void **state)
{
    (void)state;
    check_enthalpy(lean(), 13);
    check_enthalpy(fat_cap(), 14);
}

/* Raw meat is the mixture of its components (checked in test_composition), melting of fat apart. */
static void test_raw_meat_is_its_mixture(void **state)
{
    (void)state;
    sw_tissue_parameters p = lean();
    sw_material *m = create(p);
    sw_food_properties raw;
    assert_int_equal(sw_mixture_properties(&p.composition, p.initial_temperature, &raw), SW_OK);
    assert_close_rel(sw_material_raw_density(m), raw.density, 1e-12);
    assert_close_rel(m->initial_water, 0.703 / 0.217, 1e-12);
    assert_close_rel(m->dry_density, raw.density * 0.217, 1e-12);
    for (double celsius = 1.0; celsius < 149.0; celsius += 3.3) {
        double t = celsius + zero_celsius, slope;
        sw_food_properties food;
        assert_int_equal(sw_mixture_properties(&p.composition, t, &food), SW_OK);
        sw_melted_fraction(&p, t, &slope);
        sw_properties value = evaluate(m, t, m->initial_water);
        assert_close_rel(value.heat_capacity, raw.density * (food.heat_capacity + 0.08 * p.melting_heat * slope), 1e-8);
        assert_close_rel(value.conductivity, 0.5 * (food.conductivity_parallel + food.conductivity_series), 1e-8);
    }
    sw_material_destroy(m);
}

/* Raw meat holds its water; heated past 60 C it cannot, and the juice comes under pressure; below what it can hold
 * there is none. Cooked meat holds the share that is left after the loss. */
static void test_water_holding(void **state)
{
    (void)state;
    sw_tissue_parameters p = lean();
    sw_material *m = create(p);
    const double raw = m->initial_water;
    assert_close_abs(evaluate(m, p.initial_temperature, raw).juice_pressure, 0.0, 1e-9);
    assert_true(evaluate(m, zero_celsius + 40.0, raw).juice_pressure < 100.0);
    double last = evaluate(m, zero_celsius + 60.0, raw).juice_pressure;
    assert_true(last > 100.0);
    for (double celsius = 62.0; celsius < 95.0; celsius += 2.0) {
        double pressure = evaluate(m, zero_celsius + celsius, raw).juice_pressure;
        assert_true(pressure > last);
        last = pressure;
    }
    /* 2 K above the middle, 2 K above that of the late loss and far above both: the logistics by hand. */
    const double late_below = p.holding_temperature + 2.0 - p.late_temperature, early_above = p.late_temperature + 2.0 - p.holding_temperature;
    double held = raw * (1.0 - p.holding_loss / (1.0 + exp(-0.287 * 2.0)) - p.late_loss / (1.0 + exp(-0.287 * late_below)));
    double t = p.holding_temperature + 2.0;
    assert_true(evaluate(m, t, held - 0.01).juice_pressure == 0.0);
    assert_true(evaluate(m, t, held + 0.01).juice_pressure > 0.0);
    t = p.late_temperature + 2.0;
    held = raw * (1.0 - p.holding_loss / (1.0 + exp(-0.287 * early_above)) - p.late_loss / (1.0 + exp(-0.287 * 2.0)));
    assert_true(evaluate(m, t, held - 0.01).juice_pressure == 0.0);
    assert_true(evaluate(m, t, held + 0.01).juice_pressure > 0.0);
    t = p.holding_temperature + 60.0;
    held = raw * (1.0 - p.holding_loss - p.late_loss);
    assert_true(evaluate(m, t, held - 0.01).juice_pressure == 0.0);
    assert_true(evaluate(m, t, held + 0.01).juice_pressure > 0.0);
    /* Far above: pressure is modulus times excess, less half the onset range of 2000 Pa. */
    double modulus = (p.modulus_raw + p.modulus_rise) / (1.0 + raw);
    assert_close_rel(evaluate(m, t, held + 0.5).juice_pressure, 0.5 * modulus - 1000.0, 1e-4);
    sw_material_destroy(m);
}

/* Oswin's isotherm by hand: z = (X / 0.10)^(1 / 0.45), a = z / (1 + z); a = 1/2 at X = 0.10. */
static void test_water_activity(void **state)
{
    (void)state;
    sw_material *m = create(lean());
    assert_close_abs(evaluate(m, 350.0, 0.0).water_activity, 0.0, 1e-12);
    assert_close_abs(evaluate(m, 350.0, 0.10).water_activity, 0.5, 1e-6);
    double last = 0.0, worst = 0.0, worst_dry = 0.0;
    for (double x = 0.001; x < 4.0; x += 0.001) {
        double a = evaluate(m, 350.0, x).water_activity, z = pow(x / 0.10, 1.0 / 0.45);
        assert_true(a > last && a < 1.0);
        assert_close_abs(m->functions->activity(m, 350.0, x), a, 1e-15);
        double *largest = x < 0.03 ? &worst_dry : &worst;
        *largest = fmax(*largest, fabs(a - z / (1.0 + z)));
        last = a;
    }
    print_message("  largest error of the tabulated water activity: %.1e, below 0.03 kg/kg %.1e\n", worst, worst_dry);
    assert_true(worst < 2e-5);
    assert_true(worst_dry < 1e-3);
    assert_true(evaluate(m, 350.0, m->initial_water).water_activity > 0.999);
    sw_material_destroy(m);
}

/* Vapour pressure is that over water times the activity; steam pressure is what of it lies above the air's, set in
 * smoothly. */
static void test_vapour_and_steam(void **state)
{
    (void)state;
    sw_material *m = create(lean());
    for (double celsius = 5.0; celsius < 99.0; celsius += 1.37) {
        double pressure, slope;
        sw_saturation(celsius + zero_celsius, &pressure, &slope);
        sw_properties p = evaluate(m, celsius + zero_celsius, 1.5);
        assert_close_rel(p.vapour_pressure, p.water_activity * pressure, 1e-8);
        assert_close_abs(p.steam_pressure, 0.0, 0.0);
    }
    sw_properties p = evaluate(m, 383.15, 1.5);
    assert_close_rel(p.steam_pressure, p.vapour_pressure - 101325.0 - 1000.0, 1e-9);
    assert_true(p.steam_permeability > 10.0 * evaluate(m, 383.15, 0.0).vapour_permeability);
    double before = 0.0;
    for (double t = 372.0; t < 375.0; t += 0.001) {
        double steam = evaluate(m, t, 3.0).steam_pressure;
        assert_true(steam >= before && steam - before < 5.0); /* 3.6 Pa a millikelvin at the most */
        before = steam;
    }
    /* Enthalpies: vapour over liquid is the latent heat. */
    p = evaluate(m, 360.0, 1.0);
    assert_close_rel(p.vapour_enthalpy - p.water_enthalpy, sw_latent_heat_unchecked(360.0), 1e-9);
    sw_material_destroy(m);
}

/* Mobility is density times permeability over viscosity; water at 60 C has 0.466 mPa s, at 20 C 1.002, at 90 C 0.315
 * (steam tables, from memory). */
static void test_mobility(void **state)
{
    (void)state;
    sw_tissue_parameters p = lean();
    sw_material *m = create(p);
    static const double celsius[] = {20, 60, 90}, density[] = {998.2, 983.2, 965.3},
                        viscosity[] = {1.002e-3, 0.466e-3, 0.315e-3};
    for (int i = 0; i < 3; i++) {
        sw_properties value = evaluate(m, celsius[i] + zero_celsius, m->initial_water);
        assert_close_rel(density[i] * p.permeability / value.mobility, viscosity[i], 0.02);
    }
    /* Half the water: a quarter of the mobility. */
    assert_close_rel(evaluate(m, 333.15, 0.5 * m->initial_water).mobility,
                     0.25 * evaluate(m, 333.15, m->initial_water).mobility, 1e-12);
    sw_material_destroy(m);
}

/* The diffusivity is the given one at 60 C in moist meat, halves with dryness at 0.3 kg/kg, and rises by Arrhenius's
 * law. */
static void test_diffusivity(void **state)
{
    (void)state;
    sw_tissue_parameters p = lean();
    sw_material *m = create(p);
    assert_close_rel(evaluate(m, 333.15, 0.3).diffusivity, 0.5 * m->dry_density * p.diffusivity, 1e-7);
    assert_close_rel(evaluate(m, 353.15, 0.3).diffusivity / evaluate(m, 333.15, 0.3).diffusivity,
                     exp(28e3 / 8.314462618 * (1.0 / 333.15 - 1.0 / 353.15)), 1e-7);
    /* Dry tissue lets vapour diffuse, moist tissue does not. */
    assert_true(evaluate(m, 373.15, 0.05).vapour_permeability > 0.0);
    assert_close_abs(evaluate(m, 373.15, p.vapour_water_limit).vapour_permeability, 0.0, 0.0);
    assert_close_abs(evaluate(m, 373.15, 3.0).vapour_permeability, 0.0, 0.0);
    sw_material_destroy(m);
}

static void test_melting(void **state)
{
    (void)state;
    sw_tissue_parameters p = lean();
    double slope;
    assert_close_abs(sw_melted_fraction(&p, p.melting_start - 1.0, &slope), 0.0, 0.0);
    assert_close_abs(slope, 0.0, 0.0);
    assert_close_abs(sw_melted_fraction(&p, p.melting_end + 1.0, &slope), 1.0, 0.0);
    assert_close_abs(slope, 0.0, 0.0);
    assert_close_abs(sw_melted_fraction(&p, 0.5 * (p.melting_start + p.melting_end), &slope), 0.5, 1e-12);
    double other, last = 0.0;
    for (double t = p.melting_start - 2.0; t < p.melting_end + 2.0; t += 0.1) {
        double share = sw_melted_fraction(&p, t, &slope);
        assert_true(share >= last);
        last = share;
        double rise = sw_melted_fraction(&p, t + 1e-5, &other) - sw_melted_fraction(&p, t - 1e-5, &other);
        assert_close_abs(slope, rise / 2e-5, 1e-6);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_derivatives),
        cmocka_unit_test(test_cells_side_by_side),  cmocka_unit_test(test_enthalpy),
        cmocka_unit_test(test_raw_meat_is_its_mixture), cmocka_unit_test(test_water_holding),
        cmocka_unit_test(test_water_activity), cmocka_unit_test(test_vapour_and_steam),
        cmocka_unit_test(test_mobility),     cmocka_unit_test(test_diffusivity),
        cmocka_unit_test(test_melting),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
