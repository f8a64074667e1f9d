/* SPDX-License-Identifier: BSD-3-Clause */
/* Clock arithmetic of plans over midnight, leap days and summer time. */
#include "close.h"

#include "plan_clock.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double hour = 3600.0;

static plan_clock clock_of(const char *date, double hours)
{
    plan_clock c;
    char why[CLOCK_WHY_SIZE];
    if (!plan_clock_set(&c, date, hours * hour, why))
        fail_msg("%s", why);
    return c;
}

static void assert_shown(const plan_clock *c, double before, const char *expected)
{
    char text[CLOCK_TEXT_SIZE];
    assert_string_equal(show_moment(c, before, text), expected);
}

static void test_without_a_date(void **state)
{
    const plan_clock c = clock_of(NULL, 13.0);
    char text[CLOCK_TEXT_SIZE];
    (void)state;
    assert_shown(&c, 0.0, "13:00");
    assert_shown(&c, 13.0 * hour, "00:00");
    assert_shown(&c, 13.0 * hour + 60.0, "23:59 the day before");
    assert_shown(&c, 15.5 * hour, "21:30 the day before");
    assert_shown(&c, 37.5 * hour, "23:30 two days before");
    assert_shown(&c, -12.0 * hour, "01:00 +1 day");
    assert_string_equal(show_moment_briefly(&c, 15.5 * hour, text), "21:30 -1 d");
    assert_string_equal(show_serving(&c, text), "13:00");
    assert_string_equal(show_moment_briefly(&c, 0.0, text), "13:00");
    assert_string_equal(show_moment_briefly(&c, -12.0 * hour, text), "01:00 +1 d");
    assert_shown(&c, -37.0 * hour, "02:00 +2 days");
    assert_shown(&c, 110.0 * hour, "23:00 -5 days");
    assert_shown(&c, NAN, "-");
    /* A day in the time of day is left aside, and so are seconds. */
    const plan_clock next = clock_of(NULL, 37.0), last = clock_of("2026-11-28", 24.0 - 1.0 / 3600.0);
    const plan_clock dated = clock_of("2026-11-28", 37.0);
    assert_string_equal(show_serving(&next, text), "13:00");
    assert_string_equal(show_serving(&dated, text), "13:00 on Sat 28 Nov 2026");
    assert_string_equal(show_serving(&last, text), "23:59 on Sat 28 Nov 2026");
}

/* 1 January 2000 00:00 UTC is 946684800 s after 1970: 30 years of 365 days and 7 leap days. 2000 has a 29 February, 2001 and 2100 have
 * none (Gregorian calendar). */
static void test_leap_day(void **state)
{
    (void)state;
    assert_true(plan_clock_zone("UTC"));
    const plan_clock first = clock_of("2000-01-01", 0.0), march = clock_of("2000-03-01", 6.0), next = clock_of("2001-03-01", 6.0);
    assert_true(first.serving == (time_t)(30 * 365 + 7) * 86400);
    assert_shown(&march, 12.0 * hour, "Tue 29 Feb 18:00");
    assert_shown(&next, 12.0 * hour, "Wed 28 Feb 18:00");
    char why[CLOCK_WHY_SIZE];
    plan_clock c;
    assert_true(plan_clock_set(&c, "2028-02-29", 6.0 * hour, why));
    assert_false(plan_clock_set(&c, "2100-02-29", 6.0 * hour, why));
    assert_non_null(strstr(why, "there is no such day"));
}

/* Summer time of the European Union begins and ends at 01:00 UTC on the last Sundays of March and October (directive 2000/84/EC): 29
 * March and 25 October 2026. Berlin is then at UTC+1 and +2. */
static void test_summer_time(void **state)
{
    (void)state;
    assert_true(plan_clock_zone("Europe/Berlin"));
    const plan_clock spring = clock_of("2026-03-29", 13.0), autumn = clock_of("2026-10-25", 13.0), usual = clock_of("2026-11-28", 13.0);
    char text[CLOCK_TEXT_SIZE], why[CLOCK_WHY_SIZE];
    assert_shown(&usual, 15.0 * hour, "Fri 27 Nov 22:00");
    assert_shown(&spring, 15.0 * hour, "Sat 28 Mar 21:00");
    assert_shown(&autumn, 15.0 * hour, "Sat 24 Oct 23:00");
    assert_string_equal(show_serving(&spring, text), "13:00 on Sun 29 Mar 2026");
    assert_string_equal(show_moment_briefly(&autumn, 15.0 * hour, text), "Sat 23:00");
    plan_clock c;
    assert_false(plan_clock_set(&c, "2026-03-29", 2.5 * hour, why));
    assert_non_null(strstr(why, "never shows 02:30"));
    /* 11:00 UTC in summer time, 12:00 UTC in winter. */
    assert_true(spring.serving % 86400 == 11 * 3600 && usual.serving % 86400 == 12 * 3600);
    assert_string_equal(plan_clock_zone_name(text), "Europe/Berlin");
}

static void test_refusals(void **state)
{
    static const char *const dates[] = {"28.11.2026", "2026-13-01", "2026-11-31", "2026-1-1", "", "2026-11-28x", "tomorrow"};
    static const char *const zones[] = {"", "Mars/Base", "../etc/passwd", "/etc/localtime", "Europe/", "Europe"};
    plan_clock c;
    char why[CLOCK_WHY_SIZE];
    (void)state;
    for (size_t i = 0; i < sizeof dates / sizeof *dates; i++)
        if (plan_clock_set(&c, dates[i], 0.0, why) || strncmp(why, "--date is ", 10) != 0)
            fail_msg("the date \"%s\" is taken", dates[i]);
    for (size_t i = 0; i < sizeof zones / sizeof *zones; i++)
        if (plan_clock_zone(zones[i]))
            fail_msg("the zone \"%s\" is taken", zones[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_without_a_date),
        cmocka_unit_test(test_leap_day),
        cmocka_unit_test(test_summer_time),
        cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
