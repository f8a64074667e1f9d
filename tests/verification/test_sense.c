/* What cooks of big cuts report, beside what the model says. Common practice, no source: it informs, it does not judge,
 * and the model is not tuned to it. */
#include "close.h"

#include "run_cook.h"

static const double hour = 3600.0, zero_celsius = 273.15;

static void report(const char *what, double hours, double low, double high)
{
    print_message("  %s: %.1f h; usual %.0f to %.0f h: %s\n", what, hours, low, high,
                  hours >= low && hours <= high ? "within the band" : "DISAGREES with the band");
}

static void report_cook(sw_shape shape)
{
    sw_scenario s = pit_only_scenario();
    s.meat.shape = shape;
    s.meat.mass = 7.0;
    s.meat.thickness = 0.095;
    s.pit.step_count = 2;
    s.pit.steps[1] = (sw_pit_step){1.0 * hour, zero_celsius + 142.0, false};
    s.wrap.kind = SW_WRAP_OPEN_TRAY;
    s.wrap.when.value = zero_celsius + 82.0;
    s.pull.value = zero_celsius + 95.0;
    sw_outcome o = run_cook(&s, NULL);
    print_message(" Whole brisket of 7 kg as a %s, 9.5 cm thick, 121 C for 1 h, then 142 C:\n", sw_shape_name(shape));
    report("82 C at the probe, no wrap", o.wrap_time / hour, 8.0, 12.0);
    report("from there to 95 C in an open tray", (o.done_time - o.wrap_time) / hour, 1.0, 3.0);
    assert_close_abs(o.wrap_probe, zero_celsius + 82.0, 1e-5);
    assert_close_abs(o.done_probe, zero_celsius + 95.0, 1e-5);
}

static void test_whole_brisket(void **state)
{
    (void)state;
    report_cook(SW_SHAPE_SLAB);
    report_cook(SW_SHAPE_PACKER);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_whole_brisket),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
