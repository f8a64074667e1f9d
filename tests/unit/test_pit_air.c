/* SPDX-License-Identifier: BSD-3-Clause */
/* The balance of a pit's damp: fuels that burn, air that follows, a pan that dries. */
#include "close.h"

#include "pit_air.h"
#include "saturation.h"
#include "shared_context.h"

#include <stallwright/scenario_file.h>

#include <math.h>
#include <string.h>

static const double zero_celsius = 273.15;
static sw_pit default_pit(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    return s.pit;
}

static sw_pit_air made(const sw_pit *pit)
{
    sw_pit_air air;
    if (sw_pit_air_init(context, pit, 101325.0, &air) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return air;
}

/* By hand from moles: C3H8 + 5 O2 = 3 CO2 + 4 H2O, 44.097 kg of propane make 4 x 18.015 kg of water and take 5 x 31.998 kg of
 * oxygen, 0.2314 of air. Wood of 20 %: 0.8 kg dry with 0.06 of hydrogen makes 0.8 x 0.06 x 18.015/2.016 kg, and 0.2 kg dries
 * off: 0.63 kg per kg (J. W. Shelton, as quoted, read). Dry wood takes about 6 kg of air (H. Kubler, abstract). */
static void test_combustion(void **state)
{
    (void)state;
    sw_fuel_figures propane = sw_fuel_figures_of(SW_FUEL_PROPANE, 0.3);
    assert_close_rel(propane.water, 4.0 * 18.015 / 44.097, 1e-3);
    assert_close_rel(propane.air, 5.0 * 31.998 / 44.097 / 0.2314, 1e-3);
    sw_fuel_figures wood = sw_fuel_figures_of(SW_FUEL_WOOD, 0.2), dry = sw_fuel_figures_of(SW_FUEL_WOOD, 0.0);
    assert_close_rel(wood.water, 0.8 * 0.06 * 18.015 / 2.016 + 0.2, 1e-14);
    assert_close_abs(wood.water, 0.63, 0.005);
    assert_close_abs(dry.air, 6.0, 0.15);
    assert_close_rel(wood.heat, 0.8 * 18.3e6 - 0.2 * 2.442e6, 1e-14);
    assert_close_abs(wood.heat, 14.2e6, 0.1e6);
    /* Published spans (from memory). */
    sw_fuel_figures charcoal = sw_fuel_figures_of(SW_FUEL_CHARCOAL, 0.3), pellets = sw_fuel_figures_of(SW_FUEL_PELLETS, 0.3);
    assert_within(charcoal.water, 0.2, 0.35);
    assert_within(charcoal.heat, 29e6, 31e6);
    assert_within(charcoal.air, 9.0, 11.0);
    assert_within(pellets.water, 0.56, 0.58);
    assert_within(pellets.heat, 16.5e6, 18e6);
    sw_fuel_figures none = sw_fuel_figures_of(SW_FUEL_NONE, 0.3);
    assert_close_abs(none.water + none.heat + none.air, 0.0, 0.0);
}

/* By hand: warming the draught by 100 K takes 100.8 kJ a kg; with 0.35 of the fire's heat in it, wood of 20 % adds
 * water/heat x 100.8 kJ/0.35 a kg, whatever the draught. */
static void test_water_of_the_fire(void **state)
{
    (void)state;
    sw_pit pit = default_pit();
    pit.air_heat_share = 0.35;
    for (double flow = 10.0 / 3600.0; flow < 0.1; flow *= 3.0) {
        pit.air_flow = flow;
        sw_pit_air air = made(&pit);
        double hot = pit.outside_temperature + 100.0;
        double added = sw_pit_humidity_steady(&air, hot, 0.0) - air.outside_humidity;
        assert_close_rel(added, (0.8 * 0.06 * 18.015 / 2.016 + 0.2) / (0.8 * 18.3e6 - 0.2 * 2.442e6) * 100800.0 / 0.35, 1e-12);
        assert_close_rel(sw_pit_fuel_rate(&air, hot), flow * 100800.0 / (0.35 * 14.1516e6), 1e-6);
        assert_close_abs(sw_pit_fuel_rate(&air, pit.outside_temperature - 5.0), 0.0, 0.0);
    }
}

/* Outside air: 25 C and half saturated holds 0.00988 kg/kg (half of the 3169.8 Pa of IAPWS). Meat adds its vapour over
 * the draught; eight pieces add eight times as much. */
static void test_meat_and_outside(void **state)
{
    (void)state;
    assert_close_rel(sw_outside_humidity(298.15, 0.5, 101325.0), 0.621945 * 1584.9 / (101325.0 - 1584.9), 1e-4);
    sw_pit pit = default_pit();
    pit.kind = SW_PIT_ELECTRIC;
    pit.air_flow = 4.0 / 3600.0;
    sw_pit_air air = made(&pit);
    double empty = sw_pit_humidity_steady(&air, 394.15, 0.0), vapour = 0.25 / 3600.0;
    assert_close_rel(empty, air.outside_humidity, 1e-14);
    assert_close_rel(sw_pit_humidity_steady(&air, 394.15, vapour) - empty, 0.25 / 4.0, 1e-12);
    assert_close_rel(sw_pit_humidity_steady(&air, 394.15, 8.0 * vapour) - empty, 8.0 * 0.25 / 4.0, 1e-12);
    assert_close_abs(sw_pit_humidity_rate(&air, 394.15, sw_pit_humidity_steady(&air, 394.15, vapour), vapour), 0.0, 1e-17);
    /* Dry air of the chamber: P V / (R T), R = 287.04 J/kgK, at W = 0. */
    assert_close_rel(sw_pit_dry_air(&air, 394.15, 0.0), 101325.0 * 0.15 / (287.04 * 394.15), 1e-4);
    /* The rate far from steady is the distance over the time in which the draught renews the air. */
    assert_close_rel(sw_pit_humidity_rate(&air, 394.15, 0.0, vapour),
                     sw_pit_humidity_steady(&air, 394.15, vapour) * air.dry_air_flow / sw_pit_dry_air(&air, 394.15, 0.0), 1e-12);
}

/* Every kind of pit has air enough for its fire, at any allowed temperature, and burns what the trade says (common practice,
 * no source): kg an hour at 115 C. */
static void test_kinds(void **state)
{
    (void)state;
    static const double burnt[SW_PIT_KIND_COUNT][2] = {
        [SW_PIT_OFFSET] = {1.5, 4.0},  [SW_PIT_KETTLE] = {0.2, 0.5}, [SW_PIT_BULLET] = {0.2, 0.5},
        [SW_PIT_DRUM] = {0.2, 0.5},    [SW_PIT_CERAMIC] = {0.1, 0.2}, [SW_PIT_PELLET] = {0.4, 1.0},
        [SW_PIT_GAS] = {0.15, 0.35}};
    for (int kind = 0; kind < SW_PIT_KIND_COUNT; kind++) {
        sw_pit pit = default_pit();
        pit.kind = (sw_pit_kind)kind;
        sw_pit_air air = made(&pit);
        assert_within(3600.0 * sw_pit_fuel_rate(&air, 388.15), burnt[kind][0], burnt[kind][1]);
        assert_within(sw_pit_air_used(&air, 463.15), 0.0, 0.5);
    }
}

static void assert_refused(sw_status status, const char *start, const char *held)
{
    assert_int_equal(status, SW_ERR_RANGE);
    const char *said = sw_context_message(context);
    if (strncmp(said, start, strlen(start)) != 0 || !strstr(said, held))
        fail_msg("\"%s\" does not begin \"%s\" or hold \"%s\"", said, start, held);
}

static void test_refusals(void **state)
{
    (void)state;
    sw_pit_air air;
    sw_pit pit = default_pit();
    pit.air_flow = -1.0 / 3600.0;
    assert_refused(sw_pit_air_init(context, &pit, 101325.0, &air), "pit.air_flow is -1 kg/h", "or more");
    pit = default_pit();
    pit.air_heat_share = 1.0;
    assert_refused(sw_pit_air_init(context, &pit, 101325.0, &air), "pit.air_heat_share is 1", "below 1");
    pit = default_pit();
    pit.pan_area = 0.05;
    pit.pan_depth = 0.6;
    assert_refused(sw_pit_air_init(context, &pit, 101325.0, &air), "pit.pan.depth is 60 cm", "below pit.height, 50 cm");
    /* Saturated air of 60 C holds 0.621945 x 19947/(101325 - 19947) = 0.15245 kg/kg (IAPWS). */
    assert_int_equal(sw_pit_air_check(context, "W", 333.15, 0.1524, 101325.0), SW_OK);
    assert_refused(sw_pit_air_check(context, "W", 333.15, 0.1526, 101325.0), "W is 0.1526", "saturated at 0.1525");
    assert_int_equal(sw_pit_air_check(context, "W", 374.15, 5.0, 101325.0), SW_OK);
}

/* The same from a file: with line and column where the key stands there, and by sw_scenario_check in any case. */
static void test_refusals_of_files(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"pit:\n  temperature: 60 C\n  humidity_ratio: 0.2\n", "f.yaml:3:19: pit.humidity_ratio is 0.2; air of 60.0 C"},
        {"pit:\n  pan: {area: 600 cm2, depth: 60 cm}\n", "f.yaml:2:31: pit.pan.depth is 60 cm; allowed below pit.height"},
        {"pit: {kind: offset, air_heat_share: 0.01}\n", "f.yaml:1:37: pit.air_heat_share is 0.01: so little"},
    };
    sw_scenario_reader *reader;
    assert_int_equal(sw_scenario_reader_create(context, &reader), SW_OK);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_scenario s;
        sw_scenario_init(&s);
        assert_int_equal(sw_scenario_read_text(context, reader, "f.yaml", rows[i][0], strlen(rows[i][0]), &s), SW_ERR_INPUT);
        if (strncmp(sw_context_message(context), rows[i][1], strlen(rows[i][1])) != 0)
            fail_msg("\"%s\" does not begin \"%s\"", sw_context_message(context), rows[i][1]);
    }
    sw_scenario s;
    sw_scenario_init(&s);
    s.pit.steps[0].temperature = 333.15;
    s.pit.humidity_ratio = 0.2;
    assert_refused(sw_scenario_check(context, &s), "pit.humidity_ratio is 0.2", "saturated");
    s.pit.humidity = SW_HUMIDITY_BALANCE;
    assert_int_equal(sw_scenario_check(context, &s), SW_OK);
    sw_scenario_reader_destroy(reader);
}

/* A pan and the pit's air together, by Euler's method with short steps: what the pan loses, the fire makes and the draught
 * brings is what the air gains and the draught takes away, to round-off, until long after the pan is dry. The pan dries
 * in the time its water needs at the rate it had, and then gets as hot as the air. */
static void test_pan_dries(void **state)
{
    (void)state;
    sw_pit pit = default_pit();
    pit.kind = SW_PIT_KETTLE;
    pit.pan_area = 0.06;
    pit.pan_depth = 0.01;
    sw_pit_air air = made(&pit);
    sw_water_table water;
    assert_int_equal(sw_water_table_init(NULL, &water, 278.15), 0);
    const double hot = 394.15, step = 1.0;
    sw_pan_state pan = {air.pan_water, 293.15};
    double humidity = air.outside_humidity, vapour = humidity * sw_pit_dry_air(&air, hot, 0.0), brought = 0.0, taken = 0.0;
    const double chamber = sw_pit_dry_air(&air, hot, 0.0), at_start = pan.water + vapour;
    double evaporated = 0.0, wet_rate = 0.0, wet_temperature = 0.0, dry_time = 0.0;
    assert_close_rel(pan.water, 0.6, 1e-14);
    for (double time = 0.0; time < 8.0 * 3600.0; time += step) {
        sw_pan_rates rates;
        assert_int_equal(sw_pan_rates_of(&air, &water, &pan, hot, hot, humidity, 8.0, &rates), 0);
        double in = air.dry_air_flow * air.outside_humidity + air.fuel.water * sw_pit_fuel_rate(&air, hot);
        double out = air.dry_air_flow * humidity;
        brought += step * in;
        taken += step * out;
        vapour += step * (in + rates.evaporation - out);
        humidity = vapour / chamber;
        pan.water -= step * rates.evaporation;
        evaporated += step * rates.evaporation;
        pan.temperature += step * rates.temperature_rate;
        if (fabs(time - 1800.0) < 0.5 * step) {
            wet_rate = rates.evaporation;
            wet_temperature = pan.temperature;
            /* Within a per cent or two of steady, the air holds what its balance says. */
            assert_close_rel(humidity, sw_pit_humidity_steady(&air, hot, rates.evaporation), 0.02);
            /* Hardly any heat warms the water any more: it evaporates. */
            assert_close_rel(rates.heat, rates.evaporation * sw_latent_heat_unchecked(pan.temperature), 0.05);
        }
        if (dry_time == 0.0 && pan.water < 0.01 * air.pan_water)
            dry_time = time;
    }
    assert_close_abs(at_start + brought - taken - pan.water - vapour, 0.0, 1e-12 * brought);
    assert_close_abs(evaporated + pan.water - air.pan_water, 0.0, 1e-13);
    assert_true(dry_time > 0.0);
    assert_within(wet_temperature - zero_celsius, 50.0, 75.0); /* a wet surface heated from both sides, not boiling */
    assert_within(dry_time * wet_rate, 0.9 * air.pan_water, 1.4 * air.pan_water);
    assert_within(pan.water, 0.0, 1e-6);
    assert_close_abs(pan.temperature, hot, 0.5);
    sw_water_table_free(&water);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_combustion),         cmocka_unit_test(test_water_of_the_fire),
        cmocka_unit_test(test_meat_and_outside),   cmocka_unit_test(test_kinds),
        cmocka_unit_test(test_refusals),           cmocka_unit_test(test_refusals_of_files),
        cmocka_unit_test(test_pan_dries),
    };
    return cmocka_run_group_tests(tests, open_context, close_context);
}
