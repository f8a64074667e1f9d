/* SPDX-License-Identifier: BSD-3-Clause */
/* Units as people type them, against conversion factors that are exact by definition: pound 0.45359237 kg, inch
 * 25.4 mm, degree Fahrenheit 1/1.8 K, 32 F = 0 C (NIST Special Publication 811, 2008, appendix B; from memory). */
#include "close.h"

#include "units.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <udunits2.h>

static sw_units *units;

static int set_up(void **state)
{
    (void)state;
    return sw_units_create(NULL, &units) == SW_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    sw_units_destroy(units);
    return 0;
}

static int complaints;

static int complain(const char *format, va_list arguments)
{
    (void)format;
    (void)arguments;
    return ++complaints;
}

/* UDUNITS' messages are the caller's again when the last units are gone, and nobody's while some live. */
static void test_handler_of_messages(void **state)
{
    (void)state;
    sw_units *one, *other;
    sw_unit unit = {0};
    sw_units_destroy(units);
    ut_error_message_handler before = ut_set_error_message_handler(complain);
    complaints = 0;
    assert_int_equal(sw_units_create(NULL, &one), SW_OK);
    assert_int_equal(sw_units_create(NULL, &other), SW_OK);
    sw_units_destroy(one);
    assert_int_equal(sw_unit_find(other, SW_QUANTITY_MASS, "furlongfurlong/", &unit), SW_UNIT_UNKNOWN);
    assert_int_equal(complaints, 0);
    sw_units_destroy(other);
    assert_ptr_equal(ut_set_error_message_handler(before), complain);
    assert_int_equal(sw_units_create(NULL, &units), SW_OK);
}

static double to_si(sw_quantity quantity, double value, const char *text)
{
    sw_unit unit = {0};
    if (sw_unit_find(units, quantity, text, &unit) != SW_UNIT_FOUND)
        fail_msg("the unit \"%s\" was not found", text);
    double si = sw_unit_to_si(&unit, value);
    assert_close_abs(sw_unit_from_si(&unit, si), value, 1e-12 * fabs(value) + 1e-12);
    sw_unit_release(&unit);
    return si;
}

static void test_conversions(void **state)
{
    (void)state;
    static const struct {
        sw_quantity quantity;
        double value;
        const char *unit;
        double si;
    } cases[] = {
        {SW_QUANTITY_TEMPERATURE, 250.0, "F", 121.0 + 1.0 / 9.0 + 273.15},
        {SW_QUANTITY_TEMPERATURE, 250.0, "\u00b0F", 121.0 + 1.0 / 9.0 + 273.15},
        {SW_QUANTITY_TEMPERATURE, 250.0, "deg F", 121.0 + 1.0 / 9.0 + 273.15},
        {SW_QUANTITY_TEMPERATURE, 250.0, "degF", 121.0 + 1.0 / 9.0 + 273.15},
        {SW_QUANTITY_TEMPERATURE, 250.0, "f", 121.0 + 1.0 / 9.0 + 273.15},
        {SW_QUANTITY_TEMPERATURE, 250.0, "Fahrenheit", 121.0 + 1.0 / 9.0 + 273.15},
        {SW_QUANTITY_TEMPERATURE, 121.0, "C", 394.15},
        {SW_QUANTITY_TEMPERATURE, 121.0, "\u00b0 C", 394.15},
        {SW_QUANTITY_TEMPERATURE, 121.0, "\u2103", 394.15},
        {SW_QUANTITY_TEMPERATURE, 121.0, "celsius", 394.15},
        {SW_QUANTITY_TEMPERATURE, 394.15, "K", 394.15},
        {SW_QUANTITY_TEMPERATURE_DIFFERENCE, 18.0, "F", 10.0},
        {SW_QUANTITY_TEMPERATURE_DIFFERENCE, -18.0, "deg F", -10.0},
        {SW_QUANTITY_TEMPERATURE_DIFFERENCE, 10.0, "C", 10.0},
        {SW_QUANTITY_TEMPERATURE_DIFFERENCE, 10.0, "\u00b0C", 10.0},
        {SW_QUANTITY_HEATING_RATE, 18.0, "F/h", 10.0 / 3600.0},
        {SW_QUANTITY_HEATING_RATE, 18.0, "\u00b0F/hr", 10.0 / 3600.0},
        {SW_QUANTITY_HEATING_RATE, 3.0, "K/h", 3.0 / 3600.0},
        {SW_QUANTITY_HEATING_RATE, 3.0, "C / h", 3.0 / 3600.0},
        {SW_QUANTITY_HEATING_RATE, 1.0, "K/min", 1.0 / 60.0},
        {SW_QUANTITY_MASS, 14.0, "lb", 14.0 * 0.45359237},
        {SW_QUANTITY_MASS, 14.0, "lbs", 14.0 * 0.45359237},
        {SW_QUANTITY_MASS, 14.0, "LB", 14.0 * 0.45359237},
        {SW_QUANTITY_MASS, 14.0, "pounds", 14.0 * 0.45359237},
        {SW_QUANTITY_MASS, 16.0, "oz", 0.45359237},
        {SW_QUANTITY_MASS, 16.0, "ounces", 0.45359237},
        {SW_QUANTITY_MASS, 6400.0, "g", 6.4},
        {SW_QUANTITY_LENGTH, 3.0, "in", 0.0762},
        {SW_QUANTITY_LENGTH, 3.0, "inches", 0.0762},
        {SW_QUANTITY_LENGTH, 8.5, "cm", 0.085},
        {SW_QUANTITY_LENGTH, 6.0, "mm", 0.006},
        {SW_QUANTITY_LENGTH, 5.0, "m", 5.0},
        {SW_QUANTITY_LENGTH, 300.0, "\u00b5m", 0.0003},
        {SW_QUANTITY_LENGTH, 5280.0, "ft", 1609.344},
        {SW_QUANTITY_DURATION, 5.0, "m", 300.0},
        {SW_QUANTITY_DURATION, 5.0, "min", 300.0},
        {SW_QUANTITY_DURATION, 5.0, "mins", 300.0},
        {SW_QUANTITY_DURATION, 2.0, "hrs", 7200.0},
        {SW_QUANTITY_DURATION, 2.0, "hours", 7200.0},
        {SW_QUANTITY_DURATION, 1.0, "day", 86400.0},
        {SW_QUANTITY_AREA, 1e-16, "m2", 1e-16},
        {SW_QUANTITY_AREA, 1.0, "m\u00b2", 1.0},
        {SW_QUANTITY_AREA, 1.0, "m^2", 1.0},
        {SW_QUANTITY_DIFFUSIVITY, 1.0, "mm2/s", 1e-6},
        {SW_QUANTITY_HEAT_TRANSFER, 8.0, "W/m2/K", 8.0},
        {SW_QUANTITY_HEAT_TRANSFER, 8.0, "W m-2 K-1", 8.0},
        {SW_QUANTITY_HEAT_TRANSFER, 8.0, "W/(m2 K)", 8.0},
        {SW_QUANTITY_HEAT_TRANSFER, 8.0, "W/m\u00b2/\u00b0C", 8.0},
        {SW_QUANTITY_HEAT_TRANSFER, 8.0, "W\u00b7m\u207b\u00b2\u00b7K\u207b\u00b9", 8.0},
        /* 1055.05585262 J / (3600 s x 0.3048^2 m2 / 1.8 K) */
        {SW_QUANTITY_HEAT_TRANSFER, 1.0, "BTU/h/ft2/F", 5.678263341113487},
        {SW_QUANTITY_THERMAL_RESISTANCE, 0.006, "m2 K/W", 0.006},
        {SW_QUANTITY_PERMEANCE, 1.8e-9, "kg/s/m2/Pa", 1.8e-9},
        {SW_QUANTITY_PERMEANCE, 1.8e-9, "kg s-1 m-2 Pa-1", 1.8e-9},
        /* NIST SP 811: perm (0 C) = 5.72135e-11 kg/(Pa s m2), from memory */
        {SW_QUANTITY_PERMEANCE, 1.0, "perm", 5.72135e-11},
        {SW_QUANTITY_HUMIDITY_RATIO, 20.0, "g/kg", 0.02},
        {SW_QUANTITY_NUMBER, 70.0, "%", 0.7},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_close_rel(to_si(cases[i].quantity, cases[i].value, cases[i].unit), cases[i].si, 4e-16);
}

/* Decimal units give the double a programmer would write, and both scales of temperature the same double. */
static void test_decimals_are_exact(void **state)
{
    (void)state;
    assert_true(to_si(SW_QUANTITY_LENGTH, 8.5, "cm") == 0.085);
    assert_true(to_si(SW_QUANTITY_NUMBER, 70.0, "%") == 0.7);
    assert_true(to_si(SW_QUANTITY_HEATING_RATE, 3.0, "K/h") == 3.0 / 3600.0);
    for (int celsius = 0; celsius <= 300; celsius += 5)
        assert_true(to_si(SW_QUANTITY_TEMPERATURE, celsius * 9.0 / 5.0 + 32.0, "F") == celsius + 273.15);
}

static void test_refusals(void **state)
{
    (void)state;
    static const struct {
        sw_quantity quantity;
        const char *unit;
        sw_unit_answer answer;
    } cases[] = {
        {SW_QUANTITY_TEMPERATURE, "m", SW_UNIT_OF_OTHER_QUANTITY},
        {SW_QUANTITY_TEMPERATURE, "F/h", SW_UNIT_OF_OTHER_QUANTITY},
        {SW_QUANTITY_LENGTH, "F", SW_UNIT_OF_OTHER_QUANTITY},
        {SW_QUANTITY_MASS, "fluid_ounce", SW_UNIT_OF_OTHER_QUANTITY},
        /* the reciprocal, which UDUNITS itself would convert */
        {SW_QUANTITY_DURATION, "Hz", SW_UNIT_OF_OTHER_QUANTITY},
        {SW_QUANTITY_THERMAL_RESISTANCE, "W/m2/K", SW_UNIT_OF_OTHER_QUANTITY},
        {SW_QUANTITY_NUMBER, "g/kg", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_NUMBER, "degrees", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_HUMIDITY_RATIO, "%", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_MASS, "stones of old", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_MASS, "", SW_UNIT_UNKNOWN},
        /* numbers and offsets, which UDUNITS itself would compute with */
        {SW_QUANTITY_MASS, "2 kg", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_MASS, "kg 2", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_TEMPERATURE, "K @ 20", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_TEMPERATURE, "K from 20", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_DURATION, "s since 2020-01-01", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_MASS, "lg(re kg)", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_MASS, "kg\xff", SW_UNIT_UNKNOWN},
        {SW_QUANTITY_MASS, "((((kg", SW_UNIT_UNKNOWN},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        sw_unit unit = {0};
        sw_unit_answer answer = sw_unit_find(units, cases[i].quantity, cases[i].unit, &unit);
        if (answer != cases[i].answer)
            fail_msg("\"%s\" was answered %d, not %d", cases[i].unit, (int)answer, (int)cases[i].answer);
        assert_null(unit.to_si);
    }
}

static void test_too_long(void **state)
{
    (void)state;
    char unit_text[2000];
    memset(unit_text, 'k', sizeof unit_text);
    unit_text[sizeof unit_text - 1] = '\0';
    sw_unit unit = {0};
    assert_int_equal(sw_unit_find(units, SW_QUANTITY_MASS, unit_text, &unit), SW_UNIT_UNKNOWN);
}

static void test_missing_database(void **state)
{
    (void)state;
    sw_context *context;
    sw_units *none = NULL;
    assert_int_equal(sw_context_create(&context), SW_OK);
    assert_int_equal(setenv("UDUNITS2_XML_PATH", "/nowhere/udunits2.xml", 1), 0);
    assert_int_equal(sw_units_create(context, &none), SW_ERR_FILE);
    assert_int_equal(unsetenv("UDUNITS2_XML_PATH"), 0);
    assert_null(none);
    assert_non_null(strstr(sw_context_message(context), "unit database"));
    sw_context_destroy(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_handler_of_messages),
        cmocka_unit_test(test_conversions), cmocka_unit_test(test_decimals_are_exact), cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_too_long),    cmocka_unit_test(test_missing_database),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
