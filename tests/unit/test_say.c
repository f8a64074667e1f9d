/* SPDX-License-Identifier: BSD-3-Clause */
/* What a sentence says of a value is read back, by UDUNITS, as that value: in both systems, for every quantity. */
#include "close.h"

#include "say.h"

#include <stallwright/scenario_file.h>

#include <math.h>
#include <string.h>

static void test_what_is_said_is_read_back(void **state)
{
    (void)state;
    sw_context *context;
    sw_scenario_reader *reader;
    assert_int_equal(sw_context_create(&context), SW_OK);
    assert_int_equal(sw_scenario_reader_create(context, &reader), SW_OK);
    for (int q = 0; q < SW_QUANTITY_COUNT; q++) {
        const sw_quantity quantity = (sw_quantity)q;
        if (quantity == SW_QUANTITY_CLOCK)
            continue; /* said in seconds, read as a time of day */
        const double value = quantity == SW_QUANTITY_TEMPERATURE ? 349.37 : 0.37;
        /* The fewest digits that are said: of temperatures tenths, of rates two. */
        const double digits = quantity == SW_QUANTITY_TEMPERATURE ? 0.06 / value : quantity == SW_QUANTITY_HEATING_RATE ? 0.05 : 6e-3;
        for (int system = SW_UNITS_SI; system <= SW_UNITS_US; system++) {
            char said[SW_SAY_SIZE];
            double read = NAN;
            sw_context_set_units(context, (sw_unit_system)system);
            sw_say(context, quantity, value, said);
            if (sw_read_value(context, reader, "value", said, quantity, -INFINITY, INFINITY, &read) != SW_OK)
                fail_msg("%s", sw_context_message(context));
            if (!(fabs(read - value) <= digits * value))
                fail_msg("quantity %d: %g is said as \"%s\", which is %g", q, value, said, read);
        }
    }
    sw_scenario_reader_destroy(reader);
    sw_context_destroy(context);
}

static void test_words_of_either_system(void **state)
{
    (void)state;
    sw_context *context;
    char text[SW_SAY_SIZE];
    assert_int_equal(sw_context_create(&context), SW_OK);
    assert_string_equal(sw_say(NULL, SW_QUANTITY_TEMPERATURE, 368.15, text), "95.0 C");
    assert_string_equal(sw_say_altitude(context, 1609.344, text), "1609 m");
    sw_context_set_units(context, SW_UNITS_US);
    assert_string_equal(sw_say(context, SW_QUANTITY_TEMPERATURE, 368.15, text), "203.0 F");
    assert_string_equal(sw_say(context, SW_QUANTITY_DURATION, 5400.0, text), "1.5 h"); /* nobody has another */
    assert_string_equal(sw_say_altitude(context, 1609.344, text), "5280 ft");
    sw_context_destroy(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_what_is_said_is_read_back),
        cmocka_unit_test(test_words_of_either_system),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
