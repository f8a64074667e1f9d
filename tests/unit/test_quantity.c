/* SPDX-License-Identifier: BSD-3-Clause */
/* Figures of food safety as tables show them are never rounded to the unsafe side, in either unit system. */
#include "close.h"

#include "quantity.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { TRIALS = 200000 };

/* Within this of a tenth a value is that tenth. */
static const double hair = 2e-7;

static double random_in(double low, double high)
{
    return low + (high - low) * (rand() / (double)RAND_MAX);
}

static double minutes_of(const char *text)
{
    long hours = 0, minutes = 0;
    if (sscanf(text, "%ld h %ld min", &hours, &minutes) != 2) {
        hours = 0;
        assert_int_equal(sscanf(text, "%ld min", &minutes), 1);
    }
    return 60.0 * (double)hours + (double)minutes;
}

static void check_temperature(double kelvin, sw_unit_system units)
{
    char text[QUANTITY_SIZE];
    double value = axis_temperature(kelvin, units);
    double down = strtod(show_temperature_rounded_down(kelvin, units, text), NULL);
    double up = strtod(show_temperature_rounded_up(kelvin, units, text), NULL);
    assert_true(down <= value + hair && down > value - 0.1 - hair);
    assert_true(up >= value - hair && up < value + 0.1 + hair);
}

static void check_difference(double kelvin, sw_unit_system units)
{
    char text[QUANTITY_SIZE];
    double value = units == SW_UNITS_US ? 1.8 * kelvin : kelvin;
    double down = strtod(show_temperature_difference_rounded_down(kelvin, units, text), NULL);
    double up = strtod(show_temperature_difference_rounded_up(kelvin, units, text), NULL);
    assert_true(down <= value + hair && down > value - 0.1 - hair);
    assert_true(up >= value - hair && up < value + 0.1 + hair);
}

static void test_random_values(void **state)
{
    (void)state;
    char text[QUANTITY_SIZE];
    srand(20240607);
    for (int i = 0; i < TRIALS; i++) {
        double kelvin = random_in(250.0, 480.0), seconds = random_in(0.0, 400000.0), number = random_in(-20.0, 20.0);
        check_temperature(kelvin, SW_UNITS_SI);
        check_temperature(kelvin, SW_UNITS_US);
        check_difference(random_in(-50.0, 50.0), i % 2 ? SW_UNITS_SI : SW_UNITS_US);
        double up = minutes_of(show_duration_rounded_up(seconds, text));
        double down = minutes_of(show_duration_rounded_down(seconds, text));
        assert_true(60.0 * up >= seconds && 60.0 * up < seconds + 60.0);
        assert_true(60.0 * down <= seconds && 60.0 * down > seconds - 60.0);
        assert_true(strtod(show_number_rounded_down(number, text), NULL) <= number + hair);
        assert_true(strtod(show_number_rounded_up(number, text), NULL) >= number - hair);
    }
}

/* Every limit of a rule is shown as strict as it is or stricter, and a whole number of degrees as itself. */
static void test_limits(void **state)
{
    (void)state;
    char text[QUANTITY_SIZE], want[QUANTITY_SIZE];
    for (int f = 32; f <= 212; f++) {
        double kelvin = 273.15 + (f - 32) / 1.8;
        snprintf(want, sizeof want, "%d.0 F", f);
        assert_string_equal(show_temperature_rounded_down(kelvin, SW_UNITS_US, text), want);
        assert_string_equal(show_temperature_rounded_up(kelvin, SW_UNITS_US, text), want);
        check_temperature(kelvin, SW_UNITS_SI);
    }
    for (int c = 0; c <= 150; c++) {
        snprintf(want, sizeof want, "%d.0 C", c);
        assert_string_equal(show_temperature_rounded_down(273.15 + c, SW_UNITS_SI, text), want);
        assert_string_equal(show_temperature_rounded_up(273.15 + c, SW_UNITS_SI, text), want);
        check_temperature(273.15 + c, SW_UNITS_US);
    }
    /* 135 F is 57.22 C. */
    assert_string_equal(show_temperature_rounded_up(273.15 + 103 / 1.8, SW_UNITS_SI, text), "57.3 C");
    assert_string_equal(show_temperature_rounded_down(SW_ABSENT, SW_UNITS_SI, text), "-");
    assert_string_equal(show_number_rounded_up(SW_ABSENT, text), "-");
    assert_string_equal(show_duration_rounded_down(SW_ABSENT, text), "-");
    assert_string_equal(show_temperature_difference_rounded_up(-0.01, SW_UNITS_SI, text), "0.0 K");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_values),
        cmocka_unit_test(test_limits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
