/* SPDX-License-Identifier: BSD-3-Clause */
/* Whole cooks: limits where the answer is known another way, order of finish, meshes, tolerances, and how phases
 * end. */
#include "close.h"

#include "run_cook.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double hour = 3600.0, zero_celsius = 273.15;

/* Sealed meat whose protein holds all its water only conducts. Compared with a separate explicit scheme: equal cells
 * over half the thickness, heat capacity and conductivity from the composition, convection and radiation outside. */
enum { HALF_CELLS = 75 };

static void properties_at(const sw_composition *c, double temperature, double raw_density, double *capacity,
                          double *conductivity)
{
    sw_food_properties food;
    assert_int_equal(sw_mixture_properties(c, temperature, &food), SW_OK);
    *capacity = raw_density * food.heat_capacity;
    *conductivity = 0.5 * (food.conductivity_parallel + food.conductivity_series);
}

/* Temperature that balances the outermost cell: conduction through half a cell, convection, radiation. */
static double explicit_surface(double cell, double conductance, double air, double convection)
{
    double surface = cell;
    for (int i = 0; i < 30; i++) {
        double radiation = 0.95 * 5.670374419e-8;
        double error = convection * (air - surface) + radiation * (pow(air, 4.0) - pow(surface, 4.0)) -
                       conductance * (surface - cell);
        surface += error / (convection + 4.0 * radiation * pow(surface, 3.0) + conductance);
    }
    return surface;
}

static double explicit_centre(const sw_scenario *s, double until)
{
    const double width = 0.5 * s->meat.thickness / HALF_CELLS, step = 0.25;
    double t[HALF_CELLS], capacity[HALF_CELLS], conductivity[HALF_CELLS], heat[HALF_CELLS + 1] = {0.0};
    sw_food_properties raw;
    assert_int_equal(sw_mixture_properties(&s->meat.composition, s->meat.initial_temperature, &raw), SW_OK);
    for (int i = 0; i < HALF_CELLS; i++)
        t[i] = s->meat.initial_temperature;
    for (long k = 0; k < lround(until / step); k++) {
        /* Properties change slowly: once in a minute is enough. */
        if (k % 240 == 0)
            for (int i = 0; i < HALF_CELLS; i++)
                properties_at(&s->meat.composition, t[i], raw.density, &capacity[i], &conductivity[i]);
        for (int i = 1; i < HALF_CELLS; i++)
            heat[i] = 2.0 / (1.0 / conductivity[i - 1] + 1.0 / conductivity[i]) * (t[i] - t[i - 1]) / width;
        double conductance = conductivity[HALF_CELLS - 1] / (0.5 * width), last = t[HALF_CELLS - 1];
        heat[HALF_CELLS] = conductance * (explicit_surface(last, conductance, s->pit.steps[0].temperature,
                                                           s->pit.convection) - last);
        for (int i = 0; i < HALF_CELLS; i++)
            t[i] += step * (heat[i + 1] - heat[i]) / (capacity[i] * width);
    }
    return t[0] + (t[0] - t[1]) / 8.0;
}

static void test_sealed_meat_only_conducts(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    s.meat.composition = (sw_composition){.water = 0.77, .protein = 0.22, .ash = 0.01};
    s.meat.water_holding_loss = s.meat.late_water_loss = 0.0;
    s.meat.has_edges = false;
    s.solver.evaporation = false;
    /* Below boiling: above it steam would carry heat inside the sealed meat. */
    s.pit.steps[0].temperature = 273.15 + 90.0;
    s.pit.wall_offset = 0.0;
    s.pull = (sw_ending){SW_ENDING_DURATION, 6.0 * hour};
    sw_history *history;
    sw_outcome outcome = run_cook(&s, &history);
    assert_close_abs(history->budget.evaporated_mass, 0.0, 0.0);
    assert_close_abs(history->budget.dripped_mass, 0.0, 1e-9);
    assert_close_abs(outcome.done_probe, explicit_centre(&s, 6.0 * hour), 0.05);
    sw_history_destroy(history);
}

/* Trade knowledge (common practice, no source): a closed wrap is the fastest, no wrap the slowest. */
static void test_order_of_finish(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    double none = run_cook(&s, NULL).done_time;
    s.wrap.kind = SW_WRAP_OPEN_TRAY;
    double tray = run_cook(&s, NULL).done_time;
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;
    double foil = run_cook(&s, NULL).done_time;
    print_message("  done after: none %.2f h, open tray %.2f h, closed foil %.2f h\n", none / hour, tray / hour,
                  foil / hour);
    assert_true(none > tray + 0.25 * hour);
    assert_true(tray > foil + 0.25 * hour);
}

/* The stall is the work of evaporation: it is there by default and gone without, and in air so humid that a wet
 * surface is hotter than the meat need be (wet-bulb temperature 87 C at this humidity ratio of 1). */
static void test_evaporation_makes_the_stall(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    sw_outcome open = run_cook(&s, NULL);
    assert_false(SW_IS_ABSENT(open.stall_length));
    assert_true(open.stall_length > 1.0 * hour);
    s.solver.evaporation = false;
    sw_outcome sealed = run_cook(&s, NULL);
    assert_true(SW_IS_ABSENT(sealed.stall_length));
    assert_true(sealed.done_time < 0.5 * open.done_time);

    s = pit_only_scenario();
    s.pull.value = zero_celsius + 78.0;
    assert_false(SW_IS_ABSENT(run_cook(&s, NULL).stall_length));
    s.pit.humidity_ratio = 1.0;
    assert_true(SW_IS_ABSENT(run_cook(&s, NULL).stall_length));
}

static void test_meshes_agree(void **state)
{
    (void)state;
    for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++) {
        sw_scenario s = pit_only_scenario();
        s.wrap.kind = (sw_wrap_kind)wrap;
        double coarse = run_cook(&s, NULL).done_time;
        s.solver.cells = 120;
        double fine = run_cook(&s, NULL).done_time;
        s.solver.surface_cell = 1e-4;
        double thin = run_cook(&s, NULL).done_time;
        print_message("  %-12s done: 60 cells %.4f h, 120 cells %.4f h, and 0.1 mm at the surface %.4f h\n",
                      sw_wrap_name(s.wrap.kind), coarse / hour, fine / hour, thin / hour);
        assert_close_rel(coarse, fine, 0.01);
        assert_close_rel(coarse, thin, 0.01);
    }
}

/* Phase ends come from the integrator's own polynomial, not from the rows of the history. */
static void test_event_times(void **state)
{
    (void)state;
    sw_scenario s = reference_scenario();
    s.wrap.kind = SW_WRAP_PAPER;
    s.rest.until = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + 75.0};
    s.hold.until = (sw_ending){SW_ENDING_DURATION, 2.0 * hour};
    sw_history *loose, *tight;
    run_cook(&s, &loose);
    s.solver.relative_tolerance = 1e-8;
    s.solver.output_interval = 60.0;
    run_cook(&s, &tight);
    const double target[] = {s.wrap.when.value, s.pull.value, s.rest.until.value};
    assert_int_equal(loose->phase_count, 4);
    assert_int_equal(tight->phase_count, 4);
    for (int i = 0; i < 3; i++) {
        print_message("  phase %s ends at %.6f h, tight %.6f h\n", sw_phase_name(loose->phases[i].phase),
                      loose->phases[i].end / hour, tight->phases[i].end / hour);
        assert_close_abs(loose->phases[i].probe_at_end, target[i], 1e-6);
        assert_close_abs(tight->phases[i].probe_at_end, target[i], 1e-6);
        assert_close_abs(loose->phases[i].end, tight->phases[i].end, 30.0);
        assert_close_abs(loose->phases[i + 1].start, loose->phases[i].end, 0.0);
    }
    assert_close_abs(loose->phases[3].end - loose->phases[3].start, 2.0 * hour, 1e-6);
    sw_history_destroy(loose);
    sw_history_destroy(tight);
}

static void test_rows_of_the_history(void **state)
{
    (void)state;
    sw_scenario s = reference_scenario();
    sw_history *h;
    run_cook(&s, &h);
    const double *time = h->series[SW_SERIES_time];
    assert_close_abs(time[0], 0.0, 0.0);
    for (size_t i = 1; i < h->row_count; i++) {
        assert_true(time[i] > time[i - 1]);
        assert_true(time[i] - time[i - 1] < s.solver.output_interval + 1e-6);
        for (int k = 0; k < SW_SERIES_COUNT; k++)
            assert_true(isfinite(h->series[k][i]));
    }
    /* Each phase end has its row. */
    for (size_t i = 0; i < h->phase_count; i++) {
        size_t row = 0;
        while (row < h->row_count && time[row] != h->phases[i].end)
            row++;
        assert_true(row < h->row_count);
        assert_close_abs(h->series[SW_SERIES_probe_temperature][row], h->phases[i].probe_at_end, 0.0);
    }
    /* The heating rate is the slope of the probe: compare with neighbours. */
    for (size_t i = 5; i + 1 < h->row_count; i++) {
        const double *probe = h->series[SW_SERIES_probe_temperature] + i;
        if (fabs(time[i + 1] - time[i] - 120.0) > 1e-6 || fabs(time[i] - time[i - 1] - 120.0) > 1e-6)
            continue;
        assert_close_abs(h->series[SW_SERIES_probe_heating_rate][i], (probe[1] - probe[-1]) / 240.0, 1e-4);
    }
    sw_history_destroy(h);
}

static void test_clock_and_duration(void **state)
{
    (void)state;
    sw_scenario s = reference_scenario();
    s.start_clock = 22.0 * hour;
    s.pull = (sw_ending){SW_ENDING_CLOCK, 7.0 * hour};
    s.rest.until = (sw_ending){SW_ENDING_DURATION, 1.5 * hour};
    s.hold.until = (sw_ending){SW_ENDING_CLOCK, 12.0 * hour};
    sw_outcome o = run_cook(&s, NULL);
    assert_close_abs(o.done_time, 9.0 * hour, 1e-6);
    assert_close_abs(o.rest_end, 10.5 * hour, 1e-6);
    assert_close_abs(o.hold_end, 14.0 * hour, 1e-6);
    assert_close_abs(o.slice_time, 14.0 * hour, 1e-6);
    /* The start's own time of day is a whole day away. */
    s.pull.value = s.start_clock;
    s.rest.until.kind = s.hold.until.kind = SW_ENDING_NONE;
    o = run_cook(&s, NULL);
    assert_close_abs(o.done_time, 24.0 * hour, 1e-6);
    assert_true(SW_IS_ABSENT(o.rest_end));
    /* Nothing follows the pull: the coldest place at that moment. */
    assert_true(o.lowest_after_pull <= o.done_probe);
}

static void test_wrap_times(void **state)
{
    (void)state;
    sw_history *h;
    sw_scenario s = pit_only_scenario();
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;

    /* Pulled before the wrap would go on: no wrapped phase. */
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 20.0 * hour};
    s.pull.value = zero_celsius + 60.0;
    sw_outcome o = run_cook(&s, &h);
    assert_int_equal(h->phase_count, 1);
    assert_true(SW_IS_ABSENT(o.wrap_time));
    assert_close_abs(o.done_probe, s.pull.value, 1e-6);
    sw_history_destroy(h);

    /* Wrapped from the start. */
    s.wrap.when.value = 0.0;
    o = run_cook(&s, &h);
    assert_close_abs(o.wrap_time, 0.0, 0.0);
    assert_close_abs(o.wrap_probe, s.meat.initial_temperature, 0.0);
    assert_true(h->budget.evaporated_mass < 0.01 * h->budget.initial_mass);
    sw_history_destroy(h);

    /* By the clock. */
    s.wrap.when = (sw_ending){SW_ENDING_CLOCK, fmod(s.start_clock + 1.5 * hour, 24.0 * hour)};
    assert_close_abs(run_cook(&s, NULL).wrap_time, 1.5 * hour, 1e-6);
}

/* A pit step takes effect at its own time, between rows of the history. */
static void test_pit_steps(void **state)
{
    (void)state;
    sw_history *h;
    sw_scenario s = pit_only_scenario();
    s.pull = (sw_ending){SW_ENDING_DURATION, 2.0 * hour};
    s.pit.step_count = 2;
    s.pit.steps[1] = (sw_pit_step){1000.0, zero_celsius + 150.0, false};
    run_cook(&s, &h);
    for (size_t i = 0; i < h->row_count; i++)
        if (fabs(h->series[SW_SERIES_time][i] - 1000.0) > 1.0)
            assert_close_abs(h->series[SW_SERIES_air_temperature][i],
                             h->series[SW_SERIES_time][i] < 1000.0 ? s.pit.steps[0].temperature
                                                                      : zero_celsius + 150.0,
                             0.0);
    sw_history_destroy(h);
}

/* A pit cooler than the pull never gets there; the sentence tells where the probe came to rest. */
static void test_phase_that_never_ends(void **state)
{
    (void)state;
    sw_context *context;
    sw_history *history = NULL;
    assert_int_equal(sw_context_create(&context), SW_OK);
    sw_scenario s = pit_only_scenario();
    s.pit.steps[0].temperature = zero_celsius + 85.0;
    s.solver.longest_phase = 80.0 * hour;
    assert_int_equal(sw_cook_run(context, &s, NULL, NULL, &history), SW_ERR_NEVER_ENDS);
    assert_null(history);
    const char *message = sw_context_message(context), *levelled = strstr(message, "levelled at ");
    print_message("  %s\n", message);
    assert_non_null(levelled);
    assert_non_null(strstr(message, "pull"));
    assert_non_null(strstr(message, "95.0 C"));
    s.pull = (sw_ending){SW_ENDING_DURATION, 80.0 * hour};
    double reading = run_cook(&s, NULL).done_probe - zero_celsius;
    assert_close_abs(strtod(levelled + strlen("levelled at "), NULL), reading, 0.1);
    sw_context_destroy(context);
}

typedef struct watch {
    double last_time, stop_at;
    int calls;
} watch;

static int watch_cook(double time, double probe, void *data)
{
    watch *w = data;
    assert_true(time > w->last_time);
    assert_true(probe > 270.0 && probe < 400.0);
    w->last_time = time;
    w->calls++;
    return time >= w->stop_at;
}

static void test_cancelling(void **state)
{
    (void)state;
    sw_context *context;
    sw_history *history = NULL;
    watch w = {.stop_at = 2.0 * hour};
    assert_int_equal(sw_context_create(&context), SW_OK);
    sw_scenario s = pit_only_scenario();
    assert_int_equal(sw_cook_run(context, &s, watch_cook, &w, &history), SW_ERR_CANCELLED);
    assert_null(history);
    assert_true(w.calls > 5 && w.last_time < 2.5 * hour);
    assert_non_null(strstr(sw_context_message(context), "cancelled"));
    /* The same context runs the next cook. */
    w = (watch){.stop_at = INFINITY};
    assert_int_equal(sw_cook_run(context, &s, watch_cook, &w, &history), SW_OK);
    sw_history_destroy(history);
    /* Without a context the status is all there is. */
    history = NULL;
    w = (watch){.stop_at = 0.0};
    assert_int_equal(sw_cook_run(NULL, &s, watch_cook, &w, &history), SW_ERR_CANCELLED);
    assert_null(history);
    sw_context_destroy(context);
}

/* Two cooks are the same to the bit: nothing is kept between them. */
static void test_cooks_repeat(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    double first = run_cook(&s, NULL).done_time;
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;
    run_cook(&s, NULL);
    s.wrap.kind = SW_WRAP_NONE;
    assert_close_abs(run_cook(&s, NULL).done_time, first, 0.0);
}

/* In thin air water boils at a lower temperature, and wet foil-wrapped meat does not pass it. ISO 2533 (from memory):
 * 54.0 kPa at 5000 m, where water boils at 83.2 C. */
static void test_boiling_limits_wrapped_meat(void **state)
{
    (void)state;
    sw_history *h;
    sw_scenario s = pit_only_scenario();
    s.pit.altitude = 5000.0;
    s.wrap.kind = SW_WRAP_CLOSED_FOIL;
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 0.0};
    s.pull = (sw_ending){SW_ENDING_DURATION, 8.0 * hour};
    run_cook(&s, &h);
    /* Where the surface is not quite wet it boils hotter by its water activity: what is limited is its vapour pressure. Half
     * a kelvin of boiling is 2 % of the pressure. */
    double highest = 0.0;
    for (size_t i = 0; i < h->row_count; i++) {
        double saturation;
        assert_int_equal(sw_saturation_pressure(h->series[SW_SERIES_top_surface_temperature][i], &saturation), SW_OK);
        highest = fmax(highest, h->series[SW_SERIES_top_water_activity][i] * saturation);
    }
    print_message("  highest vapour pressure at the surface %.0f Pa\n", highest);
    assert_within(highest, 0.98 * 54.0e3, 1.02 * 54.0e3);
    sw_history_destroy(h);
}

/* The share of the top that juice wets is recorded beside the water activity of film and meat together, which it must explain: 0.98 of
 * the film, of the meat Oswin's isotherm, a_w/(1 - a_w) = (X/0.10)^(1/0.45). The isotherm is read from a
 * table in steps of 0.01, to within 1e-5. The share stays below what a thick film wets. */
static void test_film_share_is_told(void **state)
{
    (void)state;
    sw_history *h;
    sw_scenario s = pit_only_scenario();
    run_cook(&s, &h);
    double most = 0.0;
    for (size_t i = 1; i < h->row_count; i++) {
        const double share = h->series[SW_SERIES_top_film_share][i];
        const double ratio = pow(fmax(h->series[SW_SERIES_top_water_content][i], 0.0) / 0.10, 1.0 / 0.45);
        assert_close_abs(h->series[SW_SERIES_top_water_activity][i], 0.98 * share + (1.0 - share) * ratio / (1.0 + ratio), 1e-5);
        most = fmax(most, share);
    }
    assert_within(most, 0.2, h->scenario.meat.juice.wet_share);
    sw_history_destroy(h);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_film_share_is_told),
        cmocka_unit_test(test_sealed_meat_only_conducts),
        cmocka_unit_test(test_order_of_finish),
        cmocka_unit_test(test_evaporation_makes_the_stall),
        cmocka_unit_test(test_meshes_agree),
        cmocka_unit_test(test_event_times),
        cmocka_unit_test(test_rows_of_the_history),
        cmocka_unit_test(test_clock_and_duration),
        cmocka_unit_test(test_wrap_times),
        cmocka_unit_test(test_pit_steps),
        cmocka_unit_test(test_phase_that_never_ends),
        cmocka_unit_test(test_cancelling),
        cmocka_unit_test(test_cooks_repeat),
        cmocka_unit_test(test_boiling_limits_wrapped_meat),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
