/* SPDX-License-Identifier: BSD-3-Clause */
/* Reactions followed through temperature histories, against closed forms and published pairs of temperature and time. */
#include "close.h"

#include <stallwright/kinetics.h>

#include <math.h>

static const double hour = 3600.0, minute = 60.0, zero_celsius = 273.15, gas_constant = 8.314462618;

static sw_reaction_progress follow(const sw_reaction_law *law, size_t count, const double *hours, const double *celsius)
{
    double times[512], temperatures[512];
    sw_reaction_progress p;
    assert_true(count <= 512);
    for (size_t i = 0; i < count; i++) {
        times[i] = hours[i] * hour;
        temperatures[i] = celsius[i] + zero_celsius;
    }
    assert_int_equal(sw_reaction_follow(law, count, times, temperatures, &p), SW_OK);
    return p;
}

static double held(sw_reaction reaction, double celsius, double hours)
{
    return follow(sw_reaction_law_of(reaction), 2, (double[]){0.0, hours}, (double[]){celsius, celsius}).extent;
}

static void test_isothermal(void **state)
{
    (void)state;
    for (int r = 0; r < SW_REACTION_COUNT; r++) {
        const sw_reaction_law *law = sw_reaction_law_of((sw_reaction)r);
        double k = law->rate * exp(-law->sensitivity / gas_constant * (1.0 / 350.0 - 1.0 / law->reference_temperature));
        assert_close_rel(sw_reaction_rate(law, 350.0), k, 1e-12);
        double half = log(2.0) / k / hour;
        sw_reaction_progress p = follow(law, 2, (double[]){0.0, half}, (double[]){350.0 - 273.15, 350.0 - 273.15});
        assert_close_rel(p.extent, 0.5, 1e-9);
        assert_close_rel(p.exposure, log(2.0), 1e-9);
    }
}

/* E1 for large arguments by Lentz's continued fraction (Abramowitz and Stegun 5.1.22), times exp(x). */
static double scaled_exponential_integral(double x)
{
    double value = 0.0;
    for (int n = 200; n > 0; n--)
        value = n / (1.0 + n / (x + value));
    return 1.0 / (x + value);
}

/* Integral of exp(-a/T) dT is T exp(-a/T) - a E1(a/T); here over exp(-a/reference). */
static double arrhenius_integral(double a, double t, double reference)
{
    return exp(a / reference - a / t) * (t - a * scaled_exponential_integral(a / t));
}

static void test_arrhenius_ramp(void **state)
{
    (void)state;
    assert_close_rel(scaled_exponential_integral(10.0), 4.156968929685324e-06 * exp(10.0), 1e-8); /* A&S table 5.1 */
    for (int r = 0; r < SW_REACTION_COUNT; r++) {
        const sw_reaction_law *law = sw_reaction_law_of((sw_reaction)r);
        double a = law->sensitivity / gas_constant, reference = law->reference_temperature;
        double from = reference - 30.0, to = reference + 10.0, hours = 4.0;
        double exact = law->rate * hours * hour / (to - from) *
                       (arrhenius_integral(a, to, reference) - arrhenius_integral(a, from, reference));
        sw_reaction_progress p = follow(law, 2, (double[]){0.0, hours},
                                        (double[]){from - zero_celsius, to - zero_celsius});
        /* The header states the error: a (1 K)^2 / (6 T^3) too low, at the hot end where most happens. */
        double error = a / (6.0 * pow(to, 3.0));
        assert_within((exact - p.exposure) / exact, 0.5 * error, 1.6 * error);
    }
}

/* Heating at 10 K/h from 5 to 60 C with z = 5.56 K and reference 60 C: 14.4881 min at 60 C (closed form z (1 - 10^(-55/z)) /
 * (heating rate ln 10)). From 5 C towards 121 C with a time constant of 150 min: 4.46674 min by 95 min, 24.6677 min by
 * 105 min (closed form with exponential integrals). 62.8 C for 4 min: 6.909 tenfold reductions with D60 = 12 min / 6.5. */
static void test_z_value(void **state)
{
    (void)state;
    sw_reaction_law law = {.form = SW_RATE_Z_VALUE, .rate = 1.0, .reference_temperature = 60.0 + zero_celsius,
                           .sensitivity = 5.56, .lowest_temperature = 0.0, .highest_temperature = 1e3};
    sw_reaction_progress p = follow(&law, 2, (double[]){0.0, 5.5}, (double[]){5.0, 60.0});
    assert_close_rel(p.exposure / minute, 14.4881, 1e-5);
    double hours[512], celsius[512], ends[2] = {95.0, 105.0}, want[2] = {4.46674, 24.6677};
    for (int k = 0; k < 2; k++) {
        for (int i = 0; i < 512; i++) {
            hours[i] = ends[k] / 60.0 * i / 511.0;
            celsius[i] = 121.0 - 116.0 * exp(-hours[i] / 2.5);
        }
        assert_close_rel(follow(&law, 512, hours, celsius).exposure / minute, want[k], 5e-5);
    }
    law.rate = log(10.0) / (12.0 / 6.5 * minute);
    p = follow(&law, 2, (double[]){0.0, 4.0 / 60.0}, (double[]){62.8, 62.8});
    assert_close_rel(p.exposure / log(10.0), 6.909, 1e-4);
    assert_close_abs(p.outside, 0.0, 0.0);
}

/* Myoglobin loses 2.7 % a minute at 60 C: 7.98e43 1/min exp(-290 kJ/mol / RT), Geileskey et al. 1998, quoted in a thesis. */
static void test_myoglobin_at_60(void **state)
{
    (void)state;
    const sw_reaction_law *law = sw_reaction_law_of(SW_REACTION_MYOGLOBIN);
    for (double celsius = 55.0; celsius <= 75.0; celsius += 5.0) {
        double t = celsius + zero_celsius;
        assert_close_rel(sw_reaction_rate(law, t) * minute, 7.98e43 * exp(-290e3 / (8.314 * t)), 0.01);
    }
    assert_close_rel(sw_reaction_rate(law, 333.15) * minute, 0.027, 0.01);
}

/* In a calorimeter heated at 10 K/min myosin and actin react fastest at 55.2 to 57.8 and 81.8 to 83.2 C in beef (Findlay and
 * Stanley, J. Food Sci. 49 (1984) 1513, abstract). */
static void test_calorimeter_peaks(void **state)
{
    (void)state;
    const struct {
        sw_reaction reaction;
        double low, high;
    } peaks[] = {{SW_REACTION_MYOSIN, 55.2, 57.8}, {SW_REACTION_ACTIN, 81.8, 83.2}};
    for (int i = 0; i < 2; i++) {
        const sw_reaction_law *law = sw_reaction_law_of(peaks[i].reaction);
        double exposure = 0.0, fastest = 0.0, peak = 0.0;
        for (double c = 30.0; c < 100.0; c += 0.01) {
            double rate = sw_reaction_rate(law, c + zero_celsius) * exp(-exposure);
            if (rate > fastest) {
                fastest = rate;
                peak = c;
            }
            exposure += sw_reaction_exposure(law, c + zero_celsius, c + zero_celsius + 0.01, 0.06);
        }
        assert_within(peak, peaks[i].low, peaks[i].high);
    }
}

/* Tenderness by two roads. 95 C within hours; or 68 C for long enough; or a pull at 85 C and a night at 68 C, of which neither
 * half is enough. */
static void test_hot_and_quick_or_cool_and_slow(void **state)
{
    (void)state;
    const sw_reaction_law *law = sw_reaction_law_of(SW_REACTION_COLLAGEN);
    const double quick_h[] = {0, 4, 8, 12}, quick_c[] = {5, 65, 75, 95};
    const double pulled_h[] = {0, 4, 8, 10}, pulled_c[] = {5, 65, 75, 85};
    const double night_h[] = {0, 4, 8, 10, 11, 25}, night_c[] = {5, 65, 75, 85, 68, 68};
    double quick = follow(law, 4, quick_h, quick_c).extent, pulled = follow(law, 4, pulled_h, pulled_c).extent;
    double night = follow(law, 6, night_h, night_c).extent;
    assert_true(quick > 0.5);
    assert_true(night > 0.5);
    assert_true(pulled < 0.35 && held(SW_REACTION_COLLAGEN, 68.0, 14.0) < 0.35);
    assert_true(held(SW_REACTION_COLLAGEN, 68.0, 30.0) > 0.5);
    /* Cooked to 95 C the actin is gone too; a day at 68 C takes it as well, more slowly. */
    assert_true(held(SW_REACTION_ACTIN, 68.0, 0.25) < 0.5 && held(SW_REACTION_ACTIN, 95.0, 0.25) > 0.99);
}

/* Order of collagen solubility in briskets smoked to a core temperature and held: least at 75 C without a hold, greatest at
 * 85 C with 3 h (Kerth, Wall, Grayson-Holter, abstract). Shares are not compared: solubility is measured otherwise. */
static void test_order_of_smoked_briskets(void **state)
{
    (void)state;
    const sw_reaction_law *law = sw_reaction_law_of(SW_REACTION_COLLAGEN);
    const double hours[] = {0, 4, 8, 9, 10, 13}, to_75[] = {5, 65, 75}, to_80[] = {5, 65, 75, 80};
    const double to_85[] = {5, 65, 75, 80, 85, 85};
    double at_75 = follow(law, 3, hours, to_75).extent, at_80 = follow(law, 4, hours, to_80).extent;
    double at_85 = follow(law, 5, hours, to_85).extent, held_at_85 = follow(law, 6, hours, to_85).extent;
    assert_true(at_75 < at_80 && at_80 < at_85 && at_85 < held_at_85);
}

static void test_hotter_or_longer_is_more(void **state)
{
    (void)state;
    for (int r = 0; r < SW_REACTION_COUNT; r++) {
        double before = 0.0;
        for (double celsius = 40.0; celsius <= 110.0; celsius += 5.0) {
            double one = held((sw_reaction)r, celsius, 1.0), two = held((sw_reaction)r, celsius, 2.0);
            assert_true(one >= before && two >= one && two <= 1.0);
            assert_close_abs(1.0 - two, (1.0 - one) * (1.0 - one), 1e-12);
            before = one;
        }
    }
    assert_close_abs(sw_browning_share(0.3), 1.0, 0.0);
    assert_close_abs(sw_browning_share(0.875), 0.5, 1e-15);
    assert_close_abs(sw_browning_share(1.0), 0.0, 0.0);
    assert_close_abs(sw_browning_share(1.01), 0.0, 0.0);
}

/* What is gained outside the range of the data is counted apart. */
static void test_outside_the_fitted_range(void **state)
{
    (void)state;
    const sw_reaction_law *law = sw_reaction_law_of(SW_REACTION_COLLAGEN);
    double low = law->lowest_temperature - zero_celsius, high = law->highest_temperature - zero_celsius;
    sw_reaction_progress p = follow(law, 2, (double[]){0.0, 5.0}, (double[]){low, high});
    assert_close_abs(p.outside, 0.0, 0.0);
    p = follow(law, 2, (double[]){0.0, 5.0}, (double[]){high + 0.5, high + 0.5});
    assert_true(p.extent > 0.5);
    assert_close_abs(p.outside, p.extent, 0.0);
    /* Half the time within, then half beyond. */
    p = follow(law, 4, (double[]){0, 1, 1.0001, 2}, (double[]){80, 80, 100, 100});
    assert_close_rel(p.outside, p.extent - held(SW_REACTION_COLLAGEN, 80.0, 1.0), 2e-3);
    for (int r = 0; r < SW_REACTION_COUNT; r++) {
        law = sw_reaction_law_of((sw_reaction)r);
        assert_true(law->lowest_temperature < law->highest_temperature && law->uncertainty > 1.0 && law->source[0]);
    }
}

static void test_bad_histories(void **state)
{
    (void)state;
    const sw_reaction_law *law = sw_reaction_law_of(SW_REACTION_COLLAGEN);
    sw_reaction_progress p = {.extent = 7.0};
    assert_int_equal(sw_reaction_follow(law, 0, NULL, NULL, &p), SW_ERR_RANGE);
    assert_int_equal(sw_reaction_follow(law, 2, (double[]){0, 0}, (double[]){300, 300}, &p), SW_ERR_RANGE);
    assert_int_equal(sw_reaction_follow(law, 2, (double[]){1, 0}, (double[]){300, 300}, &p), SW_ERR_RANGE);
    assert_int_equal(sw_reaction_follow(law, 2, (double[]){0, 1}, (double[]){300, -5}, &p), SW_ERR_RANGE);
    assert_int_equal(sw_reaction_follow(law, 2, (double[]){0, 1}, (double[]){NAN, 300}, &p), SW_ERR_RANGE);
    assert_int_equal(sw_reaction_follow(law, 2, (double[]){0, NAN}, (double[]){300, 300}, &p), SW_ERR_RANGE);
    assert_close_abs(p.extent, 7.0, 0.0);
    assert_int_equal(sw_reaction_follow(law, 1, (double[]){0}, (double[]){300}, &p), SW_OK);
    assert_close_abs(p.extent, 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_isothermal),
        cmocka_unit_test(test_arrhenius_ramp),
        cmocka_unit_test(test_z_value),
        cmocka_unit_test(test_myoglobin_at_60),
        cmocka_unit_test(test_calorimeter_peaks),
        cmocka_unit_test(test_hot_and_quick_or_cool_and_slow),
        cmocka_unit_test(test_order_of_smoked_briskets),
        cmocka_unit_test(test_hotter_or_longer_is_more),
        cmocka_unit_test(test_outside_the_fitted_range),
        cmocka_unit_test(test_bad_histories),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
