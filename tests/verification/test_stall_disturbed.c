/* SPDX-License-Identifier: BSD-3-Clause */
/* The stall of cooks that are sprayed, opened or swing, against that of the same cook left alone. */
#include "close.h"
#include "run_cook.h"

#include <math.h>
#include <stdio.h>

static const double hour = 3600.0, minute = 60.0;

static sw_outcome plain(void)
{
    sw_scenario s = reference_scenario();
    return run_cook(&s, NULL);
}

static sw_outcome sprayed(double every, double window)
{
    sw_scenario s = reference_scenario();
    s.spritz.amount = 0.06;
    s.spritz.every = every;
    s.stall.window = window;
    return run_cook(&s, NULL);
}

/* What is sprayed on must evaporate too: the more often, the later the pull and the longer the stall, and any window that
 * takes in a spray and the next finds the same one. */
static void test_sprays_lengthen_it(void **state)
{
    (void)state;
    static const double every[] = {90.0, 60.0, 45.0, 30.0};
    const sw_outcome left_alone = plain();
    sw_outcome before = left_alone;
    for (int i = 0; i < 4; i++) {
        const sw_outcome o = sprayed(every[i] * minute, hour);
        printf("sprayed each %.0f min: stall %.2f h instead of %.2f h, pull after %.2f h\n", every[i], o.stall_length / hour,
               left_alone.stall_length / hour, o.done_time / hour);
        assert_true(o.stall_length > before.stall_length);
        assert_true(o.done_time > before.done_time);
        before = o;
    }
    const double length = sprayed(45.0 * minute, hour).stall_length;
    assert_close_abs(sprayed(45.0 * minute, 1.5 * hour).stall_length, length, 1.0);
    assert_close_abs(sprayed(45.0 * minute, 2.0 * hour).stall_length, length, 1.0);
}

/* Whether each edge of a stall stays within half an hour of where it was, beside what the pull was moved by: that is half of
 * the time from one disturbance to the next. */
static void check_edges(const char *what, const sw_scenario *s)
{
    const sw_outcome o = run_cook(s, NULL), left_alone = plain();
    const double slack = 0.5 * hour + fabs(o.done_time - left_alone.done_time);
    printf("%s: stall from %.2f h to %.2f h instead of %.2f h to %.2f h\n", what, o.stall_start / hour, o.stall_end / hour,
           left_alone.stall_start / hour, left_alone.stall_end / hour);
    assert_close_abs(o.stall_start, left_alone.stall_start, slack);
    assert_close_abs(o.stall_end, left_alone.stall_end, slack);
}

static void test_lids(void **state)
{
    (void)state;
    sw_scenario s = reference_scenario();
    s.pit.lid_duration = 5.0 * minute;
    for (int i = 0; i < 6; i++)
        s.pit.openings[s.pit.opening_count++] = (4.0 + i) * hour;
    check_edges("lid opened six times", &s);
}

static void test_swinging_pit(void **state)
{
    (void)state;
    sw_scenario s = reference_scenario();
    s.pit.cycle_swing = 20.0;
    s.pit.cycle_period = hour;
    check_edges("pit swinging by 20 K each hour", &s);
}

/* Rows from each second to each five minutes tell of one stall. */
static void test_rows_do_not_matter(void **state)
{
    (void)state;
    sw_scenario s = reference_scenario();
    s.solver.output_interval = 1.0;
    const sw_outcome fine = run_cook(&s, NULL);
    s.solver.output_interval = 5.0 * minute;
    const sw_outcome coarse = run_cook(&s, NULL);
    assert_close_abs(coarse.stall_start, fine.stall_start, 1.0);
    assert_close_abs(coarse.stall_end, fine.stall_end, 1.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_sprays_lengthen_it),
        cmocka_unit_test(test_lids),
        cmocka_unit_test(test_swinging_pit),
        cmocka_unit_test(test_rows_do_not_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
